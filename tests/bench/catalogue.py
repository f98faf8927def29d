"""What a whole catalogue costs: made for the first time, made again unchanged, and with one recipe changed.

    .ci/bench --catalogue 12
    .ci/bench --catalogue 300 --document box-label
    .venv/bin/python -m tests.bench.catalogue 24 --sample recipes/tide-drum.yaml

The recipes are variants of one, each with another diameter, in a folder of this measurement's own. All are
given to one call, as ``rimfold make recipes/*.yaml`` does, and the start of the process counts. Without a
sample they are as small as recipes can be, so that the first call has as little to do as possible: what an
unchanged one saves is told too low rather than too high. ``--document`` makes only this kind, as often as it
is given: with a label of one page three hundred recipes are made in some minutes. CPU time is that of the
command and of all processes that it starts; other work on the machine changes it less than the time on the
wall.
"""

from __future__ import annotations

import argparse
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
WISH, OF = 0.02, 300
"""With one of so many recipes changed, a call should cost less than this share of making all."""
WAY = ROOT / "tests" / "trust" / "short-way.yaml"
SMALL = """\
rimfold: 1
title: Quay drum
technique: ./short-way.yaml
outline: circle
sizes: {20: {diameter: 200 mm, height: 160 mm}}
lamp: {diameter: 60 mm, kind: LED, watts: 6}
maker: {name: Gannetry Steps Workroom}
"""
KITS = "kits: {count: {20: 1}}\n"
"""For the kinds of documents that need them: only where a kind is asked for, since kits are more to judge."""
_DIAMETER = re.compile(r"(diameter: )(\d+)( mm)")


@dataclass(frozen=True)
class Took:
    """What a call took, seconds."""

    wall: float
    cpu: float


def variant(text: str, number: int) -> str:
    """A sample with each ring so many millimetres larger, and its lamp as it was."""
    lamp = next((line for line in text.splitlines() if line.startswith("lamp:")), "")
    wider = _DIAMETER.sub(lambda found: f"{found[1]}{int(found[2]) + number}{found[3]}", text)
    return re.sub(r"(?m)^lamp:.*$", lambda _: lamp, wider)


def took(folder: Path, recipes: list[Path], documents: Sequence[str] = ()) -> Took:
    """Make some recipes in one call, these kinds of documents or the usual ones.

    Raises CalledProcessError if it fails.
    """
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    asked = [part for kind in documents for part in ("--document", kind)]
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    subprocess.run(
        [sys.executable, "-m", "generator", "make", *map(str, recipes), *asked, "--out", str(folder / "out")],
        cwd=folder,
        env=environment,
        check=True,
        stdout=subprocess.DEVNULL,
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Took(time.monotonic() - start, cpu)


def measured(count: int, sample: Path | None, documents: Sequence[str] = ()) -> dict[str, Took]:
    """The rows, by name."""
    text = sample.read_text(encoding="utf-8") if sample else SMALL + (KITS if documents else "")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(WAY, folder)
        recipes = [folder / f"variant-{number:03d}.yaml" for number in range(count)]
        for number, recipe in enumerate(recipes):
            recipe.write_text(variant(text, number), encoding="utf-8")
        rows = {"first": took(folder, recipes, documents)}
        # Files that have just been written are read once more; from then on the system's word is enough.
        rows["again, at once"] = took(folder, recipes, documents)
        time.sleep(2.5)
        took(folder, recipes, documents)
        rows["again"] = took(folder, recipes, documents)
        rows["again, one of them alone"] = took(folder, recipes[:1], documents)
        recipes[-1].write_text(variant(text, count), encoding="utf-8")
        rows["one changed"] = took(folder, recipes, documents)
    return rows


def of_many(rows: dict[str, Took], count: int) -> float:
    """The share that one changed recipe of ``OF`` costs, worked out from the rows in CPU time."""
    each = (rows["again"].cpu - rows["again, one of them alone"].cpu) / max(count - 1, 1)
    change = rows["one changed"].cpu - rows["again"].cpu
    start = rows["again, one of them alone"].cpu - each
    return (start + OF * each + change) / (rows["first"].cpu / count * OF)


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(
        prog=".ci/bench --catalogue", description=(__doc__ or "").splitlines()[0]
    )
    parser.add_argument("count", nargs="?", type=int, default=12, help="recipes, at least two (default 12)")
    parser.add_argument("--sample", type=Path, default=None, help="a recipe whose diameters end in mm")
    parser.add_argument("--document", action="append", default=[], help="a kind of document (default: usual)")
    asked = parser.parse_args()
    count = max(asked.count, 2)
    rows = measured(count, asked.sample, asked.document)
    first = rows["first"]
    print(f"{f'{count} recipes in one call':28}{'wall s':>9}{'CPU s':>9}{'wall':>9}{'CPU':>9}   of the first")
    for name, row in rows.items():
        shares = f"{row.wall / first.wall:9.2%}{row.cpu / first.cpu:9.2%}"
        print(f"{name:28}{row.wall:9.2f}{row.cpu:9.2f}{shares}")
    if count >= OF:
        share, how = rows["one changed"].cpu / first.cpu, f"One of {count} such recipes changed, as measured"
    else:
        share, how = of_many(rows, count), f"One of {OF} such recipes changed, worked out from these rows"
    told = "below" if share < WISH else "ABOVE"
    print(f"{how}: {share:.2%} of the CPU time, {told} the wish of {WISH:.0%}")


if __name__ == "__main__":
    main()
