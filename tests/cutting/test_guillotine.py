"""The shortest cloth: against values computed elsewhere, against trying everything, and by its laws."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.base.errors import CuttingError
from generator.cutting.curves import MOST_STATES, states
from generator.cutting.guillotine import cut_cloth, most_pieces, pitch
from generator.cutting.model import Layout, Piece
from tests.checks.published import Published, chosen
from tests.cutting.referee import (
    counted,
    overlaps,
    rects,
    separable,
    sheets_after_cutting,
    shortest_by_trying,
    wanted,
)

# Pieces, usable width, whether they may turn, best guillotine length: the requirements' planning table. The
# rows for eight pieces and for two sizes were proved by CP-SAT there.
PLANNED = [
    ([("a", 995, 250, 24)], 1350, True, 4975),
    ([("a", 1015, 240, 8)], 1350, True, 1680),
    ([("a", 1015, 240, 8)], 1350, False, 1920),
    ([("a", 1155, 270, 24)], 1400, True, 5700),
    ([("a", 1155, 270, 2), ("b", 840, 230, 3)], 1100, True, 1385),
]


def pieces_of(rows: list[tuple[str, float, float, int]]) -> list[Piece]:
    return [Piece(*row) for row in rows]


def name(published: Published) -> str:
    return published.id


@pytest.mark.parametrize(("rows", "width", "turn", "length"), PLANNED)
def test_the_planned_cloths_are_as_short_as_proved(
    rows: list[tuple[str, float, float, int]], width: float, turn: bool, length: float
) -> None:
    layout = cut_cloth(pieces_of(rows), width, turn)
    assert (layout.length, layout.exact, layout.bound) == (length, True, length)


@pytest.mark.parametrize("published", [*chosen("H-len"), *chosen("H-nap")], ids=name)
def test_the_shortest_length_for_one_to_eight_pieces_is_as_published(published: Published) -> None:
    p = published.params
    turn = "nap" not in p
    found = [cut_cloth([Piece("a", p["w"], p["h"], n)], p["W"], turn).length for n in range(1, 9)]
    assert found == published.value, published.source


@pytest.mark.parametrize("published", chosen("H-1", "panels: upright only"), ids=name)
def test_how_many_come_out_of_a_rectangle_is_as_published(published: Published) -> None:
    p = published.params
    piece = Piece("a", p["w"], p["h"], 1)
    found = [most_pieces(piece, p["W"], p["L"], turn) for turn in (False, True)]
    upright, _, best, by_area = published.value
    assert found == [upright, best], published.source
    assert best <= by_area


@st.composite
def small_orders(draw: st.DrawFn) -> tuple[list[Piece], int]:
    """One to three kinds of small pieces, and a width that each fits into upright."""
    width = draw(st.integers(4, 9))
    rows = draw(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 6), st.integers(1, 3)), max_size=3))
    pieces = [Piece(f"p{i}", min(a, width), b, n) for i, (a, b, n) in enumerate(rows)]
    assume(1 <= sum(piece.count for piece in pieces) <= 5)
    return pieces, width


@st.composite
def orders(draw: st.DrawFn) -> tuple[list[Piece], float]:
    """Orders as a workshop has them."""
    width = draw(st.integers(900, 1600))
    kinds = draw(st.integers(1, 3))
    pieces = [
        Piece(
            f"p{i}",
            draw(st.integers(20, width // 5)) * 5.0,
            draw(st.integers(20, 80)) * 5.0,
            draw(st.integers(0, 5)),
        )
        for i in range(kinds)
    ]
    assume(any(piece.count for piece in pieces))
    return pieces, float(width)


@settings(deadline=None, max_examples=60)
@given(small_orders(), st.booleans())
def test_small_orders_are_as_short_as_trying_every_cut_finds(
    order: tuple[list[Piece], int], turn: bool
) -> None:
    pieces, width = order
    assert cut_cloth(pieces, width, turn).length == shortest_by_trying(pieces, width, turn)


def check_laws(layout: Layout, pieces: list[Piece]) -> None:
    parts = rects(layout)
    assert counted(layout) == wanted(pieces)
    assert not [pair for pair in combinations(parts, 2) if overlaps(*pair)]
    for left, top, right, bottom in parts:
        assert left >= 0
        assert top >= 0
        assert right <= layout.length + 1e-6
        assert bottom <= layout.width + 1e-6
    assert separable(parts)
    # Pieces and offcuts are the whole cloth, and exactly what is in the hand after the last cut.
    whole = layout.length * layout.width
    assert layout.used + sum(a.size for a in layout.offcuts) == pytest.approx(whole)
    rounded = sorted(tuple(round(side, 2) for side in part) for part in parts)
    assert sorted(tuple(round(side, 2) for side in p) for p in sheets_after_cutting(layout)) == rounded
    # Nothing is shorter than the pieces spread over the whole width.
    assert layout.bound <= layout.length + 1e-6
    assert layout.length >= sum(piece.area for piece in pieces) / layout.width - 0.01


@settings(deadline=None, max_examples=80)
@given(orders(), st.booleans())
def test_every_piece_lies_there_once_and_cuts_from_edge_to_edge_part_them(
    order: tuple[list[Piece], float], turn: bool
) -> None:
    pieces, width = order
    layout = cut_cloth(pieces, width, turn)
    check_laws(layout, pieces)
    assert turn or not any(placed.turned for placed in layout.placed)


@settings(deadline=None, max_examples=40)
@given(orders())
def test_turning_never_needs_more_cloth(order: tuple[list[Piece], float]) -> None:
    pieces, width = order
    assert cut_cloth(pieces, width, True).length <= cut_cloth(pieces, width, False).length


@settings(deadline=None, max_examples=40)
@given(orders(), st.integers(1, 300))
def test_a_wider_cloth_is_never_longer(order: tuple[list[Piece], float], more: int) -> None:
    pieces, width = order
    assert cut_cloth(pieces, width + more, True).length <= cut_cloth(pieces, width, True).length


@settings(deadline=None, max_examples=40)
@given(orders())
def test_one_piece_fewer_never_needs_more_cloth(order: tuple[list[Piece], float]) -> None:
    pieces, width = order
    fewer = [*pieces[:-1], Piece("z", pieces[-1].length, pieces[-1].width, max(0, pieces[-1].count - 1))]
    assert cut_cloth(fewer, width, True).length <= cut_cloth(pieces, width, True).length


def test_a_kit_batch_of_two_sizes_wastes_less_than_a_twentieth() -> None:
    # 12 covers of a ring of 250 and 12 of one of 350, from cloth 1.4 m wide; by hand: the area needs 4329 mm.
    pieces = pieces_of([("25", 840, 230, 12), ("35", 1155, 270, 12)])
    layout = cut_cloth(pieces, 1400, True)
    assert layout.exact
    assert 4329 <= layout.length <= 4329 * 1.05
    check_laws(layout, pieces)


def test_waste_that_falls_together_comes_off_in_one_cut() -> None:
    layout = cut_cloth(pieces_of([("a", 1015, 240, 8)]), 1350, False)
    # One cut along the whole cloth takes off the strip that no piece needs, seven part the pieces.
    assert len(layout.cuts) == 8
    assert [(area.along, area.across) for area in layout.offcuts] == [(1920, 335)]


def test_one_way_cloth_with_a_repeat_shows_the_same_of_the_print_on_each_piece() -> None:
    repeat = 64.0
    each = pitch(240, repeat)
    assert each == 256
    layout = cut_cloth([Piece("26", 1015, 240, 8, each)], 1350, False)
    assert layout.length == 8 * 256
    starts = sorted(placed.area.x for placed in layout.placed)
    assert [x % repeat for x in starts] == [0] * 8
    check_laws(layout, [Piece("26", 1015, 240, 8)])


@pytest.mark.parametrize(
    ("height", "repeat", "expected"), [(240, 64, 256), (256, 64, 256), (230, 300, 300), (257, 64, 320)]
)
def test_a_directional_pitch_is_whole_repeats(height: float, repeat: float, expected: float) -> None:
    assert pitch(height, repeat) == expected == math.ceil(height / repeat) * repeat


def test_cloth_that_is_too_narrow_is_told_with_the_width_that_would_do() -> None:
    with pytest.raises(
        CuttingError, match=r"1015 × 240 mm for 26 .* 980 mm wide; expected a cloth of at least 1015 mm"
    ):
        cut_cloth([Piece("26", 1015, 240, 8)], 980, False)


def test_nothing_wanted_is_nothing_cut() -> None:
    layout = cut_cloth([Piece("26", 1015, 240, 0)], 980, False)
    assert (layout.length, layout.placed, layout.cuts) == (0, (), ())


def test_many_sizes_lie_in_shelves_and_the_plan_says_so() -> None:
    rows = [(f"s{i}", 700 + 65.0 * i, 200 + 12.5 * i, 3) for i in range(7)]
    pieces = pieces_of(rows)
    assert states([3] * 7) > MOST_STATES
    layout = cut_cloth(pieces, 1400, True)
    assert not layout.exact
    assert layout.bound < layout.length
    check_laws(layout, pieces)
