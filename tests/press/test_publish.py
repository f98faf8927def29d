"""Files appear whole or not at all, on a real disk."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from generator.base.errors import WriteError
from generator.press.publish import publish


def test_a_file_appears_with_its_folders(tmp_path: Path) -> None:
    path = tmp_path / "pier-drum" / "35" / "step-sheet.en.pdf"
    publish(path, b"whole")
    assert path.read_bytes() == b"whole"
    assert os.listdir(path.parent) == ["step-sheet.en.pdf"]


def test_a_file_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    publish(path, b"old")
    publish(path, b"new")
    assert path.read_bytes() == b"new"


def test_others_may_read_a_file_as_the_mask_says(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        publish(tmp_path / "sheet.pdf", b"x")
    finally:
        os.umask(mask)
    assert stat.S_IMODE((tmp_path / "sheet.pdf").stat().st_mode) == 0o640


def test_what_stood_there_stays_if_the_disk_is_full(tmp_path: Path) -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("this system has no disk that is always full")
    path = tmp_path / "sheet.pdf"
    publish(path, b"old")
    code = (
        "import os, resource, signal, sys\n"
        "from pathlib import Path\n"
        "from generator.base.errors import WriteError\n"
        "from generator.press.publish import publish\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try:\n    publish(Path(sys.argv[1]), b'x' * 5000)\n"
        "except WriteError as error:\n    print(error)\n"
    )
    import subprocess
    import sys

    done = subprocess.run(
        [sys.executable, "-c", code, str(path)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert "was not written" in done.stdout
    assert path.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["sheet.pdf"]


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").mkdir()
    with pytest.raises(WriteError, match="a folder stands in its place"):
        publish(tmp_path / "sheet.pdf", b"x")
    assert (tmp_path / "sheet.pdf").is_dir()


def test_a_file_in_place_of_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "pier-drum").write_text("x")
    for path in (tmp_path / "pier-drum" / "sheet.pdf", tmp_path / "pier-drum" / "35" / "sheet.pdf"):
        with pytest.raises(WriteError, match="a file stands where the folder"):
            publish(path, b"x")


def test_a_name_too_long_is_told(tmp_path: Path) -> None:
    with pytest.raises(WriteError, match="its name is too long"):
        publish(tmp_path / ("x" * 300 + ".pdf"), b"x")
    assert os.listdir(tmp_path) == []


def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path) -> None:
    # Root may write everywhere but in the kernel's own folders.
    folder = Path("/proc/self") if os.geteuid() == 0 else tmp_path
    if os.geteuid() != 0:
        tmp_path.chmod(0o500)
    elif not folder.exists():
        pytest.skip("this system shows no folder that even root may not write")
    try:
        with pytest.raises(WriteError, match="was not written"):
            publish(folder / "sheet.pdf", b"x")
    finally:
        tmp_path.chmod(0o700)
