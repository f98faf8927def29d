"""The workroom's own shades, worked out by hand beforehand. Invented scenario; common practice, no source."""

from __future__ import annotations

import math

import pytest

from generator.measures.judge import judge
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from tests.shape.samples import (
    bell_hex,
    customs_rect,
    ferry_square,
    make_size,
    measured,
    net_loft,
    pier_drum,
    tide_drum,
)


@pytest.mark.parametrize(
    ("size", "panel_length", "panel_height", "cloth_length", "cloth_width"),
    [
        (pier_drum(), 1112, 250, 1155, 270),
        (ferry_square(), 975, 220, 1015, 240),
        (net_loft(), 940, 250, None, None),
        (customs_rect(), 1029, 230, 1085, 250),
        (bell_hex(), 972, 220, None, 270),
        # By hand: 300π + 2π(0.15 + 0.175) + 10 = 954.52; 200 + 2 × 10, and 954.5 + 2 × 20 up to the next 5.
        (tide_drum(), 955, 200, 995, 220),
    ],
    ids=lambda value: value.outline if isinstance(value, SizeRecipe) else None,
)
def test_panel_and_cloth_are_what_the_workroom_cuts(
    size: SizeRecipe,
    panel_length: float,
    panel_height: float,
    cloth_length: float | None,
    cloth_width: float | None,
) -> None:
    m = measured(size)
    assert m.shown("panel_length") == panel_length
    assert m.shown("panel_height") == panel_height
    if cloth_length is not None:
        assert m.shown("cloth_length") == cloth_length
    if cloth_width is not None:
        assert m.shown("cloth_width") == cloth_width


def test_the_hem_is_a_tab_beyond_the_panel() -> None:
    m = measured(customs_rect())
    assert m.shown("hem") == 12
    assert m.exact("cloth_length") == pytest.approx(m.exact("panel_length") + 12 + 40)
    assert "hem" not in measured(pier_drum())


def test_the_stripe_jumps_ten_millimetres_at_the_seam() -> None:
    m = measured(net_loft())
    assert m.shown("pattern_step") == 10
    assert m.shown("pattern_repeats") == 23


@pytest.mark.parametrize(("radius", "spare"), [(20, 20), (40, 55), (60, 90)])
@pytest.mark.parametrize("height", [200, 210])
def test_rounded_squares_of_300_fit_the_piece_that_is_bought_for_them(
    radius: float, spare: float, height: float
) -> None:
    # Bought piece 1240 by 260 mm: common practice, no source. The spare is what is left of its length.
    m = measured(make_size("square", {"side": 300.0, "corner_radius": float(radius)}, float(height)))
    assert 1240 - m.shown("cloth_length") == spare
    assert 260 - m.shown("cloth_width") == 210 - height


@pytest.mark.parametrize("radius", range(20, 61, 5))
@pytest.mark.parametrize("height", range(200, 211, 2))
def test_every_rounded_square_of_300_fits_that_piece(radius: int, height: int) -> None:
    m = measured(make_size("square", {"side": 300.0, "corner_radius": float(radius)}, float(height)))
    spare = (1240 - m.shown("cloth_length"), 260 - m.shown("cloth_width"))
    assert min(spare) >= 0, f"spare {spare}"


def test_the_seam_mark_of_a_square_stands_in_the_middle_of_its_side() -> None:
    # Common practice, no source.
    m = measured(make_size("square", {"side": 300.0, "corner_radius": 40.0}, 200.0))
    assert m.exact("seam_mark") == 150
    assert m.shown("seam_mark") == 150


def test_the_seam_mark_of_a_rectangle_and_a_stadium_is_half_their_length() -> None:
    assert measured(customs_rect()).exact("seam_mark") == 175
    assert measured(net_loft()).exact("seam_mark") == 175


def test_the_seam_mark_of_a_polygon_is_half_a_side_along_the_wire() -> None:
    m = measured(bell_hex())
    assert m.exact("seam_mark") == pytest.approx(m.exact("perimeter") / 12)


def test_the_seam_mark_of_a_round_ring_is_the_arc_to_the_nearest_strut() -> None:
    assert measured(pier_drum()).exact("seam_mark") == pytest.approx(math.pi * 350 / 6)
    turned = make_size("circle", {"diameter": 350.0}, 220.0, ring={"first_strut": 340.0, "struts": 3})
    # The third strut has come round to the other side of the seam and is the nearer one.
    assert measured(turned).exact("seam_mark") == pytest.approx(math.pi * 350 / 3 - 340)


@pytest.mark.parametrize(("use", "end"), [("pendant", "top"), ("table", "bottom")])
def test_the_fitter_ring_sits_where_the_lamp_is_held_and_its_recess_inside(use: str, end: str) -> None:
    # Common practice, no source.
    size = make_size("circle", {"diameter": 350.0}, 220.0, use=use)
    shade = build_shade(size)
    assert shade.fitter_end == end
    assert 0 < shade.recess < shade.height
    assert not judge(size, shade, measured(size)).faults


def test_about_fifty_millimetres_of_liner_are_peeled_first() -> None:
    # Common practice, no source.
    m = measured(pier_drum())
    assert m.shown("first_peel") == 50
    assert m["peel"].values == (50, 100)
    assert m["first_peel"].source == "common practice, no source"
