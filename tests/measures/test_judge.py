from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.base.errors import Fault
from generator.measures.judge import judge
from generator.measures.wire import least_margin
from generator.recipe.models import Braid, SizeRecipe
from generator.shape.build import build_shade
from tests.shape.samples import (
    SPANS,
    bell_hex,
    customs_rect,
    ferry_square,
    judged,
    make_size,
    measured,
    net_loft,
    pier_drum,
    skiff_oval,
)


def drum(diameter: float = 350.0, height: float = 220.0, **sections: Any) -> SizeRecipe:
    return make_size("circle", {"diameter": diameter}, height, **sections)


def box(side: float, radius: float, **sections: Any) -> SizeRecipe:
    return make_size("square", {"side": side, "corner_radius": radius}, 200.0, **sections)


def only_fault(size: SizeRecipe, key: str) -> Fault:
    judgement = judged(size)
    assert [fault.span for fault in judgement.faults] == [SPANS[key]]
    return judgement.faults[0]


def only_warning(size: SizeRecipe, key: str) -> str:
    judgement = judged(size)
    assert not judgement.faults
    assert [warning.span for warning in judgement.warnings] == [SPANS[key]]
    return judgement.warnings[0].text


@pytest.mark.parametrize("size", [pier_drum(), ferry_square(), customs_rect(), bell_hex()])
def test_a_good_shade_passes_without_a_word(size: SizeRecipe) -> None:
    judgement = judged(size)
    assert judgement.faults == ()
    assert judgement.warnings == ()


def test_a_lamp_too_near_the_covering_is_refused_with_gap_and_limit() -> None:
    fault = only_fault(skiff_oval(), "lamp.diameter")
    assert fault.wrong == "the lamp comes within 4 mm of the covering"
    # IEC 60598-1, distance of parts that fail the 650 °C glow wire, from memory.
    assert fault.expected == "a gap of at least 30 mm"
    assert fault.fix == "use a lamp of at most 43 mm across, or a ring at least 162 mm across its narrow way"


def test_what_the_lamp_fault_proposes_would_do() -> None:
    oval = {"length": 300.0, "width": 110.0}
    assert not judged(make_size("ellipse", oval, 200.0, lamp={"diameter": 43.0})).faults
    assert judged(make_size("ellipse", oval, 200.0, lamp={"diameter": 44.0})).faults
    wider = {"length": 300.0, "width": 162.0}
    assert not judged(make_size("ellipse", wider, 200.0, lamp={"diameter": 95.0})).faults


def test_a_lamp_wider_than_the_ring_is_refused_in_words() -> None:
    fault = only_fault(drum(100.0, lamp={"diameter": 95.0}), "lamp.diameter")
    assert fault.wrong == "a lamp of 95 mm does not fit inside the ring, 93 mm across"


def test_a_blank_too_long_for_a_one_way_cloth_names_the_largest_side() -> None:
    fault = only_fault(ferry_square(width=980.0), "covering.width")
    assert "needs 1015 mm" in fault.wrong
    assert "980 mm" in fault.wrong
    assert "the largest side that fits is 251 mm at the same corner radius" in fault.fix
    assert "cloth with at least 1015 mm" in fault.fix


def test_the_largest_side_fits_and_the_next_does_not() -> None:
    assert not judged(ferry_square(251.0, 980.0)).faults
    assert judged(ferry_square(252.0, 980.0)).faults


ONE_WAY = {"direction": "one-way", "width": 600.0}


@pytest.mark.parametrize(
    ("outline", "dimensions", "leading"),
    [
        ("circle", {"diameter": 350.0}, "diameter"),
        ("ellipse", {"length": 300.0, "width": 110.0}, "length"),
        ("stadium", {"length": 350.0, "width": 150.0}, "length"),
        ("rectangle", {"length": 350.0, "width": 120.0, "corner_radius": 25.0}, "length"),
        ("polygon", {"sides": 6, "across_flats": 280.0, "corner_radius": 15.0}, "across_flats"),
    ],
)
def test_every_outline_names_the_largest_ring_that_its_cloth_makes(
    outline: str, dimensions: dict[str, float], leading: str
) -> None:
    fault = only_fault(make_size(outline, dimensions, 200.0, covering=ONE_WAY), "covering.width")
    words = f"the largest {leading.replace('_', ' ')} that fits is "
    assert words in fault.fix
    largest = float(fault.fix.split(words)[1].split(" mm")[0])
    assert largest == int(largest)

    def fits(value: float) -> bool:
        tried = make_size(outline, {**dimensions, leading: value}, 200.0, covering=ONE_WAY)
        return all(fault.span != SPANS["covering.width"] for fault in judged(tried).faults)

    assert fits(largest)
    assert not fits(largest + 1)


def test_a_ring_that_cannot_shrink_one_way_alone_shrinks_in_proportion() -> None:
    wide = {"length": 350.0, "width": 300.0}
    fault = only_fault(make_size("stadium", wide, 200.0, covering=ONE_WAY), "covering.width")
    found = re.search(r"largest ring of this shape that fits has length (\d+) mm, width (\d+) mm", fault.fix)
    assert found is not None
    length, width = float(found[1]), float(found[2])
    assert width == math.floor(length * 300 / 350)

    def fits(length: float) -> bool:
        scaled = {"length": length, "width": float(math.floor(length * 300 / 350))}
        return not judged(make_size("stadium", scaled, 200.0, covering=ONE_WAY)).faults

    assert fits(length)
    assert not fits(length + 1)


def test_a_blank_that_may_be_turned_needs_one_side_that_fits() -> None:
    assert not judged(drum(covering={"width": 270.0})).faults
    fault = only_fault(drum(covering={"width": 269.0}), "covering.width")
    assert "1155 mm by 270 mm" in fault.wrong
    assert "the largest height that fits is 215 mm" in fault.fix
    assert not judged(drum(height=215.0, covering={"width": 269.0})).faults


def test_the_narrowest_margin_is_half_round_the_wire_and_a_lap() -> None:
    # pi d / 2 + d + 3 on wire of 3.5 mm is 11.998 mm, by hand. Common practice, no source.
    assert least_margin(3.5) == pytest.approx(11.9978, abs=1e-4)
    fault = only_fault(drum(panel={"margin": 11.5}), "panel.margin")
    assert fault.expected.startswith("at least 12 mm")
    assert fault.fix == "write margin: 12 mm or more"
    assert not judged(drum(panel={"margin": 12.0})).faults


def test_a_margin_that_meets_itself_is_refused() -> None:
    fault = only_fault(drum(height=80.0, panel={"margin": 41.0}), "panel.margin")
    assert "half the height" in fault.wrong
    assert fault.expected == "at most 40 mm"
    fault = only_fault(drum(100.0, 300.0, panel={"margin": 47.0}), "panel.margin")
    assert "half the smallest inside width" in fault.wrong
    assert fault.expected == "at most 46 mm"


def test_an_overlap_without_room_for_its_tape_is_refused() -> None:
    fault = only_fault(drum(panel={"overlap": 9.5}), "panel.overlap")
    assert fault.expected.startswith("at least 10 mm")
    assert not judged(drum(tape={"width": 8.5}, panel={"overlap": 9.5})).faults


def test_an_overlap_half_round_the_ring_is_refused() -> None:
    size = drum(100.0, panel={"overlap": 158.0}, ring={"struts": 2, "first_strut": 0.0})
    faults = [fault for fault in judged(size).faults if fault.span == SPANS["panel.overlap"]]
    assert ["half round the ring" in fault.wrong for fault in faults] == [True]


def test_a_recess_through_the_whole_height_is_refused() -> None:
    fault = only_fault(drum(ring={"recess": 220.0}), "ring.recess")
    assert fault.expected == "less than 220 mm"
    assert not judged(drum(ring={"recess": 219.0})).faults


def test_a_hole_wider_than_the_ring_is_refused() -> None:
    assert "343 mm across" in only_fault(drum(ring={"hole": 343.0}), "ring.hole").wrong
    assert not judged(drum(ring={"hole": 42.0})).faults


@pytest.mark.parametrize("first", [0.0, 13.0, math.pi * 350 / 3 - 13])
def test_a_seam_on_a_strut_is_refused_from_either_side(first: float) -> None:
    fault = only_fault(drum(ring={"first_strut": first}), "ring.first_strut")
    assert fault.expected == "at least 13.5 mm, the overlap and the wire"
    assert "first_strut: 183 mm" in fault.fix
    assert not judged(drum(ring={"first_strut": 183.0})).faults


def test_a_strut_just_clear_of_the_overlap_is_let_be() -> None:
    assert not judged(drum(ring={"first_strut": 13.5})).faults


def test_too_many_struts_leave_no_room_for_the_seam() -> None:
    fault = only_fault(drum(95.0, ring={"struts": 12}), "ring.struts")
    assert fault.fix == "use a ring with fewer struts, or a smaller overlap"


def test_a_strut_at_a_corner_is_fine() -> None:
    assert not judged(box(300.0, 0.0, ring={"struts": 4, "first_strut": 150.0})).faults


def test_a_seam_on_a_tight_corner_is_refused() -> None:
    # Flat beyond the mark 2 mm, so 8 of 10 mm lie over a bend of radius 28: 8 * 8 / 56 = 1.14 mm, by hand.
    fault = only_fault(box(60.0, 28.0, panel={"margin": 12.0}), "corner_radius")
    assert "flat for 2 mm" in fault.wrong
    assert fault.expected == "at least 20 mm of flat on the side that carries the seam"
    assert "a corner radius of 20 mm or less" in fault.fix
    assert not judged(box(60.0, 20.0, panel={"margin": 12.0})).faults


def test_an_overlap_that_runs_a_little_into_a_bend_is_warned_of() -> None:
    text = only_warning(box(80.0, 35.0), "panel.overlap")
    assert "5 mm long" in text
    assert "5 mm of the overlap" in text


def test_a_seam_over_a_gentle_bend_is_let_be() -> None:
    judgement = judged(box(260.0, 130.0))
    assert judgement.faults == ()
    assert judgement.warnings == ()


def test_a_pattern_that_misses_at_the_seam_is_warned_of() -> None:
    text = only_warning(net_loft(), "covering.repeat.around")
    assert "jumps by 10 mm at the seam" in text
    assert "920 mm" in text


def test_a_pattern_that_meets_is_not_warned_of() -> None:
    whole = build_shade(pier_drum()).wrapped_length / 20
    assert not judged(drum(covering={"repeat": {"around": whole}})).warnings


def test_a_repeat_longer_than_the_way_round_is_warned_of() -> None:
    text = only_warning(drum(covering={"repeat": {"around": 1200.0}}), "covering.repeat.around")
    assert "longer than once round" in text


def test_a_repeat_up_the_shade_alone_needs_no_warning() -> None:
    assert not judged(drum(covering={"repeat": {"up": 64.0}})).warnings


def test_a_tight_bend_is_warned_of_with_a_radius_that_would_do() -> None:
    # 24.5 t, from t / (2r + t) = 0.02: 8.6 mm for 0.35 mm. The limit is from memory, no source read.
    text = only_warning(box(260.0, 6.0), "corner_radius")
    assert "2.8 %" in text
    assert "9 mm or more" in text
    assert not judged(box(260.0, 9.0)).warnings


def test_sharp_corners_are_to_be_creased() -> None:
    assert "crease the panel" in only_warning(box(260.0, 0.0), "corner_radius")


def test_tape_too_narrow_for_its_wire_is_warned_of() -> None:
    # 0.75 pi 3.5 = 8.2 mm, by hand. Common practice, no source.
    assert "9 mm would" in only_warning(drum(tape={"width": 6.0}), "tape.width")


@pytest.mark.parametrize(
    ("use", "fitter", "usual"), [("pendant", "bottom", "top"), ("table", "top", "bottom")]
)
def test_a_fitter_at_the_other_end_is_warned_of(use: str, fitter: str, usual: str) -> None:
    text = only_warning(drum(use=use, ring={"fitter": fitter}), "ring.fitter")
    assert f"usually sits at the {usual}" in text


def test_a_lamp_that_reaches_the_open_end_is_warned_of() -> None:
    near = only_warning(drum(lamp={"diameter": 60.0, "length": 170.5}), "lamp.length")
    assert "24 mm from the open bottom" in near
    out = only_warning(drum(lamp={"diameter": 60.0, "length": 205.0}, use="table"), "lamp.length")
    assert "stands out of the open top by 10 mm" in out


def test_a_hem_narrower_than_its_tape_is_refused_with_one_that_would_do() -> None:
    # Tape of 9 mm, 1 mm from the fold.
    fault = only_fault(drum(seam={"finish": "hem", "hem": 9.5}), "seam.hem")
    assert "narrower than the seam tape" in fault.wrong
    assert "write hem: 10 mm or more" in fault.fix
    assert not judged(drum(seam={"finish": "hem", "hem": 10.0})).faults
    assert not judged(drum(seam={"finish": "raw", "hem": 5.0})).faults


def test_two_braids_that_cover_the_whole_height_are_refused() -> None:
    wide, fits = (
        drum().model_copy(update={"braid": Braid.model_construct(width=width, cures="2 h")})
        for width in (110.0, 109.0)
    )
    (fault,) = judged(wide).faults
    assert "two braids of 110 mm cover the whole height, 220 mm" in fault.wrong
    assert "write width: 109 mm or less" in fault.fix
    assert not judged(fits).faults


def test_a_hem_of_nothing_is_refused() -> None:
    fault = only_fault(drum(seam={"finish": "hem", "hem": 0.0}), "seam.hem")
    assert "no width" in fault.wrong


def test_a_large_shade_is_never_refused() -> None:
    judgement = judged(drum(1200.0, 900.0, covering={"width": 1500.0}, lamp={"diameter": 60.0}))
    assert judgement.faults == ()


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    size = drum(panel={"margin": 5.0, "overlap": 5.0}, ring={"recess": 300.0}, lamp={"diameter": 340.0})
    spans = [fault.span for fault in judged(size).faults]
    assert spans == [SPANS[key] for key in ("panel.margin", "panel.overlap", "ring.recess", "lamp.diameter")]


@given(
    st.sampled_from(["circle", "ellipse", "stadium", "square", "polygon"]),
    st.floats(60, 900),
    st.floats(40, 600),
    st.floats(1, 80),
    st.floats(1, 200),
    st.floats(1, 8),
    st.floats(100, 1600),
)
@settings(max_examples=150, deadline=None)
def test_no_shade_is_too_odd_to_be_judged(
    outline: str, size: float, height: float, margin: float, overlap: float, wire: float, cloth: float
) -> None:
    dimensions: dict[str, dict[str, float]] = {
        "circle": {"diameter": size},
        "ellipse": {"length": size, "width": size * 0.4},
        "stadium": {"length": size, "width": size * 0.6},
        "square": {"side": size, "corner_radius": size / 7},
        "polygon": {"sides": 5, "across_flats": size, "corner_radius": 0.0},
    }
    made = make_size(
        outline,
        dimensions[outline],
        height,
        panel={"margin": margin, "overlap": overlap},
        ring={"wire": wire},
        covering={"width": cloth, "direction": "one-way", "repeat": {"around": 64.0}},
        lamp={"diameter": 60.0, "length": 120.0},
    )
    judgement = judge(made, build_shade(made), measured(made))
    for fault in judgement.faults:
        # The parts stand side by side, parted by semicolons, so none may hold one.
        assert all(part and ";" not in part for part in (fault.wrong, fault.expected, fault.fix))
    spans = [fault.span.order for fault in judgement.faults]
    assert spans == sorted(spans)
