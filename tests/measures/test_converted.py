"""Lengths by the centimetre and by the inch: never short, and by less than a step too long."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.edition import ENGLISH
from generator.measures.converted import in_centimetres, in_inches
from generator.measures.measure import Measure
from generator.sheets.formatting import eighths, quantity


def cloth(length: float) -> Measure:
    return Measure("cloth_length", "Cloth to cut, length", length, length, "mm", "", "")


@pytest.mark.parametrize(
    ("mm", "cm", "inches", "shown"),
    # An inch is 25.4 mm: 1155 / 25.4 = 45.47, 270 / 25.4 = 10.63, 254 / 25.4 = 10, 3 / 25.4 = 0.118.
    [
        (1155, 115.5, 45.5, "45½ in"),
        (270, 27, 10.75, "10¾ in"),
        (254, 25.4, 10, "10 in"),
        (3, 0.3, 0.125, "⅛ in"),
    ],
)
def test_known_lengths(mm: float, cm: float, inches: float, shown: str) -> None:
    assert in_centimetres(cloth(mm)).shown == cm
    assert in_inches(cloth(mm)).shown == inches
    assert quantity(in_inches(cloth(mm)), ENGLISH) == shown


@given(st.integers(1, 20_000))
def test_nothing_is_bought_short(mm: int) -> None:
    assert 0 <= in_inches(cloth(mm)).value * 25.4 - mm < 25.4 / 8 + 1e-6
    assert 0 <= in_centimetres(cloth(mm)).value * 10 - mm < 1 + 1e-6


@given(st.integers(0, 2000))
def test_eighths_are_written_as_a_rule_shows_them(count: int) -> None:
    text = eighths(count / 8)
    parts = {"⅛": 1, "¼": 2, "⅜": 3, "½": 4, "⅝": 5, "¾": 6, "⅞": 7}
    whole = text.rstrip("".join(parts))
    assert 8 * int(whole or 0) + parts.get(text[-1], 0) == count
