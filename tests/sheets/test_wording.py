"""Catalogues: variants, placeholders, and what is told when something is missing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.base.edition import ENGLISH, Voice
from generator.base.errors import WordingError
from generator.base.words import Words
from generator.measures.measure import Measure
from generator.sheets.catalogues import read_folder
from generator.sheets.wording import Catalogue, Segment, load_words, tokens_of

EN = load_words(ENGLISH)


def plain(sentence: tuple[Segment, ...]) -> str:
    return "".join(segment.text for segment in sentence)


def test_the_catalogue_is_the_figures_words() -> None:
    words: Words = EN
    assert words.language == "en"
    assert words.number(1155.0) == "1155"
    assert words.number(2.5) == "2.5"


def pair_of() -> dict[str, Measure]:
    return {
        name: Measure(name, name, value, value, "mm", "", "")
        for name, value in (("cloth_length", 1155.0), ("cloth_width", 270.0))
    } | {"peel": Measure("peel", "peel", (50.0, 100.0), (50.0, 100.0), "mm", "", "")}


def catalogue(**messages: str) -> Catalogue:
    named = {key.replace("_", "."): text for key, text in messages.items()}
    return Catalogue(ENGLISH, {"range": "{first} to {last}", **named}, frozenset(), pair_of())


def test_a_pair_of_measures_shares_its_unit_and_stays_on_one_line() -> None:
    words = catalogue(cut="Cut {cloth_length:bare} × {cloth_width}.")
    assert words.say("cut") == "Cut 1155 × 270 mm."
    assert words.rich("cut") == (
        Segment("Cut "),
        Segment("1155", "cloth_length", "cloth_length"),
        Segment(" × ", keep=True),
        Segment("270 mm", "cloth_width", "cloth_width", keep=True),
        Segment("."),
    )


def test_a_measure_of_two_values_is_a_list_or_a_range() -> None:
    words = catalogue(list="At {peel}.", span="Pull {peel:range}.")
    assert words.say("list") == "At 50 and 100 mm."
    assert words.say("span") == "Pull 50 to 100 mm."


@pytest.mark.parametrize(
    ("text", "told"),
    [("{nothing}", "needs a value for {nothing}"), ("{peel:wide}", "known are bare, range")],
)
def test_a_value_that_is_missing_or_cannot_be_printed_so_is_told(text: str, told: str) -> None:
    with pytest.raises(WordingError, match=re.escape(told)):
        catalogue(cut=text).say("cut")


def test_a_sentence_that_is_missing_is_told() -> None:
    with pytest.raises(WordingError, match=r"has no sentence “no\.such\.key”"):
        EN.say("no.such.key")


def test_the_variant_with_the_most_conditions_that_hold_is_used() -> None:
    words = Catalogue(ENGLISH, {"a": "1", "a@hem": "2", "a@no-kiss-cut": "3", "a@hem+no-kiss-cut": "4"})
    assert words.variant("a", {"hem": False, "kiss_cut": True}) == "a"
    assert words.variant("a", {"hem": True, "kiss_cut": True}) == "a@hem"
    assert words.variant("a", {"hem": True, "kiss_cut": False}) == "a@hem+no-kiss-cut"
    assert words.variant("b", {}) is None


def test_the_first_of_equal_variants_is_used() -> None:
    words = Catalogue(ENGLISH, {"a": "", "a@square": "", "a@corners": ""})
    assert words.variant("a", {"outline": "square"}) == "a@square"
    assert words.variant("a", {"outline": "polygon"}) == "a@corners"


def test_an_instruction_without_a_fitting_variant_is_left_out() -> None:
    words = Catalogue(ENGLISH, {"t.do.1": "One.", "t.do.0@hem": "Nought.", "t.do.2@hem": "Two."})
    assert [plain(s) for s in words.instructions("t")] == ["One."]
    hemmed = Catalogue(ENGLISH, {k: words.raw(k) for k in tuple(words.keys())}, tokens_of({"hem": True}))
    assert [plain(s) for s in hemmed.instructions("t")] == ["Nought.", "One.", "Two."]


def test_a_language_without_wording_is_told_with_those_that_there_are() -> None:
    with pytest.raises(WordingError, match="there is de, en, es, fr"):
        load_words(Voice("xx"))


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ('msgid "a"\nmsgstr "x"\n\nmsgid "a"\nmsgstr "y"\n', "stands twice"),
        ('msgid "a"\nmsgstr ""\n', "has no text"),
        ('msgid "a"\nmsgstr "{Big}"\n', "belongs to no placeholder"),
        ('msgid "a\n', "cannot be read"),
        ('msgid "a"\nmsgid_plural "bs"\nmsgstr[0] "x"\nmsgstr[1] "y"\n', "needs the value that counts"),
    ],
)
def test_an_unsound_catalogue_is_told(body: str, told: str, tmp_path: Path) -> None:
    header = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n\n'
    (tmp_path / "broken.po").write_text(header + body, encoding="utf-8")
    with pytest.raises(WordingError, match=told):
        read_folder(tmp_path)
