"""Disks that are full or may not be written: nothing changes, and a maker understands why."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.base.errors import WriteError
from generator.press.publish import publish_all

ROOT = Path(__file__).parents[2]
NOBODY = 65534


def mounted(folder: Path, options: str) -> bool:
    """Mount a small disk in memory; False where the machine does not let us."""
    if os.geteuid() != 0 or not shutil.which("mount"):
        return False
    command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
    return subprocess.run(command, check=False, capture_output=True).returncode == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 200 kilobytes."""
    folder = tmp_path / "disk"
    folder.mkdir()
    if not mounted(folder, "size=200k,mode=755"):
        pytest.skip("only one who may mount a disk can fill one")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def rimfold(*arguments: object, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "generator", *map(str, arguments)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def test_a_disk_that_fills_up_changes_nothing(small_disk: Path) -> None:
    files = {small_disk / "35" / name: b"old" for name in ("sheet.pdf", "plan.pdf", "figures/01-dock.svg")}
    publish_all(files)
    with pytest.raises(WriteError, match="is full; make room") as told:
        publish_all(dict.fromkeys(files, b"x" * 80_000))
    assert "01-dock.svg was not written" in str(told.value)
    assert {path: path.read_bytes() for path in files} == files
    assert sorted(path.name for path in small_disk.rglob("*") if path.is_file()) == [
        "01-dock.svg",
        "plan.pdf",
        "sheet.pdf",
    ]


def test_folders_that_nothing_came_into_go_again(small_disk: Path) -> None:
    with pytest.raises(WriteError, match="is full"):
        publish_all({small_disk / "pier-drum" / "35" / "sheet.pdf": b"x" * 400_000})
    assert list(small_disk.iterdir()) == []


def test_a_disk_without_room_for_another_file_is_told(tmp_path: Path) -> None:
    if not mounted(tmp_path, "nr_inodes=3,mode=755"):
        pytest.skip("only one who may mount a disk can fill one")
    try:
        with pytest.raises(WriteError, match="is full; make room"):
            publish_all({tmp_path / name: b"x" for name in "abcd"})
        assert list(tmp_path.iterdir()) == []
    finally:
        subprocess.run(["umount", str(tmp_path)], check=True)


def test_a_disk_that_can_only_be_read_is_told(tmp_path: Path) -> None:
    if not mounted(tmp_path, "ro"):
        pytest.skip("only one who may mount a disk can make one that is read only")
    try:
        answer = rimfold("new", tmp_path / "mine.yaml", folder=ROOT)
        assert answer.returncode == 1
        assert "can only be read; choose another folder" in answer.stderr
        assert "Traceback" not in answer.stderr
    finally:
        subprocess.run(["umount", str(tmp_path)], check=True)


def test_a_folder_that_is_not_ones_own_is_told() -> None:
    if os.geteuid() != 0:
        pytest.skip("only root can work as somebody else; another may try with a folder of his own")
    folder = Path(tempfile.mkdtemp())
    try:
        folder.chmod(0o755)
        (folder / "out").mkdir()
        (folder / "out" / "sheet.pdf").write_bytes(b"old")
        child = os.fork()
        if child == 0:
            code = 9
            try:
                os.setgid(NOBODY)
                os.setuid(NOBODY)
                publish_all({folder / "out" / "sheet.pdf": b"new"})
            except WriteError as error:
                words = "sheet.pdf was not written: you may not write in the folder"
                code = 3 if words in str(error) else 8
            finally:
                os._exit(code)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 3
        assert (folder / "out" / "sheet.pdf").read_bytes() == b"old"
        assert os.listdir(folder / "out") == ["sheet.pdf"]
    finally:
        shutil.rmtree(folder)


def test_an_output_that_is_full_is_told_in_words() -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no disk that is always full")
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-m", "generator", "--help"],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            timeout=60,
            check=False,
        )
    assert done.returncode == 1
    assert done.stderr.startswith("the disk is full; make room")


def test_no_room_for_temporary_files_is_told_in_words(small_disk: Path) -> None:
    (small_disk / "filling").write_bytes(b"x" * 200 * 1024)
    code = (
        "import sys, tempfile\n"
        "tempfile.tempdir = sys.argv[1]\n"
        "from generator.base.errors import PressError\n"
        "from generator.press.fonts import hide_system_fonts\n"
        "try:\n    hide_system_fonts()\n"
        "except PressError as error:\n    print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(small_disk)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert "make room on its disk, or name another folder in the variable TMPDIR" in done.stdout
