"""Steps in narrow columns of one folded sheet: which pictures are kept, which are lower, which are shared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.sheets.columns import SPARE, Cell, Column, pack
from generator.sheets.folded import FoldedLayout, Pages, make_up

ROOM = 60.0


@st.composite
def steps(draw: st.DrawFn, most: int = 10) -> tuple[Cell, ...]:
    count = draw(st.integers(1, most))
    found = []
    for n in range(count):
        high = draw(st.sampled_from((8.0, 14.0)))
        found.append(
            Cell(
                f"step-{n}",
                words=draw(st.floats(8, 25)),
                high=high,
                low=draw(st.sampled_from((5.0, high))),
                stage=draw(st.sampled_from(("roll", "tuck"))),
                own=draw(st.booleans()),
                teaches=draw(st.integers(0, 3)),
                things=frozenset(draw(st.sampled_from(("snips", "rule")))),
            )
        )
    return tuple(found)


def height(column: Column, cells: dict[str, Cell]) -> float:
    return sum(
        cells[place.id].words
        + {"high": cells[place.id].high, "low": cells[place.id].low, "shared": 0.0}[place.picture]
        for place in column
    )


@given(steps(), st.integers(1, 6))
def test_what_fits_stands_once_in_order_and_every_step_has_a_picture_or_its_neighbours(
    given_steps: tuple[Cell, ...], count: int
) -> None:
    columns = pack(given_steps, [ROOM] * count)
    if columns is None:
        return
    cells = {cell.id: cell for cell in given_steps}
    assert [place.id for column in columns for place in column] == [cell.id for cell in given_steps]
    for column in columns:
        assert height(column, cells) <= ROOM
        for index, place in enumerate(column):
            if place.joined:
                above, here = cells[column[index - 1].id], cells[place.id]
                assert above.stage == here.stage
                assert not above.own
                assert not here.own
                # One of the two is pictured: the one that teaches more.
                pictures = (column[index - 1].picture, place.picture)
                assert pictures.count("shared") == 1
                assert (pictures[1] == "shared") is (above.teaches >= here.teaches)
            if place.picture == "shared":
                joined = place.joined or (index + 1 < len(column) and column[index + 1].joined)
                assert joined


@settings(max_examples=60, deadline=None)
@given(steps(6), st.integers(1, 3))
def test_nothing_is_refused_that_fits_in_some_way(given_steps: tuple[Cell, ...], count: int) -> None:
    assert (pack(given_steps, [ROOM] * count) is None) is (not fits(given_steps, count))


def fits(cells: Sequence[Cell], columns: int) -> bool:
    """Whether any way at all puts the steps into so many columns."""
    if not cells:
        return True
    if not columns:
        return False
    return any(
        any(total <= ROOM - SPARE for total in totals(cells[:end])) and fits(cells[end:], columns - 1)
        for end in range(len(cells) + 1)
    )


def totals(cells: Sequence[Cell]) -> Iterator[float]:
    """The least heights of a column with these steps, for each way to share pictures."""
    if not cells:
        yield 0.0
        return
    first = cells[0]
    yield from (first.words + min(first.low, first.high) + rest for rest in totals(cells[1:]))
    if len(cells) > 1:
        second = cells[1]
        if first.stage == second.stage and not first.own and not second.own:
            shown = first if first.teaches >= second.teaches else second
            both = first.words + second.words + min(shown.low, shown.high)
            yield from (both + rest for rest in totals(cells[2:]))


def cell(name: str, words: float = 20.0, **more: object) -> Cell:
    return Cell(name, words, 14.0, 8.0, **more)  # type: ignore[arg-type]


def test_a_picture_is_lowered_before_one_is_shared() -> None:
    (column,) = pack([cell("a"), cell("b")], [64.0]) or ((),)
    assert [place.picture for place in column] == ["low", "high"]


def test_steps_for_which_the_hand_takes_the_same_thing_share_first() -> None:
    snips, rule = frozenset({"snips"}), frozenset({"rule"})
    cells = [cell("mark", things=rule), cell("notch", things=snips), cell("snip", things=snips)]
    (column,) = pack(cells, [80.0]) or ((),)
    assert [(place.id, place.picture) for place in column if place.picture == "shared"] == [
        ("snip", "shared")
    ]


PAGES = Pages(("cover", "first"), ("box",), ("last", "faults"), ("closing", "wrong"), spare=("wrong",))
HEIGHTS = {
    "cover": 30.0,
    "first": 20.0,
    "box": 50.0,
    "last": 20.0,
    "faults": 30.0,
    "closing": 40.0,
    "wrong": 15.0,
}


def test_one_sheet_has_four_panels_of_two_columns() -> None:
    made = make_up(PAGES, [cell(str(n), 6.0) for n in range(10)], HEIGHTS, ROOM)
    assert isinstance(made, FoldedLayout)
    assert len(made.panels) == 4
    assert all(len(panel.columns) == 2 for panel in made.panels)
    assert made.back == ("closing", "wrong")


def test_what_can_be_spared_goes_before_a_page_is_refused() -> None:
    made = make_up(PAGES, [cell("a")], {**HEIGHTS, "wrong": 25.0}, ROOM)
    assert isinstance(made, FoldedLayout)
    assert made.back == ("closing",)


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"cover": 45.0}, "front"),
        ({"box": 61.0}, "left"),
        ({"faults": 45.0}, "right"),
        ({"closing": 61.0}, "back"),
    ],
)
def test_what_has_no_room_is_named(changed: dict[str, float], told: str) -> None:
    assert make_up(PAGES, [cell("a")], {**HEIGHTS, **changed}, ROOM) == told


def test_steps_that_do_not_fit_even_with_shared_pictures_are_told() -> None:
    assert make_up(PAGES, [cell(str(n), 40.0) for n in range(9)], HEIGHTS, ROOM) == "steps"
