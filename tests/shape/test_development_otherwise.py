"""Developments against a second way: the hull of both rims in space, unrolled triangle by triangle.

The second way (hulls.py) and the libraries here share no code with the program's developments. They replace
curves by chords; what that costs is estimated from the points themselves and allowed for, no more.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import chain

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from shapely.geometry import LineString, Point, Polygon

from generator.shape.blank import blank_area, blank_loop, end_edge
from generator.shape.blank_hull import blank_box, blank_hull
from generator.shape.development import ENDS, Development
from generator.shape.enclosing import smallest_rectangle
from generator.shape.matching import Curved, Facet
from generator.shape.outline import Outline
from generator.shape.outlines import circle, ellipse, polygon, rectangle, square, stadium
from tests.shape.hulls import FAN, Strip, rims, strip
from tests.shape.strategies import bare_tapers, tapers

POINTS = 1000


def round_(diameter: float) -> Outline:
    return circle.make({"diameter": diameter})


def oval(length: float, width: float) -> Outline:
    return ellipse.make({"length": length, "width": width})


def squared(side: float, radius: float) -> Outline:
    return square.make({"side": side, "corner_radius": radius})


def sided(sides: int, across: float, radius: float) -> Outline:
    return polygon.make({"sides": sides, "across_flats": across, "corner_radius": radius})


LONG = rectangle.make({"length": 400.0, "width": 220.0, "corner_radius": 30.0})
STADIUM = stadium.make({"length": 300.0, "width": 160.0})
CASES: dict[str, Development] = {
    "cone": Development(round_(300), round_(150), 200.0),
    "cone standing on its narrow end": Development(round_(120), round_(400), 150.0),
    "cone shifted": Development(round_(300), round_(150), 200.0, (25.0, 40.0)),
    "same inset": Development(oval(400, 260), oval(280, 140), 190.0),
    "same corner radius": Development(squared(300, 40), squared(200, 40), 200.0),
    "oval over oval crosswise": Development(oval(300, 200), oval(290, 110), 180.0, (0.0, 30.0)),
    "circle over square": Development(squared(260, 45), round_(180), 190.0),
    "circle over sharp square, shifted": Development(squared(260, 0), round_(180), 190.0, (20.0, -30.0)),
    "square over circle": Development(round_(320), squared(150, 25), 170.0, (-30.0, 10.0)),
    "sharp square over sharp square": Development(squared(300, 0), squared(180, 0), 160.0),
    "pentagon over stadium": Development(sided(5, 300, 30), STADIUM, 210.0, (10.0, 20.0)),
    "stadium over rectangle": Development(LONG, STADIUM, 230.0, (0.0, -20.0)),
    "flat dish": Development(round_(500), sided(8, 100, 20), 60.0),
}
HARD = (
    "cone shifted",
    "same inset",
    "circle over sharp square, shifted",
    "sharp square over sharp square",
    "pentagon over stadium",
)
THICK = {
    f"{name}, thick": Development(d.bottom, d.top, d.height, d.shift, 2.5)
    for name, d in CASES.items()
    if name in HARD
}
ALL = {**CASES, **THICK}
named = pytest.mark.parametrize("name", ALL)
bare = pytest.mark.parametrize("name", CASES)


@cache
def second_way(name: str) -> Strip:
    return strip(ALL[name], POINTS)


@named
def test_the_strip_of_triangles_turns_by_as_much(name: str) -> None:
    found, strip_ = ALL[name], second_way(name)
    miss = (found.turning - strip_.turning + math.pi) % (2 * math.pi) - math.pi
    assert miss == pytest.approx(0.0, abs=3 * strip_.loss / found.bottom.depth + 1e-9)


@named
def test_the_strip_of_triangles_ends_at_the_same_places(name: str) -> None:
    found, strip_ = ALL[name], second_way(name)
    first, last = found.generator(0.0), found.generator(found.length)
    low, high = strip_.flat
    assert high[0] == pytest.approx(first.flat_high, abs=1e-9)
    assert low[-1] == pytest.approx(last.flat_low, abs=4 * strip_.loss + 1e-9)
    assert high[-1] == pytest.approx(last.flat_high, abs=4 * strip_.loss + 1e-9)


@named
def test_the_strip_of_triangles_has_the_same_area(name: str) -> None:
    found, strip_ = ALL[name], second_way(name)
    slack = 2 * strip_.loss * max(found.generator(found.length * k / 8).length for k in range(8))
    assert strip_.area == pytest.approx(found.area, abs=slack + 1e-6)
    # A hull of points on the rims lies inside the hull of the rims.
    assert found.delta or strip_.area <= found.area + 1e-6


@bare
def test_the_strip_of_triangles_has_rims_of_the_same_length(name: str) -> None:
    # Not for a thick sheet: a rim of the moved hull goes up and down in steps that no fineness takes away.
    found, strip_ = ALL[name], second_way(name)
    for end, length in zip(ENDS, strip_.lengths(), strict=True):
        assert length == pytest.approx(found.rim_length(end), abs=1.5 * strip_.loss + 1e-9)


@named
def test_the_strip_lies_on_the_rims_of_the_flat_sheet(name: str) -> None:
    found, strip_ = ALL[name], second_way(name)
    for end, rim in zip(ENDS, strip_.flat, strict=True):
        ours = LineString(list(found.outline_points(end)))
        # The bow between points of ours, what the strip loses, and the steps of a rim of a moved hull.
        slack = 2e-3 + 4 * strip_.loss + found.delta * FAN
        assert max(ours.distance(Point(spot)) for spot in rim[:: len(rim) // 40]) < slack


def hull_side(development: Development, count: int) -> float:
    """Area of the convex hull of both rings without the rings' own faces, by scipy and shapely, mm²."""
    low, high = rims(development, count)
    points = np.vstack(
        [np.column_stack([rim, np.full(len(rim), z)]) for rim, z in ((low, 0.0), (high, development.height))]
    )
    return float(ConvexHull(points).area - Polygon(low).area - Polygon(high).area)


@bare
def test_scipys_hull_of_both_rings_has_the_same_side(name: str) -> None:
    found, loss = CASES[name], second_way(name).loss
    slack = 2 * loss * 4 * max(found.generator(found.length * k / 8).length for k in range(8))
    assert hull_side(found, POINTS // 2) == pytest.approx(found.area, abs=slack + 1e-6)


@given(bare_tapers())
@settings(max_examples=8)
def test_scipys_hull_of_any_two_rings_has_the_same_side(development: Development) -> None:
    # The sharpest bends of these rims have a few points only. What is lost goes with the square of the step:
    # with half as many points one of these pairs once lost 2.1e-4.
    assert hull_side(development, 600) == pytest.approx(development.area, rel=2e-4)


@named
def test_the_support_functions_of_points_turn_by_as_much(name: str) -> None:
    # tau' = (h1 - h2) / sqrt((h1 - h2)^2 + H^2), both support functions from the farthest of many points.
    found = ALL[name]
    low, high = rims(found, POINTS)
    steps = 2000
    psi = 2 * math.pi * (np.arange(steps) + 0.5) / steps
    normals = np.vstack([np.sin(psi), -np.cos(psi)])
    gap = (low @ normals).max(axis=0) - (high @ normals).max(axis=0)
    total = float((gap / np.hypot(gap, found.height)).sum()) * 2 * math.pi / steps
    # Small bends have few points: there the farthest one is up to a hundredth of a millimetre short.
    assert found.turning == pytest.approx(total, abs=1e-4)


@given(tapers())
@settings(max_examples=8)
def test_shapely_finds_the_area_of_the_flat_sheet(development: Development) -> None:
    flat = Polygon(blank_loop(development, 0.0, 0.0))
    # Between its points a drawn rim may bow by a few thousandths.
    length = sum(development.rim_length(end) for end in ENDS)
    assert flat.area == pytest.approx(development.area, abs=0.003 * length)


@named
def test_shapely_finds_the_area_of_the_blank(name: str) -> None:
    found = ALL[name]
    blank = Polygon(blank_loop(found, 15.0, 10.0))
    length = sum(found.rim_length(end) for end in ENDS)
    assert blank.area == pytest.approx(blank_area(found, 15.0, 10.0), abs=0.003 * length)
    # GEOS cuts off what lies over itself: at a sharp corner the margins of both sides meet and do not cross.
    assert blank.buffer(0).area == pytest.approx(blank.area, abs=1e-3)


@named
def test_shapely_finds_the_same_smallest_rectangle(name: str) -> None:
    drawn = blank_loop(ALL[name], 15.0, 10.0)
    box, corners = smallest_rectangle(drawn), Polygon(drawn).convex_hull.minimum_rotated_rectangle
    assert isinstance(corners, Polygon)
    assert box.length * box.width == pytest.approx(corners.area, rel=1e-9)
    # The blank's own has few points: either side is short by 0.001 mm at most.
    own = blank_box(ALL[name], 15.0, 10.0)
    assert own.length * own.width == pytest.approx(corners.area, abs=0.001 * (own.length + own.width))


def beyond(development: Development, margin: float) -> float:
    """How far the blank, drawn as closely as may be, reaches out of the hull of few points, mm."""
    hull = Polygon(blank_hull(development, margin, 10.0))
    close = chain(
        *(development.outline_points(end, margin, math.radians(0.1)) for end in ENDS),
        end_edge(development, margin, 10.0),
    )
    return float(shapely.distance(hull, shapely.points(list(close))).max())


@named
@pytest.mark.parametrize("margin", [0.0, 15.0])
def test_the_hull_of_few_points_holds_the_whole_blank_to_a_thousandth(name: str, margin: float) -> None:
    found = ALL[name]
    assert beyond(found, margin) < 0.001
    # It is no larger than the blank either.
    drawn = Polygon(blank_loop(found, margin, 10.0)).convex_hull
    assert drawn.buffer(0.001).contains(Polygon(blank_hull(found, margin, 10.0)))


@given(tapers(), st.floats(0.0, 25.0))
@settings(max_examples=25)
def test_the_hull_of_few_points_holds_any_blank_to_a_thousandth(
    development: Development, margin: float
) -> None:
    assert beyond(development, margin) < 0.001


def test_the_cases_have_bent_and_plane_parts() -> None:
    kinds = {type(part) for development in CASES.values() for part in development.parts}
    assert kinds == {Curved, Facet}
