"""The binding of a trimmed edge: how it is cut and folded, and when it will not do."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.measures.braid import least_binding
from generator.shape.build import build_shade
from tests.shape.samples import SPANS, bell_hex, judged, make_size, measured, pier_drum, tide_drum


def test_a_binding_goes_once_round_the_covered_shade_and_laps() -> None:
    # By hand: the outside of panel and tape is 0.5 off the wire, so 301π = 945.62, and a lap of 10.
    m = measured(tide_drum())
    assert m.exact("binding_length") == pytest.approx(301 * math.pi + 10)
    assert m.shown("binding_length") == 960
    assert m.shown("binding_total") == 1920


def test_half_of_what_the_rim_leaves_of_the_width_lies_outside() -> None:
    # By hand: 16 − (3.5 + 0.15 + 0.35) = 12, half of it 6, and 10 are left for rim and inside.
    m = measured(tide_drum())
    assert (m.shown("binding_fold"), m.shown("binding_inside"), m.shown("braid_width")) == (6, 10, 16)


@given(st.floats(13.0, 60.0).map(lambda width: round(width, 1)))
@settings(max_examples=100, deadline=None)
def test_both_sides_of_the_fold_add_up_to_the_width(width: float) -> None:
    m = measured(tide_drum(width))
    both = m.shown("binding_fold") + m.shown("binding_inside")
    assert both == pytest.approx(m.shown("braid_width"))
    assert m.shown("binding_fold") <= m.shown("binding_inside")
    assert m.shown("binding_fold") % 0.5 == 0


def test_nothing_is_said_of_a_margin_where_there_is_none() -> None:
    m = measured(tide_drum())
    gone = {"margin", "margin_tolerance", "notch_length", "notch_width", "slit_stop"}
    assert gone.isdisjoint(m)
    assert gone <= set(measured(pier_drum()))
    assert not any("margin" in one.label.lower() or "margin" in one.formula for one in m.values())
    assert "binding" in m["snips"].label


def test_every_input_of_a_measure_is_a_measure_or_a_dimension() -> None:
    m = measured(tide_drum())
    for one in (m[name] for name in m if name.startswith(("binding", "cloth", "panel", "slack"))):
        named = {each for each in one.inputs if "." not in each}
        assert named <= {*m, "diameter", "height"}, one.id


def test_a_braid_over_a_tucked_rim_is_no_binding() -> None:
    size = bell_hex().model_copy(update={"braid": tide_drum().braid})
    assert not any(name.startswith("binding") for name in measured(size))


def test_a_trimmed_drum_passes_without_a_word() -> None:
    judgement = judged(tide_drum())
    assert (judgement.faults, judgement.warnings) == ((), ())


def test_kiss_cuts_without_a_margin_are_refused() -> None:
    faults = judged(tide_drum(panel={"margin": 0.0, "kiss_cut": True})).faults
    assert [fault.span for fault in faults] == [SPANS["panel.kiss_cut"]]
    assert "kiss_cut: false" in faults[0].fix


def test_a_binding_that_leaves_the_wire_bare_is_refused_with_one_that_does() -> None:
    size = tide_drum(10.0)
    (fault,) = judged(size).faults
    assert fault.span == SPANS["braid.width"]
    # Outside as deep as the wire, 3.5, and half a millimetre for the rounding, twice, and 4 over the rim.
    assert least_binding(size, build_shade(size)) == 12.0
    assert fault.fix == "write width: 12 mm or more"
    assert judged(tide_drum(12.0)).faults == ()


@given(st.floats(1.5, 12.0), st.floats(0.0, 1.0), st.floats(0.0, 2.0))
@settings(max_examples=100, deadline=None)
def test_the_least_binding_is_as_deep_as_the_wire_on_both_sides(
    wire: float, tape: float, panel: float
) -> None:
    size = tide_drum(
        ring={"wire": wire},
        tape={"thickness": tape},
        panel={"margin": 0.0, "kiss_cut": False, "thickness": panel},
    )
    m = measured(size.model_copy(update={"braid": tide_drum(least_binding(size, build_shade(size))).braid}))
    assert m.shown("binding_fold") >= wire - 1e-6
    # Over panel, tape and half the wire, a quarter round it, and past its lower half.
    assert m.shown("binding_inside") >= panel + tape + wire + math.pi * wire / 4 - 0.01


def test_two_bindings_that_meet_are_refused() -> None:
    size = make_size(
        "circle", {"diameter": 300.0}, 80.0, panel={"margin": 0.0, "kiss_cut": False}, braid={"width": 90.0}
    )
    (fault,) = judged(size).faults
    assert fault.expected == "at most 80 mm"
