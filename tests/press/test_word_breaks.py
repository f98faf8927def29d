"""Read in the order of tags, a file has white space between words (ISO 32000-1, 14.8.2.5, from memory)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.press import engine
from tests.press.pages import page
from tests.press.told import texts, told

NARROW = "p, td { width: 30mm } .row { display: flex } .far { display: block }"
WORDS = st.lists(st.text("abcdefg", min_size=1, max_size=9), min_size=1, max_size=30)


def told_of(body: str) -> list[str]:
    return [words for _, words in texts(engine.render(page(f"<h1>Some words</h1>{body}", NARROW)))][1:]


@settings(max_examples=15)
@given(words=WORDS, bold=st.sets(st.integers(0, 29)))
def test_a_paragraph_is_told_in_its_own_words_however_its_lines_break(
    words: list[str], bold: set[int]
) -> None:
    shown = [f"<b>{word}</b>" if number in bold else word for number, word in enumerate(words)]
    assert told_of(f"<p>{' '.join(shown)}</p>")[0].rstrip() == " ".join(words)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("<p>Rim<br>Seam</p>", "Rim Seam"),
        ('<p><span class="far">Rim</span><span class="far">Seam</span></p>', "Rim Seam"),
        ('<p class="row"><span>Rim</span> <span>Seam</span></p>', "Rim Seam"),
        ("<p><b>Rim</b> <b>Seam</b></p>", "Rim Seam"),
        ("<p><b>Rim</b><b>Seam</b></p>", "RimSeam"),
        (
            "<table><tr><td>From the rim to the seam of the sheet</td></tr></table>",
            "From the rim to the seam of the sheet",
        ),
    ],
)
def test_parts_of_one_text_are_parted_as_they_are_written(body: str, words: str) -> None:
    assert told_of(body)[0].rstrip() == words


def test_a_word_that_goes_on_in_the_next_line_stays_one() -> None:
    body = (
        '<p style="width: 14mm; overflow-wrap: anywhere">low-temperature over/under '
        "https://example.org/a-kit and <b>heat-</b><b>proof</b></p>"
    )
    words = ["low-temperature", "over/under", "https://example.org/a-kit", "and", "heat-proof"]
    assert told_of(body)[0].split() == words


def test_a_line_within_a_line_is_no_break() -> None:
    assert told_of('<p>(<span style="display: inline-block">rim</span>) seam</p>')[0] == "(rim) seam"


def test_a_word_of_a_face_without_a_space_is_parted_too() -> None:
    assert told_of("<p><b>Rim</b><br><b>Seam</b></p>")[0].split() == ["Rim", "Seam"]


@settings(max_examples=10)
@given(words=WORDS, bold=st.sets(st.integers(0, 29)))
def test_no_space_is_told_twice(words: list[str], bold: set[int]) -> None:
    """Some spaces the engine strips from its text but draws: those before something bold at a line's end."""
    shown = [f"<b>{word} </b>" if number in bold else f"{word} " for number, word in enumerate(words)]
    assert "  " not in told_of(f"<p>{''.join(shown)}</p>")[0]


def test_texts_that_are_none_of_each_other_stay_as_they_are() -> None:
    assert told_of("<p>Rim</p><p>Seam</p>") == ["Rim", "Seam"]


def test_a_paragraph_and_a_list_are_never_told_as_one_within_another() -> None:
    """The engine wraps lines in a block of its own, and parts a list into columns."""
    body = (
        '<div style="display: flex"><p style="display: flex; width: 60mm">Rim</p></div>'
        '<ul style="columns: 2; width: 90mm"><li>Rim</li><li>Seam</li><li>Hub</li></ul>'
    )
    tree = told(engine.render(page(f"<h1>One</h1>{body}", NARROW)))
    within = [(each.name, kid.name) for each in tree.walk() for kid in each.kids]
    assert ("P", "P") not in within
    assert ("L", "L") not in within
    assert [(each.name, len(each.kids)) for each in tree.walk() if each.name == "L"] == [("L", 3)]
