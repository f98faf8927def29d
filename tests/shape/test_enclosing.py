"""The smallest rectangle round points, against every direction tried and against shapely."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Polygon

from generator.shape.enclosing import convex_hull, smallest_rectangle, turned_into
from generator.shape.outline import Point

PLACE = st.floats(-500, 500).map(lambda v: round(v, 3))
CLOUD = st.lists(st.tuples(PLACE, PLACE), min_size=3, max_size=30, unique=True)
NOISE = st.floats(-1e-12, 1e-12)


def extent(points: list[Point], angle: float) -> tuple[float, float]:
    """Along the direction and across it."""
    c, s = math.cos(angle), math.sin(angle)
    along, across = [x * c + y * s for x, y in points], [y * c - x * s for x, y in points]
    return max(along) - min(along), max(across) - min(across)


@given(CLOUD)
def test_the_rectangle_holds_all_points_and_touches_them(points: list[Point]) -> None:
    box = smallest_rectangle(points)
    assert extent(points, box.angle) == pytest.approx((box.length, box.width), abs=1e-5)
    assert box.length >= box.width - 1e-9


@given(CLOUD)
def test_no_direction_has_a_smaller_rectangle(points: list[Point]) -> None:
    box = smallest_rectangle(points)
    for k in range(180):
        length, width = extent(points, math.pi / 2 * k / 180)
        assert length * width >= box.length * box.width - 1e-3
    # Nor has any line through two of the points.
    for (x0, y0), (x1, y1) in pairwise(points):
        length, width = extent(points, math.atan2(y1 - y0, x1 - x0))
        assert length * width >= box.length * box.width - 1e-3


@given(CLOUD)
def test_the_hull_is_that_of_shapely(points: list[Point]) -> None:
    hull = convex_hull(points)
    other = MultiPoint(points).convex_hull
    if not isinstance(other, Polygon):
        return
    assert Polygon(hull).area == pytest.approx(other.area, abs=1e-6)
    assert Polygon(hull).exterior.is_ccw
    assert {*hull} >= {*other.exterior.coords}


@given(CLOUD)
def test_the_rectangle_is_as_large_as_that_of_shapely(points: list[Point]) -> None:
    other = MultiPoint(points).minimum_rotated_rectangle
    if MultiPoint(points).convex_hull.area > 1.0:
        box = smallest_rectangle(points)
        assert box.length * box.width == pytest.approx(other.area, rel=1e-6)


@given(st.floats(0, 6.3), st.lists(st.tuples(st.integers(0, 3), NOISE, NOISE), max_size=60))
def test_corners_drawn_many_times_over_are_corners(
    angle: float, again: list[tuple[int, float, float]]
) -> None:
    # A sharp corner of a flat sheet is drawn once per direction, each time with other rounding noise.
    c, s = math.cos(angle), math.sin(angle)
    corners = [(x * c - y * s, x * s + y * c) for x, y in ((0, 0), (300, 0), (300, 200), (0, 200))]
    noisy = [(corners[k][0] + dx, corners[k][1] + dy) for k, dx, dy in again]
    box = smallest_rectangle([*noisy, *corners])
    assert (box.length, box.width) == pytest.approx((300, 200), abs=1e-5)


def test_points_on_a_line_have_a_rectangle_without_width() -> None:
    box = smallest_rectangle([(0.0, 0.0), (3.0, 4.0), (6.0, 8.0), (1.5, 2.0)])
    assert (box.length, box.width) == (10.0, 0.0)
    assert box.angle == pytest.approx(math.atan2(4, 3))


def test_one_point_has_a_rectangle_without_size() -> None:
    assert smallest_rectangle([(5.0, 7.0), (5.0, 7.0)]).length == 0.0


def test_the_angle_is_that_of_the_long_side() -> None:
    upright = smallest_rectangle([(0.0, 0.0), (20.0, 0.0), (20.0, 90.0), (0.0, 90.0)])
    assert (upright.length, upright.width) == (90.0, 20.0)
    assert abs(math.sin(upright.angle)) == pytest.approx(1.0)


LIMIT = st.one_of(st.just(math.inf), st.floats(10, 900))


@given(CLOUD, LIMIT, LIMIT)
def test_no_direction_lacks_less_of_a_stated_rectangle(
    points: list[Point], length: float, width: float
) -> None:
    if length == width == math.inf:
        return
    found = turned_into(points, length, width)
    assert extent(points, found.angle) == pytest.approx((found.along, found.across), abs=1e-5)
    lack = max(found.along - length, found.across - width)
    for k in range(360):
        along, across = extent(points, math.pi * k / 360)
        assert max(along - length, across - width) >= lack - 1e-5


def test_a_square_that_is_too_long_for_its_place_is_turned_into_it_by_the_angle_of_equal_lack() -> None:
    # A rod of 100 in a square of 71: at 45 degrees both of its extents are 100 / sqrt(2) = 70.71.
    found = turned_into([(0.0, 0.0), (100.0, 0.0), (50.0, 0.0), (50.0, 1e-3)], 71.0, 71.0)
    assert (found.along, found.across) == pytest.approx((70.71, 70.71), abs=2e-3)
