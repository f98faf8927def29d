"""The text edition as a template shows it: the views of the step sheet, and every figure in words.

What a figure tells piece by piece comes from ``figures/told.py``; nothing here names a step or a figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from generator.base.words import on_the_line
from generator.figures.model import Figure
from generator.measures.measure import Measures
from generator.sheets import front
from generator.sheets.called import label_of
from generator.sheets.document import Subject
from generator.sheets.formatting import out_of_drawing
from generator.sheets.wording import Catalogue

SIGNS = ("diameter", "by", "within", "at-most", "to")
"""Signs that numbers carry: not every reading voice knows them."""


@dataclass(frozen=True, slots=True)
class PictureView:
    """A figure in words: its one sentence, then a line for each kind of thing that stands in it."""

    sentence: str
    lines: tuple[str, ...]


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """Pictures by step number, 0 for that of the whole; the table of work without bare dashes; the signs.

    Raises WordingError for a part that is drawn and has no name.
    """
    nothing = words.say("told.nothing")
    return {
        "pictures": {
            figure.number: PictureView(figure.alt, tuple(lines(figure, subject.measures, words)))
            for figure in subject.figures
        },
        "work_rows": tuple(
            replace(row, irreversible=_or(row.irreversible, nothing), pause=_or(row.pause, nothing))
            for row in front.work(subject.plan, words)
        ),
        "groups": front.measure_groups(subject.measures, words),
        "address": subject.size.link,
        "signs": tuple(words.say(f"told.sign.{sign}") for sign in SIGNS),
    }


def lines(figure: Figure, measures: Measures, words: Catalogue) -> Iterator[str]:
    """All that a figure tells besides its sentence. Raises WordingError for a part without a name."""
    told = figure.told
    yield words.say(f"told.view.{told.view}")
    if told.turned:
        yield words.say("told.turned")
    if figure.number:
        # The picture of the whole belongs to no step.
        yield from _listed("new", (_part(part, words) for part in told.new), words)
    yield from _listed("removed", (_part(part, words) for part in told.removed), words)
    at_work = [words.say("told.hands")] if told.hands else []
    yield from _listed("at-work", [*at_work, *(_part(tool, words) for tool in told.tools)], words)
    yield from _listed("names", map(on_the_line, told.names), words)
    for name in dict.fromkeys(name for name, _ in told.dimensions):
        measure = measures[name]
        shown = (
            out_of_drawing(text, measure, words.voice) for other, text in told.dimensions if other == name
        )
        yield words.say(
            "told.measure", name=label_of(measure, words), value=words.say("told.semicolon").join(shown)
        )
    yield from _listed("stages", told.stages, words)
    yield from _listed("numbers", told.numbers, words)
    yield from _listed("details", told.details, words)
    if told.enlarged and not told.details:
        yield words.say("told.enlarged")


def _listed(key: str, found: Iterable[str], words: Catalogue) -> Iterator[str]:
    """A line that names several things: names have commas of their own."""
    several = tuple(dict.fromkeys(found))
    if several:
        yield words.say(f"told.{key}", listed=words.say("told.semicolon").join(several))


def _part(part: str, words: Catalogue) -> str:
    """What a part of a drawing is called: by a name of its own, or as labels call it."""
    own = f"told.part.{part}"
    return words.say(own if words.has(own) else f"label.{part}")


def _or(text: str, nothing: str) -> str:
    return text if any(sign.isdigit() for sign in text) else nothing
