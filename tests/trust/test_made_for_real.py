"""The command itself, in processes of its own: the same bytes on any day, nothing read that it should not be,
and what was made is whole even if a process is killed."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.record.verify import verify
from tests.record.quick import RECIPE, quick_recipe

ROOT = Path(__file__).parents[2]
ODD_DAY = Path(__file__).parent / "odd_day.py"
MAKE = (sys.executable, "-m", "generator", "make", "recipes/quick.yaml", "--out", "out")
ANEW = (*MAKE, "--anew")


@dataclass
class Place:
    """A folder with a recipe, what is made of it, and a folder for temporary files."""

    folder: Path

    def __post_init__(self) -> None:
        self.recipe = quick_recipe(self.folder / "recipes")
        self.recipe.write_text(naming(self.folder.parent), encoding="utf-8")
        (self.folder / "temporary").mkdir()

    @property
    def home(self) -> Path:
        return self.folder / "out" / "quick"

    def files(self, size: str) -> dict[str, bytes]:
        inside = self.home / size
        return {
            str(path.relative_to(inside)): path.read_bytes() for path in inside.rglob("*") if path.is_file()
        }

    def start(self, command: Sequence[object], **environment: str) -> subprocess.Popen[str]:
        kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
        return subprocess.Popen(
            [str(part) for part in command],
            cwd=self.folder,
            env=kept | {"PYTHONPATH": str(ROOT), "TMPDIR": str(self.folder / "temporary")} | environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )


SECRETS = ("secret-a.txt", "secret-b.yaml", "secret-c.svg")


def naming(outside: Path) -> str:
    """The recipe, with files outside its folder in fields of text. They are there, and may not be read."""
    for name in SECRETS:
        (outside / name).write_text("technique: 1\n", encoding="utf-8")
    a, b, c = (outside / name for name in SECRETS)
    return (
        RECIPE.replace("Quick drum", f"'{{% include \"{a.name}\" %}}'")
        .replace("kind: LED", f"kind: 'url(../../{c.name})'")
        .replace("Gannetry Steps Workroom", f"'<img src=../../{c.name}>', contact: 'file:../../{b.name}'")
        + f"covering: {{name: '../../{a.name}'}}\nlink: https://example.org/{b.name}\n"
    )


def finished(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    out, err = process.communicate(timeout=600)
    return process.returncode, out, err


def children(process: int) -> list[int]:
    """Processes that a process has started, as the kernel lists them."""
    path = Path(f"/proc/{process}/task/{process}/children")
    return [int(number) for number in path.read_text().split()] if path.exists() else []


def workers(process: int) -> list[int]:
    named = {child: Path(f"/proc/{child}/cmdline").read_bytes() for child in children(process)}
    return [child for child, command in named.items() if b"spawn_main" in command]


def worked(process: int) -> float:
    """How long a process has kept a core busy, s, as the kernel counts it; 0 for one that has ended."""
    try:
        told = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return 0.0
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def until(found: Callable[[], object], patience: float = 300.0, pause: float = 0.005) -> None:
    """Wait for something to become true."""
    end = time.monotonic() + patience
    while not found():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(pause)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Place:
    """Both sizes, in two worker processes, in a plain environment, watched from outside where that can be."""
    place = Place(tmp_path_factory.mktemp("first") / "here")
    watch = (
        ["strace", "-f", "-qq", "-e", "trace=%file,%network", "-o", "trace"] if shutil.which("strace") else []
    )
    code, out, err = finished(place.start([*watch, *MAKE], TZ="UTC", PYTHONHASHSEED="1", LC_ALL="C.UTF-8"))
    assert code == 0, err
    assert "quick, size 20" in out
    assert err == ""
    return place


@pytest.fixture(scope="module")
def killed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Place, dict[str, bytes]]:
    """One size, killed while its files are put in their places; with the whole files that were there then.

    On a quick disk that takes a few milliseconds, and a run may end before it is killed: then once more.
    """
    command = [
        sys.executable,
        "-m",
        "generator",
        "make",
        "recipes/quick.yaml",
        "--size",
        "25",
        "--out",
        "out",
    ]
    for attempt in range(8):
        place = Place(tmp_path_factory.mktemp(f"second-{attempt}") / "elsewhere" / "deeper")
        process = place.start(command)
        until(lambda: process.poll() is not None or any(place.home.rglob(".rimfold-*")), pause=0.0)  # noqa: B023
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        if finished(process)[0] == -signal.SIGKILL:
            return place, {name: data for name, data in place.files("25").items() if ".rimfold-" not in name}
    return pytest.fail("no run was killed before it ended")


@pytest.fixture(scope="module")
def second(killed: tuple[Place, dict[str, bytes]]) -> Place:
    """The same again to the end: one process, another day, time zone, seed, language, mask and folder."""
    place, _ = killed
    command = [sys.executable, ODD_DAY, "log", *MAKE[3:], "--size", "25"]
    odd = {"TZ": "Pacific/Chatham", "PYTHONHASHSEED": "4242", "LC_ALL": "tr_TR.UTF-8", "LANGUAGE": "tr"}
    mask = os.umask(0o077)
    try:
        process = place.start(command, **odd)
    finally:
        os.umask(mask)
    code, _, err = finished(process)
    assert code == 0, err
    return place


def test_the_same_recipe_gives_the_same_bytes_wherever_and_whenever(first: Place, second: Place) -> None:
    one, other = first.files("25"), second.files("25")
    assert sorted(one) == sorted(other)
    assert len(one) == 7
    assert [name for name in one if one[name] != other[name]] == []
    # The identifier of a PDF is a hash of its HTML and figures, so these were the same too.
    assert b"/ID" in one["step-sheet.en.pdf"]


def test_a_killed_run_leaves_no_broken_file_and_the_next_one_completes(
    killed: tuple[Place, dict[str, bytes]], first: Place, second: Place
) -> None:
    _, there = killed
    whole = first.files("25")
    assert {name: data for name, data in there.items() if whole.get(name) != data} == {}
    assert not [path for path in second.folder.rglob("*") if path.name.startswith(".rimfold-")]


def test_what_was_made_is_as_the_manifest_says(first: Place, second: Place) -> None:
    for place, count in ((first, 14), (second, 7)):
        (found,) = verify(place.home)
        assert [one for one in found.files if one.state != "good"] == []
        assert len(found.files) == count
        assert found.others == ()


def test_no_temporary_file_stays_behind(first: Place) -> None:
    assert os.listdir(first.folder / "temporary") == []


READ_ROOTS = (
    "/dev/", "/etc/ld.so", "/etc/localtime", "/etc/mime.types", "/lib", "/proc/", "/sys/", "/usr/lib",
    "/usr/share", "/usr/local/lib",
)  # fmt: skip
"""Where the system keeps its libraries and tells of itself."""


def allowed(path: Path, place: Place) -> bool:
    """Whether a file belongs to the recipe's folder, to Rimfold, to Python or to the system."""
    ours = {place.folder, ROOT / "generator", ROOT / "recipes", ROOT / "templates", ODD_DAY}
    python = {
        Path(sys.prefix),
        Path(sys.base_prefix),
        Path(sys.prefix).resolve(),
        Path(sys.executable).resolve(),
    }
    inside = any(path == root or path.is_relative_to(root) for root in ours | python)
    # Python lists the folders themselves in which it looks for modules.
    looked_in = {Path("/etc"), Path("/"), ROOT, *map(Path, sys.path)}
    return inside or str(path).startswith(READ_ROOTS) or path in looked_in


def test_nothing_is_opened_but_the_recipes_folder_the_installation_and_the_system(first: Place) -> None:
    trace = first.folder / "trace"
    if not trace.exists():
        pytest.skip("only strace shows what all processes ask of the system; it is not installed here")
    lines = trace.read_text(encoding="utf-8", errors="replace").splitlines()
    opened = set()
    for line in lines:
        found = re.match(r'\d+ +open(?:at)?\((?:AT_FDCWD|\d+)?,? ?"([^"]*)", .*\) = \d', line)
        if found:
            opened.add(Path(os.path.normpath(first.folder / found[1])))
    assert len(opened) > 500
    assert sorted(str(path) for path in opened if not allowed(path, first)) == []


def test_no_network_is_asked_for_and_no_other_program_is_run(first: Place) -> None:
    trace = first.folder / "trace"
    if not trace.exists():
        pytest.skip("only strace shows what all processes ask of the system; it is not installed here")
    text = trace.read_text(encoding="utf-8", errors="replace")
    assert not re.search(r"AF_INET|\bconnect\(|\bsendto\(|\bbind\(|\blisten\(", text)
    run = {found[1] for found in re.finditer(r'execve\("([^"]*)".* = 0', text)}
    assert {Path(path).resolve() for path in run} == {Path(sys.executable).resolve()}


def test_no_file_that_the_recipe_s_text_names_is_looked_at(first: Place, second: Place) -> None:
    for watched in (first.folder / "trace", second.folder / "log"):
        if watched.exists():
            text = watched.read_text(encoding="utf-8", errors="replace")
            assert "quick.yaml" in text
            assert "secret-" not in text
    assert (second.folder / "log").exists()


def test_python_asks_for_no_network_and_no_other_program_either(second: Place) -> None:
    lines = (second.folder / "log").read_text(encoding="utf-8").splitlines()
    assert {line.split("\t")[0] for line in lines} == {"open"}
    opened = {Path(os.path.normpath(second.folder / line.split("\t")[1].strip("'"))) for line in lines}
    assert sorted(str(path) for path in opened if not allowed(path, second)) == []


def test_a_killed_worker_is_told_in_words_and_what_stood_there_stays(first: Place) -> None:
    before = first.files("25") | first.files("20")
    process = first.start(ANEW)
    many = min(2, os.cpu_count() or 1)
    # Not while another is only starting: that one's own words would stand in between.
    until(
        lambda: (
            process.poll() is not None
            or [worked(each) > 1.0 for each in workers(process.pid)] == [True] * many
        )
    )
    os.kill(workers(process.pid)[0], signal.SIGKILL)
    code, _, err = finished(process)
    assert code == 1
    assert "a process that made pages was ended from outside" in err
    assert "run the command again" in err
    assert "Traceback" not in err
    assert first.files("25") | first.files("20") == before


def test_workers_end_with_the_command_that_started_them(first: Place) -> None:
    process = first.start(ANEW)
    until(lambda: process.poll() is not None or len(workers(process.pid)) == min(2, os.cpu_count() or 1))
    orphans = workers(process.pid)
    time.sleep(1.0)
    process.kill()
    process.wait()
    until(lambda: not any(Path(f"/proc/{orphan}").exists() for orphan in orphans), 60.0)
    assert orphans


def test_one_who_stops_the_command_is_told_so_and_nothing_else(first: Place) -> None:
    process = first.start(ANEW)
    until(lambda: process.poll() is not None or workers(process.pid))
    time.sleep(1.0)
    # As a terminal does on Ctrl-C: to every process of the command.
    os.killpg(process.pid, signal.SIGINT)
    code, _, err = finished(process)
    assert (code, err.strip()) == (1, "stopped")
