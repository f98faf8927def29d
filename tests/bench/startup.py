"""What a command costs, against an interpreter that loads the two lightest libraries and ends.

    .venv/bin/python -m tests.bench.startup
    .venv/bin/python -m tests.bench.startup --runs 15

CPU time of the process that was started, not the time on the wall: other work on the machine changes it less.
Compiled modules are kept in a folder of this measurement's own, and each command's first run, which writes
them, does not count: an installed program has them too. Beyond that nothing is remembered from one run to the
next, so each row is a first call. Two rows say what stands ready all the same: our own techniques were judged
when they were given out (``generator/plan/sound.py``), so "ours" needs no plan; "their own" is a copy of ours
beside the recipe, which is judged and planned in each call. Commands print into a pipe; on a terminal a table
with colours takes some 0.06 s more.
"""

from __future__ import annotations

import argparse
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent.parent
DRUM = "recipes/pier-drum.yaml"
"""With kits, and a class of eleven who bring cloth: plans and cuts are judged before a number is told."""
PLAIN = "recipes/tide-drum.yaml"
"""Neither, and a technique of ours."""
OWN = "PLAIN, with a technique of its own"
"""Stands for the path of such a recipe, which ``measured`` writes."""
RIMFOLD = ("-m", "generator")

WISH = 4.0
"""A command that prints no page should start within so many times the first row."""

ROWS: Mapping[str, Sequence[str]] = {
    "python, click, yaml": ("-c", "import click, yaml"),
    "python, click, yaml, pydantic": ("-c", "import click, yaml; from pydantic import BaseModel"),
    "rimfold --help": (*RIMFOLD, "--help"),
    "measures, kits and a class": (*RIMFOLD, "measures", DRUM, "--size", "35"),
    "the same --json": (*RIMFOLD, "measures", DRUM, "--size", "35", "--json"),
    "measures of a plain recipe, ours": (*RIMFOLD, "measures", PLAIN),
    "the same, their own technique": (*RIMFOLD, "measures", OWN),
    "measures of tapered ovals": (*RIMFOLD, "measures", "recipes/coble-oval.yaml"),
    "steps, kits and a class": (*RIMFOLD, "steps", DRUM, "--size", "35"),
    "check, kits and a class": (*RIMFOLD, "check", DRUM),
    "check of a plain recipe": (*RIMFOLD, "check", PLAIN),
    "start of a worker": ("-c", "import generator.build"),
}


def seconds(arguments: Sequence[str], compiled: Path) -> float:
    """CPU seconds, user and system, of one run. Raises CalledProcessError if the command fails."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment |= {"PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(compiled)}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], cwd=ROOT, env=environment, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measured(runs: int) -> dict[str, list[float]]:
    """CPU seconds of every row, one a run; rows take turns, so that a slow spell hits all of them."""
    found: dict[str, list[float]] = {name: [] for name in ROWS}
    with tempfile.TemporaryDirectory() as name_of_folder:
        folder = Path(name_of_folder)
        own = str(_own(folder))
        for turn in range(runs + 1):
            for name, arguments in ROWS.items():
                took = seconds([own if each == OWN else each for each in arguments], folder / "compiled")
                if turn:
                    found[name].append(took)
    return found


def _own(folder: Path) -> Path:
    """The plain recipe, made by a technique that lies beside it."""
    shutil.copy(ROOT / "recipes" / "techniques" / "trimmed-edge.yaml", folder / "own-edge.yaml")
    recipe = folder / "own.yaml"
    text = (ROOT / PLAIN).read_text(encoding="utf-8")
    recipe.write_text(text.replace("technique: trimmed-edge", "technique: ./own-edge.yaml"), encoding="utf-8")
    return recipe


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.bench.startup", description=__doc__.splitlines()[0]
    )
    parser.add_argument("--runs", type=int, default=7)
    found = measured(max(1, parser.parse_args().runs))
    first = median(next(iter(found.values())))
    print(f"{'':34}{'CPU s':>8}{'least':>8}{'ratio':>8}   (wish: at most {WISH:g})")
    for name, values in found.items():
        print(f"{name:34}{median(values):8.3f}{min(values):8.3f}{median(values) / first:8.1f}")


if __name__ == "__main__":
    main()
