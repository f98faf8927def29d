"""Which documents do not come in the form that was asked for: every sample, language, print and paper.

    .ci/forms
    .ci/forms --paper a4 --print-size larger --document step-sheet
    .ci/forms --recipe recipes/tide-drum.yaml --lang de,fr

Each is made by the command line as a person would make it. What came otherwise, or not at all, is a row of a
table: what a document is not laid out for in any case is told once, what had no room each time it did. A row
that says "no room" or "refused" is to be looked into before a release.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from generator.base.assets import data_folder, languages
from generator.base.edition import PAPERS, PRINT_SIZES
from generator.sheets.document import document_kinds

ROOT = Path(__file__).resolve().parents[2]
NO_ROOM, REFUSED, BY_DESIGN = "no room", "refused", "by design"
LIMIT = 3600
"""Longest time that one call of make may take, s."""


@dataclass(frozen=True, slots=True)
class Row:
    """What came otherwise than was asked for."""

    recipe: str
    language: str
    paper: str
    size: str
    what: str
    line: str

    @property
    def told(self) -> str:
        """As it stands in the table."""
        return f"{self.recipe:14} {self.language:3} {self.paper:7} {self.size:7} {self.what:9} {self.line}"


def made(recipe: Path, language: str, paper: str, size: str, documents: Sequence[str]) -> tuple[Row, ...]:
    """The rows of one call of make; none where everything came as it was asked for."""
    kinds = [word for kind in documents for word in ("--document", kind)]
    with tempfile.TemporaryDirectory() as out:
        call = [sys.executable, "-m", "generator", "make", str(recipe), "--json", "--out", out, *kinds]
        call += ["--lang", language, "--paper", paper, "--print-size", size]
        try:
            done = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, timeout=LIMIT, check=False)
        except subprocess.TimeoutExpired:
            return (Row(recipe.stem, language, paper, size, REFUSED, f"not made within {LIMIT} s"),)
    return tuple(
        Row(recipe.stem, language, paper, size, what, line) for what, line in _said(done.stdout, done.stderr)
    )


def _said(output: str, complaints: str) -> Iterator[tuple[str, str]]:
    """What happened, and the line that says it. A call that ends without a last event was broken off."""
    events = [json.loads(line) for line in output.splitlines()]
    for event in events:
        if event["event"] == "failed":
            yield REFUSED, event["message"]
        elif event["event"] == "told" and "printed " in event["line"]:
            yield (BY_DESIGN if "laid out " in event["line"] else NO_ROOM), event["line"]
    if not events or events[-1]["event"] != "end":
        yield REFUSED, (complaints.strip().splitlines() or ["ended early, and said nothing"])[-1]


def main() -> int:
    """Make all that is asked for, one call after the other, and print a table; 1 if anything lacked room."""
    assert __doc__ is not None
    parser = argparse.ArgumentParser(prog=".ci/forms", description=__doc__.splitlines()[0])
    samples = sorted(data_folder("recipes").glob("*.yaml"))
    printed = [name for name, kind in document_kinds().items() if kind.press]
    parser.add_argument("--recipe", nargs="+", type=Path, default=samples, metavar="FILE")
    parser.add_argument("--document", choices=printed, default=printed, nargs="+")
    parser.add_argument("--lang", default=",".join(languages()), metavar="LANG,LANG")
    papers = [name.lower() for name in PAPERS]
    parser.add_argument("--paper", choices=papers, default=papers, nargs="+")
    parser.add_argument("--print-size", choices=PRINT_SIZES, default=PRINT_SIZES[1:], nargs="+")
    wish = parser.parse_args()
    found: list[Row] = []
    ways = list(product(wish.recipe, wish.paper, wish.print_size, wish.lang.split(",")))
    for recipe, paper, size, language in ways:
        rows = made(recipe.resolve(), language, paper, size, wish.document)
        found += rows
        for row in rows:
            if row.what != BY_DESIGN:
                print(row.told, flush=True)
    designed = sorted({row.line.partition(": ")[2] for row in found if row.what == BY_DESIGN})
    lacking = [row for row in found if row.what != BY_DESIGN]
    print(f"{len(ways)} calls; {len(lacking)} lines of what had no room or was refused")
    for line in designed:
        print(f"{BY_DESIGN}: {line}")
    return 1 if lacking else 0


if __name__ == "__main__":
    sys.exit(main())
