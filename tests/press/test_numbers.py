"""Numbers on a page and where they come from."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.press.checks.numbers import numbers_in, untraceable_numbers
from generator.press.press import press
from generator.press.wish import Wish
from tests.press.pages import IMAGE, figure, label, page


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Cut 1112 mm.", {"1112"}),
        ("11 3/4 in", {"11", "3/4"}),
        ("0.35 mm, 0,35 mm", {"0.35", "0,35"}),
        ("Steps 19–21, twice", {"19", "21"}),
        ("2½ m and ⅛ in", {"2½", "⅛"}),
        ("lot PD-03, edition 0.1.0", {"03", "0.1.0"}),
        ("no number", set()),
    ],
)
def test_numbers_are_found_as_they_are_written(text: str, found: set[str]) -> None:
    assert numbers_in(text) == found


def test_a_number_in_none_of_the_allowed_texts_is_untraceable() -> None:
    assert untraceable_numbers("Cut 1112 mm by 250 mm, then 1112 mm.", ["1112 mm"]) == ["250"]


def test_part_of_an_allowed_number_is_not_allowed() -> None:
    assert untraceable_numbers("11 of 12", ["1112"]) == ["11", "12"]


THREES = ["10\u202f000 mm", "250 mm", "100"]


@pytest.mark.parametrize("text", ["10\u202f000 mm", "10 000 mm", "250 10 000", "100 10 000 250"])
def test_figures_in_threes_are_one_number_however_a_page_gives_their_spaces_back(text: str) -> None:
    assert untraceable_numbers(text, THREES) == []


@pytest.mark.parametrize(("text", "left"), [("000", ["000"]), ("10 001", ["10", "001"]), ("10", ["10"])])
def test_a_part_of_figures_in_threes_is_no_number_that_is_known(text: str, left: list[str]) -> None:
    assert untraceable_numbers(text, THREES) == left


@given(st.lists(st.integers(0, 10**6), max_size=8))
def test_a_text_made_of_allowed_numbers_has_none_untraceable(numbers: list[int]) -> None:
    text = " mm, ".join(map(str, numbers))
    assert untraceable_numbers(text, map(str, numbers)) == []


@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_a_number_is_traceable_only_to_itself(printed: int, allowed: int) -> None:
    assert (untraceable_numbers(str(printed), [str(allowed)]) == []) == (printed == allowed)


def test_the_count_of_pages_needs_no_measure() -> None:
    css = '@page { @bottom-right { content: "Page " counter(page) " of " counter(pages) } }'
    assert press(page("<p>text</p>", css), wish=Wish(numbers=frozenset())).pages == 1


@pytest.mark.parametrize("turn", [0, -90, 90, 30, 45, -60])
def test_a_number_is_read_whole_at_any_angle(turn: int) -> None:
    turned = label("1112 mm 0.35", 0, 0, f'transform="translate(40 21) rotate({turn}) translate(-12 0)"')
    pressed = press(page(IMAGE), {"dock": figure(turned)}, Wish(numbers=frozenset({"1112", "0.35"})))
    assert pressed.pages == 1
