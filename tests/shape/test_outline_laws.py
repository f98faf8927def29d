"""Laws that hold for every convex outline, and independent references for the numbers."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe, ellipeinc
from shapely.geometry import Polygon

from generator.shape.elliptic import carlson_rd, carlson_rf, legendre_e
from generator.shape.outline import Outline, Point
from generator.shape.outlines.ellipse import Ellipse
from tests.shape.strategies import SHARE, arc_paths, ellipses, outlines

OFFSET = st.floats(0, 30)


def walk(outline: Outline, count: int) -> list[Point]:
    return [outline.point(outline.length * k / count) for k in range(count)]


@given(outlines(), OFFSET)
def test_the_perimeter_grows_by_2_pi_d(outline: Outline, d: float) -> None:
    assert outline.offset(d).length == pytest.approx(outline.length + 2 * math.pi * d, rel=1e-12)


@given(outlines(), OFFSET, SHARE)
def test_an_offset_and_back_is_the_same_outline(outline: Outline, d: float, share: float) -> None:
    back = outline.offset(d).offset(-d)
    s = share * outline.length
    assert back.length == pytest.approx(outline.length, rel=1e-12)
    assert back.point(s) == pytest.approx(outline.point(s), abs=1e-7)


@given(outlines(), SHARE, st.floats(1e-3, 1e-2))
def test_the_walk_has_unit_speed(outline: Outline, share: float, step: float) -> None:
    s = share * outline.length
    corners = [station.s for station in outline.stations() if station.kind == "corner"]
    sharp = outline.smallest_radius == 0
    assume(not (sharp and any(s - step <= corner <= s + step for corner in corners)))
    radius = outline.smallest_radius or 1.0
    chord = math.dist(outline.point(s), outline.point(s + step))
    assert chord <= step * (1 + 1e-7)
    # A chord of an arc of length h and radius r is h (1 - h^2 / 24 r^2), to the next order.
    assert chord >= step * (1 - step * step / (12 * radius * radius)) - 1e-9


@given(outlines(), SHARE, SHARE)
def test_the_angle_turned_never_falls_and_ends_at_a_full_turn(
    outline: Outline, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    assert outline.psi(low * outline.length) <= outline.psi(high * outline.length) + 1e-12
    assert outline.psi(outline.length) == pytest.approx(2 * math.pi, abs=1e-9)


@given(outlines(), SHARE)
def test_the_walk_heads_where_it_has_turned_to(outline: Outline, share: float) -> None:
    s = share * outline.length
    corners = [station.s for station in outline.stations() if station.kind == "corner"]
    step = 1e-4
    assume(all(abs(s - corner) > 1e-3 for corner in corners) or outline.smallest_radius > 1)
    (x0, y0), (x1, y1) = outline.point(s - step), outline.point(s + step)
    heading = math.atan2(y1 - y0, x1 - x0)
    difference = (heading - outline.psi(s) + math.pi) % (2 * math.pi) - math.pi
    assert difference == pytest.approx(0, abs=1e-4)


@given(outlines())
@settings(max_examples=50, deadline=None)
def test_every_outline_is_convex_and_keeps_its_centre_inside(outline: Outline) -> None:
    ring = walk(outline, 240)
    for (x0, y0), (x1, y1), (x2, y2) in zip(ring, ring[1:] + ring[:1], ring[2:] + ring[:2], strict=True):
        assert (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) >= -1e-6
    assert all(x0 * y1 - y0 * x1 > 0 for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True))


@given(outlines())
@settings(deadline=None)
def test_stations_stand_in_order_within_one_round(outline: Outline) -> None:
    places = [station.s for station in outline.stations()]
    assert places == sorted(places)
    assert all(0 <= s < outline.length + 1e-9 for s in places)
    for station in outline.stations():
        assert station.psi == pytest.approx(outline.psi(station.s), abs=1e-6)


@given(arc_paths())
def test_bends_add_up_to_one_turn_and_each_has_its_middle(outline: Outline) -> None:
    corners = [station.psi for station in outline.stations() if station.kind == "corner"]
    turn = 2 * math.pi / len(corners)
    assert corners == pytest.approx([turn * (k + 0.5) for k in range(len(corners))], abs=1e-9)


@given(outlines())
@settings(max_examples=40, deadline=None)
def test_the_extent_is_that_of_the_walk(outline: Outline) -> None:
    ring = walk(outline, 400)
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    # A walk in 400 steps may miss an extreme by half a step's sagitta, or half a step at a sharp corner.
    slack = outline.length / 400
    assert max(xs) - min(xs) == pytest.approx(outline.width, abs=slack)
    assert max(ys) - min(ys) == pytest.approx(outline.depth, abs=slack)
    assert max(xs) - min(xs) <= outline.width + 1e-9
    assert max(ys) - min(ys) <= outline.depth + 1e-9


@given(outlines(), st.floats(0.1, 20))
@settings(max_examples=25, deadline=None)
def test_shapely_finds_the_same_perimeter_and_offset(outline: Outline, d: float) -> None:
    # GEOS, through shapely, as an independent reference; it replaces curves by chords, hence the tolerance.
    polygon = Polygon(walk(outline, 480))
    assert polygon.length == pytest.approx(outline.length, rel=5e-3)
    assert polygon.buffer(d, quad_segs=64).length == pytest.approx(outline.offset(d).length, rel=5e-3)


@given(ellipses())
def test_scipy_finds_the_same_perimeter_of_an_ellipse(oval: Ellipse) -> None:
    m = 1 - (oval.b / oval.a) ** 2
    assert oval.length == pytest.approx(4 * oval.a * ellipe(m), rel=1e-13)
    speed, _ = quad(lambda t: math.hypot(oval.a * math.cos(t), oval.b * math.sin(t)), 0, math.pi / 2)
    assert oval.length == pytest.approx(4 * speed, rel=1e-9)


@given(st.floats(-20, 20), st.floats(0, 0.9999))
def test_scipy_finds_the_same_incomplete_integral(phi: float, m: float) -> None:
    assert legendre_e(phi, m) == pytest.approx(ellipeinc(phi, m), rel=1e-12, abs=1e-14)


def test_carlsons_integrals_have_their_published_values() -> None:
    # Carlson, Numerical computation of real or complex elliptic integrals, Numerical Algorithms 10 (1995),
    # section 3, from memory.
    assert carlson_rf(1, 2, 0) == pytest.approx(1.3110287771461, rel=1e-13)
    assert carlson_rf(2, 3, 4) == pytest.approx(0.58408284167715, rel=1e-13)
    assert carlson_rd(0, 2, 1) == pytest.approx(1.7972103521034, rel=1e-13)
    assert carlson_rd(2, 3, 4) == pytest.approx(0.16510527294261, rel=1e-13)


@given(ellipses(), SHARE, st.floats(0, 20))
def test_a_place_on_an_ellipse_and_its_parallel_share_the_normal(
    oval: Ellipse, share: float, d: float
) -> None:
    phi = share * 2 * math.pi
    parallel = oval.offset(d)
    s = oval.arc(phi) + d * oval.turned(phi)
    (x0, y0), (x1, y1) = oval.point(oval.arc(phi)), parallel.point(s)
    heading = parallel.psi(s)
    assert (x1 - x0, y1 - y0) == pytest.approx((d * math.sin(heading), -d * math.cos(heading)), abs=1e-7)


@given(ellipses(), SHARE)
def test_the_inverse_of_the_arc_length_is_one(oval: Ellipse, share: float) -> None:
    s = share * oval.length
    assert oval.arc(oval.parameter(s)) == pytest.approx(s, abs=1e-9)
