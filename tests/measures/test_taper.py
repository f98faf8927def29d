"""Measures of tapered shades, worked out by hand beforehand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.recipe.models import SizeRecipe
from tests.measures.tapers import Ring, capstan, circle, ellipse, fog_cone, square, taper
from tests.shape.samples import measured, pier_drum

# Net of a frustum, by hand: slant s = √(220² + 75²), R = s·350/150, r = s·200/150, sweep 360°·75/s.
SLANT = math.hypot(220, 75)
OUTER, INNER = SLANT * 350 / 150, SLANT * 200 / 150
SWEEP = math.pi * 150 / SLANT


def test_the_bare_cone_has_the_net_that_was_worked_out_by_hand() -> None:
    m = measured(fog_cone(bare=True))
    assert m.exact("slant") == pytest.approx(SLANT)
    assert (m.shown("slant"), m.shown("outer_radius"), m.shown("inner_radius")) == (232, 542, 310)
    assert m.exact("outer_radius") == pytest.approx(OUTER)
    assert m.exact("inner_radius") == pytest.approx(INNER)
    assert m.shown("sweep") == 116.2
    assert m["sweep"].unit == "deg"
    assert m.exact("sweep") == pytest.approx(math.degrees(SWEEP))


def test_thickness_moves_both_radii_out_and_leaves_the_sweep() -> None:
    # Offset 0.325 outside the wire, times the cotangent of half the cone's angle, 220 / 75.
    m = measured(fog_cone())
    grown = 0.325 * 220 / 75
    assert m.exact("outer_radius") == pytest.approx(OUTER + grown)
    assert m.exact("inner_radius") == pytest.approx(INNER + grown)
    assert m.exact("sweep") == pytest.approx(math.degrees(SWEEP))
    # Each rim by 2π × offset × the cosine of the slope.
    assert m.exact("bottom_wrapped") == pytest.approx(350 * math.pi + 2 * math.pi * 0.325 * 220 / SLANT)
    assert m.exact("top_wrapped") == pytest.approx(200 * math.pi + 2 * math.pi * 0.325 * 220 / SLANT)


# The project's notes on geometry, worked out two ways elsewhere; no margin and hardly an overlap.
NOTED = [
    (taper(circle(300), circle(150), 200, bare=True), 126.4044, 427.2002, 213.6001, 762.641, 330.900),
    (taper(circle(400), circle(200), slant=260, bare=True), 138.4615, 520.0, 260.0, 972.417, 427.803),
    (taper(circle(400), circle(100), 150, bare=True), 254.5584, 282.843, 70.711, 565.685, 454.161),
    (taper(square(300, 40), square(200, 40), 200, bare=True), 109.0642, None, None, 953.662, 365.374),
]


@pytest.mark.parametrize(("size", "sweep", "outer", "inner", "length", "width"), NOTED)
def test_the_nets_of_the_notes_come_out(
    size: SizeRecipe, sweep: float, outer: float | None, inner: float | None, length: float, width: float
) -> None:
    plain = size.panel.model_copy(update={"margin": 0.0, "overlap": 1e-7, "kiss_cut": False})
    m = measured(size.model_copy(update={"panel": plain}))
    assert m.exact("sweep") == pytest.approx(sweep, abs=1e-4)
    assert m.exact("blank_length") == pytest.approx(length, abs=0.01)
    assert m.exact("blank_width") == pytest.approx(width, abs=0.01)
    if outer is None:
        assert {"outer_radius", "inner_radius"}.isdisjoint(m)
    else:
        assert m.exact("outer_radius") == pytest.approx(outer, abs=1e-3)
        assert m.exact("inner_radius") == pytest.approx(inner, abs=1e-3)


def test_areas_of_the_cone_are_those_of_its_sectors() -> None:
    m = measured(fog_cone(bare=True))
    assert m.exact("lateral_area") == pytest.approx(SWEEP * (OUTER**2 - INNER**2) / 2)
    sector = SWEEP * ((OUTER + 15) ** 2 - (INNER - 15) ** 2) / 2
    assert m.exact("blank_area") == pytest.approx(sector + 10 * (SLANT + 30))
    assert m["blank_area"].unit == "mm²"


def test_a_straight_panel_is_its_own_blank() -> None:
    # 350π + 2π·0.325 + 10 by 220 + 30, by hand.
    m = measured(pier_drum())
    assert m.exact("blank_length") == pytest.approx(350.65 * math.pi + 10)
    assert m.exact("blank_width") == 250
    assert m.exact("blank_area") == pytest.approx((350.65 * math.pi + 10) * 250)
    assert m.exact("lateral_area") == pytest.approx(350.65 * math.pi * 220)
    assert {"slant", "sweep", "outer_radius", "relief_cuts", "grain_lean", "bottom_perimeter"}.isdisjoint(m)


def test_radii_of_an_elliptic_cone_reach_to_the_farthest_rim_points() -> None:
    # 400 × 200 to half of it over 200: the apex is 400 up, the farthest point 200 out.
    m = measured(taper(ellipse(400, 200), ellipse(200, 100), 200, bare=True))
    assert m.exact("outer_radius") == pytest.approx(math.hypot(200, 400))
    assert m.exact("inner_radius") == pytest.approx(math.hypot(200, 400) / 2)


@pytest.mark.parametrize(
    ("bottom", "top"),
    [
        (ellipse(400, 200), ellipse(300, 100)),
        (square(240, 30), circle(200)),
        (circle(200), circle(200)),
    ],
)
def test_shapes_without_an_apex_have_no_radii(bottom: Ring, top: Ring) -> None:
    m = measured(taper(bottom, top, 200, shift=(40.0, 0.0) if bottom == top else (0.0, 0.0)))
    assert {"outer_radius", "inner_radius"}.isdisjoint(m)


def test_each_ring_has_its_own_sizes_and_none_stands_for_both() -> None:
    m = measured(fog_cone())
    assert (m.shown("bottom_diameter"), m.shown("top_diameter")) == (350, 200)
    assert (m.shown("bottom_perimeter"), m.shown("top_perimeter")) == (1100, 628)
    assert m.shown("perimeter") == 1100
    assert "ring_diameter" not in m
    assert (m.shown("ring_length"), m.shown("fitter_length"), m.shown("plain_length")) == (350, 200, 350)
    m = measured(capstan())
    assert (m.shown("bottom_side"), m.shown("bottom_corner_radius"), m.shown("top_diameter")) == (
        240,
        30,
        200,
    )
    assert (m.shown("fitter_length"), m.shown("plain_length")) == (240, 200)


def test_tape_goes_round_both_rings_and_up_the_slope() -> None:
    m = measured(fog_cone())
    assert m.exact("ring_tape") == pytest.approx(550 * math.pi - 4)
    assert (m.shown("bottom_ring_tape"), m.shown("top_ring_tape")) == (1098, 626)
    assert m.exact("seam_tape") == pytest.approx(SLANT - 4, abs=1e-3)
    # 1.1 (550π + 232.4) = 2156.3, up to 100.
    assert m.shown("tape_total") == 2200


def test_the_cloth_holds_the_panel_upright_at_its_middle() -> None:
    # By hand, a half the sweep: 2 (R + m) sin a + overlap cos a by R + m − (r − m) cos a + overlap sin a,
    # and twice the slack.
    m = measured(fog_cone(bare=True, covering={"direction": "one-way"}))
    a = SWEEP / 2
    across = 2 * (OUTER + 15) * math.sin(a) + 10 * math.cos(a)
    up = OUTER + 15 - (INNER - 15) * math.cos(a) + 10 * math.sin(a)
    assert m.exact("cloth_length") == pytest.approx(across + 40, abs=0.01)
    assert m.exact("cloth_width") == pytest.approx(up + 20, abs=0.01)
    assert m.exact("bottom_grain") == pytest.approx(175 * math.pi)
    assert m.exact("grain_lean") == pytest.approx(math.degrees(a))
    assert "upright" in m["cloth_length"].formula


def test_plain_cloth_turns_under_the_panel_only_where_that_saves_much() -> None:
    # A quarter of a disc, all but its tip, lies better along its edge than upright. A one-way print may not.
    bottom, top = circle(400.0), circle(60.0)
    free = measured(taper(bottom, top, 550.0))
    held = measured(taper(bottom, top, 550.0, covering={"direction": "one-way"}))
    assert free.exact("cloth_length") * free.exact("cloth_width") < held.exact("cloth_length") * held.exact(
        "cloth_width"
    )
    assert free.exact("cloth_length") == pytest.approx(free.exact("blank_length") + 40)
    assert "smallest rectangle" in free["cloth_length"].formula
    assert held.exact("bottom_grain") == pytest.approx(held.exact("wrapped_length") / 2)


def test_struts_stand_along_the_rim_of_the_fitter_ring() -> None:
    # A sixth of 200π, and half a turn on from there.
    m = measured(fog_cone(bare=True))
    assert m.exact("seam_mark") == pytest.approx(200 * math.pi / 6)
    assert m["strut_stations"].exact == pytest.approx([200 * math.pi * k / 6 for k in (1, 3, 5)])
    table = measured(fog_cone(bare=True, use="table"))
    assert table["strut_stations"].exact == pytest.approx([350 * math.pi * k / 6 for k in (1, 3, 5)])


def test_pauses_and_bends_stand_along_both_rims() -> None:
    m = measured(fog_cone(bare=True))
    for end, diameter in (("bottom", 350), ("top", 200)):
        assert m[f"{end}_quarters"].exact == pytest.approx([diameter * math.pi * k / 4 for k in (1, 2, 3)])
    assert m["quarters"].shown == m["bottom_quarters"].shown
    m = measured(capstan(tape={"thickness": 0.0}, panel={"thickness": 0.0}))
    # Half a side and an eighth of a turn below: 120 − 30 + 30·π/4; an eighth of the circle above.
    assert m["bottom_corner_stations"].exact[0] == pytest.approx(90 + 30 * math.pi / 4)  # type: ignore[index]
    assert m["top_corner_stations"].exact == pytest.approx([200 * math.pi * k / 8 for k in (1, 3, 5, 7)])


def test_the_table_must_let_the_roll_swing_round() -> None:
    m = measured(fog_cone())
    assert m.exact("rolling_bench") == pytest.approx(m.exact("blank_length") + 350 + 200)
    assert m.exact("rolling_depth") == pytest.approx(m.exact("blank_width") + 350 + 200)
    assert m.exact("lamination_bench") == pytest.approx(m.exact("cloth_length") + 100)


def test_the_tightest_bend_is_that_of_the_tighter_ring() -> None:
    # t / (2r + t) of 0.35 and 100; of 0.35 and 30.
    assert measured(fog_cone()).exact("bend_strain") == pytest.approx(0.35 / 200.35)
    assert measured(capstan()).exact("bend_strain") == pytest.approx(0.35 / 60.35)


def test_a_slant_in_the_recipe_gives_the_height() -> None:
    m = measured(taper(circle(400), circle(200), slant=260))
    assert m.exact("finished_height") == pytest.approx(240)
    assert m.exact("slant") == pytest.approx(260)
    assert m["slant"].source == "the recipe"
    assert m["finished_height"].source == "Pythagoras"


def test_a_moved_ring_is_told() -> None:
    m = measured(taper(circle(300), circle(200), 250, shift=(50.0, -30.0)))
    assert (m.shown("shift_side"), m.shown("shift_back")) == (50, 30)
    assert "right" in m["shift_side"].label
    assert "towards the seam" in m["shift_back"].label
    assert {"shift_side", "shift_back"}.isdisjoint(measured(fog_cone()))


def test_an_overlap_runs_straight_on_where_the_rim_curves() -> None:
    # Sagitta of a circle of the flat radius: 310 − √(310² − 10²) at the narrow rim, to first order 10² / 2r.
    assert measured(fog_cone(bare=True)).exact("seam_misfit") == pytest.approx(100 / (2 * INNER), rel=0.01)
    assert measured(capstan()).exact("seam_misfit") == pytest.approx(0.0, abs=1e-9)


DIAMETERS = st.integers(1500, 5000).map(lambda n: n / 10)


@given(DIAMETERS, st.integers(400, 900), st.integers(1200, 4000).map(lambda n: n / 10))
@settings(max_examples=60, deadline=None)
def test_shown_parts_of_a_cone_add_up(wide: float, share: int, height: float) -> None:
    m = measured(taper(circle(wide), circle(round(wide * share / 1000, 1)), height))
    assert m.shown("wrapped_length") + m.shown("overlap") == m.shown("panel_length")
    assert m.shown("slant") + 2 * m.shown("margin") == m.shown("panel_height")
    assert m.shown("bottom_ring_tape") + m.shown("top_ring_tape") == m.shown("ring_tape")
    assert m.shown("outer_radius") - m.shown("inner_radius") == m.shown("slant")
    assert abs(m.shown("inner_radius") - m.exact("inner_radius")) <= 1.5
    assert m.shown("slack_end_rest") >= m.shown("slack_ends")
    assert m.shown("slack_edge_rest") >= m.shown("slack_edges")
    assert m.exact("cloth_length") * m.exact("cloth_width") <= 1.06 * (m.exact("blank_length") + 40) * (
        m.exact("blank_width") + 40
    )


def test_a_taper_that_is_hardly_one_has_the_numbers_of_a_straight_shade() -> None:
    straight = measured(pier_drum())
    slight = measured(taper(circle(350.0), circle(349.98), 220.0, lamp={"diameter": 60.0}))
    for id_ in ("panel_length", "panel_height", "finished_height", "ring_tape", "tape_total", "blank_area"):
        assert slight.exact(id_) == pytest.approx(straight.exact(id_), rel=2e-4), id_
    for id_ in ("panel_length", "seam_mark", "seam_tape", "tape_total", "cloth_length"):
        assert slight.shown(id_) == straight.shown(id_), id_
    assert "relief_cuts" not in slight


@pytest.mark.parametrize("size", [fog_cone(), capstan()], ids=["cone", "transition"])
def test_every_measure_of_a_taper_says_what_it_is(size: SizeRecipe) -> None:
    m = measured(size)
    labels = [one.label for one in m.values()]
    assert len(labels) == len(set(labels))
    for one in m.values():
        assert one.formula
        assert one.source
        assert all(math.isfinite(value) for value in one.values)
