"""Panels out of rolls and sheets: in lanes, cut from edge to edge, as few as can be."""

from __future__ import annotations

from itertools import combinations

import pytest

from generator.base.errors import CuttingError
from generator.cutting.model import Piece
from generator.cutting.panels import PanelPlan, Sheet, cut_panels
from tests.cutting.referee import overlaps, rects, separable, sheets_after_cutting


def check_laws(plan: PanelPlan) -> None:
    placed = {piece.name: 0 for piece in plan.pieces}
    for times, layout in plan.layouts:
        parts = rects(layout)
        assert not [pair for pair in combinations(parts, 2) if overlaps(*pair)]
        assert separable(parts)
        area = layout.used + sum(offcut.size for offcut in layout.offcuts)
        assert area == pytest.approx(layout.length * layout.width)
        rounded = sorted(tuple(round(side, 2) for side in part) for part in parts)
        assert sorted(tuple(round(s, 2) for s in p) for p in sheets_after_cutting(layout)) == rounded
        for one in layout.placed:
            placed[one.name] += times
    assert placed == {piece.name: piece.count for piece in plan.pieces}


def test_two_sizes_share_rolls_that_hold_one_panel_beside_another_no_more() -> None:
    (plan,) = cut_panels([Piece("25", 797, 210, 12), Piece("35", 1112, 250, 12)], Sheet(10_000, 300))
    assert (plan.count, plan.lanes, plan.exact) == (3, 1, True)
    check_laws(plan)


def test_a_wide_sheet_holds_panels_beside_one_another() -> None:
    # 1 m × 700: two of 718 × 280 lie beside one another; twelve take six sheets.
    (plan,) = cut_panels([Piece("45", 718, 280, 12)], Sheet(1000, 700))
    assert (plan.count, plan.lanes) == (6, 2)
    check_laws(plan)


def test_panels_of_different_heights_take_lanes_of_their_own() -> None:
    plans = cut_panels([Piece("a", 797, 210, 5), Piece("b", 1112, 250, 7)], Sheet(3000, 700))
    # Three lanes of 210 hold three each, two lanes of 250 hold two each: by hand one sheet, and two.
    assert [(plan.lanes, plan.count) for plan in plans] == [(3, 1), (2, 2)]
    for plan in plans:
        check_laws(plan)


def test_a_panel_too_high_for_the_sheet_lies_across_it() -> None:
    (plan,) = cut_panels([Piece("a", 600, 900, 3)], Sheet(2000, 700))
    assert all(placed.turned for _, layout in plan.layouts for placed in layout.placed)
    assert plan.count == 2
    check_laws(plan)


def test_a_panel_that_comes_out_neither_way_is_refused_by_name() -> None:
    with pytest.raises(CuttingError, match=r"1112 × 250 mm for 35 .* 1000 × 300 mm, neither along nor"):
        cut_panels([Piece("35", 1112, 250, 1)], Sheet(1000, 300))


def test_a_roll_that_its_panels_fill_needs_no_last_cut() -> None:
    (plan,) = cut_panels([Piece("a", 500, 300, 4)], Sheet(2000, 300))
    ((_, layout),) = plan.layouts
    assert len(layout.cuts) == 3
    check_laws(plan)
