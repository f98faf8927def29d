"""Laws of boxes and of turned boxes, and shapely as an independent witness."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from generator.press.geometry import Box, Matrix, Point, meeting, overlap_depth

near = st.floats(-50, 50)
turns = st.floats(0, 2 * math.pi)
sides = st.floats(1, 30)


def turned(x: float, y: float, width: float, height: float, angle: float) -> list[Point]:
    cosine, sine = math.cos(angle), math.sin(angle)
    turn = Matrix(cosine, sine, -sine, cosine, x, y)
    return [turn.point(corner) for corner in Box(0, 0, width, height).corners]


quads = st.builds(turned, near, near, sides, sides, turns)


@given(quads, quads)
def test_depth_is_the_same_from_both_sides(first: list[Point], second: list[Point]) -> None:
    assert overlap_depth(first, second) == pytest.approx(overlap_depth(second, first), abs=1e-9)


@given(quads, quads)
def test_boxes_have_a_depth_just_if_they_share_an_area(first: list[Point], second: list[Point]) -> None:
    shared = shapely.Polygon(first).intersection(shapely.Polygon(second)).area
    depth = overlap_depth(first, second)
    assert (shared > 1e-6) <= (depth > 0)
    assert (depth > 1e-3) <= (shared > 0)


@given(quads, st.floats(0.01, 0.9))
def test_depth_of_a_box_pushed_out_of_itself_shrinks_to_nothing(quad: list[Point], share: float) -> None:
    (x0, y0), (x1, y1) = quad[0], quad[1]
    width = math.dist(quad[0], quad[1])
    moved = [(x + (x1 - x0) * share, y + (y1 - y0) * share) for x, y in quad]
    assert overlap_depth(quad, moved) <= width * (1 - share) + 1e-6
    gone = [(x + (x1 - x0) * 1.01, y + (y1 - y0) * 1.01) for x, y in quad]
    assert overlap_depth(quad, gone) == 0


@given(st.lists(st.builds(lambda x, y, w, h: Box(x, y, x + w, y + h), near, near, sides, sides), max_size=12))
def test_meeting_finds_every_pair_that_shares_an_area(boxes: list[Box]) -> None:
    found = set(meeting(boxes, boxes))
    every = {(i, j) for i, a in enumerate(boxes) for j, b in enumerate(boxes) if a.meets(b)}
    assert every <= found


def test_one_matrix_after_another_moves_a_point_as_both_do() -> None:
    turn, move = Matrix(0, 1, -1, 0), Matrix(2, 0, 0, 2, 5, 7)
    assert turn.then(move).point((1, 0)) == move.point(turn.point((1, 0))) == (5, 9)
