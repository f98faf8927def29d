"""Perimeters, offsets, stations and struts against values computed elsewhere.

Each value carries its source in values.json; it is shown with a failure.
"""

from __future__ import annotations

import math

import pytest

from generator.shape.build import strut_places
from generator.shape.outline import Point
from generator.shape.outlines.ellipse import Ellipse
from tests.checks.published import Published, chosen, outline_of

PERIMETERS = chosen("A-", "perimeter")
ERRORS = chosen("A-", "error of")
OFFSETS = chosen("S-", "perimeter of outline offset")
TANGENTS = chosen("B-", "tangent-point positions")
CORNERS = chosen("B-", "corner mid-points")
STRUTS = chosen("C-", "xy of")
TIGHT = 1e-9


def name(published: Published) -> str:
    return published.id


def test_the_values_are_all_there() -> None:
    counts = [len(group) for group in (PERIMETERS, ERRORS, OFFSETS, TANGENTS, CORNERS, STRUTS)]
    assert counts == [27, 8, 55, 3, 2, 8]


@pytest.mark.parametrize("published", PERIMETERS, ids=name)
def test_a_perimeter_is_the_published_one(published: Published) -> None:
    assert outline_of(published).length == pytest.approx(published.value, rel=TIGHT), published.source


@pytest.mark.parametrize("published", OFFSETS, ids=name)
def test_an_offset_perimeter_is_the_published_one(published: Published) -> None:
    offset = outline_of(published).offset(published.params["d"])
    assert offset.length == pytest.approx(published.value, rel=TIGHT), published.source


@pytest.mark.parametrize("published", ERRORS, ids=name)
def test_an_approximation_misses_an_ellipse_by_as_much_as_published(published: Published) -> None:
    a, b = published.params["A"] / 2, published.params["B"] / 2
    h = ((a - b) / (a + b)) ** 2
    # The approximations: Ramanujan 1914 (quoted in DLMF 19.9(i), from memory), and two rules of thumb.
    approximations = {
        "error of Ramanujan I approximation": math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b))),
        "error of Ramanujan II approximation": math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h))),
        "error of root-mean-square 2pi sqrt((a2+b2)/2) approximation": 2
        * math.pi
        * math.sqrt((a * a + b * b) / 2),
        "error of mean-diameter pi(a+b) approximation": math.pi * (a + b),
    }
    miss = approximations[published.quantity] - outline_of(published).length
    assert miss == pytest.approx(published.value, abs=1e-9), published.source


@pytest.mark.parametrize("published", TANGENTS, ids=name)
def test_tangent_points_stand_where_published(published: Published) -> None:
    outline = outline_of(published)
    tangents = [station.s for station in outline.stations() if station.kind == "tangent"]
    assert [0.0, *tangents, outline.length] == pytest.approx(published.value, rel=TIGHT), published.source


@pytest.mark.parametrize("published", CORNERS, ids=name)
def test_bend_middles_stand_where_published(published: Published) -> None:
    corners = [station.s for station in outline_of(published).stations() if station.kind == "corner"]
    assert corners == pytest.approx(published.value, rel=TIGHT), published.source


def test_a_hexagon_reaches_across_its_corners_as_published() -> None:
    (published,) = chosen("B-N6_300r20-AC")
    assert outline_of(published).width == pytest.approx(published.value, rel=TIGHT), published.source


def strut_points(published: Published) -> list[Point]:
    """Struts that begin on the seam line, as the published ones do."""
    outline = outline_of(published)
    places = strut_places(outline, int(published.params["n"]), 0.0, by_angle=False)
    return [outline.point(s) for s in places]


@pytest.mark.parametrize("published", STRUTS, ids=name)
def test_struts_stand_where_published(published: Published) -> None:
    for found, expected in zip(strut_points(published), published.value, strict=True):
        assert found == pytest.approx(expected, abs=1e-9), published.source


def test_the_chord_between_struts_of_a_circle_is_the_published_one() -> None:
    (published,) = chosen("C-C300n3")
    first, second = strut_points(published)[:2]
    assert math.dist(first, second) == pytest.approx(published.value, rel=TIGHT), published.source


@pytest.mark.parametrize("published", chosen("C-", "max misplacement"), ids=name)
def test_struts_at_equal_parameters_stray_as_far_as_published(published: Published) -> None:
    outline, n = outline_of(published), int(published.params["n"])
    assert isinstance(outline, Ellipse)
    even = strut_places(outline, n, 0.0, by_angle=False)
    strays = [abs(outline.arc(2 * math.pi * k / n) - s) for k, s in enumerate(even)]
    assert max(strays) == pytest.approx(published.value, rel=TIGHT), published.source


def test_an_ellipse_cannot_go_further_inwards_than_the_published_radius() -> None:
    (published,) = chosen("F-inoffset-min")
    assert outline_of(published).smallest_radius == pytest.approx(published.value, rel=TIGHT), (
        published.source
    )
