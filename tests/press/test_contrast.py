"""Contrast of colours against published examples and another library, and of text on real pages.

Published: W3C, Understanding Success Criterion 1.4.3 (from memory): #777777 on white is 4.48 to 1 and fails,
#767676 is 4.54 to 1 and passes; black on white is 21 to 1. The library is ColorAide 8.13 (MIT).
"""

from __future__ import annotations

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import ProofError
from generator.press.contrast import contrast, grey_of, least, luminance, over
from generator.press.press import press
from tests.press.pages import IMAGE, figure, label, page

levels = st.integers(0, 255)
colours = st.tuples(levels, levels, levels)
WHITE, BLACK = (255, 255, 255), (0, 0, 0)


@pytest.mark.parametrize(
    ("colour", "on", "value"),
    [
        (BLACK, WHITE, 21.0),
        (WHITE, WHITE, 1.0),
        ((0x77,) * 3, WHITE, 4.48),
        ((0x76,) * 3, WHITE, 4.54),
        ((0x94,) * 3, WHITE, 3.03),
        ((255, 0, 0), WHITE, 4.0),
        ((0, 255, 0), WHITE, 1.37),
        ((0, 0, 255), WHITE, 8.59),
    ],
)
def test_contrast_is_that_of_published_examples(
    colour: tuple[int, int, int], on: tuple[int, int, int], value: float
) -> None:
    assert contrast(colour, on) == pytest.approx(value, abs=0.005)


@given(colours, colours)
def test_contrast_is_that_of_another_library(one: tuple[int, int, int], two: tuple[int, int, int]) -> None:
    first, second = (Color("srgb", [each / 255 for each in colour]) for colour in (one, two))
    # It takes lightness from the primaries themselves, of which WCAG's factors are rounded to four digits.
    assert contrast(one, two) == pytest.approx(first.contrast(second, method="wcag21"), rel=1e-3)
    assert contrast(one, two) == contrast(two, one)
    assert 1.0 <= contrast(one, two) <= 21.0 + 1e-9


@given(levels)
def test_grey_stays_as_light_as_it_is(level: int) -> None:
    assert luminance(grey_of((level,) * 3)) == pytest.approx(luminance((level,) * 3))


def test_the_palette_becomes_the_greys_that_were_measured_on_the_mock_ups() -> None:
    # The table of colours of the printed system: sea, pale sea, sand, pale amber.
    greys = {
        (0x0B, 0x5A, 0x66): 0x44,
        (0xD5, 0xE6, 0xE8): 0xE1,
        (0xF1, 0xED, 0xE4): 0xED,
        (0xFF, 0xF3, 0xCF): 0xF2,
    }
    for colour, level in greys.items():
        assert grey_of(colour)[0] == pytest.approx(level, abs=1.0)


def test_the_inks_of_the_palette_stand_out_on_paper_as_it_says() -> None:
    assert contrast((0x1B,) * 3, WHITE) == pytest.approx(17.2, abs=0.05)
    assert contrast((0x56,) * 3, WHITE) == pytest.approx(7.3, abs=0.05)
    assert contrast((0x0B, 0x5A, 0x66), WHITE) == pytest.approx(7.9, abs=0.05)
    assert contrast((0x8A,) * 3, WHITE) == pytest.approx(3.5, abs=0.06)


@given(colours, colours)
def test_a_colour_that_covers_all_is_itself_and_one_that_covers_nothing_is_its_ground(
    colour: tuple[int, int, int], ground: tuple[int, int, int]
) -> None:
    assert over(colour, 1.0, ground) == colour
    assert over(colour, 0.0, ground) == ground


@pytest.mark.parametrize(
    ("size", "bold", "ratio"),
    [(17.9, False, 4.5), (18.0, False, 3.0), (13.9, True, 4.5), (14.0, True, 3.0), (14.0, False, 4.5)],
)
def test_large_text_needs_less(size: float, bold: bool, ratio: float) -> None:
    assert least(size, bold=bold) == ratio


def refusal(html: str, svg: str | None = None) -> str:
    with pytest.raises(ProofError) as caught:
        press(html, {"dock": svg} if svg else {})
    assert {fault.rule for fault in caught.value.faults} == {"contrast"}
    return str(caught.value)


@pytest.mark.parametrize(("colour", "passes"), [("#777777", False), ("#767676", True)])
def test_grey_words_on_paper_must_be_dark_enough(colour: str, passes: bool) -> None:
    html = page(f'<p style="color: {colour}">pale words</p>')
    if passes:
        assert press(html).pages == 1
    else:
        assert "the text “pale words” stands out too little from its ground: 4.48 to 1" in refusal(html)


@pytest.mark.parametrize(
    ("style", "passes"),
    [
        ("font-size: 18pt", True),
        ("font-size: 17.5pt", False),
        ("font-size: 14pt; font-weight: 700", True),
        ("font-size: 14pt; font-weight: 600", False),
    ],
)
def test_large_words_may_be_paler(style: str, passes: bool) -> None:
    html = page(f'<p style="color: #8A8A8A; {style}">pale words</p>')
    if passes:
        assert press(html).pages == 1
    else:
        assert "3.45 to 1, the least is 4.5 to 1" in refusal(html)


def test_words_on_a_bar_are_judged_on_the_bar() -> None:
    assert press(page('<p style="color: white; background: #1B1B1B">no undo</p>')).pages == 1
    words = refusal(page('<p style="color: white; background: #7D7D7D">no undo</p>'))
    assert "4.12 to 1" in words


def test_words_that_only_colour_sets_off_are_found() -> None:
    # 21 to 1 of black and white, over 4.0 of red and white: black on red is 5.25 to 1, until colour is gone.
    assert contrast(BLACK, (255, 0, 0)) == pytest.approx(5.25, abs=0.005)
    words = refusal(page('<p style="color: black; background: red">in red</p>'))
    assert "stands out too little from its ground when printed in grey" in words


def test_a_label_on_a_dark_shape_of_a_figure_is_found() -> None:
    disc = '<circle cx="20" cy="20" r="15" fill="#6E6E6E"/>'
    words = refusal(page(IMAGE), figure(disc + label("rim", 15, 21)))
    assert "the text “rim” stands out too little from its ground" in words


def test_a_label_beside_a_dark_shape_passes() -> None:
    arc = '<path d="M5 5 L70 5 L70 38" fill="none" stroke="#1B1B1B" stroke-width="1"/>'
    assert press(page(IMAGE), {"dock": figure(arc + label("rim", 30, 21))}).pages == 1


HATCHING = "".join(
    f'<path d="M5 {y / 10} L75 {y / 10}" stroke="#1B1B1B" stroke-width="0.5"/>' for y in range(100, 300, 8)
)


def test_a_label_in_a_dense_hatching_is_found_and_with_a_halo_it_is_not() -> None:
    on_it = label("rim tape", 20, 21)
    assert "stands out too little" in refusal(page(IMAGE), figure(HATCHING + on_it))
    halo = '<rect x="19" y="17" width="17" height="5.5" fill="#FFFFFF"/>'
    assert press(page(IMAGE), {"dock": figure(HATCHING + halo + on_it)}).pages == 1


def test_a_line_that_only_crosses_a_letter_does_not_drown_it() -> None:
    line = '<path d="M5 20.2 L75 20.2" stroke="#1B1B1B" stroke-width="0.25"/>'
    assert press(page(IMAGE), {"dock": figure(line + label("rim", 15, 21))}).pages == 1


def test_words_that_let_their_ground_through_are_judged_as_they_are_seen() -> None:
    assert "stands out too little" in refusal(page('<p style="color: rgba(27, 27, 27, 0.5)">faint words</p>'))
    assert "stands out too little" in refusal(
        page(IMAGE), figure(f'<g opacity="0.5">{label("rim", 15, 21)}</g>')
    )
