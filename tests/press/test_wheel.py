"""A wheel, installed away from the checkout, holds all that the command needs."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def run(*command: str | Path, folder: Path) -> str:
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    done = subprocess.run(
        [str(part) for part in command],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, folder=ROOT)
    (path,) = folder.glob("rimfold-*.whl")
    return path


@pytest.fixture(scope="module")
def command(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The command of an environment that has the wheel, and the pinned packages but not the checkout."""
    home = tmp_path_factory.mktemp("an empty environment")
    venv.create(home, with_pip=False)
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check", "--python", home / "bin" / "python")
    run(*pip, "install", "--quiet", "--no-deps", "--no-index", wheel, folder=home)
    # The packages are borrowed from this environment. Its link to the checkout is not: only a folder of the
    # environment's own is searched for such links.
    version = f"python{sys.version_info.major}.{sys.version_info.minor}"
    borrowed = home / "lib" / version / "site-packages" / "borrowed.pth"
    borrowed.write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return home / "bin" / "rimfold"


def test_recipes_techniques_and_templates_travel_in_the_wheel(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        packed = set(archive.namelist())
    for folder in ("recipes", "templates"):
        files = [path for path in (ROOT / folder).rglob("*") if path.is_file()]
        assert files
        assert {f"generator/_data/{path.relative_to(ROOT).as_posix()}" for path in files} <= packed
    assert not [name for name in packed if name.startswith(("tests/", "out/", ".ci/"))]


def test_the_command_runs_from_another_folder(command: Path, tmp_path: Path) -> None:
    assert "Usage: rimfold" in run(command, "--help", folder=tmp_path)
    where = run(
        command.parent / "python", "-c", "import generator; print(generator.__file__)", folder=tmp_path
    )
    assert Path(where.strip()).is_relative_to(command.parents[1])


def test_the_command_measures_a_recipe_from_another_folder(command: Path, tmp_path: Path) -> None:
    recipe = tmp_path / "pier-drum.yaml"
    recipe.write_bytes((ROOT / "recipes" / "pier-drum.yaml").read_bytes())
    told = json.loads(run(command, "measures", recipe.name, "--json", folder=tmp_path))
    # Demo scenario, first recipe: the panel of size 35 is 1112 mm long.
    assert told["sizes"]["35"]["measures"]["panel_length"]["shown"] == 1112


def test_the_command_prints_a_sheet_from_another_folder(command: Path, tmp_path: Path) -> None:
    recipe = tmp_path / "pier-drum.yaml"
    recipe.write_bytes((ROOT / "recipes" / "pier-drum.yaml").read_bytes())
    run(command, "make", recipe.name, "--size", "35", folder=tmp_path)
    sheet = tmp_path / "out" / "pier-drum" / "35" / "step-sheet.en.pdf"
    assert sheet.read_bytes().startswith(b"%PDF-1.7")
