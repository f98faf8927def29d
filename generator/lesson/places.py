"""Places at the tables: how many can laminate or roll at once.

A table has ⌊length / bench⌋ places along one side, and as many along the other if it is deep enough for two
pieces of cloth and two pairs of hands, 2 · (cloth width + 100 mm) (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.measures.bench import LAMINATE_SPACE
from generator.plan.work import Work
from generator.recipe.taught_class import Table

_NOISE = 1e-6
BENCHES = ("lamination_bench", "rolling_bench")
"""Measures of how much table a shade takes."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What one place takes of a table, mm."""

    length: float
    depth: float


@dataclass(frozen=True, slots=True)
class Placed:
    """Tables of one kind with their places."""

    table: Table
    along: int
    """Places along one side of one table."""
    sides: int
    """1 or 2."""

    @property
    def places(self) -> int:
        """On all tables of the kind."""
        return self.table.count * self.along * self.sides


def bench_of(works: Sequence[Work]) -> Bench:
    """A place that serves every one of these shades."""
    return Bench(
        max(work.measures.exact(id_) for work in works for id_ in BENCHES if id_ in work.measures),
        max(work.measures.shown("cloth_width") for work in works) + LAMINATE_SPACE,
    )


def placed(tables: Sequence[Table], bench: Bench) -> tuple[Placed, ...]:
    """The places of each kind of tables."""
    return tuple(
        Placed(
            table,
            math.floor(table.length / bench.length + _NOISE),
            2 if table.depth + _NOISE >= 2 * bench.depth else 1,
        )
        for table in tables
    )
