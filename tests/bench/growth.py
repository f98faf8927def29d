"""What 1, 10, 100 documents take in one call of make: time, CPU time, memory of a worker and of the call.

    .ci/bench-others growth
    .ci/bench-others growth --counts 1,10,100,1000 --document box-label

Each document is the step sheet of a drum of its own size, made by a short way of three steps, or another
kind: with a label of one page a thousand can be made in one sitting. What grows with the number of documents
grows here too.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from threading import Thread
from time import sleep

from tests.bench.watch import Watch, descendants, kilobytes

ROOT = Path(__file__).resolve().parents[2]
WAY = ROOT / "tests" / "trust" / "short-way.yaml"
RECIPE = """\
rimfold: 1
title: Drum {number}
technique: ./short-way.yaml
outline: circle
sizes:
  {number}: {{diameter: {diameter} mm, height: 180 mm}}
lamp: {{diameter: 60 mm, kind: LED, watts: 6}}
maker: {{name: Gannetry Steps Workroom}}
"""
KITS = "kits: {{count: {{{number}: 1}}}}\n"
"""For kinds of documents that need them; a step sheet does without."""
USUAL = "step-sheet"
WISH = 300.0
"""MB that a worker may take."""


def recipes(folder: Path, count: int, form: str) -> list[Path]:
    """As many recipes, none like another."""
    shutil.copy(WAY, folder / WAY.name)
    found = []
    for number in range(count):
        path = folder / f"drum-{number}.yaml"
        path.write_text(form.format(number=number, diameter=200 + number / 4), encoding="utf-8")
        found.append(path)
    return found


def measured(count: int, documents: Sequence[str]) -> dict[str, float]:
    """One call of make for so many recipes, with an empty folder to write into."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        asked = [part for kind in documents for part in ("--document", kind)]
        form = RECIPE if set(documents) == {USUAL} else RECIPE + KITS
        command = [sys.executable, "-m", "generator", "make", *map(str, recipes(folder, count, form)), *asked]
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        peaks: dict[int, int] = {}
        with Watch() as watch:
            process = subprocess.Popen(
                [*command, "--out", str(folder / "out")],
                cwd=ROOT,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
                stdout=subprocess.DEVNULL,
            )

            def look() -> None:
                while process.poll() is None:
                    for pid in descendants(os.getpid()):
                        peaks[pid] = max(peaks.get(pid, 0), kilobytes(pid, "status", "VmHWM:"))
                    sleep(0.2)

            looking = Thread(target=look)
            looking.start()
            looking.join()
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if process.returncode:
            raise SystemExit(f"growth: make ended with {process.returncode}")
        sheets = [path for path in folder.glob("out/*/*/*.pdf") if not path.name.endswith(".print.pdf")]
        if len(sheets) != count * len(documents):
            raise SystemExit(f"growth: {len(sheets)} documents instead of {count * len(documents)}")
        call = peaks.pop(process.pid)
        # A single document is made by the call itself.
        return {
            "documents": len(sheets),
            "seconds": watch.seconds,
            "CPU seconds": after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime,
            "MB of a worker": max(peaks.values(), default=call) / 1024,
            "MB of the call": call / 1024,
            "bytes a document": sum(path.stat().st_size for path in sheets) / len(sheets),
        }


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog=".ci/bench-others growth", description=__doc__.splitlines()[0])
    parser.add_argument("--counts", default="1,10,100")
    parser.add_argument(
        "--document", action="append", default=None, help=f"a kind of document (default {USUAL})"
    )
    wish = parser.parse_args()
    print(f"cores {os.cpu_count()}, load {os.getloadavg()[0]:.1f} at the beginning", flush=True)
    for count in map(int, wish.counts.split(",")):
        found = measured(count, wish.document or [USUAL])
        each = found["CPU seconds"] / found["documents"]
        within = "within" if found["MB of a worker"] < WISH else "ABOVE"
        told = ", ".join(f"{name} {value:,.1f}" for name, value in found.items())
        print(f"{told}, CPU seconds a document {each:.2f}; a worker is {within} {WISH:g} MB", flush=True)
        print(json.dumps(found), file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
