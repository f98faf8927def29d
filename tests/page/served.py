"""A page that is served for a test, in a process of its own, over a folder of the test's own."""

from __future__ import annotations

import http.client
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

from generator.base.assets import data_folder
from generator.base.outside import environment

ROOT = Path(__file__).parents[2]
ADDRESS = re.compile(r"http://127\.0\.0\.1:(\d+)/enter\?key=(\S+)")


@dataclass
class Answer:
    """What came back."""

    status: int
    headers: Mapping[str, str]
    text: str


@dataclass
class Served:
    """A running page."""

    folder: Path
    port: int
    key: str
    process: subprocess.Popen[str]
    cookie: str = ""
    usual: dict[str, str] = field(default_factory=dict)

    @property
    def origin(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def ask(
        self,
        method: str,
        path: str,
        fields: Mapping[str, str] | None = None,
        headers: Mapping[str, str | None] | None = None,
    ) -> Answer:
        """One request as its own browser would send it; a header that is None is left out."""
        sent: dict[str, str | None] = {"Host": f"127.0.0.1:{self.port}", "Cookie": self.cookie}
        body = None
        if method == "POST":
            body = urlencode(fields or {}).encode()
            sent |= {"Origin": self.origin, "Content-Type": "application/x-www-form-urlencoded"}
        sent |= headers or {}
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in sent.items():
            if value is not None:
                connection.putheader(name, value)
        if body is not None and "Content-Length" not in sent:
            connection.putheader("Content-Length", str(len(body)))
        connection.endheaders(body)
        answer = connection.getresponse()
        found = Answer(
            answer.status,
            {name.lower(): value for name, value in answer.getheaders()},
            answer.read().decode("utf-8", "replace"),
        )
        connection.close()
        return found

    def enter(self) -> None:
        """Come in with the secret, as the browser does that is opened."""
        came = self.ask("GET", f"/enter?key={self.key}", headers={"Cookie": None})
        assert came.status == 303
        self.cookie = came.headers["set-cookie"].partition(";")[0]

    def base(self, name: str) -> str:
        """What the form of a recipe was made from."""
        found = re.search(r'id="base" value="([0-9a-f]{64})"', self.ask("GET", f"/shade/{name}").text)
        assert found
        return found[1]

    def kill(self) -> None:
        """End it at once, as a failing machine would."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(30)


@contextmanager
def serve(folder: Path, *samples: str) -> Iterator[Served]:
    """Serve a folder with copies of some samples; whoever asks has come in."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in samples:
        shutil.copy(data_folder("recipes") / f"{name}.yaml", folder / f"{name}.yaml")
    process = subprocess.Popen(
        [sys.executable, "-m", "generator", "page", str(folder), "--no-open"],
        cwd=folder,
        env={**environment(), "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        found = ADDRESS.search(line)
        assert found, line
        served = Served(folder, int(found[1]), found[2], process)
        served.enter()
        yield served
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
            try:
                process.wait(15)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def wait_for(found: object, patience: float = 60.0) -> None:
    """Wait for something to become true."""
    assert callable(found)
    end = time.monotonic() + patience
    while not found():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(0.02)
