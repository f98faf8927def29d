"""Words for young learners: short, with the same values, no caution less, the adult named who does it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.edition import Edition, Voice
from generator.base.words import PLACEHOLDER
from generator.pipeline import illustrate, tell_document
from generator.plan.build import load_technique
from generator.sheets.wording import load_words
from tests.sheets.subjects import works
from tests.sheets.test_english_wording import OTHER_NAMES

WORDING = Path(str(data_folder("templates"))) / "wording"
TONED = tuple(sorted(place.parent.name for place in WORDING.glob("*/young") if any(place.glob("*.po"))))
"""Languages that have words for young learners."""
ADULT = {"en": "the adult", "de": "der erwachsene", "es": "el adulto", "fr": "l’adulte"}
"""Who does what a child must not, as the sentences say it."""
FRIENDLY = 12
"""Most words in a sentence."""


@cache
def both(language: str) -> tuple[dict[str, str], dict[str, str]]:
    """All sentences: plain, and for young learners."""
    plain, young = load_words(Voice(language)), load_words(Voice(language, tone="young"))
    return (
        {key: plain.raw(key) for key in iter(plain.keys())},
        {key: young.raw(key) for key in iter(young.keys())},
    )


def changed(language: str) -> dict[str, str]:
    plain, young = both(language)
    return {key: text for key, text in young.items() if plain.get(key) != text}


def sentences(text: str) -> list[str]:
    return [part for part in re.split(r"(?<=[.!?:;])\s+", PLACEHOLDER.sub("X", text)) if part]


def test_english_has_words_for_young_learners() -> None:
    assert "en" in TONED
    assert set(TONED) == set(ADULT)


@pytest.mark.parametrize("language", TONED)
def test_only_sentences_that_are_there_in_plain_words_are_said_otherwise_and_with_the_same_values(
    language: str,
) -> None:
    plain, young = both(language)
    # In the same order too: of variants that hold alike the first wins.
    assert list(plain) == list(young)
    found = changed(language)
    assert len(found) > 100
    for key, text in found.items():
        assert sorted(PLACEHOLDER.findall(text)) == sorted(PLACEHOLDER.findall(plain[key])), key


@pytest.mark.parametrize("language", TONED)
def test_sentences_are_short_and_hold_no_digit(language: str) -> None:
    for key, text in changed(language).items():
        for sentence in sentences(text):
            assert len([word for word in sentence.split() if re.search(r"\w", word)]) <= FRIENDLY, key
        assert not re.search(r"\d", PLACEHOLDER.sub("", text)), key
        if ".title" in key:
            assert len(text) <= 28, key


@pytest.mark.parametrize("language", TONED)
def test_cautions_and_what_mends_a_mistake_stay_word_for_word(language: str) -> None:
    kept = ("caution.", "closing.", "room.", "before-roll.", "tag.", "read.")
    for key in changed(language):
        assert not key.startswith(kept)
        assert not re.search(r"\.(mistake|rescue|see)\b", key)


@pytest.mark.parametrize("language", TONED)
def test_every_instruction_of_an_adults_task_says_that_the_adult_does_it(language: str) -> None:
    _, young = both(language)
    tasks = [task for task in load_technique("rolled-edge").tasks if task.adult]
    assert len(tasks) > 5
    for task in tasks:
        key = f"{task.wording}.{task.id}.do."
        told = {each: text for each, text in young.items() if each.startswith(key)}
        assert told
        silent = [each for each, text in told.items() if ADULT[language] not in text.lower()]
        assert silent == [], task.id


def test_what_learners_do_is_said_anew_nearly_everywhere() -> None:
    found = changed("en")
    plain, _ = both("en")
    for task in load_technique("rolled-edge").tasks:
        if not task.adult:
            keys = [key for key in plain if key.startswith(f"{task.wording}.{task.id}.do.")]
            assert any(key in found for key in keys), task.id


def test_short_words_call_things_by_their_one_name() -> None:
    for key, text in changed("en").items():
        said = f" {text.lower()} "
        assert [name for name in OTHER_NAMES if re.search(rf"\b{name}s?\b", said)] == [], key


def test_a_sheet_for_young_learners_has_every_step_caution_and_number_of_the_plain_one(
    tmp_path: Path,
) -> None:
    recipe = (data_folder("recipes") / "pier-drum.yaml").read_text(encoding="utf-8")
    path = tmp_path / "young.yaml"
    path.write_text(
        re.sub(r"^makers: .*$", "makers: {people: 1, ages: [11, 13]}", recipe, flags=re.MULTILINE),
        encoding="utf-8",
    )
    work = next(iter(works(path).values()))
    plain, young = (
        tell_document("steps-text", illustrate(work, Edition(Voice(tone=tone)))).text
        for tone in ("plain", "young")
    )
    assert plain != young
    assert "The adult presses the cloth along its threads." in young
    for said in ("Caution:", "a named adult does this", "cannot be undone", "mm"):
        assert plain.count(said) == young.count(said) > 0, said
    numbers = re.compile(r"\d+(?:\.\d+)?")
    told = [sorted(numbers.findall(text.partition("\nCare and spares\n")[0])) for text in (plain, young)]
    assert told[0] == told[1] != []
    # What differs says so: the last lines name another edition.
    assert plain.splitlines()[-2:] != young.splitlines()[-2:]
