"""Shades longer than their sheet: how many panels, what each measures, where joints may stand."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.base.errors import GeometryError
from generator.measures.judge_joints import clear_first_strut, joint_to_strut
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.shape.panels import MOST_PANELS, lies_across
from tests.shape.samples import judged, make_size, measured, pier_drum


def drum(
    diameter: float = 450.0, height: float = 250.0, struts: int = 4, more: dict[str, Any] | None = None
) -> SizeRecipe:
    """Slipway 45 of the workroom, from sheets of a metre by 70 cm; or something like it."""
    panel = {"stock_length": 1000.0, "stock_width": 700.0, **(more or {})}
    return make_size("circle", {"diameter": diameter}, height, panel=panel, ring={"struts": struts})


# By hand. Round the wire: 450π = 1413.717. Mid-sheet: + 2π(0.15 + 0.35/2) = + 2.042, together 1415.759.
# Two panels: 1415.759/2 + 10 = 717.88, so 718 each; one would be 1425.759, more than the metre of the sheet.
WRAPPED = 450 * math.pi + 2 * math.pi * 0.325


def test_slipway_is_made_of_two_panels_of_718() -> None:
    m = measured(drum())
    assert m.shown("panels") == 2
    assert m.exact("panel_length") == pytest.approx(WRAPPED / 2 + 10)
    assert m.shown("panel_length") == 718
    # 250 + 2 × 15.
    assert m.shown("panel_height") == 280
    # 718 + 718 − 10, since one laps over the other; 1426 − 10 once round.
    assert m.shown("strip_length") == 1426
    assert m.exact("strip_length") == pytest.approx(WRAPPED + 10)
    assert m.shown("wrapped_length") == 1416
    # The second panel begins where the first one has only its overlap left: 718 − 10.
    assert m["joint_stations"].shown == (708,)
    # Half round the ring, on the wire: 450π/2 = 706.86.
    assert m["joint_marks"].shown == (707,)
    # 717.88 + 2 × 20 = 757.88, and 250 + 2 × 15 + 2 × 10, both up to the next 5.
    assert (m.shown("cloth_length"), m.shown("cloth_width"), m.shown("cloth_pieces")) == (760, 300, 2)
    # 250 − 2 × 2 for the seam, and as much for the joint.
    assert (m.shown("seam_tape"), m.shown("seam_tapes")) == (246, 2)
    # 1.1 × (2 × 1413.717 + 2 × 250) = 3660.2, up to the next 100.
    assert m.shown("tape_total") == 3700
    # 757.88 + 100, and 1425.76 + 450 + 200, both up to the next 10.
    assert (m.shown("lamination_bench"), m.shown("rolling_bench")) == (860, 2080)
    # Midway between seam and joint: 1415.759/4 = 353.94.
    assert m.shown("motif_centre") == 354
    assert judged(drum()).faults == ()


def test_a_shade_that_fits_its_sheet_is_one_panel_and_has_nothing_of_joints() -> None:
    plain, stocked = measured(pier_drum()), measured(drum(300.0))
    for m in (plain, stocked):
        assert m.shown("panels") == 1
        assert {"strip_length", "joint_stations", "joint_marks", "cloth_pieces", "seam_tapes"}.isdisjoint(m)
    assert build_shade(pier_drum()).strip_length == build_shade(pier_drum()).panel_length


@given(st.floats(150, 1200), st.floats(400, 2000), st.floats(10, 40), st.sampled_from(["circle", "square"]))
def test_panels_are_the_fewest_equal_ones_that_fit_and_go_once_round(
    size: float, sheet: float, overlap: float, outline: str
) -> None:
    dimensions = {"diameter": size} if outline == "circle" else {"side": size, "corner_radius": 30.0}
    recipe = make_size(outline, dimensions, 200.0, panel={"stock_length": sheet, "overlap": overlap})
    try:
        shade = build_shade(recipe)
    except GeometryError:
        whole = build_shade(make_size(outline, dimensions, 200.0, panel={"overlap": overlap}))
        assert whole.wrapped_length / MOST_PANELS + overlap > sheet
        return
    assert shade.panel_length <= sheet + 1e-6
    for fewer in range(1, shade.panels):
        share = shade.wrapped_length / fewer
        joints = [share * k for k in range(1, fewer)]
        at_corner = outline == "square" and any(over_a_corner(size, x, overlap) for x in joints)
        assert share + overlap > sheet or at_corner
    # What laps over is counted once for each panel, the seam's overlap among them.
    joined = shade.panels * shade.panel_length - (shade.panels - 1) * overlap
    assert joined == pytest.approx(shade.strip_length)
    gaps = [b - a for a, b in zip((0.0, *shade.joints), (*shade.joints, shade.wrapped_length), strict=True)]
    assert gaps == pytest.approx([shade.panel_length - overlap] * shade.panels)
    for x in shade.joints:
        assert shade.on_panel(shade.on_outline(x)) == pytest.approx(x)
    m = measured(recipe)
    assert m.shown("panels") * (m.shown("panel_length") - m.shown("overlap")) == m.shown("wrapped_length")
    assert abs(m.shown("wrapped_length") - m.exact("wrapped_length")) <= shade.panels


def test_a_panel_may_lie_across_the_sheet() -> None:
    # 800 + 2 × 15 is higher than 700, but not than 1000. Across it 700 holds 1415.759/3 + 10 = 481.9, but not
    # 1415.759/2 + 10 = 717.9.
    size = drum(height=800.0)
    shade = build_shade(size)
    assert shade.panels == 3
    assert lies_across(size.panel, shade.panel_length, shade.panel_height)
    assert "lying across" in measured(size)["panels"].formula


def test_a_length_alone_says_how_long_a_panel_may_be() -> None:
    size = make_size("circle", {"diameter": 450.0}, 250.0, panel={"stock_length": 1000.0})
    assert build_shade(size).panels == 2


def test_a_panel_higher_than_the_sheet_either_way_is_refused_with_the_height_that_it_needs() -> None:
    with pytest.raises(GeometryError) as caught:
        build_shade(drum(height=980.0))
    (fault,) = caught.value.faults
    assert "the panel is 1010 mm high" in fault.wrong
    assert "neither along nor across" in fault.wrong
    assert fault.expected == "a sheet of at least 1010 mm one way"


def test_a_sheet_that_takes_too_many_panels_is_refused_with_one_that_would_do() -> None:
    with pytest.raises(GeometryError) as caught:
        build_shade(drum(more={"stock_length": 200.0}))
    (fault,) = caught.value.faults
    # 1415.759/6 + 10 = 245.96.
    assert fault.expected == "at most 6 panels, so a sheet of at least 246 mm by 280 mm"


def test_a_joint_on_a_strut_is_refused_with_a_first_strut_that_clears_all() -> None:
    # Three struts stand at 1/6, 3/6 and 5/6 of the way round; so does the joint of two panels, at 3/6.
    size = drum(struts=3)
    (fault,) = judged(size).faults
    assert "a joint of the panels stands on a strut" in fault.wrong
    # Farthest from both: a twelfth of the way round, 1413.717/12 = 117.81.
    assert fault.fix.endswith("write ring: {first_strut: 118 mm}")
    better = size.model_copy(update={"ring": size.ring.model_copy(update={"first_strut": 118.0})})
    assert judged(better).faults == ()


@given(st.integers(2, 8), st.integers(1, 6), st.sampled_from(["arc", "angle"]))
@settings(max_examples=12)
def test_the_first_strut_that_is_offered_keeps_off_seam_and_joints(
    struts: int, panels: int, spacing: str
) -> None:
    size = make_size(
        "ellipse",
        {"length": 500.0, "width": 380.0},
        200.0,
        ring={"struts": struts, "spacing": spacing},
        panel={"stock_length": 1410.0 / panels + 12},
    )
    shade = build_shade(size)
    first = clear_first_strut(size, shade)
    if first is None:
        return
    turned = build_shade(
        size.model_copy(update={"ring": size.ring.model_copy(update={"first_strut": first})})
    )
    for x in (0.0, *turned.joints):
        assert joint_to_strut(turned, x) >= turned.overlap + turned.wire - 1e-6


def over_a_corner(side: float, joint: float, overlap: float) -> bool:
    """Whether a joint's overlap touches a bend of a square's sheet: radius 30, its middle 0.325 outside."""
    flat, arc = side - 60, (30 + 0.325) * math.pi / 2
    bends = ((flat / 2 + k * (flat + arc), flat / 2 + k * (flat + arc) + arc) for k in range(5))
    return any(begin < joint + overlap and joint < end for begin, end in bends)


def pentagon(stock_length: float, sides: int = 5) -> SizeRecipe:
    """Across flats 400 with bends of 5: once round 10 × 195 × tan 36° + 2π × 5 = 1448."""
    return make_size(
        "polygon",
        {"sides": sides, "across_flats": 400.0, "corner_radius": 5.0},
        200.0,
        panel={"stock_length": stock_length},
        ring={"struts": 5},
    )


def test_more_panels_are_taken_where_the_fewest_would_meet_at_a_corner() -> None:
    # The seam is mid-side: half way round a pentagon stands a corner, a third of the way does not.
    assert measured(pentagon(1000.0)).shown("panels") == 3
    assert not any("corner" in f.wrong for f in judged(pentagon(1000.0)).faults)
    told = measured(pentagon(1000.0))["panels"].formula
    assert "off the corners" in told
    assert measured(pentagon(1000.0, sides=6)).shown("panels") == 2
    assert "off the corners" not in measured(pentagon(1000.0, sides=6))["panels"].formula


def test_joints_that_no_number_of_panels_keeps_off_a_corner_are_refused_with_a_sheet_that_would_do() -> None:
    # Only six come out of 260: the third joint stands half way round. Five take 1450/5 + 10, a little over
    # 300.
    fault = next(f for f in judged(pentagon(260.0)).faults if "stands on a corner" in f.wrong)
    assert fault.fix == "use a sheet at least 301 mm long, for 5 panels"


def test_an_overlap_of_half_a_panel_is_refused() -> None:
    faults = judged(drum(more={"stock_length": 720.0, "overlap": 360.0})).faults
    assert any("half the length of a panel" in fault.wrong for fault in faults)


def test_one_way_cloth_names_the_largest_ring_also_where_panels_are_joined() -> None:
    size = make_size(
        "circle",
        {"diameter": 450.0},
        250.0,
        covering={"direction": "one-way", "width": 700.0},
        panel={"stock_length": 1000.0},
        ring={"struts": 4},
    )
    (fault,) = judged(size).faults
    # A piece is cut in fives, so 700 at most: π(d + 0.65)/2 + 10 + 40 ≤ 700, d ≤ 413.15.
    assert "the largest diameter that fits is 413 mm" in fault.fix
