"""Processes that die while they write: no broken file in its place, no lost older one, the next completes.

The processes are real forks of this one, and the signal that ends them is SIGKILL, which nobody can catch.
"""

from __future__ import annotations

import hashlib
import os
import random
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.base.errors import WriteError
from generator.press import locking
from generator.press.publish import publish, publish_all, sweep

ROUNDS = 80
NAMES = ("step-sheet.en.pdf", "figures/01-dock.en.svg", "figures/02-trim.en.svg", "cards/01-dock.en.svg")


def fork(work: Callable[[], None]) -> int:
    """Start a process that does the work and ends without the test's own endings."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    return child


def ended(child: int) -> int:
    """Wait for a process; its signal if one killed it (negative), else its exit code."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def content(name: str, version: int) -> bytes:
    """A body of some ten or hundred kilobytes that says at its end whether all of it is there."""
    body = f"{name} {version}\n".encode() * random.Random(f"{name} {version}").randint(500, 6000)
    return body + hashlib.sha256(body).hexdigest().encode()


def version_of(path: Path, name: str) -> int:
    """Which version a file is; it must be whole."""
    data = path.read_bytes()
    assert hashlib.sha256(data[:-64]).hexdigest().encode() == data[-64:], f"{name} is broken"
    told, version = data.split(b"\n", 1)[0].decode().split(" ")
    assert told == name
    return int(version)


def parts(folder: Path) -> list[Path]:
    return list(folder.rglob(".rimfold-*"))


def whole_set(folder: Path, version: int) -> dict[Path, bytes]:
    return {folder / name: content(name, version) for name in NAMES}


def test_killed_at_any_moment_every_file_is_whole_and_none_is_lost(tmp_path: Path) -> None:
    chance = random.Random(20)
    folder = tmp_path / "pier-drum" / "35"
    publish_all(whole_set(folder, 0))
    caught = 0
    version = 1
    for _ in range(ROUNDS):

        def write_on(first: int = version) -> None:
            for number in range(first, first + 1000):
                publish_all(whole_set(folder, number))

        child = fork(write_on)
        time.sleep(chance.uniform(0.0, 0.03))
        os.kill(child, signal.SIGKILL)
        assert ended(child) == -signal.SIGKILL
        caught += bool(parts(tmp_path))
        versions = [version_of(folder / name, name) for name in NAMES]
        # Moved in their order: what came later may be one version behind, and never ahead.
        assert versions == sorted(versions, reverse=True)
        assert max(versions) - min(versions) <= 1
        version = max(versions) + 1
        publish_all(whole_set(folder, version))
        assert {version_of(folder / name, name) for name in NAMES} == {version}
        assert parts(tmp_path) == []
        version += 1
    # Otherwise the processes died between two sets, and the test shows nothing.
    assert caught > ROUNDS / 10


@pytest.mark.parametrize("call", ["open", "fchmod", "fsync", "replace"])
def test_killed_at_each_call_to_the_disk_the_next_run_completes(tmp_path: Path, call: str) -> None:
    folder = tmp_path / "35"
    real = getattr(os, call)
    for moment in range(len(NAMES) + 4):
        publish_all(whole_set(folder, 1))

        def die(at: int = moment) -> None:
            left = [at]

            def counted(*arguments: object, **more: object) -> object:
                if left[0] == 0:
                    os.kill(os.getpid(), signal.SIGKILL)
                left[0] -= 1
                return real(*arguments, **more)

            setattr(os, call, counted)
            publish_all(whole_set(folder, 2))

        code = ended(fork(die))
        assert code in (0, -signal.SIGKILL)
        assert code != 0 or moment >= len(NAMES)
        found = [version_of(folder / name, name) for name in NAMES]
        assert found == sorted(found, reverse=True)
        if call == "replace" and moment < len(NAMES):
            assert found == [2] * moment + [1] * (len(NAMES) - moment)
        publish_all(whole_set(folder, 3))
        assert {version_of(folder / name, name) for name in NAMES} == {3}
        assert parts(tmp_path) == []


def test_what_a_living_process_writes_is_not_swept_away(tmp_path: Path) -> None:
    ready, go = os.pipe(), os.pipe()

    def hold() -> None:
        real = os.replace

        def wait_first(source: str, target: str) -> None:
            os.write(ready[1], b"x")
            os.read(go[0], 1)
            real(source, target)

        os.replace = wait_first  # type: ignore[assignment]
        publish(tmp_path / "sheet.pdf", b"slow")

    child = fork(hold)
    os.read(ready[0], 1)
    sweep([tmp_path])
    assert len(parts(tmp_path)) == 1
    publish(tmp_path / "other.pdf", b"quick")
    assert len(parts(tmp_path)) == 1
    os.write(go[1], b"x")
    assert ended(child) == 0
    assert (tmp_path / "sheet.pdf").read_bytes() == b"slow"
    assert (tmp_path / "other.pdf").read_bytes() == b"quick"
    assert parts(tmp_path) == []


def test_a_file_of_ones_own_is_not_swept_away(tmp_path: Path) -> None:
    (tmp_path / "notes.part").write_text("mine", encoding="utf-8")
    (tmp_path / ".rimfold-notes").write_text("mine", encoding="utf-8")
    os.mkfifo(tmp_path / ".rimfold-pipe.part")
    publish(tmp_path / "sheet.pdf", b"x")
    assert (tmp_path / "notes.part").exists()
    assert (tmp_path / ".rimfold-notes").exists()


def test_two_builds_at_once_in_one_folder_leave_whole_files(tmp_path: Path) -> None:
    folder = tmp_path / "35"

    def write(which: int) -> None:
        for number in range(40):
            publish_all(whole_set(folder, 2 * number + which))

    children = [fork(lambda which=which: write(which)) for which in (0, 1)]  # type: ignore[misc]
    assert [ended(child) for child in children] == [0, 0]
    assert {version_of(folder / name, name) for name in NAMES} <= {78, 79}
    assert parts(tmp_path) == []


def test_who_writes_in_a_folder_is_alone_there_and_the_other_waits(tmp_path: Path) -> None:
    ready = os.pipe()

    def hold() -> None:
        with locking.alone_in(tmp_path):
            os.write(ready[1], b"x")
            time.sleep(0.4)
            (tmp_path / "first").write_text("done", encoding="utf-8")

    child = fork(hold)
    os.read(ready[0], 1)
    with locking.alone_in(tmp_path):
        assert (tmp_path / "first").exists()
    assert ended(child) == 0


def test_a_lock_ends_with_its_process_however_it_ends(tmp_path: Path) -> None:
    ready = os.pipe()

    def hold() -> None:
        with locking.alone_in(tmp_path):
            os.write(ready[1], b"x")
            time.sleep(60)

    child = fork(hold)
    os.read(ready[0], 1)
    with pytest.raises(WriteError, match="another Rimfold has been writing"), locking.alone_in(tmp_path, 0.1):
        pass
    os.kill(child, signal.SIGKILL)
    assert ended(child) == -signal.SIGKILL
    with locking.alone_in(tmp_path, 1.0):
        pass
    assert list(tmp_path.iterdir()) == []
