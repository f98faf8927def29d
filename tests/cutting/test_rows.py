"""Long cloths in rows: no piece is parted, rows add up, names can be read."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.cutting.guillotine import cut_cloth
from generator.cutting.model import Layout, Piece
from generator.cutting.panels import Sheet, cut_panels
from generator.cutting.rows import SCALES, Paper, fit, stretches

PAPER = Paper(width=152.0, height=186.0, between=15.0, least=9.0)


def batch(count: int) -> Layout:
    return cut_cloth([Piece("25", 840, 230, count), Piece("35", 1155, 270, count)], 1400, True)


def test_a_short_cloth_is_one_row_at_the_largest_scale_that_holds_it() -> None:
    # 1920 × 1350 at 1 : 15 is 128 × 90 mm; at 1 : 10 it would be 192 mm long, and the paper has 152.
    fitted = fit([cut_cloth([Piece("26", 1015, 240, 8)], 1350, False)], PAPER)
    assert fitted.scale == 15
    assert [[(row.start, row.stop) for row in rows] for rows in fitted.rows] == [[(0, 1920)]]


def test_no_row_parts_a_piece_and_all_add_up() -> None:
    layout = batch(12)
    fitted = fit([layout], PAPER)
    (rows,) = fitted.rows
    assert sum(row.length for row in rows) == layout.length
    assert all(row.length <= PAPER.width * fitted.scale for row in rows)
    for row in rows:
        for placed in layout.placed:
            area = placed.area
            assert not area.x < row.start - 0.01 < area.x + area.along - 0.02
            assert not area.x + 0.02 < row.stop < area.x + area.along - 0.02


def test_names_stay_legible_however_long_the_cloth() -> None:
    layout = batch(48)
    fitted = fit([layout], PAPER)
    assert 230 / fitted.scale >= PAPER.least
    assert len(fitted.rows[0]) * (1400 / fitted.scale + PAPER.between) > PAPER.height


def test_what_follows_the_last_panel_has_a_row_only_if_it_is_asked_for() -> None:
    (plan,) = cut_panels([Piece("35", 1112, 250, 2)], Sheet(10_000, 300))
    ((_, layout),) = plan.layouts
    without, whole = stretches(layout, 3000), stretches(layout, 3000, rest=True)
    assert without is not None
    assert whole is not None
    assert [(row.start, row.stop) for row in without] == [(0, 2224)]
    assert sum(row.length for row in whole) == 10_000


def test_a_piece_longer_than_a_row_is_never_parted() -> None:
    assert stretches(batch(2), 500) is None


@settings(deadline=None, max_examples=30)
@given(st.lists(st.tuples(st.integers(20, 240), st.integers(10, 80), st.integers(0, 5)), max_size=3))
def test_every_cloth_finds_a_scale(rows: list[tuple[int, int, int]]) -> None:
    pieces = [Piece(str(n), 5.0 * a, 5.0 * b, count) for n, (a, b, count) in enumerate(rows)]
    assume(any(piece.count for piece in pieces))
    layout = cut_cloth(pieces, 1400, True)
    fitted = fit([layout], PAPER)
    assert fitted.scale in SCALES
    assert sum(row.length for row in fitted.rows[0]) == pytest.approx(layout.length)
