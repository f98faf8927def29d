"""Everything but the page runs without what the page needs, and the page says what it lacks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from generator.base.assets import data_folder

ROOT = Path(__file__).parents[2]
WITHOUT = """
import sys
GONE = ("starlette", "uvicorn", "anyio", "multipart", "python_multipart", "ruamel")
class Missing:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in GONE:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Missing())
from generator.cli.run import run
sys.exit(run(sys.argv[1:]))
"""


def rimfold(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", WITHOUT, *arguments],
        cwd=cwd,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


@pytest.mark.parametrize("command", [("--help",), ("check",), ("measures", "--json"), ("steps",), ("make",)])
def test_the_rest_runs_without_it(command: tuple[str, ...], tmp_path: Path) -> None:
    recipe = () if command == ("--help",) else (str(data_folder("recipes") / "tide-drum.yaml"),)
    more = ("--document", "box-label") if command == ("make",) else ()
    done = rimfold(*command[:1], *recipe, *command[1:], *more, cwd=tmp_path)
    assert done.returncode == 0, done.stderr


def test_the_page_says_what_it_lacks_and_how_to_get_it(tmp_path: Path) -> None:
    done = rimfold("page", str(tmp_path), cwd=tmp_path)
    assert done.returncode == 2
    assert "is not installed; run: pip install 'rimfold[page]'" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_that_is_none_is_told(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "generator", "page", str(tmp_path / "none")],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 2
    assert "is no folder" in done.stderr
