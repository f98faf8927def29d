"""Panels that come cut to size: what overlap they leave, which are refused, and with what advice."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import GeometryError
from generator.recipe.kits import Limits, Supplied
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from tests.shape.samples import make_size, measured

LIMITS = Limits(least=10.0, most=15.0)
# By hand, mid-sheet: π × (D + 2 × (0.15 + 0.35 / 2)), since a parallel curve of a circle is a circle.
ROUND_25 = math.pi * 250.65
ROUND_45 = math.pi * 450.65


def drum(length: float, height: float = 210.0, diameter: float = 250.0, **more: Any) -> SizeRecipe:
    """A drum of 180 high with a supplied panel; ``more`` are other values of it, or of the panel."""
    supplied = Supplied(length=length, height=height, margin=more.pop("strips", 15.0))
    size = make_size("circle", {"diameter": diameter}, 180.0, panel={"supplied": supplied, **more})
    return size.model_copy(update={"limits": LIMITS})


def refused(size: SizeRecipe) -> list[str]:
    with pytest.raises(GeometryError) as caught:
        build_shade(size)
    return [str(fault) for fault in caught.value.faults]


def test_the_supplied_numbers_are_those_of_the_panel_and_the_overlap_follows() -> None:
    # 787.44 once round, so a panel of 800 laps by 12.56.
    m = measured(drum(800.0))
    assert m.exact("panel_length") == pytest.approx(800.0)
    assert m.shown("panel_length") == 800
    assert m.shown("panel_height") == 210
    assert m.exact("overlap") == pytest.approx(800 - ROUND_25)
    assert m.shown("overlap") == 13
    # Shown parts add up to the shown whole.
    assert m.shown("wrapped_length") + m.shown("overlap") == m.shown("panel_length")
    assert m["panel_length"].source == "the recipe"


def test_a_panel_as_long_as_the_sheet_prints_it_is_right() -> None:
    # With an overlap of 10 the sheet asks for 797.44 and prints 797; the panel of 797 laps by 9.56.
    m = measured(drum(797.0))
    assert m.shown("panel_length") == 797
    assert m.shown("overlap") == 10


@given(st.floats(120, 500), st.floats(9.5, 15.5))
def test_every_overlap_within_its_limits_is_taken(diameter: float, overlap: float) -> None:
    once_round = math.pi * (diameter + 0.65)
    shade = build_shade(drum(once_round + overlap, diameter=diameter))
    assert shade.panels == 1
    assert shade.overlap == pytest.approx(overlap)
    assert shade.panel_length == pytest.approx(once_round + overlap)


def test_a_panel_that_is_too_short_is_refused_with_lengths_and_rings_that_would_do() -> None:
    (fault,) = refused(drum(790.0))
    assert "a panel of 790 mm laps over itself by 2.6 mm on these rings: once round is 787.4 mm" in fault
    assert "expected an overlap of 10 mm to 15 mm" in fault
    # 787.44 + 9.5 = 796.94, 787.44 + 15.5 = 802.94; rings: (790 − 15) / π − 0.65, (790 − 10) / π − 0.65.
    assert "use a panel of 797 mm to 802 mm, or rings of 246.5 mm to 247.5 mm" in fault


@pytest.mark.parametrize("length", [797.0, 802.0])
def test_what_the_advice_names_is_taken(length: float) -> None:
    assert build_shade(drum(length)).panels == 1


def test_a_panel_that_does_not_go_round_at_all_is_told_so() -> None:
    (fault,) = refused(drum(700.0))
    assert "a panel of 700 mm does not go round these rings" in fault


def test_a_panel_that_is_too_long_is_refused() -> None:
    (fault,) = refused(drum(900.0))
    assert "laps over itself by 112.6 mm" in fault


def test_two_supplied_panels_go_round_together() -> None:
    shade = build_shade(drum(718.0, diameter=450.0))
    assert shade.panels == 2
    assert shade.overlap == pytest.approx(718 - ROUND_45 / 2)
    (fault,) = refused(drum(730.0, diameter=450.0))
    assert "laps over the next by 22.1 mm on these rings: once round is 1415.8 mm, 707.9 mm for each" in fault


def test_height_and_strips_must_make_the_finished_height() -> None:
    (fault,) = refused(drum(800.0, height=214.0))
    assert "a panel 214 mm high does not make this shade; expected 210 mm" in fault
    assert "or write height: 184 mm" in fault
    assert build_shade(drum(800.0, height=216.0, strips=18.0)).margin == 18.0
    assert build_shade(drum(800.0, height=180.0, strips=None, kiss_cut=False)).panel_height == 180.0


def test_strips_on_a_panel_without_kiss_cuts_are_a_contradiction() -> None:
    (fault,) = refused(drum(800.0, height=180.0, kiss_cut=False))
    assert "has margin strips of 15 mm, but kiss_cut is false" in fault


def test_a_stated_margin_must_be_that_of_the_strips() -> None:
    size = drum(800.0, height=216.0, strips=18.0).model_copy(update={"stated": frozenset({"panel.margin"})})
    (fault,) = refused(size)
    assert "are 18 mm wide, and the recipe's margin is 15 mm" in fault


def test_tape_that_is_wider_than_the_limits_decides() -> None:
    size = drum(800.0)
    wide = size.model_copy(update={"tape": size.tape.model_copy(update={"width": 12.5})})
    (fault,) = refused(wide)
    # The tape and 1 mm.
    assert "expected an overlap of 13.5 mm to 15 mm" in fault


def test_without_limits_only_the_tape_decides() -> None:
    size = drum(860.0).model_copy(update={"limits": None})
    assert build_shade(size).overlap == pytest.approx(860 - ROUND_25)
