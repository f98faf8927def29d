"""Every language that is shipped says everything, of the same things, in its own letters."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from generator.base.assets import data_folder, font_files, languages
from generator.base.edition import ENGLISH, Voice
from generator.base.errors import WordingError
from generator.base.words import PLACEHOLDER
from generator.sheets.called import key_of
from generator.sheets.catalogues import Counted, completed, messages, read_folder
from generator.sheets.wording import Catalogue, load_words
from tests.sheets.subjects import works

ROOT = Path(__file__).parents[2]
OTHERS = tuple(code for code in languages() if code != ENGLISH.language)
EN = load_words(ENGLISH)


@cache
def own(language: str) -> dict[str, str]:
    """What a language says itself, without what it borrows; of several texts all in one."""
    texts = read_folder(data_folder("templates") / "wording" / language)
    return {key: text if isinstance(text, str) else " ".join(text.texts) for key, text in texts.items()}


def asked(text: str) -> set[tuple[str, str | None]]:
    return {(match[1], match[2]) for match in PLACEHOLDER.finditer(text)}


def test_english_german_french_and_spanish_are_shipped() -> None:
    assert {"en", "de", "fr", "es"} <= set(languages())


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_is_missing_or_of_no_use(language: str) -> None:
    assert messages(Voice(language)).borrowed == ()
    assert set(own(language)) - set(own("en")) == set()


@pytest.mark.parametrize("language", OTHERS)
def test_a_translation_speaks_of_the_same_values(language: str) -> None:
    wrong = {key for key, text in own(language).items() if asked(text) != asked(own("en").get(key, ""))}
    assert wrong == set()


@pytest.mark.parametrize("language", languages())
def test_no_digit_stands_in_a_catalogue(language: str) -> None:
    texts = own(language)
    assert [key for key, text in texts.items() if re.search(r"\d", PLACEHOLDER.sub("", text))] == []


@pytest.mark.parametrize("language", languages())
def test_every_letter_of_a_language_is_in_the_fonts(language: str) -> None:
    from fontTools.ttLib import TTFont

    letters = set("".join(PLACEHOLDER.sub("", text) for text in own(language).values()))
    for path in font_files().values():
        with TTFont(path) as font:
            assert {hex(ord(sign)) for sign in letters if ord(sign) not in font.getBestCmap()} == set()


@pytest.mark.parametrize("language", languages())
def test_a_catalogue_names_its_language_and_the_forms_of_its_plural(language: str) -> None:
    for path in sorted((data_folder("templates") / "wording" / language).glob("*.po")):
        with path.open("rb") as stream:
            head = read_po(stream)
        assert f"Language: {language}" in path.read_text(encoding="utf-8"), path.name
        assert head.num_plurals == 2, path.name


@pytest.mark.parametrize("sample", sorted(path.stem for path in (ROOT / "recipes").glob("*.yaml")))
def test_measures_and_results_of_samples_have_names_of_their_own(sample: str) -> None:
    for work in works(ROOT / "recipes" / f"{sample}.yaml").values():
        words = EN.bound(work.plan, work.measures)
        labels = {m.label for m in work.measures.values() if not words.has(f"measure.{m.id}")}
        results = {link.result for step in work.plan.steps for reason in step.why for link in reason.links}
        called = {key_of("measure-label", label): label for label in labels}
        called |= {key_of("result", name): name for name in results}
        assert {key: words.say(key) for key in called if words.has(key)} == called


@pytest.mark.parametrize("language", languages())
def test_packing_of_the_shipped_list_of_parts_has_names_of_its_own(language: str) -> None:
    kits = [work.kit for work in works(ROOT / "recipes" / "pier-drum.yaml").values() if work.kit]
    packed = {part.called for kit in kits for part in kit.parts if part.called}
    assert packed
    assert {key_of("packing", name) for name in packed} - set(own(language)) == set()


def test_what_a_language_lacks_is_said_in_english_and_named() -> None:
    found = completed({"b": "zwei"}, {"a": "one", "b": "two", "c": "three"})
    assert list(found.texts.items()) == [("a", "one"), ("b", "zwei"), ("c", "three")]
    assert found.borrowed == ("a", "c")


def test_a_language_that_there_is_not_is_told() -> None:
    with pytest.raises(WordingError, match="there is no wording in “xx”"):
        messages(Voice("xx"))


def counted(language: str) -> Catalogue:
    which = {"en": lambda n: int(n != 1), "fr": lambda n: int(n > 1)}[language]
    texts = {"t": Counted("boxes", ("{boxes} box", "{boxes} boxes"), which)}
    return Catalogue(Voice(language), texts)


@pytest.mark.parametrize(
    ("language", "boxes", "said"),
    [
        ("en", 1, "1 box"),
        ("en", 0, "0 boxes"),
        ("en", 2, "2 boxes"),
        ("fr", 0, "0 box"),
        ("fr", 2, "2 boxes"),
    ],
)
def test_a_sentence_goes_with_its_number(language: str, boxes: int, said: str) -> None:
    assert counted(language).say("t", boxes=boxes) == said


def test_a_sentence_that_goes_with_a_number_must_have_it() -> None:
    with pytest.raises(WordingError, match=r"needs a number for \{boxes\}"):
        counted("en").say("t", boxes="many")


@pytest.mark.parametrize(("language", "forms"), [("en", "n != 1"), ("de", "n != 1"), ("fr", "n > 1")])
def test_the_forms_of_the_plural_are_those_of_the_language(language: str, forms: str) -> None:
    """Against CLDR's categories as Babel has them: one for each number of which the language says *one*."""
    from babel import Locale

    rule = Locale.parse(language).plural_form
    with (data_folder("templates") / "wording" / language / "sheet.po").open("rb") as stream:
        head = read_po(stream)
    assert forms in head.plural_expr
    import gettext

    which = gettext.c2py(head.plural_expr)
    assert [which(n) == 0 for n in range(200)] == [rule(n) == "one" for n in range(200)]
