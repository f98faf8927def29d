"""English wording: complete for the technique, plain, and free of numbers of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.edition import ENGLISH
from generator.base.words import PLACEHOLDER
from generator.measures.build import measure
from generator.measures.full_scale import full_scale_measures
from generator.measures.measure import Measures
from generator.plan.build import load_technique, plan
from generator.plan.facts import domain
from generator.plan.lot import batch_lot
from generator.plan.model import Plan
from generator.plan.technique import TaskEntry
from generator.recipe.read import read_recipe
from generator.shape.build import build_shade, outline_keys
from generator.sheets.wording import Catalogue, Segment, load_words, tokens_of
from tests.sheets.subjects import works

ROOT = Path(__file__).parents[2]
SAMPLES = (
    "pier-drum", "ferry-square", "net-loft", "customs-rect", "bell-hex", "tide-drum", "fog-cone",
    "capstan", "slipway-45", "coble-oval", "beacon-50",
)  # fmt: skip
TECHNIQUES = ("rolled-edge", "trimmed-edge")
EN = load_words(ENGLISH)
KEYS = tuple(EN.keys())

# Values that a page or a card gives by name, beside measures and step numbers.
GIVEN = {
    "title", "size", "use", "outline", "number", "page", "pages", "recipe", "version", "digest", "minutes",
    "hours", "first", "last", "first_time", "practised", "value", "mistake", "link", "kind", "step",
    "waits", "rests", "spread", "shades", "steps", "faces", "places",
    "tools", "least_faces", "least_places", "least_tools", "thing", "things", "stock", "numbers", "what",
    "alone", "saved", "bound", "count", "fitter", "second",
    "listed",
    "tile", "name", "lot", "parts", "edition",
}  # fmt: skip
# Measures of a batch that a cutting plan gives by name.
GIVEN |= {
    "names", "length", "width", "used", "pieces", "yield", "ratio", "spare", "outer", "core", "margin",
    "left", "tape",
}  # fmt: skip

# Values of handouts and of cards for the wall.
GIVEN |= {"cloth", "sizes"}
# What a class gives by name.
GIVEN |= {
    "bench", "clock", "close", "currency", "end", "even", "fee", "head", "late", "latest", "more",
    "packs", "people", "saves", "scale", "then", "tool", "wait", "who",
}  # fmt: skip

# What the page in the browser counts and names.
GIVEN |= {"part", "of", "total", "done", "least", "most", "old", "new"}

# One name for one thing: what the glossary calls otherwise.
OTHER_NAMES = (
    "fabric", "material", "textile", "covering", "blank", "lining", "backing", "hoop", "spoke", "arm",
    "score line", "scored line", "double-sided", "spatula", "carrier ring", "washer ring", "utility ring",
    "stiffener", "styrene", "plastic", "sticky", "allowance", "selvage", "release paper",
)  # fmt: skip

# The first word of an instruction is what to do.
VERBS = {
    "bend", "carry", "centre", "check", "choose", "copy", "cut", "decide", "draw", "ease", "find",
    "fold", "glue", "go", "hold", "keep", "lap", "lay", "leave", "let", "lift", "look", "lower", "make",
    "mark", "measure", "move", "never", "notch", "number", "open", "pause", "peel", "pencil", "pin", "press",
    "pull", "push", "put", "read", "roll", "run", "set", "slide", "slit", "smooth", "snip", "stack", "stand",
    "start", "stick", "stop", "support", "take", "tape", "test", "trim", "tuck", "turn", "work",
    "wrap", "write",
}  # fmt: skip


@cache
def sample(name: str) -> tuple[tuple[Plan, Measures, Catalogue], ...]:
    """Every size of a sample: its plan, measures, and the wording bound to them."""
    found = []
    for size in read_recipe(ROOT / "recipes" / f"{name}.yaml", outline_keys()).sizes:
        measures = measure(size, build_shade(size))
        planned = plan(size, measures, load_technique(size.technique))
        found.append((planned, measures, EN.bound(planned, measures)))
    return tuple(found)


def everything() -> Iterator[tuple[Plan, Measures, Catalogue]]:
    for name in SAMPLES:
        yield from sample(name)


def plain(sentence: tuple[Segment, ...]) -> str:
    return "".join(segment.text for segment in sentence)


def words_of(text: str) -> list[str]:
    return [word for word in text.split() if re.search(r"\w", word)]


def test_no_text_holds_a_digit() -> None:
    assert [key for key in KEYS if re.search(r"\d", PLACEHOLDER.sub("", EN.raw(key)))] == []


def test_every_placeholder_is_a_measure_of_some_sample_or_a_given_value() -> None:
    known = GIVEN | {key for _, measures, _ in everything() for key in measures}
    # Not every sample has them: a lamp's length is optional, and no sample has sharp corners.
    known |= {"lamp_gap_end", "reliefs"}
    size = read_recipe(ROOT / "recipes" / "pier-drum.yaml", outline_keys()).sizes[0]
    known |= set(full_scale_measures(build_shade(size), Measures()))
    packed = [work for work in works(ROOT / "recipes" / "pier-drum.yaml").values() if work.kit]
    known |= {key for work in packed for key in work.with_kit.measures}
    known |= set(batch_lot(packed).measures)
    asked = {(match[1], key) for key in KEYS for match in PLACEHOLDER.finditer(EN.raw(key))}
    assert {pair for pair in asked if pair[0] not in known} == set()


def test_every_step_that_a_text_names_is_a_task() -> None:
    tasks = {task.id for name in TECHNIQUES for task in load_technique(name).tasks}
    named = {match[2] for key in KEYS for match in PLACEHOLDER.finditer(EN.raw(key)) if match[1] == "step"}
    assert named
    assert named <= tasks | {None}


@pytest.mark.parametrize("name", TECHNIQUES)
def test_everything_of_a_technique_has_wording(name: str) -> None:
    technique = load_technique(name)
    wanted = [f"tool.{item.name}" for item in technique.tools]
    wanted += [f"consumable.{item.name}" for item in technique.consumables]
    wanted += [f"layout.{item.name}" for item in (*technique.tools, *technique.consumables)]
    wanted += [f"stage.{stage.id}" for stage in technique.stages]
    wanted += [f"pair.{task.pair}" for task in technique.tasks if task.pair]
    wanted += [
        f"caution.{item.name}.{part}"
        for item in technique.cautions
        for part in ("hazard", "consequence", "avoid")
    ]
    wanted += [f"alt.{task.id}" for task in technique.tasks]
    wanted += [f"{task.wording}.{task.id}.title" for task in technique.tasks]
    assert [key for key in wanted if EN.variant(key, {}) is None] == []


@pytest.mark.parametrize("name", TECHNIQUES)
def test_no_wording_of_a_task_is_left_over(name: str) -> None:
    tasks = {task.id for task in load_technique(name).tasks if task.wording == name}
    assert {key.split(".")[1] for key in KEYS if key.startswith(f"{name}.")} == tasks


CONDITIONS = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in domain().items()})


@pytest.mark.parametrize("name", TECHNIQUES)
@given(facts=CONDITIONS)
def test_every_variant_of_a_recipe_finds_all_its_sentences(name: str, facts: dict[str, object]) -> None:
    words = Catalogue(ENGLISH, {key: EN.raw(key) for key in KEYS}, tokens_of(facts))
    for task in load_tasks(name, facts):
        numbers = [n for n in range(10) if words.has(f"{task}.do.{n}")]
        assert 2 <= len(numbers) <= 4, task
        for part in ("title", "check", "mistake", "rescue", "see"):
            assert words.has(f"{task}.{part}")


@cache
def technique_tasks(name: str) -> tuple[tuple[str, TaskEntry], ...]:
    return tuple((f"{task.wording}.{task.id}", task) for task in load_technique(name).tasks)


def load_tasks(name: str, facts: dict[str, object]) -> list[str]:
    return [key for key, task in technique_tasks(name) if task.holds(facts)]


def test_every_sentence_of_every_sample_can_be_said() -> None:
    for planned, _, words in everything():
        for step in planned.steps:
            assert 2 <= len(words.instructions(step.task.key)) <= 4
            assert words.say(f"alt.{step.id}").endswith(".")
            for mishap in range(len(step.task.mend_until)):
                part = "" if mishap == 0 else f".{mishap + 1}"
                for what in ("mistake", "rescue", "see"):
                    assert words.say(f"{step.task.key}.{what}{part}")
        for thing in (*planned.tools, *planned.consumables):
            assert words.say(f"layout.{thing}")
        for mishap_row in planned.mishaps:
            assert words.say(f"until.{mishap_row.until}", number=mishap_row.before or 0)


def test_an_instruction_is_one_short_sentence_that_begins_with_what_to_do() -> None:
    lengths = []
    for planned, _, words in everything():
        for step in planned.steps:
            for sentence in words.instructions(step.task.key):
                text = plain(sentence)
                length = sum(1 if part.measure else len(words_of(part.text)) for part in sentence)
                lengths.append(length)
                assert length <= 20, text
                assert text.endswith(".")
                assert not re.search(r"[.!?] ", text), text
                assert text.split()[0].rstrip(",").lower() in VERBS, text
    # A number with its unit counts as one word (ASD-STE100, from memory).
    assert sum(lengths) / len(lengths) < 9.5
    assert sorted(lengths)[int(len(lengths) * 0.9)] <= 14


def test_titles_checks_and_mistakes_fit_their_lines_with_the_numbers_filled_in() -> None:
    for planned, _, words in everything():
        for step in planned.steps:
            key = step.task.key
            assert len(words.say(f"{key}.title")) <= 28
            assert len(words.say(f"{key}.check")) <= 70, words.say(f"{key}.check")
            mistake = f"{words.say(f'{key}.mistake')} → {words.say(f'{key}.rescue')}"
            assert len(mistake) <= 80, mistake


def test_no_other_sentence_is_longer_than_twenty_five_words() -> None:
    for key in KEYS:
        for sentence in re.split(r"(?<=[.:;]) ", EN.raw(key)):
            assert len(words_of(sentence)) <= 25, key


def test_one_thing_has_one_name() -> None:
    for key in KEYS:
        if key.startswith(("glossary.", "outline.")):
            continue
        text = f" {EN.raw(key).lower()} "
        found = [name for name in OTHER_NAMES if re.search(rf"\b{name}s?\b", text)]
        assert found == [], key


def test_a_label_is_a_noun_of_at_most_three_words() -> None:
    for key in KEYS:
        if key.startswith("label."):
            text = PLACEHOLDER.sub("", EN.raw(key)).strip()
            assert 1 <= len(words_of(text)) <= 3, key
            assert text == text.lower() or text.split()[0] in ("PVC", "TOP", "HOLD"), key


def test_every_word_of_the_glossary_has_a_meaning_and_is_used() -> None:
    said = " ".join(EN.raw(key).lower() for key in KEYS if not key.startswith("glossary."))
    for key in KEYS:
        if key.startswith("glossary.") and not key.partition("@")[0].endswith(".means"):
            assert EN.has(f"{key}.means")
            assert EN.raw(key) in said, key


def test_a_lamp_is_never_called_safe() -> None:
    # Pauses, a table head, an authority's name.
    allowed = ("card.pause", "work.pause", "closing.7", "class.run.late", "class.check.pause")
    assert [k for k in KEYS if re.search(r"\bsafe", EN.raw(k).lower()) and k not in allowed] == []


def test_the_closing_caution_defers_to_the_marking_the_codes_and_the_electrician() -> None:
    said = " ".join(EN.raw(key) for key in KEYS if key.startswith("closing."))
    for part in ("heat", "Unplug", "marked on the lamp holder", "local codes", "licensed electrician"):
        assert part in said
    assert "This sheet explains handwork; it does not certify a lamp or a shade." in said


def test_a_caution_says_hazard_consequence_and_how_to_avoid_it() -> None:
    for item in {c.name: c for name in TECHNIQUES for c in load_technique(name).cautions}.values():
        key = f"caution.{item.name}"
        assert not EN.raw(f"{key}.hazard").endswith(".")
        assert EN.raw(f"{key}.consequence").endswith(".")
        assert EN.raw(f"{key}.avoid").endswith(".")


def test_the_fitter_ring_goes_to_the_edge_marked_top_on_a_pendant_and_opposite_on_a_table_lamp() -> None:
    # Common practice, no source: the fitter sits at the top of a pendant and at the bottom of a table lamp,
    # its recess always inside.
    for name, edge, other in (("pier-drum", "far", "near"), ("ferry-square", "near", "far")):
        _, _, words = sample(name)[0]
        ring, second = (plain(words.instructions("rolled-edge.stop-and-orient")[n]) for n in (1, 2))
        assert ring.startswith(f"Stand the fitter ring at the {edge} edge")
        assert ring.endswith("hub leaning inwards.")
        assert second == f"Stand the plain ring at the {other} edge."


def test_left_hand_changes_ends_in_the_words_but_no_number() -> None:
    _, measures, words = sample("bell-hex")[0]
    said = [plain(sentence) for sentence in words.instructions("rolled-edge.position-panel")]
    assert said[0].endswith("start end right.")
    right = Catalogue(ENGLISH, {k: EN.raw(k) for k in KEYS}, tokens_of({"kiss_cut": False}), dict(measures))
    assert [plain(s) for s in right.instructions("rolled-edge.position-panel")][1:] == said[1:]
