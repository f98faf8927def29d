"""The fewest rolls: against values computed elsewhere, another formulation, and by its laws."""

from __future__ import annotations

import math
from collections import Counter
from itertools import islice

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from generator.base.errors import CuttingError
from generator.cutting.model import Rolls, Strip
from generator.cutting.rolls import MOST_PATTERNS, cut_rolls, maximal_patterns
from tests.checks.published import Published, chosen

KITS = [Strip("25", 797, 12), Strip("35", 1112, 12)]


def name(published: Published) -> str:
    return published.id


# The requirements' planning table: HiGHS and CP-SAT agree.
@pytest.mark.parametrize(("length", "rolls"), [(3000, 9), (10000, 3)])
def test_a_batch_of_two_sizes_takes_as_few_rolls_as_proved(length: float, rolls: int) -> None:
    found = cut_rolls(KITS, length)
    assert (len(found.rolls), found.exact, found.bound) == (rolls, True, rolls)


def test_the_length_alone_would_promise_one_roll_too_few() -> None:
    assert math.ceil((12 * 797 + 12 * 1112) / 3000) == 8 < len(cut_rolls(KITS, 3000).rolls)


@pytest.mark.parametrize("published", chosen("H-roll"), ids=name)
def test_rolls_are_as_few_as_published(published: Published) -> None:
    p = published.params
    strips = [Strip(length, float(length), count) for length, count in p["demand"].items()]
    found = cut_rolls(strips, p["stock"])
    assert len(found.rolls) == published.value[2], published.source
    assert found.exact


def fewest_by_assignment(strips: list[Strip], length: float) -> int:
    """Kantorovich's model: which piece comes out of which roll; the other formulation of the same thing."""
    most = sum(strip.count for strip in strips)
    kinds = len(strips)
    size = most * (kinds + 1)
    costs = np.zeros(size)
    costs[:most] = 1
    rows, low, high = [], [], []
    for roll in range(most):
        row = np.zeros(size)
        row[roll] = -length
        for kind, strip in enumerate(strips):
            row[most + roll * kinds + kind] = strip.length
        rows.append(row)
        low.append(-np.inf)
        high.append(0.0)
    for kind, strip in enumerate(strips):
        row = np.zeros(size)
        row[[most + roll * kinds + kind for roll in range(most)]] = 1
        rows.append(row)
        low.append(float(strip.count))
        high.append(float(strip.count))
    upper = np.full(size, float(most))
    upper[:most] = 1
    found = milp(
        costs,
        constraints=LinearConstraint(np.array(rows), np.array(low), np.array(high)),
        integrality=np.ones(size, dtype=int),
        bounds=Bounds(np.zeros(size), upper),
    )
    assert found.success
    return round(float(found.fun))


@st.composite
def orders(draw: st.DrawFn) -> tuple[list[Strip], float]:
    length = draw(st.integers(20, 60))
    kinds = draw(st.lists(st.integers(5, 20), min_size=1, max_size=3, unique=True))
    return [Strip(str(each), float(each), draw(st.integers(0, 3))) for each in kinds], float(length)


def check_laws(found: Rolls, strips: list[Strip]) -> None:
    cut = Counter(piece for roll in found.rolls for piece in roll.pieces)
    assert cut == Counter({(s.name, s.length): s.count for s in strips if s.count})
    for roll in found.rolls:
        assert roll.pieces
        assert sum(length for _, length in roll.pieces) + roll.left == pytest.approx(found.length)
        assert roll.left >= 0
        assert [length for _, length in roll.pieces] == sorted((x for _, x in roll.pieces), reverse=True)
    whole = sum(strip.length * strip.count for strip in strips)
    assert len(found.rolls) >= found.bound >= math.ceil(whole / found.length - 1e-9)
    assert sum(times for times, _ in found.groups) == len(found.rolls)


@settings(deadline=None, max_examples=40)
@given(orders())
def test_another_formulation_finds_as_few_rolls(order: tuple[list[Strip], float]) -> None:
    strips, length = order
    found = cut_rolls(strips, length)
    check_laws(found, strips)
    assert found.exact
    if any(strip.count for strip in strips):
        assert len(found.rolls) == fewest_by_assignment(strips, length)
    else:
        assert found.rolls == ()


def test_rolls_that_can_be_cut_alike_are() -> None:
    # Six of 1112 + 797 + 797 and three of 1112 + 1112 use up all; two kinds, by hand.
    assert sorted(times for times, _ in cut_rolls(KITS, 3000).groups) == [3, 6]


def test_a_pattern_leaves_no_room_for_a_piece_that_is_there() -> None:
    for pattern in maximal_patterns([1112, 797], [12, 12], 3000):
        left = 3000 - 1112 * pattern[0] - 797 * pattern[1]
        assert left >= 0
        assert left < 797 or pattern[1] == 12


def test_more_patterns_than_can_be_looked_at_are_laid_longest_first_and_say_so() -> None:
    strips = [Strip(str(n), 300.0 + 61 * n, 9) for n in range(9)]
    lengths = sorted((round(strip.length) for strip in strips), reverse=True)
    patterns = maximal_patterns(lengths, [9] * 9, 4700)
    assert sum(1 for _ in islice(patterns, MOST_PATTERNS + 1)) > MOST_PATTERNS
    found = cut_rolls(strips, 4700)
    check_laws(found, strips)
    assert found.exact == (len(found.rolls) == found.bound)


def test_a_piece_longer_than_a_roll_is_refused_by_name() -> None:
    with pytest.raises(CuttingError, match="1112 mm for 35 does not come out of a roll of 1000 mm"):
        cut_rolls(KITS, 1000)
