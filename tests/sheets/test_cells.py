"""Steps in cells on the pages of a booklet: none lost, no page too full, no leaf turned in vain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.sheets.booklet import Block, Booklet, BookletLayout, make_up
from generator.sheets.cells import SPARE, Cell, Row, Rows, pack

ROOM = 100.0


@dataclass(frozen=True)
class Pile:
    """Pages of one height, every other leaf turned, four pages a sheet."""

    most: int | None = None
    first_turned: bool = False

    def room(self, page: int) -> float:
        return ROOM

    def leaf_turned(self, page: int) -> bool:
        return (page % 2 == 0) is self.first_turned

    def sheets(self, pages: int) -> int:
        return -(-pages // 4)


@st.composite
def steps(draw: st.DrawFn, most: int = 9) -> tuple[Cell, ...]:
    count = draw(st.integers(1, most))
    start = draw(st.integers(0, count))
    end = min(count, start + draw(st.integers(2, 4)))
    heights = st.floats(15, 45)
    return tuple(
        Cell(
            f"step-{n}",
            narrow=draw(heights),
            wide=draw(heights),
            chain="roll" if start <= n < end else "",
            gate=n == start,
        )
        for n in range(count)
    )


def packed(cells: Sequence[Cell], pile: Pile) -> tuple[Rows, ...]:
    found = pack(cells, pile)
    assert found is not None
    return found.pages


def read(pages: Sequence[Rows]) -> list[str]:
    return [cell for rows in pages for row in rows for cell in row.cells]


def height(rows: Rows, cells: dict[str, Cell]) -> float:
    """Of the rows as their cells say, whatever the rows themselves say."""
    total = 0.0
    for row in rows:
        inside = [cells[name] for name in row.cells]
        assert len(inside) == 1 if row.wide else 1 <= len(inside) <= 2
        total += inside[0].wide if row.wide else max(cell.narrow for cell in inside)
    return total


def every_way(cells: Sequence[Cell]) -> Iterator[list[Rows]]:
    """All ways to break cells into rows and pages that fit, without cleverness."""

    def rows_of(left: Sequence[Cell]) -> Iterator[Rows]:
        if not left:
            yield ()
            return
        for row in [Row((left[0].id,), True, left[0].wide), Row((left[0].id,), False, left[0].narrow)]:
            yield from ((row, *rest) for rest in rows_of(left[1:]))
        if len(left) > 1:
            pair = Row((left[0].id, left[1].id), False, max(left[0].narrow, left[1].narrow))
            yield from ((pair, *rest) for rest in rows_of(left[2:]))

    if not cells:
        yield []
        return
    for end in range(1, len(cells) + 1):
        for rows in rows_of(cells[:end]):
            if sum(row.height for row in rows) <= ROOM - SPARE:
                yield from ([rows, *rest] for rest in every_way(cells[end:]))


def turned_at_gate(pages: Sequence[Rows], cells: dict[str, Cell], pile: Pile) -> int:
    """How often a leaf is turned within what a gate begins."""
    ends = [rows[-1].cells[-1] for rows in pages[:-1]]
    starts = [rows[0].cells[0] for rows in pages[1:]]
    cut = [
        bool(cells[a].chain) and cells[a].chain == cells[b].chain for a, b in zip(ends, starts, strict=True)
    ]
    return sum(gone and pile.leaf_turned(page) for page, gone in enumerate(cut))


@given(steps(30))
def test_every_step_stands_once_in_order_and_no_page_is_too_full(given_steps: tuple[Cell, ...]) -> None:
    pages = packed(given_steps, Pile())
    assert read(pages) == [cell.id for cell in given_steps]
    cells = {cell.id: cell for cell in given_steps}
    assert all(height(rows, cells) <= ROOM for rows in pages)


@settings(max_examples=40, deadline=None)
@given(steps(6), st.booleans())
def test_no_other_way_turns_fewer_leaves_at_the_gate_or_takes_fewer_sheets(
    given_steps: tuple[Cell, ...], first_turned: bool
) -> None:
    pile = Pile(first_turned=first_turned)
    cells = {cell.id: cell for cell in given_steps}
    pages = packed(given_steps, pile)
    gated = any(cell.gate for cell in given_steps)

    def cost(way: Sequence[Rows]) -> tuple[int, int]:
        return (turned_at_gate(way, cells, pile) if gated else 0, pile.sheets(len(way)))

    assert cost(pages) == min(map(cost, every_way(given_steps)))


def test_what_does_not_fit_on_so_many_pages_is_told() -> None:
    tall = tuple(Cell(f"step-{n}", 90.0, 90.0) for n in range(4))
    assert pack(tall, Pile(most=1)) is None
    assert len(packed(tall, Pile(most=2))) == 2


def test_a_pair_of_half_pages_is_taken_before_a_step_across_the_page() -> None:
    pages = packed([Cell("one", 30.0, 20.0), Cell("two", 30.0, 20.0)], Pile())
    assert [row.cells for row in pages[0]] == [("one", "two")]


# The booklet round the cells.
FRONT = (Block("cover"), Block("box", first=True), Block("measures"), Block("marks", movable=True))
BACK = (Block("faults"), Block("imprint"))
HEIGHTS = {
    "cover": 60.0,
    "box": 50.0,
    "measures": 30.0,
    "marks": 15.0,
    "faults": 40.0,
    "imprint": 30.0,
    "line": 5.0,
}


def booklet(cells: Sequence[Cell], saved: dict[str, float] | None = None, **changes: float) -> BookletLayout:
    return make_up(FRONT, cells, BACK, {**HEIGHTS, **changes}, ROOM, "line", saved or {})


@given(steps(30))
def test_a_booklet_has_whole_sheets_and_its_blank_pages_before_the_last_one(cells: tuple[Cell, ...]) -> None:
    made = booklet(cells)
    assert made.count % 4 == 0
    assert 0 <= made.blank < 4
    assert made.front == (("cover",), ("box", "measures", "marks"))
    assert made.back == (("faults", "imprint"),)
    assert read([page.rows for page in made.cells]) == [cell.id for cell in cells]


def test_marks_move_to_the_front_where_that_saves_a_page() -> None:
    cells = (Cell("one", 30.0, 20.0),)
    assert booklet(cells, measures=45.0).front == (("cover", "marks"), ("box", "measures"))
    assert len(booklet(cells, measures=60.0).front) == 3


def test_a_figure_is_lower_only_where_that_saves_a_sheet() -> None:
    # Thirty-three high: three rows do not fit below the line of stages, with lower figures they do.
    cells = tuple(Cell(f"step-{n}", 33.0, 33.0, stage="roll") for n in range(30))
    saved = {cell.id: 5.0 for cell in cells}
    assert (booklet(cells[:4], saved).count, booklet(cells[:4], saved).low) == (4, frozenset())
    assert (booklet(cells, {}).count, booklet(cells, saved).count) == (12, 8)
    assert booklet(cells, saved).low == {cell.id for cell in cells}


def test_the_line_of_stages_names_a_stage_again_but_not_its_minutes() -> None:
    cells = tuple(Cell(f"step-{n}", 30.0, 30.0, stage="roll" if n < 8 else "tuck") for n in range(12))
    first, second = booklet(cells).cells
    assert (first.stages, set(first.begun)) == (("roll",), {"roll"})
    assert (second.stages, set(second.begun)) == (("roll", "tuck"), {"tuck"})


def test_right_hand_pages_are_turned() -> None:
    # Two pages before the steps: their first page is page three, a right-hand one.
    assert [Booklet(100.0, 5.0, 2, 1).leaf_turned(page) for page in range(4)] == [True, False, True, False]
