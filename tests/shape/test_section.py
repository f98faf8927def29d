"""One of several equal panels: the same side walked as far, and all of them together the whole."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry

from generator.shape.blank import blank_area, blank_loop
from generator.shape.blank_hull import blank_box
from generator.shape.development import ENDS, Development
from generator.shape.outline import Outline
from generator.shape.outlines import circle, ellipse, polygon, rectangle, square
from generator.shape.section import alike, section_of


def ring(diameter: float) -> Outline:
    return circle.make({"diameter": diameter})


def hexagon(flats: float) -> Outline:
    return polygon.make({"sides": 6, "across_flats": flats, "corner_radius": 12.0})


def cone(
    bottom: float = 500.0, top: float = 280.0, height: float = 250.0, delta: float = 0.325
) -> Development:
    return Development(ring(bottom), ring(top), height, (0.0, 0.0), delta)


OVAL = Development(
    ellipse.make({"length": 360.0, "width": 260.0}), ellipse.make({"length": 280.0, "width": 180.0}), 200.0
)
CAPSTAN = Development(square.make({"side": 240.0, "corner_radius": 30.0}), ring(200.0), 180.0, delta=0.325)
HEX = Development(hexagon(300.0), hexagon(180.0), 220.0, delta=0.325)
MIXED = Development(
    rectangle.make({"length": 300.0, "width": 200.0, "corner_radius": 20.0}),
    square.make({"side": 150.0, "corner_radius": 20.0}),
    180.0,
)


@pytest.mark.parametrize(
    ("development", "counts"),
    [
        (cone(), [2, 3, 4, 5, 6]),
        # As often as both rings look the same after a share of a turn: 4 and any, 6 and 6, 2 and 2, 2 and 4.
        (CAPSTAN, [2, 4]),
        (HEX, [2, 3, 6]),
        (OVAL, [2]),
        (MIXED, [2]),
        # 5 and 3 have no such share; a moved ring has none either.
        (
            Development(
                polygon.make({"sides": 5, "across_flats": 300.0, "corner_radius": 10.0}),
                polygon.make({"sides": 3, "across_flats": 200.0, "corner_radius": 10.0}),
                200.0,
            ),
            [],
        ),
        (Development(ring(300.0), ring(200.0), 200.0, (10.0, 0.0)), []),
    ],
    ids=["cone", "capstan", "hexagon", "oval", "mixed", "odd", "moved"],
)
def test_a_side_comes_apart_where_both_rings_look_alike(development: Development, counts: list[int]) -> None:
    assert [count for count in range(2, 7) if alike(development, count)] == counts


PARTED = st.one_of(
    st.builds(
        lambda d, share, h, t, n: (cone(d, d * share, h, t), n),
        st.floats(120, 900),
        st.floats(0.1, 0.98),
        st.floats(80, 500),
        st.sampled_from([0.0, 0.325]),
        st.integers(2, 6),
    ),
    st.sampled_from([(CAPSTAN, 2), (CAPSTAN, 4), (HEX, 2), (HEX, 3), (HEX, 6), (OVAL, 2), (MIXED, 2)]),
)


@given(PARTED, st.floats(0, 1))
def test_a_panel_is_the_side_as_far_as_its_joint(parted: tuple[Development, int], share: float) -> None:
    whole, count = parted
    panel = section_of(whole, count)
    assert panel.length == pytest.approx(whole.length / count, abs=1e-8)
    assert panel.turning == pytest.approx(whole.turning / count, abs=1e-9)
    assert panel.area == pytest.approx(whole.area / count, rel=1e-9)
    for end in ENDS:
        assert panel.rim_length(end) == pytest.approx(whole.rim_length(end) / count, abs=1e-7)
    x = share * panel.length
    one, other = panel.generator(x), whole.generator(x)
    assert one.flat_low == pytest.approx(other.flat_low, abs=1e-7)
    assert one.flat_high == pytest.approx(other.flat_high, abs=1e-7)
    assert one.low == pytest.approx(other.low, abs=1e-7)
    assert one.tau == pytest.approx(other.tau, abs=1e-9)


@given(PARTED)
@settings(max_examples=15)
def test_all_panels_side_by_side_are_the_whole_flat_sheet(parted: tuple[Development, int]) -> None:
    whole, count = parted
    if abs(whole.turning) > math.radians(340):
        return  # it would lie on its own start
    panel = section_of(whole, count)
    one: BaseGeometry = Polygon(blank_loop(panel, 0.0, 0.0)).buffer(0)
    laid, place, turn = [], (0.0, 0.0), 0.0
    for _ in range(count):
        laid.append(translate(rotate(one, math.degrees(turn), origin=(0, 0)), *place))
        x, y = panel.generator(panel.length).flat_low
        place = (
            place[0] + x * math.cos(turn) - y * math.sin(turn),
            place[1] + x * math.sin(turn) + y * math.cos(turn),
        )
        turn += panel.turning
    # Edges that lie on one another to the last bits are no matter of rounding on a grid of a ten-thousandth.
    joined = shapely.union_all(laid, grid_size=1e-4)
    assert joined.area == pytest.approx(count * one.area, rel=1e-4)
    sheet = Polygon(blank_loop(whole, 0.0, 0.0)).buffer(0)
    assert shapely.symmetric_difference(joined, sheet, grid_size=1e-4).area < 1e-3 * one.area


@given(st.floats(200, 800), st.floats(0.3, 0.9), st.floats(100, 400), st.integers(2, 6), st.floats(5, 25))
@settings(max_examples=25)
def test_the_blank_of_a_panel_of_a_cone_is_that_of_arithmetic(
    diameter: float, share: float, height: float, count: int, margin: float
) -> None:
    """Sector of radii R and r with margins, its angle a share of the cone's, and a straight overlap."""
    overlap = 10.0
    development = cone(diameter, diameter * share, height, 0.0)
    half = diameter * (1 - share) / 2
    slant = math.hypot(half, height)
    outer, inner = diameter / 2 * slant / half, diameter * share / 2 * slant / half
    angle = 2 * math.pi * half / slant / count
    if inner <= margin + 1:
        return
    panel = section_of(development, count)
    sector = angle / 2 * ((outer + margin) ** 2 - (inner - margin) ** 2)
    assert blank_area(panel, margin, overlap) == pytest.approx(
        sector + overlap * (slant + 2 * margin), rel=1e-9
    )
    if angle < math.pi:
        # Upright on its middle line, without the overlap: chord of the outer arc, rise of the whole.
        wide = 2 * (outer + margin) * math.sin(angle / 2)
        high = outer + margin - (inner - margin) * math.cos(angle / 2)
        box = blank_box(panel, margin, 0.0)
        assert box.length * box.width <= wide * high + 1e-3
        shape = Polygon(blank_loop(panel, margin, 0.0))
        other = shape.minimum_rotated_rectangle.area
        # Either side is short by 0.001 mm at most.
        assert box.length * box.width == pytest.approx(other, abs=0.001 * (box.length + box.width))
