from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.base.errors import Fault, GeometryError
from generator.shape.build import build_shade, outline_facts, outline_keys, polar_angle, strut_places
from generator.shape.outline import Outline
from generator.shape.outlines import ellipse
from tests.shape.samples import SPANS, bell_hex, customs_rect, make_size, pier_drum
from tests.shape.strategies import outlines


def faults_of(
    outline: str, dimensions: dict[str, float], height: float = 200.0, **ring: float
) -> list[Fault]:
    with pytest.raises(GeometryError) as refused:
        build_shade(make_size(outline, dimensions, height, ring=ring))
    return list(refused.value.faults)


def test_every_outline_of_the_format_is_found_with_its_keys() -> None:
    keys = {name: keys.all for name, keys in outline_keys().items()}
    assert keys == {
        "circle": ("diameter",),
        "ellipse": ("length", "width"),
        "polygon": ("sides", "across_flats", "corner_radius"),
        "rectangle": ("length", "width", "corner_radius"),
        "square": ("side", "corner_radius"),
        "stadium": ("length", "width"),
    }


def test_a_radius_that_is_left_out_is_a_sharp_corner() -> None:
    shade = build_shade(make_size("square", {"side": 200.0}, 200.0))
    assert shade.outline.smallest_radius == 0
    assert shade.outline.length == 800


def test_the_sheet_lies_half_its_thickness_outside_the_tape() -> None:
    shade = build_shade(pier_drum())
    assert shade.sheet.width == pytest.approx(350 + 2 * (0.15 + 0.175))
    assert shade.wrapped_length == pytest.approx(math.pi * 350.65)
    assert shade.panel_length == pytest.approx(math.pi * 350.65 + 10)


def test_a_panel_without_kiss_cuts_is_as_high_as_the_shade() -> None:
    assert build_shade(bell_hex()).panel_height == 220
    assert build_shade(customs_rect()).panel_height == 230


def test_a_hem_has_a_width_only_if_the_seam_is_hemmed() -> None:
    assert build_shade(customs_rect()).hem == 12
    assert build_shade(pier_drum()).hem == 0


@pytest.mark.parametrize(
    ("outline", "dimensions", "nearest"),
    [
        ("circle", {"diameter": 350.0}, 350.0),
        ("ellipse", {"length": 300.0, "width": 110.0}, 110.0),
        ("rectangle", {"length": 350.0, "width": 180.0}, 180.0),
        ("polygon", {"sides": 6, "across_flats": 280.0}, 280.0),
        # The lamp hangs in the middle, so the sides count that are nearest to it, not the pentagon's height.
        ("polygon", {"sides": 5, "across_flats": 280.0}, 280.0),
    ],
)
def test_the_smallest_inside_width_lies_between_the_wires(
    outline: str, dimensions: dict[str, float], nearest: float
) -> None:
    assert build_shade(make_size(outline, dimensions, 200.0)).smallest_inside == pytest.approx(nearest - 7)


@pytest.mark.parametrize(("radius", "word"), [(-1.0, "below 0"), (131.0, "more than half the side, 130 mm")])
def test_a_radius_out_of_bounds_is_refused_at_its_place(radius: float, word: str) -> None:
    (fault,) = faults_of("square", {"side": 260.0, "corner_radius": radius})
    assert fault.span == SPANS["corner_radius"]
    assert word in fault.wrong
    assert fault.expected == "0 to 130 mm"


def test_a_radius_of_exactly_half_the_side_is_allowed() -> None:
    shade = build_shade(make_size("square", {"side": 260.0, "corner_radius": 130.0}, 200.0))
    assert shade.outline.length == pytest.approx(math.pi * 260)


def test_the_radius_of_a_rectangle_is_held_by_its_short_side() -> None:
    (fault,) = faults_of("rectangle", {"length": 350.0, "width": 180.0, "corner_radius": 91.0})
    assert "half the short side, 90 mm" in fault.wrong


def test_the_radius_of_a_polygon_is_held_by_its_inradius() -> None:
    (fault,) = faults_of("polygon", {"sides": 6, "across_flats": 280.0, "corner_radius": 141.0})
    assert "half the size across flats, 140 mm" in fault.wrong


@pytest.mark.parametrize("outline", ["ellipse", "stadium", "rectangle"])
def test_length_and_width_the_wrong_way_round_are_told_apart(outline: str) -> None:
    (fault,) = faults_of(outline, {"length": 200.0, "width": 300.0})
    assert fault.span == SPANS["length"]
    assert "200 mm, is smaller than the width, 300 mm" in fault.wrong
    assert fault.fix == "write length: 300 mm and width: 200 mm"


@pytest.mark.parametrize("sides", [2, 25])
def test_a_polygon_has_three_to_twenty_four_sides(sides: int) -> None:
    (fault,) = faults_of("polygon", {"sides": sides, "across_flats": 280.0})
    assert fault.span == SPANS["sides"]
    assert fault.expected == "3 to 24 sides"


def test_a_size_of_nothing_is_refused() -> None:
    faults = faults_of("circle", {"diameter": 0.0}, 0.0)
    assert [fault.span for fault in faults] == [SPANS["diameter"], SPANS["height"]]


def test_all_faults_of_a_ring_come_at_once() -> None:
    faults = faults_of("rectangle", {"length": 180.0, "width": 350.0, "corner_radius": 95.0})
    assert [fault.span for fault in faults] == [SPANS["length"], SPANS["corner_radius"]]


def test_a_first_strut_beyond_the_ring_is_refused() -> None:
    (fault,) = faults_of("square", {"side": 200.0}, first_strut=801.0)
    assert fault.span == SPANS["ring.first_strut"]
    assert "800 mm" in fault.expected


def test_struts_stand_half_a_space_from_the_seam_by_default() -> None:
    shade = build_shade(make_size("circle", {"diameter": 300.0}, 200.0, ring={"struts": 3}))
    sixth = math.pi * 300 / 6
    assert [strut.s for strut in shade.struts] == pytest.approx([sixth, 3 * sixth, 5 * sixth])
    assert shade.struts[1].point == pytest.approx((0, 150), abs=1e-9)


def test_a_recipe_may_say_where_the_first_strut_stands() -> None:
    shade = build_shade(make_size("square", {"side": 200.0}, 200.0, ring={"struts": 4, "first_strut": 100.0}))
    assert [strut.s for strut in shade.struts] == pytest.approx([100, 300, 500, 700])
    # On the mid-sheet line a sharp corner is an arc, and the strut points at its middle.
    assert [strut.panel for strut in shade.struts] == pytest.approx(
        [100 + 0.325 * math.pi / 4 + k * (200 + 0.325 * math.pi / 2) for k in range(4)]
    )


def test_struts_by_angle_stand_on_equal_rays() -> None:
    outline = ellipse.make({"length": 300.0, "width": 200.0})
    places = strut_places(outline, 6, None, by_angle=True)
    angles = [math.degrees(polar_angle(outline, s)) for s in places]
    assert angles == pytest.approx([30, 90, 150, 210, 270, 330], abs=1e-6)


def test_struts_by_angle_may_begin_at_a_stated_place() -> None:
    outline = ellipse.make({"length": 300.0, "width": 200.0})
    quarter = outline.length / 4
    places = strut_places(outline, 4, quarter, by_angle=True)
    assert places == pytest.approx([0, quarter, 2 * quarter, 3 * quarter], abs=1e-6)


@given(outlines(), st.integers(2, 12))
@settings(deadline=None)
def test_struts_by_arc_are_evenly_spaced_and_the_seam_is_midway(outline: Outline, count: int) -> None:
    places = strut_places(outline, count, None, by_angle=False)
    space = outline.length / count
    gaps = [b - a for a, b in itertools.pairwise(places)]
    assert gaps == pytest.approx([space] * (count - 1), rel=1e-9)
    assert places[0] == pytest.approx(space / 2)
    assert outline.length - places[-1] == pytest.approx(space / 2)


@given(outlines(), st.integers(2, 12))
@settings(max_examples=30, deadline=None)
def test_struts_by_angle_are_symmetric_about_the_seam(outline: Outline, count: int) -> None:
    places = strut_places(outline, count, None, by_angle=True)
    mirrored = sorted(outline.length - s for s in places)
    assert list(places) == pytest.approx(mirrored, abs=1e-6)


@given(st.floats(100, 500), st.floats(0, 1), st.floats(0, 1))
def test_a_place_on_the_panel_is_the_arc_length_of_the_offset(
    side: float, radius: float, share: float
) -> None:
    dimensions = {"side": side, "corner_radius": radius * side / 2}
    shade = build_shade(make_size("square", dimensions, 200.0))
    s = share * shade.outline.length
    panel = shade.on_panel(s)
    (x0, y0), (x1, y1) = shade.outline.point(s), shade.sheet.point(panel)
    # Straight out along the normal: the mid-sheet line is 0.325 mm outside the wire.
    assert math.hypot(x1 - x0, y1 - y0) == pytest.approx(0.325, abs=1e-6)


def test_the_facts_of_every_outline_carry_its_numbers() -> None:
    assert outline_facts(pier_drum()).perimeter == "π × diameter 350"
    assert "corner radius 25" in outline_facts(customs_rect()).perimeter
    assert outline_facts(bell_hex()).seam_mark == pytest.approx(960.2731833921324 / 12)


def test_a_hexagon_pauses_on_the_middle_of_a_side_never_on_a_corner() -> None:
    shade = build_shade(
        make_size("polygon", {"sides": 6, "across_flats": 280.0, "corner_radius": 15.0}, 220.0)
    )
    # Corners stand at odd sixths and a half of the perimeter, side middles at whole sixths (symmetry).
    for pause, sixths in zip(shade.pauses, (2, 3, 5), strict=True):
        assert pause == pytest.approx(shade.wrapped_length * sixths / 6)


def test_a_round_shade_pauses_at_each_quarter() -> None:
    shade = build_shade(make_size("circle", {"diameter": 350.0}, 220.0))
    for pause, quarter in zip(shade.pauses, (0.25, 0.5, 0.75), strict=True):
        assert pause == pytest.approx(shade.wrapped_length * quarter)
