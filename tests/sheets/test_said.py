"""What is wrong with a recipe is said in every language that is shipped, of the same things."""

from __future__ import annotations

import re

import pytest

from generator.base.assets import data_folder, languages
from generator.base.edition import ENGLISH, Voice
from generator.base.message import Message, Number, as_written, catalogued, joined, message, plural
from generator.base.units import quoted
from generator.recipe.models import SECTIONS
from generator.sheets.catalogues import Counted, read_faults
from generator.sheets.document import Kind, document_kinds
from generator.sheets.said import Tongue, is_said_in, said_in
from generator.sheets.wording import load_words
from tests.base.sentences import asked_for, sentences, written

OTHERS = tuple(code for code in languages() if code != ENGLISH.language)


def texts_of(held: str | Counted) -> tuple[str, ...]:
    return (held,) if isinstance(held, str) else held.texts


GERMAN = Tongue(
    {
        "{part} is {width} wide": "{width} ist die Breite: {part}",
        "the panel": "die Bahn",
        "{count} rings": Counted("count", ("ein Ring", "{count} Ringe"), lambda n: int(n != 1)),
        "“{text}”": "„{text}“",
    },
    ",",
)


def test_a_message_is_said_with_its_values_in_the_language_and_in_its_order() -> None:
    said = message("{part} is {width} wide", part=message("the panel"), width=Number("12.5 mm"))
    assert GERMAN.say(said) == "12,5 mm ist die Breite: die Bahn"
    assert GERMAN.has(said)


def test_what_a_person_wrote_or_must_write_stays_as_it_is() -> None:
    typed = message("{part} is {width} wide", part=quoted("{width} 1.5 <b>"), width="width: 12.5 mm")
    assert GERMAN.say(typed) == "width: 12.5 mm ist die Breite: „{width} 1.5 <b>“"
    assert GERMAN.say("1.5") == "1.5"


def test_only_what_a_language_says_holds_words_together() -> None:
    space = "\N{NARROW NO-BREAK SPACE}"
    french = Tongue({"“{text}”": f"«{space}{{text}}{space}»", "{text} is wide": "{text} est large"}, ",")
    typed = message("{text} is wide", text=quoted(f"250{space}mm\n"))
    assert french.say(typed) == f"«{space}250 mm {space}» est large"
    assert french.say(message("{text}: no", text=as_written("one\ntwo"))) == "one two: no"


@pytest.mark.parametrize(("count", "said"), [(0, "0 Ringe"), (1, "ein Ring"), (2, "2 Ringe")])
def test_the_language_decides_which_sentence_belongs_to_a_number(count: int, said: str) -> None:
    assert GERMAN.say(plural("{count} rings", "one ring", count=count)) == said


def test_what_the_language_lacks_is_said_in_english_as_far_as_it_lacks_it() -> None:
    unknown = message("beside {part}", part=message("the panel"))
    assert GERMAN.say(unknown) == "beside die Bahn"
    assert not GERMAN.has(unknown)
    assert GERMAN.say(plural("{count} rods", "one rod", count=1)) == "one rod"
    assert GERMAN.say(as_written("{brace} as it is")) == "{brace} as it is"


def test_of_joined_messages_each_is_said_by_itself() -> None:
    both = joined([message("the panel"), "a.yaml:1:1", message("the panel")], ": ")
    assert GERMAN.say(both) == "die Bahn: a.yaml:1:1: die Bahn"
    assert GERMAN.has(both)
    assert not GERMAN.has(joined([message("the panel"), message("the rod")]))


def test_a_value_without_an_end_is_shortened() -> None:
    said = GERMAN.say(message("{part} is {width} wide", part="x\n" * 5000, width="12"))
    assert len(said) < 500
    assert "\n" not in said


def test_the_english_catalogue_is_what_stands_in_the_code() -> None:
    """``python -m tests.base.sentences`` writes it anew."""
    file = data_folder("templates") / "wording" / ENGLISH.language / "faults.po"
    assert file.read_text(encoding="utf-8") == written()
    assert len(sentences()) > 500


def test_every_value_of_a_sentence_is_given_and_none_for_nothing() -> None:
    wrong = {
        sentence.template: names
        for sentence in sentences().values()
        for names in sentence.values
        if names != asked_for(sentence.template)
    }
    assert wrong == {}
    ones = [sentence for sentence in sentences().values() if sentence.one is not None]
    assert ones
    assert all(asked_for(str(one.one)) <= asked_for(one.template) for one in ones)


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_is_said_in_every_language_and_none_is_of_no_use(language: str) -> None:
    there = set(read_faults(language))
    assert sorted(set(sentences()) - there) == []
    assert sorted(there - set(sentences())) == []


@pytest.mark.parametrize("language", languages())
def test_a_sentence_speaks_of_the_same_values_in_every_language(language: str) -> None:
    wrong = {}
    for template, held in read_faults(language).items():
        *fewer, last = texts_of(held)
        if asked_for(last) != asked_for(template) or any(
            asked_for(one) - asked_for(template) for one in fewer
        ):
            wrong[template] = last
    assert wrong == {}


@pytest.mark.parametrize("language", OTHERS)
def test_numbers_and_code_in_a_sentence_are_the_same_in_every_language(language: str) -> None:
    """What a person may copy from it: numbers, and a key with its value."""
    # Of a ring people speak before a colon, too.
    names = ("outline", "height", "slant", "sizes", "margin", "technique", "rimfold")
    keys = "|".join((set(SECTIONS) | set(names)) - {"ring"})
    code = re.compile(rf"\b(?:{keys}): [a-z0-9]+")
    wrong = {}
    for template, held in read_faults(language).items():
        for said in texts_of(held)[-1:]:
            numbers = [re.findall(r"[0-9]+", text) for text in (template, said)]
            if sorted(numbers[0]) != sorted(numbers[1]) or set(code.findall(template)) - set(
                code.findall(said)
            ):
                wrong[template] = said
    assert wrong == {}


@pytest.mark.parametrize("language", OTHERS)
def test_every_part_of_a_fault_is_in_the_language(language: str) -> None:
    read = read_faults(language)
    assert read, "no catalogue"
    same = {key for key, held in read.items() if texts_of(held)[-1] == key and re.search(r"[a-z]{5}", key)}
    # Names and code are the same everywhere; whole sentences are not.
    assert {key for key in same if key.count(" ") > 2} == set()


def test_english_needs_no_catalogue() -> None:
    said = message("the panel")
    assert said_in(said, "en") == "the panel"
    assert not isinstance(said_in(said, "en"), Message)
    assert is_said_in("anything", "en")


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("kind", list(document_kinds().values()), ids=lambda kind: kind.name)
def test_a_document_is_called_as_on_its_pages(kind: Kind, language: str) -> None:
    note = message("{why}; printed on {form}", why=joined([kind.called]), form="A4")
    told = said_in(note, language)
    name = load_words(Voice(language)).say(kind.title)
    assert is_said_in(kind.called, language)
    assert name.casefold() in told.casefold()
    assert kind.called == kind.name
    # Within a sentence only German writes such a name with a capital.
    assert (name in told) == (language == "de")


def test_a_name_that_no_catalogue_has_stays_as_it_is_typed() -> None:
    odd = catalogued("kind.no-such-thing", "no-such-thing")
    assert said_in(odd, "de") == "no-such-thing"
    assert not is_said_in(odd, "de")


def test_several_sentences_in_a_row_are_all_told() -> None:
    """A line that names every file of a size is longer than a value of a sentence may be."""
    files = [message("{path} ({pages})", path="x" * 60, pages=f"{at} pages") for at in range(20)]
    told = said_in(joined(["drum", joined(files)], ": "), "de")
    assert told.count("x" * 60) == len(files)
    assert "…" not in told
