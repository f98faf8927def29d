from __future__ import annotations

import math

import pytest

from generator.base.errors import ShapeError
from generator.shape.outline import ArcPath, Outline
from generator.shape.outlines import circle, ellipse, polygon, rectangle, square, stadium

SQUARE = square.make({"side": 300.0, "corner_radius": 40.0})
SHARP = square.make({"side": 200.0, "corner_radius": 0.0})
ROUND_SQUARE = square.make({"side": 100.0, "corner_radius": 50.0})
OVAL = ellipse.make({"length": 300.0, "width": 200.0})
PENTAGON = polygon.make({"sides": 5, "across_flats": 300.0, "corner_radius": 15.0})


def all_outlines() -> list[Outline]:
    return [
        circle.make({"diameter": 350.0}),
        OVAL,
        OVAL.offset(1.85),
        stadium.make({"length": 350.0, "width": 200.0}),
        stadium.make({"length": 200.0, "width": 200.0}),
        rectangle.make({"length": 350.0, "width": 180.0, "corner_radius": 25.0}),
        rectangle.make({"length": 350.0, "width": 180.0}),
        SQUARE,
        SHARP,
        ROUND_SQUARE,
        PENTAGON,
        polygon.make({"sides": 6, "across_flats": 280.0, "corner_radius": 15.0}),
    ]


@pytest.mark.parametrize("outline", all_outlines())
def test_the_walk_begins_in_the_middle_of_the_front_and_heads_right(outline: Outline) -> None:
    x, y = outline.point(0.0)
    assert x == 0
    assert y < 0
    assert outline.point(1e-3)[0] == pytest.approx(1e-3, rel=1e-5)
    assert outline.psi(0.0) == 0


@pytest.mark.parametrize("outline", all_outlines())
def test_the_walk_ends_where_it_began_after_one_full_turn(outline: Outline) -> None:
    assert outline.point(outline.length) == pytest.approx(outline.point(0.0), abs=1e-9)
    assert outline.psi(outline.length) == pytest.approx(2 * math.pi, abs=1e-12)


@pytest.mark.parametrize("outline", all_outlines())
def test_a_place_beyond_one_round_is_the_same_place_one_turn_later(outline: Outline) -> None:
    s = 0.3 * outline.length
    assert outline.point(s + outline.length) == pytest.approx(outline.point(s), abs=1e-9)
    assert outline.psi(s + outline.length) == pytest.approx(outline.psi(s) + 2 * math.pi)
    assert outline.psi(s - outline.length) == pytest.approx(outline.psi(s) - 2 * math.pi)


def test_a_square_stands_with_its_sides_where_they_were_measured() -> None:
    assert SQUARE.width == pytest.approx(300)
    assert SQUARE.depth == pytest.approx(300)
    assert SQUARE.point(SQUARE.length / 4) == pytest.approx((150, 0))
    assert SQUARE.point(SQUARE.length / 2) == pytest.approx((0, 150))


def test_a_sharp_corner_turns_at_one_point() -> None:
    assert SHARP.psi(99.999999) == 0
    assert SHARP.psi(100.0) == pytest.approx(math.pi / 4)
    assert SHARP.psi(100.0 + 1e-10) == pytest.approx(math.pi / 4)
    assert SHARP.psi(100.0 - 1e-10) == pytest.approx(math.pi / 4)
    assert SHARP.psi(100.000001) == pytest.approx(math.pi / 2)
    assert SHARP.point(100.0) == pytest.approx((100, -100))


def test_a_sharp_corner_has_a_middle_and_no_tangent_points() -> None:
    assert [station.kind for station in SHARP.stations()] == ["side", "corner"] * 4
    assert [station.s for station in SHARP.stations()] == [0, 100, 200, 300, 400, 500, 600, 700]


def test_a_corner_rounded_by_less_than_an_atom_is_sharp() -> None:
    hair = square.make({"side": 200.0, "corner_radius": 1e-12})
    assert [station.kind for station in hair.stations()] == ["side", "corner"] * 4
    assert hair.psi(100.0) == pytest.approx(math.pi / 4)


def test_a_square_whose_corners_meet_is_a_circle() -> None:
    drum = circle.make({"diameter": 100.0})
    assert ROUND_SQUARE.length == pytest.approx(drum.length)
    for share in (0.0, 0.1, 0.37, 0.5, 0.99):
        s = share * drum.length
        assert ROUND_SQUARE.point(s) == pytest.approx(drum.point(s), abs=1e-9)
        assert ROUND_SQUARE.psi(s) == pytest.approx(drum.psi(s))
    assert [station.kind for station in ROUND_SQUARE.stations()] == ["corner"] * 4


def test_a_stadium_has_one_bend_at_each_end() -> None:
    oval = stadium.make({"length": 350.0, "width": 200.0})
    corners = [station for station in oval.stations() if station.kind == "corner"]
    assert len(corners) == 2
    assert oval.point(corners[0].s) == pytest.approx((175, 0), abs=1e-9)
    assert oval.point(corners[1].s) == pytest.approx((-175, 0), abs=1e-9)
    assert oval.width == pytest.approx(350)
    assert oval.depth == pytest.approx(200)


def test_a_polygon_of_odd_sides_is_measured_by_its_inradius() -> None:
    assert PENTAGON.point(0.0) == (0, -150)
    # Height of a regular pentagon: inradius and circumradius, less r (1/cos(pi/5) - 1) at the rounded corner
    # (elementary trigonometry).
    lost = 15 / math.cos(math.pi / 5) - 15
    assert PENTAGON.depth == pytest.approx(150 + 150 / math.cos(math.pi / 5) - lost)


def test_a_hexagon_lies_on_a_flat() -> None:
    hexagon = polygon.make({"sides": 6, "across_flats": 280.0, "corner_radius": 0.0})
    assert hexagon.depth == pytest.approx(280)
    assert hexagon.width == pytest.approx(280 / math.cos(math.pi / 6))


@pytest.mark.parametrize("outline", [SQUARE, SHARP, PENTAGON, OVAL, OVAL.offset(5.0)])
def test_an_offset_inwards_beyond_the_smallest_radius_is_refused(outline: Outline) -> None:
    inner = outline.offset(-outline.smallest_radius)
    assert inner.smallest_radius == pytest.approx(0, abs=1e-9)
    with pytest.raises(ShapeError, match="beyond the smallest radius of curvature"):
        outline.offset(-outline.smallest_radius - 0.01)


def test_a_circle_cannot_be_offset_beyond_its_centre() -> None:
    with pytest.raises(ShapeError, match="beyond the centre"):
        circle.make({"diameter": 100.0}).offset(-51.0)


def test_the_inmost_parallel_of_an_ellipse_can_still_be_walked() -> None:
    inner = OVAL.offset(-OVAL.smallest_radius)
    assert inner.point(inner.length / 4) == pytest.approx((150 - OVAL.smallest_radius, 0), abs=1e-6)
    # Beside the cusp the speed along the parameter vanishes; the walk must stay in order all the same.
    xs = [inner.point(inner.length / 4 * (1 - 10.0**-k))[0] for k in range(1, 9)]
    assert xs == sorted(xs)


def test_a_parallel_of_an_ellipse_is_no_ellipse() -> None:
    parallel = OVAL.offset(20.0)
    lookalike = ellipse.make({"length": 340.0, "width": 240.0})
    assert (parallel.width, parallel.depth) == (lookalike.width, lookalike.depth)
    assert abs(parallel.length - lookalike.length) > 0.5


def test_an_outline_of_arcs_knows_its_radius() -> None:
    assert isinstance(SQUARE, ArcPath)
    assert SQUARE.smallest_radius == 40
    assert SQUARE.offset(0.325).smallest_radius == pytest.approx(40.325)
