"""What is refused of a tapered shade, what it is warned of, and what must pass."""

from __future__ import annotations

import math

import pytest

from generator.measures.judge_taper import meets_itself
from generator.measures.scaling import scaled
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from tests.measures.tapers import Ring, capstan, circle, ellipse, fog_cone, square, taper
from tests.shape.samples import judged, measured


@pytest.mark.parametrize(
    "size",
    [
        fog_cone(),
        capstan(),
        taper(circle(300), circle(290), 220),
        taper(circle(200), circle(300), 250, use="table"),
        taper(circle(300), circle(300), 250, shift=(50.0, 30.0)),
        taper(ellipse(400, 250), ellipse(300, 150), 200),
        taper(circle(400), circle(100), 150),
    ],
)
def test_shades_that_can_be_made_pass_without_a_word(size: SizeRecipe) -> None:
    found = judged(size)
    assert (found.faults, found.warnings) == ((), ())


def test_a_sheet_that_meets_its_own_start_is_refused_and_the_least_height_named() -> None:
    (fault,) = judged(taper(circle(400), circle(100), 15, ring={"recess": 10.0})).faults
    assert "meets its own start" in fault.wrong
    assert "write height: 45 mm or more" in fault.fix
    # By hand at 45: s = √(45² + 150²) = 156.6, r = s/3 = 52.2, sweep 360°·150/s = 344.8°; the overlap takes
    # atan(10 / (52.2 − 15)) = 15.05° at the margin's edge: 359.9°. At 44: 345.4 + 15.1 is more than 360°.
    for height, meets in ((45.0, False), (44.0, True)):
        slant = math.hypot(height, 150)
        angle = 360 * 150 / slant + math.degrees(math.atan(10 / (slant / 3 - 15)))
        assert (angle >= 360) == meets
        assert meets_itself(build_shade(taper(circle(400), circle(100), height, bare=True))) == meets


def test_a_slant_is_mended_as_a_slant() -> None:
    (fault,) = judged(taper(circle(400), circle(100), slant=151.0, ring={"recess": 5.0})).faults
    assert "write slant:" in fault.fix


def test_cloth_that_is_too_narrow_names_the_largest_shade_of_this_shape() -> None:
    size = fog_cone(covering={"width": 900.0, "direction": "one-way"})
    (fault,) = judged(size).faults
    assert "a one-way print cannot be turned" in fault.wrong
    assert fault.span == size.span("covering.width")
    assert "rings of diameter 179 mm over diameter 314 mm and a height 197 mm" in fault.fix
    # 314 wide fits, and 315 does not.
    for wide, fits in ((314, True), (315, False)):
        smaller = scaled(size, wide / 350)
        assert (not judged(smaller).faults) == fits


def test_plain_cloth_may_be_turned() -> None:
    assert judged(fog_cone(covering={"width": 900.0})).faults == ()
    (fault,) = judged(fog_cone(covering={"width": 400.0})).faults
    assert "either way" in fault.wrong


def test_no_repeat_matches_on_a_taper() -> None:
    (warning,) = judged(fog_cone(covering={"repeat": {"around": 40.0}})).warnings
    assert "no repeat can match" in warning.text
    assert "1101 mm and 630 mm" in warning.text


def test_a_print_with_one_direction_is_told_to_lean() -> None:
    (warning,) = judged(fog_cone(covering={"direction": "one-way"})).warnings
    assert "58.1°" in warning.text
    assert judged(taper(circle(300), circle(296), 220, covering={"direction": "one-way"})).warnings == ()


def test_the_margin_has_to_find_room_in_the_narrow_ring() -> None:
    # Half of 60 − 2 × 3.5 is 26.5.
    (fault,) = judged(taper(circle(300), circle(60), 150, panel={"margin": 27.0})).faults
    assert "half the smallest inside width of the narrow ring" in fault.wrong
    assert judged(taper(circle(300), circle(60), 150, panel={"margin": 26.0})).faults == ()


def test_the_hole_belongs_to_the_fitter_ring() -> None:
    wide = taper(circle(300), circle(100), 150, use="table", ring={"hole": 120.0})
    assert judged(wide).faults == ()
    (fault,) = judged(taper(circle(300), circle(100), 150, ring={"hole": 120.0})).faults
    assert "93 mm across" in fault.wrong


def test_the_recess_ends_inside_the_height() -> None:
    (fault,) = judged(taper(circle(300), circle(100), 150, ring={"recess": 150.0})).faults
    assert "whole height" in fault.wrong


def test_struts_are_judged_on_the_fitter_ring() -> None:
    # Half of 60π/12 is 7.9: too near on the narrow ring, and far enough on the wide one.
    (fault,) = judged(taper(circle(300), circle(60), 150, ring={"struts": 12})).faults
    assert "the seam stands on a strut" in fault.wrong
    assert judged(taper(circle(300), circle(60), 150, use="table", ring={"struts": 12})).faults == ()


def test_a_seam_on_the_corner_of_one_ring_names_it() -> None:
    (fault,) = judged(taper(square(300, 40), square(60, 28), 250)).faults
    assert "the top ring: the seam stands on a corner" in fault.wrong
    assert fault.span == taper(square(300, 40), square(60, 28), 250).span("top.corner_radius")


def test_a_sharp_corner_names_its_ring() -> None:
    found = judged(taper(square(300, 0), square(200, 0), 150))
    assert found.faults == ()
    (warning,) = found.warnings
    assert "the bottom ring: the corners are sharp" in warning.text


@pytest.mark.parametrize("below", [square(300, 40), circle(300), ellipse(400, 250)])
def test_a_corner_that_is_sharp_at_one_ring_alone_is_refused(below: Ring) -> None:
    (fault,) = judged(taper(below, square(150, 0), 250)).faults
    assert "the top ring: corners of radius 0 mm are tighter than the panel can bend" in fault.wrong
    # t / (2r + t) = 0.02 for t = 0.35: r = 8.575, up to whole mm.
    assert fault.fix == "use a ring there with a radius of 9 mm or more"
    assert judged(taper(below, square(150, 9), 250)).faults == ()


def test_a_lamp_keeps_its_distance_from_the_narrow_ring() -> None:
    (fault,) = judged(fog_cone(lamp={"diameter": 140.0})).faults
    # (200 − 7 − 140) / 2 = 26.5, down to whole mm.
    assert "within 26 mm" in fault.wrong
    assert "narrow ring" in fault.fix


@pytest.mark.parametrize(
    ("shift", "use", "nearest"),
    [
        # Bottom ring's radius 150, less how far the fitter above stands off its middle; the top's is 90.
        ((0.0, 0.0), "pendant", 90.0),
        ((40.0, 0.0), "pendant", 90.0),
        ((80.0, 0.0), "pendant", 70.0),
        ((-60.0, 80.0), "pendant", 50.0),
        # The fitter below: the top ring's radius, less how far it is moved off the lamp.
        ((40.0, 0.0), "table", 50.0),
        ((0.0, -30.0), "table", 60.0),
    ],
)
def test_a_lamp_hangs_below_the_fitters_middle_and_not_below_the_shades(
    shift: tuple[float, float], use: str, nearest: float
) -> None:
    size = taper(circle(300), circle(180), 200, shift=shift, use=use)
    shade = build_shade(size)
    assert shade.smallest_inside == pytest.approx(2 * nearest - 2 * 3.5, abs=1e-3)
    assert shade.narrowest_inside == pytest.approx(180 - 2 * 3.5)


def test_a_top_ring_moved_off_the_lamps_line_is_refused() -> None:
    (fault,) = judged(taper(circle(300), circle(180), 200, shift=(150.0, 0.0))).faults
    assert "the fitter's middle stands outside the other ring" in fault.wrong


def test_two_rings_alike_are_told_to_be_a_straight_shade() -> None:
    found = judged(taper(circle(300), circle(300), 250))
    assert found.faults == ()
    assert any("both rings are alike" in warning.text for warning in found.warnings)


def test_the_cut_lines_lie_a_margin_beyond_both_rims() -> None:
    m = measured(fog_cone(bare=True))
    # 350 over 200, 220 high: slant 232.43, radii 542.34 and 309.91 (geometry of the cone), margin 15.
    assert m.exact("outer_cut") == pytest.approx(542.343 + 15, abs=1e-3)
    assert m.exact("inner_cut") == pytest.approx(309.910 - 15, abs=1e-3)
