"""Tape on a reel: against winding it turn by turn, and against reels that tell their own length."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import CuttingError
from generator.cutting.model import Strip
from generator.cutting.reels import Reel, cut_reels, tape_left


def wound(core: float, thickness: float, turns: int) -> tuple[float, float]:
    """Diameter and length of tape after so many turns, each a circle half a thickness outside the last."""
    length = sum(math.pi * (core + (2 * turn + 1) * thickness) for turn in range(turns))
    return core + 2 * turns * thickness, length


@pytest.mark.parametrize("turns", [1, 10, 180])
def test_tape_left_is_what_winding_it_turn_by_turn_took(turns: int) -> None:
    across, length = wound(76.0, 0.22, turns)
    assert tape_left(across, 76.0, 0.22) == pytest.approx(length)


def test_a_reel_of_the_handbook_kind() -> None:
    # 50 m of tape 0.2 mm thick on a core of 76 mm: the ring's area is 10 000 mm², so it measures 136 mm.
    across = math.sqrt(76**2 + 4 * 10_000 / math.pi)
    assert tape_left(across, 76, 0.2) == pytest.approx(50_000)
    assert across == pytest.approx(136.1, abs=0.1)


@given(st.floats(0, 50_000))
def test_a_reel_measured_across_tells_what_is_left_on_it(left: float) -> None:
    reel = Reel(50_000, 76, 140)
    assert reel.left(reel.across(left)) == pytest.approx(left, abs=1e-6)
    assert reel.core <= reel.across(left) <= reel.outer + 1e-9


def test_a_full_and_an_empty_reel() -> None:
    reel = Reel(50_000, 76, 140)
    assert reel.left(140) == pytest.approx(50_000)
    assert reel.left(76) == 0


def test_no_ring_is_joined_from_two_ends() -> None:
    # Two reels hold 2000 mm together, and three rings of 600 need 1800; but only one whole ring fits on each.
    found = cut_reels([Strip("ring", 600, 3)], 1000)
    assert len(found.rolls) == 3
    assert all(length == 600 for roll in found.rolls for _, length in roll.pieces)


def test_a_reel_that_cannot_be_is_refused() -> None:
    with pytest.raises(CuttingError, match="core"):
        Reel(50_000, 140, 76)
