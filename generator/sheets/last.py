"""The last page as a template shows it: checks, faults by what is seen, closing caution, care."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.measures.measure import Measures
from generator.plan.model import Mishap, Plan
from generator.sheets.document import Subject
from generator.sheets.wording import Catalogue, Sentence

CHECKS = ("height", "width", "seam", "rim", "level")
"""The five checks by their numbers in the last figure."""
LAMP_CHECKS = {"lamp": "lamp_gap", "lamp-end": "lamp_gap_end"}
"""Checks that need a lamp, and the measure that must be there."""


@dataclass(frozen=True, slots=True)
class Check:
    """What to look at and what passes."""

    what: Sentence
    passes: Sentence


@dataclass(frozen=True, slots=True)
class Fault:
    """A row of the table of faults."""

    see: Sentence
    step: int
    cause: Sentence
    until: Sentence
    mend: Sentence


def checks(words: Catalogue) -> tuple[Check, ...]:
    """The five checks of a finished shade."""
    return tuple(_check(words, name) for name in CHECKS)


def lamp_checks(measures: Measures, words: Catalogue) -> tuple[Check, ...]:
    """What to check with the lamp in its holder."""
    return tuple(_check(words, name) for name, needed in LAMP_CHECKS.items() if needed in measures)


def _check(words: Catalogue, name: str) -> Check:
    return Check(words.rich(f"checks.{name}"), words.rich(f"checks.{name}.value"))


def faults(plan: Plan, words: Catalogue) -> tuple[Fault, ...]:
    """Faults that a finished shade may show, in the order of the steps that cause them.

    What must be mended before a certain later step stands on its card, while there is time.
    """
    return tuple(_fault(words, mishap) for mishap in plan.mishaps if mishap.until != "before")


def all_faults(plan: Plan, words: Catalogue) -> tuple[Fault, ...]:
    """Every fault, also those that a card tells in time, one a mishap."""
    return tuple(_fault(words, mishap) for mishap in plan.mishaps)


def _fault(words: Catalogue, mishap: Mishap) -> Fault:
    return Fault(
        words.rich(mishap.word("see")),
        mishap.step,
        words.rich(mishap.word("mistake")),
        words.rich(f"until.{mishap.until}", number=mishap.before or 0),
        words.rich(mishap.word("rescue")),
    )


def closing(subject: Subject, words: Catalogue) -> Iterator[Sentence]:
    """The lines of the closing caution."""
    yield from numbered(words, "closing")
    if any(step.adult for step in subject.plan.steps):
        yield words.rich("closing.adult")
    if subject.size.lamp is None or subject.size.lamp.watts is None:
        yield words.rich("watts.missing")


def numbered(words: Catalogue, prefix: str) -> Iterator[Sentence]:
    """Sentences ``prefix.1``, ``prefix.2`` and so on, as many as there are."""
    number = 1
    while words.has(f"{prefix}.{number}"):
        yield words.rich(f"{prefix}.{number}")
        number += 1
