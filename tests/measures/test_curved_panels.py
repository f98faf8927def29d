"""Tapers larger than their sheet: how many panels of one form, what each measures, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from generator.base.errors import Fault, GeometryError
from generator.measures.fit import Remnant, fit
from generator.measures.judge_joints import joint_to_strut
from generator.measures.reliefs import reliefs_of
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_loop
from generator.shape.build import build_shade
from generator.shape.development import ENDS
from generator.shape.shade import Shade
from tests.measures.tapers import capstan, circle, coble_oval, polygon_ring, taper
from tests.shape.samples import judged, measured

OFF = 0.15 + 0.35 / 2


def beacon(**sections: Any) -> SizeRecipe:
    """Beacon 50 of the workroom: 280 over 500, 250 high, from sheets of a metre by 70 cm."""
    panel = {"stock_length": 1000.0, "stock_width": 700.0, "kiss_cut": False, **sections.pop("panel", {})}
    return taper(
        circle(500.0),
        circle(280.0),
        250.0,
        panel=panel,
        ring={"struts": 4, **sections.pop("ring", {})},
        **sections,
    )


# By hand. Slant √(250² + 110²) = 273.13; the sheet's middle lies 0.325 outside the wire, so each rim grows by
# 2π 0.325 × 250/273.13 = 1.869: 500π + 1.869 = 1572.67 below, 280π + 1.869 = 881.51 above. Two panels.
GROWN = 2 * math.pi * OFF * 250 / math.hypot(250, 110)
LOW, HIGH = 500 * math.pi + GROWN, 280 * math.pi + GROWN


def test_a_beacon_of_500_is_made_of_two_panels_of_one_form() -> None:
    m = measured(beacon())
    assert m.shown("panels") == 2
    assert m.exact("panel_length") == pytest.approx(LOW / 2 + 10, abs=1e-6)
    # 1572.67/2 = 786.33 and 10: 796; two of them less one overlap, 1582; without any, 1572.
    shown = {key: m.shown(key) for key in ("panel_length", "panel_wrapped", "strip_length", "wrapped_length")}
    assert shown == {"panel_length": 796, "panel_wrapped": 786, "strip_length": 1582, "wrapped_length": 1572}
    # Sweep 360° × 110/273.13 = 144.99°, half of it each.
    assert (m.shown("sweep"), m.shown("panel_sweep")) == (145.0, 72.5)
    # The joint: half way along the wide rim, half way round each ring (280π/2 and 500π/2).
    assert (m["joint_stations"].shown, m["joint_marks"].shown, m["plain_joint_marks"].shown) == (
        (786,),
        (440,),
        (785,),
    )
    # A seam tape for the seam and one for the joint, 273 - 2 × 2 each.
    assert (m.shown("seam_tape"), m.shown("seam_tapes"), m.shown("cloth_pieces")) == (269, 2, 2)
    # 1.1 × (500π + 280π + 2 × 273.13) = 3296.4, up to the next 100.
    assert m.shown("tape_total") == 3300
    assert judged(beacon()).faults == ()


def test_each_panel_and_its_cloth_hold_a_sector_with_margins_and_overlap() -> None:
    # Radii of the sheet's middle: 250 × 273.13/110 + 0.325 × 250/110 = 621.49, and 348.36; 15 beyond each.
    outer, inner, angle = 621.489 + 15, 348.359 - 15, math.radians(144.986) / 2
    m = measured(beacon())
    # The middle line upright: chord of the outer arc, and as much of the overlap as goes sideways; from its
    # ends' lowest to the outer arc's middle.
    wide = 2 * outer * math.sin(angle / 2) + 10 * math.cos(angle / 2)
    high = outer - inner * math.cos(angle / 2) + 10 * math.sin(angle / 2)
    assert m.exact("cloth_length") - 40 == pytest.approx(wide, abs=0.05)
    assert m.exact("cloth_width") - 20 == pytest.approx(high, abs=0.05)
    area = angle / 2 * (outer**2 - inner**2) + 10 * (273.13 + 30)
    assert m.exact("blank_area") == pytest.approx(area, rel=1e-4)
    assert m.exact("lateral_area") == pytest.approx((LOW + HIGH) / 2 * math.hypot(250, 110), rel=1e-9)


@given(st.floats(350, 1600), st.floats(250, 1500), st.booleans())
@settings(max_examples=25)
def test_panels_are_the_fewest_that_a_sheet_holds_turned_in_any_way(
    long: float, wide: float, square_below: bool
) -> None:
    size = capstan() if square_below else beacon()
    stock = {"stock_length": max(long, wide), "stock_width": min(long, wide)}
    size = size.model_copy(update={"panel": size.panel.model_copy(update=stock)})
    counts = [1, 2, 4] if square_below else [1, 2, 3, 4, 5, 6]
    shade, refused = _made(size)
    if refused:
        assert "a sheet that a panel comes out of" in refused[0].expected
    bare = size.panel.model_copy(update={"stock_length": None, "stock_width": None})
    free = build_shade(size.model_copy(update={"panel": bare}))
    for count in counts:
        lacks = _lacks(free, count, stock["stock_length"], stock["stock_width"])
        if shade is not None and count == shade.panels:
            assert lacks < 0.5
            return
        assert lacks > -0.5


def _made(size: SizeRecipe) -> tuple[Shade | None, tuple[Fault, ...]]:
    try:
        return build_shade(size), ()
    except GeometryError as error:
        return None, error.faults


def _lacks(free: Shade, count: int, long: float, wide: float) -> float:
    """How much more than the sheet a panel needs in the best of all directions, mm; shapely has its hull."""
    panel = replace(free, panels=count).one_panel.development
    assert panel is not None
    margin = free.margin if free.kiss_cut else 0.0
    hull = Polygon(blank_loop(panel, margin, free.overlap)).convex_hull.simplify(0.05)
    assert isinstance(hull, Polygon)
    # A fiftieth of a degree moves the ends of a long panel by a quarter of a millimetre.
    x, y = np.array(hull.exterior.coords).T
    angles = np.radians(np.arange(0.0, 180.0, 0.02))[:, None]
    along, across = (
        np.ptp(extent, axis=1)
        for extent in (x * np.cos(angles) + y * np.sin(angles), y * np.cos(angles) - x * np.sin(angles))
    )
    return float(np.maximum(along - long, across - wide).min())


def test_a_sheet_that_is_too_small_for_panels_of_one_form_is_refused_with_what_is_needed() -> None:
    with pytest.raises(GeometryError) as caught:
        build_shade(coble_oval(panel={"stock_length": 400.0, "stock_width": 300.0}))
    (fault,) = caught.value.faults
    assert "each of 2 curved panels still needs a sheet of" in fault.wrong
    assert fault.expected.endswith("the shade can be made of 2 panels of one form")
    with pytest.raises(GeometryError) as caught:
        build_shade(beacon(panel={"stock_length": 280.0, "stock_width": 200.0}))
    assert "at most 6 panels" in caught.value.faults[0].expected
    with pytest.raises(GeometryError) as caught:
        build_shade(taper(circle(350), circle(200), 220, shift=(0.0, 20.0), panel={"stock_length": 400.0}))
    assert "parts of this shade would not be of one form" in caught.value.faults[0].expected


def test_a_joint_on_a_strut_of_a_taper_is_refused_with_a_first_strut_that_clears_all() -> None:
    # Three struts stand at 1/6, 3/6 and 5/6 of the way round the fitter ring; so does the joint, at 3/6.
    (fault,) = judged(beacon(ring={"struts": 3})).faults
    assert "a joint of the panels stands on a strut" in fault.wrong
    # A quarter of 280π, 219.9: the struts then stand a twelfth of the way from the seam and from the joint.
    assert fault.fix.endswith(f"write ring: {{first_strut: {round(280 * math.pi / 4)} mm}}")
    better = beacon(ring={"struts": 3, "first_strut": float(round(280 * math.pi / 4))})
    assert judged(better).faults == ()
    shade = build_shade(better)
    assert min(joint_to_strut(shade, x) for x in shade.joints) > 60


@pytest.mark.parametrize(
    "size", [beacon(), capstan(panel={"stock_length": 500.0})], ids=["cone", "transition"]
)
def test_relief_cuts_are_the_same_on_every_panel_and_keep_off_joints_and_struts(size: SizeRecipe) -> None:
    shade = build_shade(size)
    development = shade.development
    assert development is not None
    found, clear = reliefs_of(shade), 10.0
    for end in ENDS:
        share = shade.rim_length(end) / shade.panels
        meant = [cut.meant for cut in found.at(end)]
        assert len(meant) % shade.panels == 0
        each = len(meant) // shade.panels
        assert [m + share for m in meant[:each]] == pytest.approx(meant[each : 2 * each], abs=1e-4)
        for cut in found.at(end):
            off = cut.place % share
            assert shade.overlap + clear - 1e-6 <= off <= share - clear + 1e-6
            if end == shade.fitter_end:
                spots = [development.rim_place(end, strut.panel) for strut in shade.struts]
                assert min(abs(cut.place - spot) for spot in spots) >= clear - 1e-5
    # 2 × 15 mm of margin times all that the sheet turns, whichever way.
    assert found.misfit >= 2 * 15 * abs(development.turning) - 1e-6


def test_a_hexagon_over_a_hexagon_joins_on_the_middles_of_its_sides() -> None:
    size = taper(
        polygon_ring(6, 420.0),
        polygon_ring(6, 260.0),
        240.0,
        panel={"stock_length": 600.0, "stock_width": 420.0},
        ring={"struts": 6},
    )
    shade = build_shade(size)
    assert shade.panels == 3
    development = shade.development
    assert development is not None
    for x in shade.joints:
        # The sheet is plane round a joint: its straight lines lean alike on both sides.
        around = [development.generator(x + off).tau for off in (-15.0, 0.0, 15.0)]
        assert max(around) - min(around) < 1e-9


def test_fit_lays_as_many_curved_pieces_as_there_are_panels() -> None:
    found = fit(beacon(), Remnant(860.0, 800.0)).as_it_is
    assert found is not None
    assert found.layout is not None
    assert found.pieces == 2
    assert len(found.layout.pieces) == 2
    # 805 × 395 each, one above the other: 55 and 10 mm are left.
    assert (found.cut, found.spare) == ((805.0, 395.0), (55.0, 10.0))
