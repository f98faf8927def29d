"""Relief cuts of a turned margin on a slope: how many, where, how deep. The limit is common practice."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.measures.practice import practice
from generator.plan.facts import facts_of
from tests.measures.tapers import capstan, circle, fog_cone, square, taper
from tests.shape.samples import measured

LIMIT, CLEAR = practice("relief_limit"), practice("relief_clear")


def test_the_misfit_is_that_of_the_notes() -> None:
    # Both margins of 15 mm on 300 to 150 over 200: 2 × 15 × 126.4° in radians, 66 mm in the project's notes.
    m = measured(taper(circle(300), circle(150), 200))
    assert m.shown("relief_misfit") == 66
    assert m.exact("relief_misfit") == pytest.approx(2 * 15 * math.radians(126.4044), abs=1e-3)
    assert m.shown("relief_cuts") == math.ceil(66.185 / 6)


def test_cuts_of_a_cone_stand_evenly_and_off_the_strut_that_they_would_meet() -> None:
    # 2 × 15 × 2.0276 / 6 = 10.1, so eleven; the sixth would stand on the middle strut of the narrow ring.
    m = measured(fog_cone(bare=True))
    assert m.shown("relief_cuts") == 11
    assert m["bottom_reliefs"].exact == pytest.approx([350 * math.pi * (k + 0.5) / 11 for k in range(11)])
    wanted = [200 * math.pi * (k + 0.5) / 11 for k in range(11)]
    top = m["top_reliefs"].exact
    assert isinstance(top, tuple)
    assert abs(top[5] - wanted[5]) == pytest.approx(CLEAR)
    assert [*top[:5], *top[6:]] == pytest.approx([*wanted[:5], *wanted[6:]])
    assert "moved off the seam or a strut" in m["top_reliefs"].formula
    assert "moved" not in m["bottom_reliefs"].formula


def test_a_cut_stops_short_of_the_rim() -> None:
    m = measured(fog_cone())
    assert m.shown("relief_depth") == 15 - m.shown("slit_stop")


def test_each_corner_gets_its_share_and_no_side_gets_any() -> None:
    # A quarter of 2 × 15 × 109.06° in radians is 14.3 mm: three cuts in each corner of 40 mm.
    m = measured(taper(square(300, 40), square(200, 40), 200, bare=True))
    assert m.shown("relief_cuts") == 12
    cuts = m["bottom_reliefs"].exact
    assert isinstance(cuts, tuple)
    arc, side = 20 * math.pi, 220.0
    for corner in range(4):
        begin = side / 2 + corner * (side + arc)
        inside = [cut for cut in cuts if begin < cut < begin + arc]
        assert len(inside) == 3
        # The middle one halves the corner, as the corner halves its turning.
        assert inside[1] == pytest.approx(begin + arc / 2, abs=1e-3)


def test_a_tight_corner_takes_one_cut_however_much_it_turns() -> None:
    m = measured(taper(square(300, 5), square(200, 5), 100))
    assert m.shown("relief_cuts") == 4
    assert m.shown("reliefs") == 4


def test_a_slope_that_is_hardly_one_needs_no_cut() -> None:
    size = taper(circle(300), circle(299.5), 220)
    m = measured(size)
    assert "relief_cuts" not in m
    assert not facts_of(size, m)["relief"]
    assert facts_of(fog_cone(), measured(fog_cone()))["relief"]


def test_a_margin_that_is_not_there_needs_none() -> None:
    size = fog_cone(panel={"margin": 0.0, "kiss_cut": False})
    assert {"relief_cuts", "relief_misfit", "relief_limit"}.isdisjoint(measured(size))


@given(
    st.integers(180, 450),
    st.integers(350, 950),
    st.integers(120, 350),
    st.integers(3, 6),
    st.sampled_from(["pendant", "table"]),
)
@settings(max_examples=40, deadline=None)
def test_no_cut_stands_at_the_seam_or_a_strut(
    wide: int, share: int, height: int, struts: int, use: str
) -> None:
    size = taper(
        circle(float(wide)), circle(wide * share / 1000), float(height), ring={"struts": struts}, use=use
    )
    m = measured(size)
    if "relief_cuts" not in m:
        return
    struts_at = m["strut_stations"].exact
    assert isinstance(struts_at, tuple)
    for end in ("bottom", "top"):
        cuts = m[f"{end}_reliefs"].exact
        assert isinstance(cuts, tuple)
        assert len(cuts) == m.shown("relief_cuts")
        assert min(cuts) >= 10 + CLEAR - 1e-9
        assert max(cuts) <= m.exact(f"{end}_wrapped") - CLEAR + 1e-9
        if end == size.fitter_end:
            assert min(abs(cut - strut) for cut in cuts for strut in struts_at) >= CLEAR - 1e-9
    spacing = m.exact("relief_misfit") / m.shown("relief_cuts")
    roomy = m.exact("top_wrapped") / m.shown("relief_cuts") >= 4 * CLEAR
    assert spacing <= LIMIT + 1e-6 or not roomy


def test_cuts_of_a_transition_fall_into_the_corners_of_its_square() -> None:
    m = measured(capstan())
    cuts = m["bottom_reliefs"].exact
    assert isinstance(cuts, tuple)
    for cut in cuts:
        place = cut % (m.exact("bottom_wrapped") / 4)
        assert 90 - 0.5 < place < 90 + 15 * math.pi + 1


def test_the_cuts_of_a_cone_are_told_by_how_far_they_stand_apart() -> None:
    m = measured(fog_cone(bare=True))
    # Bare rims of 350 and 200 mm: π·350 = 1099.56 and π·200 = 628.32, shared by the cuts.
    count = m.shown("relief_cuts")
    assert m.shown("bottom_relief_step") == round(1099.557 / count)
    assert m.shown("top_relief_step") == round(628.319 / count)
