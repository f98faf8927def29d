"""Steps one below the other in narrow columns, where paper is so short that some must share a picture.

Pure arithmetic on heights in mm. A step has its own picture, a lower one, or none: then it stands in one
column with its neighbour of the same stage, whose picture serves both. Of two that share, the one keeps its
picture that teaches more. What a gate begins always has its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

SPARE = 0.4
"""Kept empty at each foot, mm: the engine rounds heights."""
MOST_IN_COLUMN = 7
Picture = Literal["high", "low", "shared"]


@dataclass(frozen=True, slots=True)
class Cell:
    """A step. Heights in mm."""

    id: str
    words: float
    """All but its picture, with the air that it keeps round it."""
    high: float
    low: float
    """Its picture, and the one for a lower place: as high where there is no lower one."""
    stage: str = ""
    chain: str = ""
    """Steps of one chain follow each other without a wait."""
    own: bool = False
    """It always has its own picture."""
    teaches: int = 0
    things: frozenset[str] = frozenset()
    """What the hand takes for it: pictures of steps with the same things resemble each other."""


@dataclass(frozen=True, slots=True)
class Place:
    """A step in its column."""

    id: str
    picture: Picture
    joined: bool = False
    """It shares a picture with the step above it."""


class Cost(NamedTuple):
    """What is bad about a way to fill the columns, worst first; costs of columns add up."""

    strange: int = 0
    """Steps that share the picture of one for which the hand takes nothing of the same."""
    lost: int = 0
    """How much the pictures would teach of the steps that have none of their own."""
    shared: int = 0
    """Steps without a picture of their own."""
    lower: int = 0
    """Pictures that are lower than they should be."""
    cut: int = 0
    """Work that cannot wait and goes on in the next column."""
    empty: float = 0.0
    """Sum of the squares of the share of each column that stays empty."""

    def plus(self, other: Cost) -> Cost:
        """Sum, part by part."""
        return Cost._make(one + two for one, two in zip(self, other, strict=True))


Column = tuple[Place, ...]
_Run = tuple[tuple[Cell, Picture, bool], ...]


def pack(cells: Sequence[Cell], columns: Sequence[float]) -> tuple[Column, ...] | None:
    """Columns of these heights filled in order; None if the steps do not fit."""
    reached: dict[int, tuple[Cost, tuple[Column, ...]]] = {0: (Cost(), ())}
    for room in columns:
        following: dict[int, tuple[Cost, tuple[Column, ...]]] = {}
        for start, (cost, filled) in reached.items():
            for end in range(start, min(len(cells), start + MOST_IN_COLUMN) + 1):
                found = best_column(cells[start:end], room - SPARE)
                if found is None:
                    break
                total = cost.plus(found[0]).plus(Cost(cut=_cuts(cells, end)))
                known = following.get(end)
                if known is None or total < known[0]:
                    following[end] = (total, (*filled, found[1]))
        reached = following
    return reached[len(cells)][1] if len(cells) in reached else None


def _cuts(cells: Sequence[Cell], end: int) -> int:
    """Whether a column that ends before this cell parts work that cannot wait."""
    return int(0 < end < len(cells) and bool(cells[end].chain) and cells[end - 1].chain == cells[end].chain)


def best_column(cells: Sequence[Cell], room: float) -> tuple[Cost, Column] | None:
    """One column: with as few shared pictures as may be, then as few low ones; None if it does not fit."""
    found = []
    for run in _sharings(cells):
        lowered = _lowered(run, room)
        if lowered is not None:
            used = sum(_height(cell, picture) for cell, picture, _ in lowered)
            cost = Cost(
                strange=sum(
                    joined and not run[index - 1][0].things & cell.things
                    for index, (cell, _, joined) in enumerate(run)
                ),
                lost=sum(cell.teaches for cell, picture, _ in lowered if picture == "shared"),
                shared=sum(picture == "shared" for _, picture, _ in lowered),
                lower=sum(picture == "low" for _, picture, _ in lowered),
                empty=(1 - used / room) ** 2 if room > 0 else 0.0,
            )
            found.append((cost, tuple(Place(cell.id, picture, joined) for cell, picture, joined in lowered)))
    return min(found, key=lambda each: each[0]) if found else None


def _sharings(cells: Sequence[Cell]) -> Iterator[_Run]:
    """Every way to let neighbours share a picture."""
    if not cells:
        yield ()
        return
    first = cells[0]
    yield from (((first, "high", False), *rest) for rest in _sharings(cells[1:]))
    if len(cells) > 1 and may_share(first, cells[1]):
        second = cells[1]
        shown = first if first.teaches >= second.teaches else second
        pair: _Run = (
            (first, "high" if shown is first else "shared", False),
            (second, "high" if shown is second else "shared", True),
        )
        yield from ((*pair, *rest) for rest in _sharings(cells[2:]))


def may_share(one: Cell, two: Cell) -> bool:
    """Whether one picture may serve both: they are of one stage, and neither must have its own."""
    return one.stage == two.stage and not one.own and not two.own


def _lowered(run: _Run, room: float) -> _Run | None:
    """The same with as many pictures lowered as it takes, the highest first; None if that is not enough."""
    over = sum(_height(cell, picture) for cell, picture, _ in run) - room
    saving = sorted(
        (index for index, (cell, picture, _) in enumerate(run) if picture == "high" and cell.low < cell.high),
        key=lambda index: run[index][0].low - run[index][0].high,
    )
    low: set[int] = set()
    for index in saving:
        if over <= 0:
            break
        over -= run[index][0].high - run[index][0].low
        low.add(index)
    if over > 0:
        return None
    return tuple(
        (cell, "low" if index in low else picture, joined)
        for index, (cell, picture, joined) in enumerate(run)
    )


def _height(cell: Cell, picture: Picture) -> float:
    return cell.words + {"high": cell.high, "low": cell.low, "shared": 0.0}[picture]
