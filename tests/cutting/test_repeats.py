"""Lengths of cloth told once: with how often each is cut they make the whole plan again."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.cutting.guillotine import cut_cloth
from generator.cutting.model import Layout, Piece
from generator.cutting.repeats import told_once


def check(layout: Layout) -> None:
    told = told_once(layout)
    lots = told.lots
    assert sum((lot.stop - lot.start) * lot.times for lot in lots) == pytest.approx(layout.length)
    pieces: Counter[tuple[str, float, float]] = Counter()
    for one in told.layout.placed:
        area = one.area
        pieces[one.name, area.along, area.across] += told.times(area.x + area.along)
    assert pieces == Counter((one.name, one.area.along, one.area.across) for one in layout.placed)
    over = sum(a.size * told.times(a.x + a.along) for a in told.layout.offcuts)
    assert over == pytest.approx(sum(a.size for a in layout.offcuts))
    # Each length is taken off by a cut; the last of all needs none, but is drawn with those like it.
    cuts = sum(told.times(max(cut.start[0], cut.end[0])) for cut in told.layout.cuts)
    assert cuts == len(layout.cuts) + (1 if lots[-1].times > 1 else 0)
    assert [cut.number for cut in told.layout.cuts] == list(range(1, len(told.layout.cuts) + 1))


def test_lengths_that_are_cut_alike_stand_there_once() -> None:
    # 90 upright pieces of 1000 × 250, one across 1050: 22.5 m. One long cut of 5 m frees 20 of them of their
    # waste, so that four lengths are alike and ten pieces are left.
    layout = cut_cloth([Piece("a", 1000, 250, 90)], 1050, False)
    told = told_once(layout)
    assert [(lot.stop - lot.start, lot.times) for lot in told.lots] == [(5000, 4), (2500, 1)]
    assert len(told.layout.placed) == 30
    check(layout)


def test_a_cloth_without_repeats_is_told_as_it_is() -> None:
    layout = cut_cloth([Piece("a", 1155, 270, 2), Piece("b", 840, 230, 3)], 1100, True)
    told = told_once(layout)
    assert told.ends == ()
    assert told.layout.placed == layout.placed
    check(layout)


@settings(deadline=None, max_examples=40)
@given(
    st.lists(
        st.tuples(st.integers(20, 240), st.integers(20, 80), st.integers(0, 20)), min_size=1, max_size=2
    ),
    st.booleans(),
)
def test_told_once_and_as_often_as_said_is_the_whole_plan(
    rows: list[tuple[int, int, int]], turn: bool
) -> None:
    pieces = [Piece(str(n), 5.0 * a, 5.0 * b, count) for n, (a, b, count) in enumerate(rows)]
    assume(any(piece.count for piece in pieces))
    check(cut_cloth(pieces, 1400, turn))
