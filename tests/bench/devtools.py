"""A headless browser that stays open and prints pages, spoken to over a pipe in its DevTools protocol."""

from __future__ import annotations

import base64
import json
import os
import subprocess
import tempfile
from pathlib import Path
from typing import Any

FLAGS = ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-extensions", "--no-first-run")
"""In a container as root it does not start with its own sandbox; the pages are ours."""

_FONTS = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig><dir>{folder}</dir><cachedir>{cache}</cachedir></fontconfig>
"""


def environment(folder: Path, cache: Path) -> dict[str, str]:
    """The fonts beside the page are those of this browser: a picture may load none by itself."""
    file = cache / "fonts.conf"
    file.write_text(_FONTS.format(folder=folder, cache=cache), encoding="utf-8")
    return {**os.environ, "FONTCONFIG_FILE": str(file)}


class Browser:
    """One browser with one tab."""

    def __init__(self, browser: str, fonts: Path) -> None:
        """Start it. Raises OSError if it cannot be started."""
        self._own = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        own = Path(self._own.name)
        read, self._write = os.pipe()
        self._read, write = os.pipe()

        # It reads from descriptor 3 and writes to 4, whatever numbers the pipes have here.
        script = f'exec "$0" "$@" 3<&{read} 4>&{write}'
        command = [browser, *FLAGS, f"--user-data-dir={own / 'profile'}", "--remote-debugging-pipe"]
        self._process = subprocess.Popen(
            ["bash", "-c", script, *command, "about:blank"],
            pass_fds=(read, write),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env=environment(fonts, own),
        )
        os.close(read)
        os.close(write)
        self._rest, self._count, self._tab = b"", 0, ""
        (tab, *_) = [one for one in self._ask("Target.getTargets")["targetInfos"] if one["type"] == "page"]
        attached = self._ask("Target.attachToTarget", targetId=tab["targetId"], flatten=True)
        self._tab = attached["sessionId"]
        self._ask("Page.enable")

    def print(self, page: Path) -> bytes:
        """The PDF of a page, in its own size, with tags."""
        self._ask("Page.navigate", url=page.resolve().as_uri())
        while self._next().get("method") != "Page.loadEventFired":
            pass
        self._ask("Runtime.evaluate", expression="document.fonts.ready", awaitPromise=True)
        answer = self._ask(
            "Page.printToPDF", preferCSSPageSize=True, printBackground=True, generateTaggedPDF=True
        )
        return base64.b64decode(answer["data"])

    def close(self) -> None:
        """End it."""
        self._process.terminate()
        self._process.wait()
        os.close(self._write)
        os.close(self._read)
        self._own.cleanup()

    def _ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        self._count += 1
        asked: dict[str, Any] = {"id": self._count, "method": method, "params": parameters}
        if self._tab:
            asked["sessionId"] = self._tab
        os.write(self._write, json.dumps(asked).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self._count:
                if "error" in answer:
                    raise OSError(f"{method}: {answer['error']}")
                return dict(answer["result"])

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            read = os.read(self._read, 1 << 20)
            if not read:
                raise OSError("the browser has ended")
            self._rest += read
        message, _, self._rest = self._rest.partition(b"\0")
        return dict(json.loads(message))
