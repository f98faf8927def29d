"""Plain language, by rules: English in full, and for every shipped language what a rule can tell.

Limits after ASD-STE100 (issue 8, from memory: 20 words in an instruction, 25 in a description, six
sentences in a paragraph, clusters of at most three nouns, one name for one thing, active voice). What is not
held: STE wants one act in a sentence, here two or three that belong together may stand in one ("Lift the end
and fold the liner back"); and its dictionary of allowed words is not used. A rule finds a passive by its form
alone, so that a state ("the shade is finished") counts as one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.base.assets import data_folder, languages
from generator.base.edition import Voice
from generator.base.words import PLACEHOLDER
from generator.plan.work import Work
from generator.sheets.catalogues import Counted, messages
from generator.sheets.compose import compose
from generator.sheets.wording import Catalogue, load_words
from tests.sheets.subjects import subject_of, works
from tests.sheets.test_english_wording import SAMPLES, VERBS


@dataclass(frozen=True)
class Limits:
    """How long a language's sentences may be, in words; a number with its unit is one."""

    instruction: int
    sentence: int
    paragraph: int = 6
    """Sentences."""


LIMITS: Mapping[str, Limits] = {
    "en": Limits(20, 25),
    # One word may be a whole noun phrase; verbs have prefixes that stand apart.
    "de": Limits(18, 22),
    # Articles and prepositions that English leaves out.
    "fr": Limits(24, 24),
    "es": Limits(24, 24),
}
INSTRUCTION = re.compile(r"\.(do|brief)\.\d")
EN = load_words(Voice())
KEYS = tuple(EN.keys())

# What begins an instruction beside the verbs of the cards: what a tutor does in a class.
TUTOR = {"close", "confirm", "print", "show", "stay", "walk"}
# Or a condition, said before what depends on it.
CONDITIONS = {"after", "before", "if", "once", "only", "where", "while", "with"}
# Words that may follow another act in the same sentence.
ACTS = VERBS | {"count", "free", "release", "remove", "wait", "reach", "close"}
# Words of labels and of the glossary that are no nouns.
NO_NOUNS = {
    "a", "above", "across", "after", "and", "back", "below", "both", "burnish", "by", "cut", "equal",
    "first", "flush", "folded", "from", "full", "goes", "hanging", "here", "hidden", "hold", "in",
    "inside", "inwards", "is", "it", "last", "left", "like", "more", "narrow", "next", "not", "of", "on",
    "only", "open", "or", "other", "out", "outside", "over", "plain", "raw", "read", "right", "rolled",
    "seen", "set", "small", "standing", "start", "still", "stops", "the", "this", "through", "to",
    "tucked", "turned", "turns", "underneath", "up", "way", "wide", "wrong",
}  # fmt: skip
PASSIVE = re.compile(
    r"\b(?:is|are|be|been|being|was|were)\s+(?:\w+ly\s+|not\s+|never\s+)?"
    r"(?!open\b|then\b|uneven\b|even\b)(\w+(?:ed|en|awn|own|orn|aid|ept|ung|ound)|cut|put|set|shut)\b"
)
# English words that no other language here has, neither as a word of its own nor as a term.
ENGLISH = (
    "the", "and", "with", "your", "until", "each", "every", "which", "both", "from", "that", "cloth", "shade",
    "steps", "then", "before", "edge", "turn",
)  # fmt: skip


def words_of(text: str) -> list[str]:
    """Words, with a value and its unit as one."""
    return [word for word in PLACEHOLDER.sub("X", text).split() if re.search(r"\w", word)]


def sentences_of(text: str) -> list[str]:
    """Sentences; a colon or semicolon ends one too, as STE counts."""
    return [part for part in re.split(r"(?<=[.!?:;])\s+", text) if part]


@cache
def texts(language: str) -> dict[str, str]:
    """What a language says itself, key by key; each text for itself where a number chooses one."""
    found = messages(Voice(language))
    own = {key: text for key, text in found.texts.items() if key not in set(found.borrowed)}
    return {
        f"{key}[{index}]" if index else key: each
        for key, text in own.items()
        for index, each in enumerate(text.texts if isinstance(text, Counted) else (text,))
    }


def instructions() -> Iterator[tuple[str, str]]:
    return ((key, text) for key, text in texts("en").items() if INSTRUCTION.search(key))


def test_every_shipped_language_has_limits_of_its_own() -> None:
    assert set(LIMITS) == set(languages())


@pytest.mark.parametrize("language", LIMITS)
def test_no_sentence_is_longer_than_its_language_allows(language: str) -> None:
    limits = LIMITS[language]
    found = {
        key: sentence
        for key, text in texts(language).items()
        for sentence in sentences_of(text)
        if len(words_of(sentence)) > (limits.instruction if INSTRUCTION.search(key) else limits.sentence)
    }
    assert found == {}


@pytest.mark.parametrize("language", LIMITS)
def test_no_paragraph_has_more_than_six_sentences(language: str) -> None:
    most = LIMITS[language].paragraph
    paragraphs = dict(texts(language))
    # These are printed as one paragraph.
    for name in ("room", "care"):
        parts = [text for key, text in paragraphs.items() if re.fullmatch(rf"{name}\.\d+", key)]
        assert parts
        paragraphs[name] = " ".join(parts)
    counts = {key: len(re.split(r"(?<=[.!?])\s+", text)) for key, text in paragraphs.items()}
    assert {key: count for key, count in counts.items() if count > most} == {}


@pytest.mark.parametrize("language", [code for code in LIMITS if code != "en"])
def test_no_english_word_is_left_in_another_language(language: str) -> None:
    found = {
        (key, word)
        for key, text in texts(language).items()
        for word in re.findall(r"[^\W\d_]+", PLACEHOLDER.sub(" ", text).lower())
        if word in ENGLISH
    }
    assert found == set()


def test_an_instruction_begins_with_what_to_do_or_with_its_condition() -> None:
    begins = {key: re.split(r"[ ,:;]", text)[0].lower() for key, text in instructions()}
    allowed = VERBS | TUTOR | CONDITIONS
    assert {key: word for key, word in begins.items() if word not in allowed} == {}
    # A condition is the exception: nearly all begin with the verb.
    conditions = [key for key, word in begins.items() if word in CONDITIONS]
    assert len(conditions) * 20 <= len(begins)


def acts_in(text: str) -> int:
    """How many acts a sentence asks for: one, and one more for each verb that a comma or "and" leads in."""
    verbs = "|".join(sorted(ACTS))
    more = re.findall(
        rf"(?:[;,:]|\band\b|\bthen\b)\s+(?:and\s+|then\s+|\w+ly\s+)?(?:{verbs})\b"
        r"(?!\s+(?:of|is|mark|line|end|edge)\b)",
        PLACEHOLDER.sub("X", text),
    )
    return 1 + len(more)


def test_a_sentence_asks_for_one_act_or_few_that_belong_together() -> None:
    counts = {key: acts_in(text) for key, text in instructions() if ".do." in key}
    assert {key: count for key, count in counts.items() if count > 3} == {}
    assert sum(count == 1 for count in counts.values()) >= 0.8 * len(counts)


def test_acts_are_counted_as_a_reader_counts_them() -> None:
    assert acts_in("Cut along the line.") == 1
    assert acts_in("Take out and count the pins; cut along the line.") == 3
    assert acts_in("Lay the start edge on the mark, set square.") == 2


def test_nobody_is_told_what_is_done_instead_of_what_to_do() -> None:
    kinds = (
        r"\.do\.",
        r"\.brief\.",
        r"\.rescue",
        r"^caution\.",
        r"^closing\.",
        r"^room\.",
        r"^before-roll\.",
    )
    told = {key: text for key, text in texts("en").items() if any(re.search(kind, key) for kind in kinds)}
    found = {key: match[0] for key, text in told.items() if (match := PASSIVE.search(text))}
    # A class's tutor waits for a state: no act of the tutor's own.
    assert set(found) <= {"class.do.prepare", "class.do.roll"}, found
    everything = [key for key, text in texts("en").items() if PASSIVE.search(text)]
    assert len(everything) * 30 <= len(KEYS)


def test_a_passive_is_found_by_its_form() -> None:
    assert PASSIVE.search("The liner is peeled off.")
    assert (
        PASSIVE.search("The edges are then cut.") is None
    )  # a limit of the rule: one word may stand between
    assert PASSIVE.search("The kiss cut is open.") is None


@cache
def nouns() -> frozenset[str]:
    named = re.compile(r"(label|glossary|tool|consumable)\.")
    found: set[str] = set()
    for key, text in texts("en").items():
        if named.match(key) and not key.partition("@")[0].endswith(".means"):
            found |= set(re.findall(r"[a-z-]+", PLACEHOLDER.sub(" ", text).lower()))
    return frozenset(found - NO_NOUNS)


def clusters(text: str) -> Iterator[list[str]]:
    """Nouns in a row; a number, a sign or the end of a possessive ends it."""
    for piece in re.split(r"[^a-z' -]+|'s?\b", PLACEHOLDER.sub(" . ", text).lower()):
        row: list[str] = []
        for word in [*piece.split(), ""]:
            if word in nouns() or word.removesuffix("s") in nouns():
                row.append(word)
                continue
            if row:
                yield row
            row = []


def test_no_more_than_three_nouns_stand_in_a_row() -> None:
    assert {"cloth", "margin", "seam", "tape", "ring", "strut"} <= nouns()
    found = {
        (key, " ".join(row)) for key, text in texts("en").items() for row in clusters(text) if len(row) > 3
    }
    assert found == set()
    assert max(len(row) for text in texts("en").values() for row in clusters(text)) == 3


@cache
def every_work() -> tuple[Work, ...]:
    recipes = (works(data_folder("recipes") / f"{name}.yaml") for name in SAMPLES)
    return tuple(work for sizes in recipes for work in sizes.values())


def named(work: Work) -> str:
    return f"{work.size.recipe}/{work.size.name}"


@pytest.mark.parametrize("work", every_work(), ids=named)
def test_tools_and_materials_of_the_plan_are_those_of_its_steps(work: Work) -> None:
    used = {tool for step in work.plan.steps for tool in step.task.tools}
    taken = {thing for step in work.plan.steps for thing in step.task.consumables}
    assert set(work.plan.tools) == used
    assert set(work.plan.consumables) == taken
    assert len(work.plan.tools) == len(used)
    assert len(work.plan.consumables) == len(taken)


def page(work: Work) -> ElementTree.Element:
    return ElementTree.fromstring(compose("steps-text", subject_of(work)).html)


def said(element: ElementTree.Element) -> str:
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize("work", every_work(), ids=named)
def test_what_a_sheet_lists_is_what_its_steps_take_both_ways(work: Work) -> None:
    words = EN.bound(work.plan, work.measures)
    sections = {section.get("id", ""): section for section in page(work).iter("section")}
    listed = {said(entry) for id_ in ("lay-out", "tools") for entry in sections[id_].iter("li")}
    take = words.say("card.take")
    taken: set[str] = set()
    for id_, section in sections.items():
        if id_.startswith("step-"):
            lines = [said(each) for each in section.iter("p") if said(each).startswith(take)]
            taken |= {name for line in lines for name in line.removeprefix(take).strip().split(", ")}
    things = [("tool", name) for name in work.plan.tools]
    things += [("consumable", name) for name in work.plan.consumables]
    assert taken == {words.say(f"{kind}.{name}") for kind, name in things}
    assert listed == {words.say(f"layout.{name}") for _, name in things}


# Tools whose name a sentence uses only of the tool itself.
TELLING = ("seam-roller", "lint-roller", "tucking-tool", "set-square", "paper-strip", "strip-compass", "pegs")


@pytest.mark.parametrize("work", every_work(), ids=named)
def test_no_instruction_names_a_tool_that_is_not_taken(work: Work) -> None:
    words = EN.bound(work.plan, work.measures)
    checked = 0
    for step in work.plan.steps:
        text = " ".join(said_of(words, step.task.key)).lower()
        for tool in TELLING:
            if words.say(f"tool.{tool}").removesuffix("s") in text:
                assert tool in work.plan.tools, (step.id, tool)
                checked += 1
    assert checked >= 3


def said_of(words: Catalogue, key: str) -> Iterator[str]:
    return ("".join(part.text for part in sentence) for sentence in words.instructions(key))


# A row of a language's table of terms: English, the term, a note.
ROW = re.compile(r"^\| (?P<english>[^|]+) \| (?P<term>[^|]+) \|", re.MULTILINE)


def glossary_table(language: str) -> dict[str, tuple[str, ...]]:
    """Terms by English name, for those that the English glossary has; nothing where there is no table."""
    names = {
        text.lower()
        for key, text in texts("en").items()
        if key.startswith("glossary.") and not key.partition("@")[0].endswith(".means")
    }
    path = Path(str(data_folder("templates"))) / "wording" / language / "README.md"
    found: dict[str, tuple[str, ...]] = {}
    for row in ROW.finditer(path.read_text(encoding="utf-8")):
        english = [re.sub(r"\s*\(.*?\)", "", each).strip().lower() for each in row["english"].split(",")]
        terms = [re.sub(r"\s*\(.*?\)", "", each).strip().lower() for each in row["term"].split(",")]
        pairs = (
            zip(english, terms, strict=True)
            if len(english) == len(terms)
            else ((each, terms[0]) for each in english)
        )
        for name, term in pairs:
            if name in names:
                found[name] = (*found.get(name, ()), term)
    return found


TABLED = ("de", "es", "fr")
"""Languages whose terms stand in a table."""


@pytest.mark.parametrize("language", TABLED)
def test_every_term_of_a_language_is_used_and_its_english_name_never_is(language: str) -> None:
    table = glossary_table(language)
    assert len(table) > 12
    text = PLACEHOLDER.sub(" ", " ".join(texts(language).values())).lower()
    for english, terms in table.items():
        assert any(term in text for term in terms), english
        if english not in terms and english not in SAME[language]:
            assert not re.search(rf"(?<!\w){re.escape(english)}(?!\w)", text), english


SAME: Mapping[str, frozenset[str]] = {
    "de": frozenset(),
    "es": frozenset(),
    "fr": frozenset({"joint"}),
}
"""English names that are words of this language too, of another meaning."""
