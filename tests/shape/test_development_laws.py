"""Laws of developments, for any rim over any other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from generator.shape.blank import blank_loop
from generator.shape.blank_hull import blank_box
from generator.shape.development import ENDS, Development, End
from generator.shape.matching import Curved, Facet
from generator.shape.outlines import circle, ellipse, polygon, square
from generator.shape.surface import GAUSS
from tests.shape.strategies import SHARE, SIZE, bare_tapers, tapers

ANY_END = st.sampled_from(ENDS)
few = settings(max_examples=10)


def sampled(development: Development, step: float) -> Iterator[float]:
    """Panel coordinates once round: both ends of all parts, and steps of a turn on bent ones."""
    breaks = (*development.breaks(), development.length)
    for part, (start, stop) in zip(development.parts, pairwise(breaks), strict=True):
        pieces = 1 if isinstance(part, Facet) else math.ceil((part.psi1 - part.psi0) / step)
        yield from (start + (stop - start) * k / pieces for k in range(pieces))
    yield development.length


@pytest.mark.parametrize("power", range(16))
def test_the_nodes_of_the_quadrature_integrate_powers_up_to_15(power: int) -> None:
    # Gauss: n nodes integrate polynomials up to degree 2 n - 1 exactly.
    exact = 0.0 if power % 2 else 2 / (power + 1)
    found = math.fsum(weight * node**power for node, weight in GAUSS)
    assert found == pytest.approx(exact, abs=1e-14)


def test_the_quadrature_is_no_better_than_8_nodes_can_be() -> None:
    found = math.fsum(weight * node**16 for node, weight in GAUSS)
    assert abs(found - 2 / 17) > 1e-6


@given(tapers(), SHARE)
@few
def test_a_generator_is_as_long_in_the_plane_as_in_space(development: Development, share: float) -> None:
    line = development.generator(share * development.length)
    assert math.dist(line.low, line.high) == pytest.approx(line.length, rel=1e-9)


@given(tapers(), SHARE)
@few
def test_a_generator_lies_to_its_rim_as_in_space(development: Development, share: float) -> None:
    line = development.generator(share * development.length)
    span = [b - a for a, b in zip(line.low, line.high, strict=True)]
    along, up, out = (
        sum(a * b for a, b in zip(span, axis, strict=True))
        for axis in (line.tangent, line.upslope, line.outward)
    )
    flat = [b - a for a, b in zip(line.flat_low, line.flat_high, strict=True)]
    c, s = math.cos(line.tau), math.sin(line.tau)
    assert (flat[0] * c + flat[1] * s, flat[1] * c - flat[0] * s) == pytest.approx((along, up), abs=1e-7)
    assert out == pytest.approx(0.0, abs=1e-7)
    assert up > 0


@given(tapers())
@few
def test_both_rims_keep_their_length(development: Development) -> None:
    lines = [development.generator(x) for x in sampled(development, math.radians(4))]
    for end in ENDS:
        space = [line.low if end == "bottom" else line.high for line in lines]
        plane = [line.flat_low if end == "bottom" else line.flat_high for line in lines]
        steps = [math.dist(a, b) for a, b in pairwise(space)]
        turns = [b.psi - a.psi for a, b in pairwise(lines)]
        # A chord is shorter than its curve, by a third at the very most where a corner is turned in one step.
        slack = sum(step * min(turn * turn / 8, 0.6) for step, turn in zip(steps, turns, strict=True)) + 1e-6
        assert math.fsum(steps) <= development.rim_length(end) + 1e-6
        assert math.fsum(steps) == pytest.approx(development.rim_length(end), abs=slack)
        assert math.fsum(math.dist(a, b) for a, b in pairwise(plane)) == pytest.approx(
            math.fsum(steps), abs=slack
        )


@given(bare_tapers(), ANY_END)
@few
def test_a_rim_of_a_thin_sheet_is_as_long_as_its_ring(development: Development, end: End) -> None:
    ring = development.bottom if end == "bottom" else development.top
    assert development.rim_length(end) == pytest.approx(ring.length, rel=1e-9)
    assert development.length == pytest.approx((development.bottom.length + development.top.length) / 2)


@given(tapers())
@few
def test_the_flat_sheet_does_not_lie_over_itself(development: Development) -> None:
    flat = Polygon(blank_loop(development, 0.0, 0.0))
    assert flat.is_valid
    first, last = development.generator(0.0), development.generator(development.length)
    seams = [LineString([line.flat_low, line.flat_high]) for line in (first, last)]
    assert not seams[0].intersects(seams[1])
    assert abs(development.turning) < 2 * math.pi


@given(tapers(), SHARE)
@few
def test_upside_down_the_flat_sheet_is_mirrored(development: Development, share: float) -> None:
    d = development
    other = Development(d.top, d.bottom, d.height, (-d.shift[0], -d.shift[1]), d.delta)
    ox, oy = d.generator(0.0).flat_high
    x = share * d.length
    line, mirrored = d.generator(x), other.generator(x)
    assert (other.turning, other.area) == pytest.approx((-d.turning, d.area), abs=1e-6)
    # At a sharp corner x is the same for all directions, and either way round one of them is taken.
    assume(math.isclose(line.psi, mirrored.psi, abs_tol=1e-6))
    assert mirrored.tau == pytest.approx(-line.tau, abs=1e-6)
    for (px, py), found in ((line.flat_high, mirrored.flat_low), (line.flat_low, mirrored.flat_high)):
        assert found == pytest.approx((px - ox, oy - py), abs=1e-5)


@given(bare_tapers(), ANY_END, SHARE)
@few
def test_a_place_on_the_ring_is_found_again_from_the_panel(
    development: Development, end: End, share: float
) -> None:
    ring = development.bottom if end == "bottom" else development.top
    assume(ring.smallest_radius > 0.5)
    s = share * ring.length
    assert development.rim_place(end, development.panel_place(end, s)) == pytest.approx(s, abs=1e-6)


@given(bare_tapers(), ANY_END, SHARE)
@few
def test_a_generator_ends_on_the_ring_where_it_says(development: Development, end: End, share: float) -> None:
    ring = development.bottom if end == "bottom" else development.top
    assume(ring.smallest_radius > 0.5)
    line = development.generator(share * development.length)
    x, y, z = line.low if end == "bottom" else line.high
    dx, dy = (0.0, 0.0) if end == "bottom" else development.shift
    s = development.rim_place(end, line.x)
    assert (x - dx, y - dy) == pytest.approx(ring.point(s), abs=1e-6)
    assert z == (0.0 if end == "bottom" else development.height)


@given(tapers(), ANY_END)
@few
def test_places_on_a_ring_keep_their_order_on_the_panel(development: Development, end: End) -> None:
    ring = development.bottom if end == "bottom" else development.top
    places = [development.panel_place(end, ring.length * k / 24) for k in range(25)]
    assert places == pytest.approx(sorted(places), abs=1e-9)
    assert (places[0], places[-1]) == pytest.approx((0.0, development.length), abs=1e-9)


@given(SIZE, SIZE, st.floats(20, 900), st.floats(0, 3))
@few
def test_a_cone_is_a_sector_of_the_known_radii(low: float, high: float, height: float, delta: float) -> None:
    # R = s D / (D - d), theta = pi (D - d) / s; each rim 2 pi delta cos(alpha) longer, alpha half the apex
    # angle (elementary).
    development = Development(
        circle.make({"diameter": low}), circle.make({"diameter": high}), height, delta=delta
    )
    slant = math.hypot(height, (low - high) / 2)
    theta = math.pi * (low - high) / slant
    grown = 2 * math.pi * delta * height / slant
    assert development.turning == pytest.approx(theta, abs=1e-12)
    assert development.rim_length("bottom") == pytest.approx(math.pi * low + grown, rel=1e-12)
    assert development.rim_length("top") == pytest.approx(math.pi * high + grown, rel=1e-12)
    assert development.area == pytest.approx((math.pi * (low + high) + 2 * grown) / 2 * slant, rel=1e-12)
    line = development.generator(development.length)
    radius = development.rim_length("bottom") / theta if abs(theta) > 1e-3 else None
    if radius is not None:
        chord = (radius * math.sin(theta), radius * (1 - math.cos(theta)))
        assert line.flat_low == pytest.approx(chord, abs=1e-9 * abs(radius))


@given(SIZE, st.floats(40, 600), st.floats(-9, -2))
@few
def test_a_cone_that_hardly_narrows_is_hardly_other_than_a_rectangle(
    diameter: float, height: float, exponent: float
) -> None:
    narrow = diameter * (1 - 10**exponent)
    development = Development(circle.make({"diameter": diameter}), circle.make({"diameter": narrow}), height)
    # The farthest that a sheet of this length moves if it turns by so much.
    reach = abs(development.turning) * (development.length + height) + 10**exponent * diameter * math.pi
    for k in range(5):
        x = development.length * k / 4
        line = development.generator(x)
        assert line.flat_low == pytest.approx((x, 0.0), abs=reach)
        assert line.flat_high == pytest.approx((x, height), abs=reach)


@given(SIZE, st.floats(40, 600))
@few
def test_equal_circles_make_a_rectangle(diameter: float, height: float) -> None:
    rim = circle.make({"diameter": diameter})
    development = Development(rim, rim, height)
    box = blank_box(development, 0.0, 0.0)
    sides = sorted((math.pi * diameter, height), reverse=True)
    assert [box.length, box.width] == pytest.approx(sides, rel=1e-9)
    assert development.area == pytest.approx(math.pi * diameter * height, rel=1e-12)
    assert development.turning == 0.0


@given(
    st.integers(3, 12), SIZE, st.floats(0.2, 0.95), st.floats(0.2, 2), st.floats(0, 0.9), st.floats(0, 0.9)
)
@few
def test_a_frustum_with_sides_has_no_bend_inside_a_face(
    sides: int, across: float, narrower: float, tall: float, low_round: float, high_round: float
) -> None:
    low, high = (
        polygon.make({"sides": sides, "across_flats": size, "corner_radius": share * size / 2})
        for size, share in ((across, low_round), (across * narrower, high_round))
    )
    development = Development(low, high, across * tall, delta=1.0)
    breaks = (*development.breaks(), development.length)
    faces = 0
    for part, (start, stop) in zip(development.parts, pairwise(breaks), strict=True):
        lines = [development.generator(start + (stop - start) * share) for share in (0.1, 0.5, 0.9)]
        if isinstance(part, Curved):
            assert lines[0].tau < lines[1].tau < lines[2].tau
            continue
        faces += 1
        assert {line.tau for line in lines} == {lines[0].tau}
        for line in lines[1:]:
            assert line.outward == pytest.approx(lines[0].outward, abs=1e-12)
        # Straight in the plane: the middle one of three places lies on the line through the others.
        for a, b, c in zip(*([*line.flat_low, *line.flat_high] for line in lines), strict=True):
            assert b == pytest.approx((a + c) / 2, abs=1e-7)
    assert faces == sides + 1


@given(st.integers(3, 12), SIZE, st.floats(0.2, 0.95), st.floats(0.2, 2))
@few
def test_a_frustum_with_sharp_corners_turns_at_its_corners_alone(
    sides: int, across: float, narrower: float, tall: float
) -> None:
    # Equal trapezoids side by side: at each common leg the bases turn by twice the leg's slope (elementary).
    low, high = (polygon.make({"sides": sides, "across_flats": size}) for size in (across, across * narrower))
    height = across * tall
    development = Development(low, high, height)
    step = across * (1 - narrower) / 2
    corner = 2 * math.atan2(step * math.tan(math.pi / sides), math.hypot(height, step))
    side = across * math.tan(math.pi / sides)
    for k in range(sides):
        x = development.panel_place("bottom", side * k + side / 4)
        assert development.generator(x).tau == pytest.approx(corner * k, abs=1e-9)
    assert development.turning == pytest.approx(corner * sides, abs=1e-9)


@given(tapers(), ANY_END)
@settings(max_examples=6)
def test_a_drawn_rim_passes_through_the_ends_of_generators(development: Development, end: End) -> None:
    drawn = LineString(list(development.outline_points(end, step=math.radians(0.05))))
    # Very flat ovals change their curvature faster than a cubic follows; even so it is a few thousandths.
    flattest = min(ring.smallest_radius / ring.width for ring in (development.bottom, development.top))
    slack = 1e-3 if flattest > 0.1 else 4e-3
    for k in range(60):
        line = development.generator(development.length * (k + 0.5) / 60)
        assert drawn.distance(Point(line.flat_low if end == "bottom" else line.flat_high)) < slack


@pytest.mark.parametrize("high", [140.0, 460.0])
@pytest.mark.parametrize("share", [0.0, 0.2, 0.5, 1.0])
def test_the_place_of_a_turning_is_found_again(high: float, share: float) -> None:
    low = ellipse.make({"length": 320.0, "width": 260.0})
    development = Development(low, circle.make({"diameter": high}), 180.0, (10.0, 0.0))
    tau = share * development.turning
    assert development.generator(development.at_turning(tau)).tau == pytest.approx(tau, abs=1e-9)


def test_a_place_that_faces_a_whole_side_is_put_at_its_middle() -> None:
    development = Development(square.make({"side": 240.0}), circle.make({"diameter": 160.0}), 180.0)
    quarter = development.top.length / 4
    places = [development.panel_place("top", quarter * k) for k in range(5)]
    assert places == pytest.approx([development.length * k / 4 for k in range(5)], abs=1e-9)


def test_a_margin_is_parallel_to_its_rim() -> None:
    development = Development(
        polygon.make({"sides": 6, "across_flats": 300.0, "corner_radius": 40.0}),
        circle.make({"diameter": 180.0}),
        160.0,
        (10.0, 20.0),
        0.3,
    )
    for end, outwards in zip(ENDS, (-1.0, 1.0), strict=True):
        rim = LineString(list(development.outline_points(end)))
        edge = list(development.outline_points(end, 15.0))
        assert {round(rim.distance(Point(p)), 2) for p in edge} == {15.0}
        start, beyond = next(development.outline_points(end)), edge[0]
        assert (beyond[1] - start[1]) * outwards > 14.0
