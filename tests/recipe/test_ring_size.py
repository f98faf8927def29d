"""A ring's size in one word, for every outline by its own keys."""

from __future__ import annotations

import pytest

from generator.base.outline_keys import OutlineKeys
from generator.base.units import parse_length
from generator.recipe.ring_size import example, form, ring_size, size_name, usual
from generator.recipe.values import ValueFault
from generator.shape.build import outline_keys

KEYS = outline_keys()


@pytest.mark.parametrize(
    ("outline", "text", "expected"),
    [
        ("circle", "35cm", {"diameter": "35 cm"}),
        ("circle", "11 3/4 in", {"diameter": "11 3/4 in"}),
        ("ellipse", "40x24cm", {"length": "40 cm", "width": "24 cm"}),
        ("rectangle", "28x17cm", {"length": "28 cm", "width": "17 cm"}),
        ("rectangle", "280 mm × 17 cm", {"length": "280 mm", "width": "17 cm"}),
        ("rectangle", "28 X 17 x 2 cm", {"length": "28 cm", "width": "17 cm", "corner_radius": "2 cm"}),
        ("rectangle", "11 3/4 x 8 in", {"length": "11 3/4 in", "width": "8 in"}),
        ("polygon", "6x28cm", {"sides": "6", "across_flats": "28 cm"}),
        ("polygon", "6x280x15mm", {"sides": "6", "across_flats": "280 mm", "corner_radius": "15 mm"}),
    ],
)
def test_counts_come_first_then_lengths_and_the_last_unit_counts_for_all(
    outline: str, text: str, expected: dict[str, str]
) -> None:
    assert ring_size(text, outline, KEYS[outline]) == expected


@pytest.mark.parametrize("outline", KEYS)
def test_the_example_of_every_outline_can_be_read_as_its_lengths(outline: str) -> None:
    keys = KEYS[outline]
    found = ring_size(example(keys), outline, keys)
    assert set(found) == {*keys.counts, *keys.lengths}
    assert all(parse_length(found[key]) > 100 for key in keys.lengths)
    assert set(usual(keys)) == set(keys.all)
    assert form(keys).count("x") >= len(keys.counts + keys.lengths) - 1


def test_an_outline_that_nobody_has_thought_of_needs_no_more_than_its_keys() -> None:
    keys = OutlineKeys(lengths=("span", "belly"), counts=("waves",), optional=("dip",))
    assert ring_size("5x30x20cm", "wave", keys) == {"waves": "5", "span": "30 cm", "belly": "20 cm"}
    assert form(keys) == "WAVESxSPANxBELLY[xDIP]"
    assert size_name({"waves": "5", "span": "30 cm", "belly": "20 cm"}, keys) == "5x30x20cm"


@pytest.mark.parametrize(
    ("outline", "text", "wrong", "fix"),
    [
        ("circle", "35", "has no unit", "write 35cm, or 35mm"),
        ("rectangle", "28cm", "gives 1 of the measures of the rectangle", "write such as 28x17cm"),
        ("rectangle", "28x17x2x3cm", "gives 4 of the measures", "28x17cm"),
        ("polygon", "28cm", "gives 1", "6x28cm"),
        ("circle", "", "gives 0", "28cm"),
        ("circle", "x", "gives 0", "28cm"),
    ],
)
def test_a_size_that_cannot_be_read_is_told_with_what_to_write(
    outline: str, text: str, wrong: str, fix: str
) -> None:
    with pytest.raises(ValueFault) as caught:
        ring_size(text, outline, KEYS[outline])
    assert wrong in caught.value.wrong
    assert fix in caught.value.fix


def test_what_is_no_number_is_left_to_the_reader_of_lengths() -> None:
    assert ring_size("28xcm", "rectangle", KEYS["rectangle"]) == {"length": "28 cm", "width": "cm"}


@pytest.mark.parametrize(
    ("outline", "text", "name"),
    [
        ("circle", "35 cm", "35cm"),
        ("rectangle", "28 x 17 cm", "28x17cm"),
        ("rectangle", "280mm x 17cm", "280mmx17cm"),
        ("polygon", "6x28cm", "6x28cm"),
        ("circle", "11 3/4 in", "11.75in"),
        ("rectangle", "28x17x2cm", "28x17cm"),
    ],
)
def test_a_size_is_named_by_its_measures(outline: str, text: str, name: str) -> None:
    assert size_name(ring_size(text, outline, KEYS[outline]), KEYS[outline]) == name
