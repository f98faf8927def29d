"""What is read, not printed: plain text made from a page, and where its numbers come from."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import ProofError
from generator.press.plain_text import WIDTH, plain_text
from generator.press.texts import write
from generator.press.wish import Wish


def page(content: str) -> str:
    return f'<!DOCTYPE html>\n<html lang="en"><head><title>No</title></head><body>{content}</body></html>'


def test_headings_are_underlined_as_long_as_they_are_and_unlike_for_each_level() -> None:
    lines = plain_text(page("<h1>Pier drum</h1><h2>Tools</h2><h3>Roll</h3><h4>Picture</h4>")).splitlines()
    assert [line for line in lines if line] == [
        "Pier drum", "=========", "Tools", "-----", "Roll", "~~~~", "Picture", ".......",
    ]  # fmt: skip


def test_a_row_of_a_table_says_the_heading_before_each_cell() -> None:
    table = (
        "<table><thead><tr><th>Stage</th><th>Steps</th><th>Time</th></tr></thead>"
        "<tbody><tr><th>Roll</th><td>two</td><td>an hour.</td></tr></tbody></table>"
    )
    assert plain_text(page(table)) == "- Stage: Roll. Steps: two. Time: an hour.\n"


def test_a_table_without_headings_says_its_rows_one_by_one() -> None:
    assert plain_text(page("<table><tbody><tr><th>Cloth</th><td>red</td></tr></tbody></table>")) == (
        "- Cloth: red\n"
    )


def test_signs_between_words_are_those_of_the_pages_language() -> None:
    table = "<table><tbody><tr><th>Tissu</th><td>rouge</td><td>bleu</td></tr></tbody></table>"
    french = page(table).replace("<body>", '<body data-colon="\u202f: " data-semicolon="\u202f; ">')
    assert plain_text(french) == "- Tissu\u202f: rouge\u202f; bleu\n"


def test_lists_keep_their_numbers_and_meanings_follow_their_words() -> None:
    lists = "<ol><li>Cut.</li><li>Roll.</li></ol><dl><dt>hub</dt><dd>A ring.</dd></dl>"
    assert plain_text(page(lists)) == "1. Cut.\n2. Roll.\n\n- hub: A ring.\n"


def test_contents_and_links_that_lead_nowhere_are_left_out() -> None:
    skip = '<p><a href="#steps">Skip</a></p><nav><h2>Contents</h2></nav><p>Read <a href="#a">this</a>.</p>'
    assert plain_text(page(skip)) == "Read this.\n"


@given(st.lists(st.sampled_from(["cloth", "ring", "a", "overlapping", "12", "mm"]), min_size=1, max_size=80))
def test_lines_are_never_wider_and_no_word_is_lost(words: list[str]) -> None:
    text = plain_text(page(f"<p>{' '.join(words)}</p>"))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert text.split() == words
    # A number and its unit stand on one line.
    assert not any(line.startswith("mm") and words[0] != "mm" for line in _after_numbers(text))


def _after_numbers(text: str) -> list[str]:
    lines = text.splitlines()
    return [after for before, after in pairwise(lines) if before.endswith("12")]


def test_an_element_that_has_no_form_in_plain_text_is_refused() -> None:
    with pytest.raises(ValueError, match="<blockquote> has no form"):
        plain_text(page("<blockquote>Said</blockquote>"))


def test_a_page_that_is_not_well_formed_is_refused() -> None:
    with pytest.raises(ValueError, match="not well-formed"):
        plain_text(page("<p>open"))


def test_a_number_that_comes_from_nowhere_is_refused_and_named() -> None:
    with pytest.raises(ProofError, match="the number 1156 of the text comes from no measure"):
        write(page("<p>Cut 1156 mm</p>"), Wish(numbers=frozenset({"1155 mm"})))
    assert write(page("<p>Cut 1155 mm</p>"), Wish(numbers=frozenset({"1155 mm"}))).text == "Cut 1155 mm\n"
