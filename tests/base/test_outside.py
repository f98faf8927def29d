"""A program that is started from here sees the system's fonts, whatever the engine is kept from."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.base.outside import as_outside, change, environment

ROOT = Path(__file__).parents[2]


def test_what_is_changed_for_us_is_not_seen_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RIMFOLD_TEST_SET", "theirs")
    monkeypatch.delenv("RIMFOLD_TEST_UNSET", raising=False)
    change("RIMFOLD_TEST_SET", "ours")
    change("RIMFOLD_TEST_SET", "ours again")
    change("RIMFOLD_TEST_UNSET", "ours")
    assert os.environ["RIMFOLD_TEST_SET"] == "ours again"
    assert environment()["RIMFOLD_TEST_SET"] == "theirs"
    assert "RIMFOLD_TEST_UNSET" not in environment()
    with as_outside():
        assert os.environ["RIMFOLD_TEST_SET"] == "theirs"
        assert "RIMFOLD_TEST_UNSET" not in os.environ
    assert os.environ["RIMFOLD_TEST_SET"] == "ours again"
    assert os.environ["RIMFOLD_TEST_UNSET"] == "ours"


def test_whoever_opens_what_was_made_sees_the_system_s_fonts(tmp_path: Path) -> None:
    """A program by the name of the system's opener writes down what it was started with."""
    told, opener = tmp_path / "told", tmp_path / "bin" / "xdg-open"
    opener.parent.mkdir()
    opener.write_text(f'#!/bin/sh\nenv > "{told}.part"\nmv "{told}.part" "{told}"\n', encoding="utf-8")
    opener.chmod(0o755)
    kept = {name: value for name, value in environment().items() if not name.startswith("FONTCONFIG")}
    done = subprocess.run(
        [
            sys.executable, "-c",
            "import sys, time\nfrom pathlib import Path\nfrom generator.cli.run import run\n"
            "code = run(sys.argv[2:])\n"
            "for _ in range(200):\n    if Path(sys.argv[1]).exists(): break\n    time.sleep(0.05)\n"
            "sys.exit(code)",
            str(told), "make", str(ROOT / "recipes" / "tide-drum.yaml"), "--document", "crib-sheet", "--open",
            "--out", str(tmp_path / "out"),
        ],
        env={**kept, "PYTHONPATH": str(ROOT), "PATH": f"{opener.parent}:{os.environ['PATH']}"},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    seen = told.read_text(encoding="utf-8")
    assert "PYTHONPATH=" in seen
    assert "FONTCONFIG" not in seen
