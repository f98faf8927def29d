"""Which steps stand on which page of a small booklet: cells two in a row, or one across the page.

Pure arithmetic on heights in mm, as ``packing.py`` does it for pages of one column. Every cell has been
measured both ways. Among all ways to break the steps into pages and rows the best is taken, weighed in the
order of ``Cost``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple, Protocol

SPARE = 0.6
"""Kept empty at each foot, mm: the engine rounds heights."""
MOST_ON_PAGE = 8
"""More cells than these do not stand on a page as small as A5."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One thing that stands whole on a page. Heights in mm, with the air that it keeps round it."""

    id: str
    narrow: float
    """Height in half the width of the page."""
    wide: float
    """Height across the page."""
    chain: str = ""
    """Cells of one chain follow each other without a wait."""
    gate: bool = False
    """Its chain begins here, with a stop: no leaf is to be turned in it."""
    stage: str = ""
    """Cells of one stage belong together."""


@dataclass(frozen=True, slots=True)
class Row:
    """One cell across the page, or one or two in half its width each."""

    cells: tuple[str, ...]
    wide: bool
    height: float


Rows = tuple[Row, ...]


class Paper(Protocol):
    """What holds the cells."""

    def room(self, page: int) -> float:
        """Height for rows on a page of cells, counted from 0, mm."""
        ...

    def leaf_turned(self, page: int) -> bool:
        """Whether a leaf is turned between this page and the next."""
        ...

    def sheets(self, pages: int) -> int:
        """Sheets of paper that so many pages of cells make, with all that stands round them."""
        ...

    @property
    def most(self) -> int | None:
        """Most pages of cells; None: as many as it takes."""
        ...


class Cost(NamedTuple):
    """What is bad about a way to break pages, worst first; costs of pages add up."""

    gate_turned: int = 0
    """Leaves turned within work that a gate begins."""
    sheets: int = 0
    gate_cut: int = 0
    """Such work that goes on on the facing page."""
    chain_turned: int = 0
    """Leaves turned within other work that cannot wait."""
    chain_cut: int = 0
    pages: int = 0
    holes: int = 0
    """Halves of rows that stay empty."""
    wide: int = 0
    """Cells across the page, which break the grid."""
    stage_cut: int = 0
    """Stages that go on on the next page."""
    empty: float = 0.0
    """Sum of the squares of the share of each page that stays empty."""

    @property
    def of_work(self) -> tuple[int, ...]:
        """Sheets, and what hinders whoever works by the pages."""
        return (self.gate_turned, self.sheets, self.gate_cut, self.chain_turned, self.chain_cut)

    def plus(self, other: Cost) -> Cost:
        """Sum, part by part."""
        return Cost._make(one + two for one, two in zip(self, other, strict=True))


@dataclass(frozen=True, slots=True)
class Packed:
    """Rows of each page in order, and what is bad about them."""

    pages: tuple[Rows, ...]
    cost: Cost


def pack(cells: Sequence[Cell], paper: Paper) -> Packed | None:
    """The best way to break the cells into pages; None if they do not fit on the paper.

    A cell that is higher than a page stands alone on one: whoever reads the finished file back will tell.
    """
    most = len(cells) if paper.most is None else paper.most
    chains = {cell.chain for cell in cells if cell.gate}
    reached: list[dict[int, tuple[Cost, tuple[Rows, ...]]]] = [{} for _ in range(len(cells) + 1)]
    reached[0][0] = (Cost(), ())
    for start in range(len(cells)):
        for page, (cost, pages) in reached[start].items():
            if page == most:
                continue
            for end, rows in _pages_from(cells, start, paper.room(page) - SPARE, forced=paper.most is None):
                turned = paper.leaf_turned(page)
                total = cost.plus(_cost(cells, start, end, rows, paper.room(page), turned, chains))
                known = reached[end].get(page + 1)
                if known is None or total < known[0]:
                    reached[end][page + 1] = (total, (*pages, rows))
    ends = [
        (cost._replace(sheets=paper.sheets(count)), pages) for count, (cost, pages) in reached[-1].items()
    ]
    if not ends:
        return None
    cost, pages = min(ends, key=lambda end: end[0])
    return Packed(pages, cost)


def _pages_from(
    cells: Sequence[Cell], start: int, room: float, *, forced: bool
) -> Iterator[tuple[int, Rows]]:
    """Pages that begin with a cell: the number of the cell after them, and their rows."""
    for end in range(start + 1, min(len(cells), start + MOST_ON_PAGE) + 1):
        rows = best_rows(tuple(cells[start:end]), room)
        if rows is None and forced and end == start + 1:
            rows = (Row((cells[start].id,), True, cells[start].wide),)
        if rows is not None:
            yield end, rows


@lru_cache(maxsize=4096)
def best_rows(cells: tuple[Cell, ...], room: float) -> Rows | None:
    """The rows for one page: with as few holes as may be, then as few across it, then the least height."""
    found = [(*_badness(rows), rows) for rows in _arrangements(cells) if _height(rows) <= room]
    return min(found, key=lambda each: each[:-1])[-1] if found else None


def _badness(rows: Rows) -> tuple[int, int, float]:
    holes = sum(not row.wide and len(row.cells) == 1 for row in rows)
    wide = sum(row.wide for row in rows)
    return holes, wide, round(_height(rows), 6)


def _arrangements(cells: tuple[Cell, ...]) -> Iterator[Rows]:
    if not cells:
        yield ()
        return
    first = cells[0]
    rows = [(1, Row((first.id,), True, first.wide)), (1, Row((first.id,), False, first.narrow))]
    if len(cells) > 1:
        second = cells[1]
        rows.append((2, Row((first.id, second.id), False, max(first.narrow, second.narrow))))
    for taken, row in rows:
        yield from ((row, *rest) for rest in _arrangements(cells[taken:]))


def _cost(
    cells: Sequence[Cell],
    start: int,
    end: int,
    rows: Rows,
    room: float,
    turned: bool,
    gated: set[str],
) -> Cost:
    last, after = cells[end - 1], cells[end] if end < len(cells) else None
    cut = after is not None and bool(last.chain) and last.chain == after.chain
    at_gate = cut and last.chain in gated
    holes, wide, height = _badness(rows)
    return Cost(
        gate_turned=int(at_gate and turned),
        gate_cut=int(at_gate and not turned),
        chain_turned=int(cut and not at_gate and turned),
        chain_cut=int(cut and not at_gate and not turned),
        pages=1,
        holes=holes,
        wide=wide,
        stage_cut=int(after is not None and bool(last.stage) and last.stage == after.stage),
        empty=max(0.0, 1 - height / room) ** 2,
    )


def _height(rows: Rows) -> float:
    return sum(row.height for row in rows)
