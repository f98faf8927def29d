"""How numbers are written."""

from __future__ import annotations

import pytest
from babel import UnknownLocaleError

from generator.base.edition import ENGLISH, Voice
from generator.measures.measure import Measure, Unit, Value
from generator.sheets.formatting import (
    duration,
    listed,
    locale_of,
    number,
    product,
    quantity,
    quantity_within,
    share,
)
from generator.sheets.segments import Segment, after_colon


def measure(shown: Value, unit: Unit = "mm") -> Measure:
    return Measure("any", "Any", shown, shown, unit, "as given", "test")


@pytest.mark.parametrize(
    ("value", "written"),
    [(1155.0, "1155"), (0.35, "0.35"), (3.5, "3.5"), (0.0, "0"), (12345.0, "12\u202f345")],
)
def test_a_number_has_no_trailing_zeros_and_no_sign_among_its_thousands(value: float, written: str) -> None:
    assert number(value, ENGLISH) == written


def test_german_writes_a_decimal_comma() -> None:
    assert number(0.35, Voice("de")) == "0,35"


@pytest.mark.parametrize(
    ("shown", "unit", "written"),
    [
        (1155.0, "mm", "1155 mm"),
        ((283.0, 567.0, 850.0), "mm", "283, 567 and 850 mm"),
        (0.002, "fraction", "0.2%"),
        (3, "count", "3"),
        (116.2, "deg", "116.2°"),
        (30.0, "s", "30 s"),
        (60.0, "W", "60 W"),
        (90.0, "min", "1 h 30 min"),
    ],
)
def test_a_measure_is_written_with_its_unit(shown: Value, unit: Unit, written: str) -> None:
    assert quantity(measure(shown, unit), ENGLISH) == written


def test_two_lengths_share_one_unit() -> None:
    assert product([measure(1155.0), measure(270.0)], ENGLISH) == "1155 × 270 mm"


def test_a_tolerance_stands_between_value_and_unit() -> None:
    assert quantity_within(measure(220.0), measure(2.0), ENGLISH) == "220 ± 2 mm"


@pytest.mark.parametrize(
    ("minutes", "written"), [(1, "1 min"), (53, "53 min"), (60, "1 h"), (123, "2 h 03 min"), (1440, "24 h")]
)
def test_minutes_are_written_in_hours_and_minutes(minutes: int, written: str) -> None:
    assert duration(minutes) == written


def test_a_language_that_nobody_speaks_is_refused() -> None:
    with pytest.raises(UnknownLocaleError):
        locale_of("xx-nowhere")


@pytest.mark.parametrize(
    ("language", "number_", "share_", "list_"),
    [
        ("en", "2.5", "0.2%", "1, 2 and 3"),
        ("de", "2,5", "0,2\u00a0%", "1, 2 und 3"),
        ("fr", "2,5", "0,2\u00a0%", "1, 2 et 3"),
        ("es", "2,5", "0,2\u00a0%", "1, 2 y 3"),
    ],
)
def test_numbers_shares_and_lists_are_those_of_the_language(
    language: str, number_: str, share_: str, list_: str
) -> None:
    """CLDR's forms, as its charts show them: decimal sign, space before the sign for a hundredth, last joint
    of a list (charts *Numbers* and *List patterns*, from memory); Babel carries them."""
    voice = Voice(language)
    assert number(2.5, voice) == number_
    assert share(0.002, voice) == share_
    assert listed(["1", "2", "3"], voice) == list_


@pytest.mark.parametrize(
    ("language", "text", "behind"),
    [
        ("es", "Se forma una onda", "se forma una onda"),
        ("es", "PVC mellado", "PVC mellado"),
        ("de", "Folie schief", "Folie schief"),
    ],
)
def test_behind_a_colon_a_word_stands_small_unless_it_keeps_its_letter(
    language: str, text: str, behind: str
) -> None:
    (segment,) = after_colon((Segment(text),), Voice(language))
    assert segment.text == behind
