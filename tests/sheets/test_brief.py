"""Short instructions for small places say what the card says: no number is lost, no sentence grows long."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from hypothesis import given

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.base.words import PLACEHOLDER
from generator.examine import examine
from generator.plan.work import Work
from generator.sheets.cards import text_of
from generator.sheets.wording import Catalogue, Sentence, load_words, tokens_of
from tests.sheets.test_english_wording import CONDITIONS, EN, KEYS, TECHNIQUES, VERBS, load_tasks
from tests.sheets.test_own_words import own_way

SAMPLES = sorted(path.stem for path in data_folder("recipes").glob("*.yaml"))


def work(name: str) -> Work:
    return examine(data_folder("recipes") / f"{name}.yaml").works[0]


def words_of(each: Work) -> Catalogue:
    return load_words(ENGLISH).bound(each.plan, each.measures)


def measures_in(sentences: Iterable[Sentence]) -> Iterator[str]:
    for sentence in sentences:
        yield from (segment.measure for segment in sentence if segment.measure)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_number_of_a_card_stands_in_its_short_instructions_or_in_its_check(name: str) -> None:
    each = work(name)
    words = words_of(each)
    for step in each.plan.steps:
        key = step.task.key
        told = set(measures_in([*words.brief(key), words.rich(f"{key}.check")]))
        assert set(measures_in(words.instructions(key))) <= told, step.id


@pytest.mark.parametrize("name", TECHNIQUES)
@given(facts=CONDITIONS)
def test_no_number_is_lost_whatever_a_recipe_says(name: str, facts: dict[str, object]) -> None:
    words = Catalogue(ENGLISH, {key: EN.raw(key) for key in KEYS}, tokens_of(facts))
    for task in load_tasks(name, facts):
        if words.has(f"{task}.brief.1"):
            told = {*asked(words, f"{task}.brief"), *placeholders(words, f"{task}.check")}
            assert set(asked(words, f"{task}.do")) <= told, task


def asked(words: Catalogue, prefix: str) -> Iterator[str]:
    for number in range(1, 10):
        if words.has(f"{prefix}.{number}"):
            yield from placeholders(words, f"{prefix}.{number}")


def placeholders(words: Catalogue, key: str) -> tuple[str, ...]:
    full = words.variant(key)
    assert full is not None
    return tuple(match[1] for match in PLACEHOLDER.finditer(EN.raw(full)) if match[1] != "step")


@pytest.mark.parametrize("name", SAMPLES)
def test_short_instructions_are_shorter_and_begin_with_what_to_do(name: str) -> None:
    each = work(name)
    words = words_of(each)
    lengths = []
    for step in each.plan.steps:
        short, whole = words.brief(step.task.key), words.instructions(step.task.key)
        length = len(" ".join(map(text_of, short)))
        assert 0 < length <= len(" ".join(map(text_of, whole))), step.id
        lengths.append(length)
        for sentence in short:
            said = text_of(sentence)
            count = sum(1 if part.measure else len(re.findall(r"\S*\w\S*", part.text)) for part in sentence)
            assert count <= 20, said
            assert said.endswith(".")
            assert not re.search(r"[.!?] ", said), said
            assert said.split()[0].rstrip(",;").lower() in VERBS | {"print"}, said
    # Three or four lines of a column of 61 mm (own measurement: some 41 characters a line at 9 pt).
    assert sum(lengths) / len(lengths) < 160


def test_the_left_hand_and_the_fitter_end_are_told_in_short_too() -> None:
    said = " ".join(map(text_of, words_of(work("bell-hex")).brief("rolled-edge.stop-and-orient")))
    assert "start end right" in said
    assert "fitter ring at the far edge" in said
    table = " ".join(map(text_of, words_of(work("ferry-square")).brief("rolled-edge.stop-and-orient")))
    assert "start end left" in table
    assert "fitter ring at the near edge" in table


def test_a_technique_with_its_own_instructions_drops_the_short_ones(tmp_path: Path) -> None:
    changed = "    words: {do: [Set both marks on the edge., Wait until the glue is dull.]}\n"
    each = own_way(tmp_path, ("  - id: dock\n", f"  - id: dock\n{changed}"))
    short = [text_of(sentence) for sentence in words_of(each).brief("rolled-edge.dock")]
    assert short == ["Set both marks on the edge.", "Wait until the glue is dull."]
