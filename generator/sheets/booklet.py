"""How a booklet of small pages is made up: what stands before the steps, the steps in cells, what follows.

Heights in mm. ``cells.py`` breaks the steps into pages; here the pages round them are filled, and blank ones
are put before the last so that whole sheets of paper come out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.sheets.cells import SPARE, Cell, Rows, pack
from generator.sheets.packing import Layout

MOST_AIR = 7.0
"""Most air between two rows or blocks of a page that is not full, mm."""

NOTES_FROM, NOTES_GAP = 45.0, 5.0
"""More empty paper than this below the rows is ruled for notes, less so much, mm (our own threshold)."""
ROWS = 3
"""A page of cells should hold so many rows."""

Page = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """What stands whole on a page before or after the steps."""

    id: str
    first: bool = False
    """It begins a page."""
    movable: bool = False
    """It may stand on the page before the one that another block begins, if that saves a page."""


@dataclass(frozen=True, slots=True)
class CellPage:
    """One page of steps."""

    rows: Rows
    air: float
    """Between two rows, mm."""
    notes: float
    """Height ruled for notes below them, mm."""
    stages: tuple[str, ...]
    """Stages on the page, in order."""
    begun: frozenset[str]
    """Those of them that begin here."""


@dataclass(frozen=True)
class BookletLayout(Layout):
    """Pages of a booklet in the order in which they are read."""

    front: tuple[Page, ...] = ()
    cells: tuple[CellPage, ...] = ()
    blank: int = 0
    """Pages for notes, before the last one."""
    full: float = 0.0
    """Height of such a page, mm."""
    hindrance: tuple[int, ...] = ()
    """Leaves turned where none should be, and sheets: the least of two ways is the better."""
    back: tuple[Page, ...] = ()

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.front) + len(self.cells) + self.blank + len(self.back)


@dataclass(frozen=True, slots=True)
class Booklet:
    """Stitched sheets of four pages each: as many as it takes."""

    full: float
    """Height for blocks on a page, mm."""
    heading: float
    """Height of the line of stages above the rows, mm."""
    before: int
    """Pages before the steps."""
    after: int
    most: int | None = None

    def room(self, page: int) -> float:
        """Height for rows on a page of steps."""
        return self.full - self.heading

    def leaf_turned(self, page: int) -> bool:
        """Right-hand pages have odd numbers, and are turned."""
        return (self.before + page + 1) % 2 == 1

    def sheets(self, pages: int) -> int:
        """Sheets of four pages."""
        return -(-(self.before + pages + self.after) // 4)


def make_up(
    front: Sequence[Block],
    steps: Sequence[Cell],
    back: Sequence[Block],
    heights: Mapping[str, float],
    room: float,
    heading: str,
    saved: Mapping[str, float],
) -> BookletLayout:
    """The pages of a booklet.

    ``heading`` is the id of the line of stages, whose height was measured too; ``saved`` is what a lower
    figure takes from the height of a cell.
    """
    orders = (front, _moved(front))
    first = min((tuple(_filled(order, heights, room)) for order in orders), key=len)
    last = tuple(_filled(back, heights, room))
    paper = Booklet(room, heights[heading], len(first), len(last))
    cells, low = lowered(steps, saved, (paper.room(0) - SPARE) / ROWS)
    packed = pack(cells, paper)
    assert packed is not None  # there are as many pages as it takes
    # Where as many sheets have room for it, and the work is no more hindered, no figure need be lower.
    most = 4 * packed.cost.sheets - len(first) - len(last)
    high = pack(steps, replace(paper, most=most))
    if high is not None and high.cost.of_work <= packed.cost.of_work:
        packed, low = high, frozenset()
    rows = packed.pages
    stages = {cell.id: cell.stage for cell in steps}
    pages = tuple(cell_pages(rows, stages, paper.room(0)))
    air: dict[str, float] = {}
    for page in (*first, *last):
        air.update(_aired(page, heights, room))
    blank = -(len(first) + len(pages) + len(last)) % 4
    in_cells = {cell for page in rows for row in page if not row.wide for cell in row.cells}
    return BookletLayout(
        air=air,
        low=low & in_cells,
        front=first,
        cells=pages,
        blank=blank,
        full=room - NOTES_GAP,
        back=last,
        hindrance=packed.cost.of_work,
    )


def _moved(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """The movable blocks before the first one that begins a page."""
    movable = tuple(block for block in blocks if block.movable)
    others = [block for block in blocks if not block.movable]
    at = next((place for place, block in enumerate(others) if block.first), 0)
    return (*others[:at], *movable, *others[at:])


def lowered(
    steps: Sequence[Cell], saved: Mapping[str, float], share: float
) -> tuple[tuple[Cell, ...], frozenset[str]]:
    """The cells, and which of them get a lower figure: those that are higher than their share of a page.

    ``saved`` says by how much a cell is lower with such a figure; the others have none.
    """
    low = frozenset(cell.id for cell in steps if cell.narrow > share and saved.get(cell.id, 0.0) > 0)
    cells = (replace(cell, narrow=cell.narrow - saved[cell.id]) if cell.id in low else cell for cell in steps)
    return tuple(cells), low


def cell_pages(pages: Iterable[Rows], stages: Mapping[str, str], room: float) -> Iterator[CellPage]:
    """Pages of rows with the stages on each, and the empty paper shared out between its rows."""
    seen: set[str] = set()
    for rows in pages:
        named = [stages[cell] for row in rows for cell in row.cells]
        here = tuple(dict.fromkeys(name for name in named if name))
        empty = room - SPARE - sum(row.height for row in rows)
        air = min(MOST_AIR, max(0.0, empty) / max(1, len(rows) - 1))
        left = empty - air * (len(rows) - 1)
        notes = left - NOTES_GAP if left > NOTES_FROM else 0.0
        yield CellPage(rows, air, notes, here, frozenset(here) - seen)
        seen.update(here)


def _filled(blocks: Sequence[Block], heights: Mapping[str, float], room: float) -> Iterator[Page]:
    """Blocks page by page, each where there is still room for it; those that the page lacks are left out."""
    page: list[Block] = []
    used = 0.0
    for block in blocks:
        if block.id not in heights:
            continue
        if page and (block.first or used + heights[block.id] > room - SPARE):
            yield tuple(each.id for each in page)
            page, used = [], 0.0
        page.append(block)
        used += heights[block.id]
    if page:
        yield tuple(each.id for each in page)


def _aired(page: Page, heights: Mapping[str, float], room: float) -> Iterator[tuple[str, float]]:
    empty = room - SPARE - sum(heights[block] for block in page)
    if len(page) > 1 and empty > 0:
        each = min(MOST_AIR, empty / (len(page) - 1))
        yield from ((block, each) for block in page[1:])
