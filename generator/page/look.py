"""What a recipe's text makes of one size, for the side of the page: its five numbers, time and cost.

Or, where the text does not hold, what is wrong and at which of its values.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from generator.base.edition import Voice
from generator.base.errors import InputError, RimfoldError
from generator.base.message import Message
from generator.base.spans import Span
from generator.examine import Examined, examine
from generator.lesson.outcome import NO_DELAY, minutes_over, outcome, refuse_late
from generator.lesson.roster import Roster
from generator.lesson.runs import outlook
from generator.lesson.single import cost_of
from generator.plan.work import Work
from generator.recipe import nodes
from generator.recipe.walk import Place, plain_values, spans
from generator.sheets.cards import plan_minutes, text_of
from generator.sheets.formatting import duration, money
from generator.sheets.kinds.crib_sheet import five_numbers
from generator.sheets.wording import load_words

TEXTS = 16
"""So many texts are kept as they were read."""


@dataclass(frozen=True, slots=True)
class Said:
    """Something that a maker should know of a recipe, and the value that it is about."""

    place: Place
    text: Message
    wrong: bool
    """Whether the recipe cannot be used so; else it is a warning."""
    line: int = 0
    """In which line of the text, where it is about none of its values."""


@dataclass(frozen=True)
class Look:
    """One size as it would be made."""

    work: Work | None
    """None where it cannot be made."""
    said: tuple[Said, ...]
    numbers: tuple[tuple[str, str], ...] = ()
    """Name and value of the five numbers."""
    first: str = ""
    practised: str = ""
    """Time of the work, in words."""
    cost: str = ""
    """What its things cost, with the currency; nothing where the list of prices does not tell."""

    @property
    def good(self) -> bool:
        """Whether it can be made."""
        return self.work is not None


def look(path: Path, text: str, size: str | None, voice: Voice) -> Look:
    """Measure, judge and plan one size of a recipe's text, as if it stood at ``path``.

    Without a size that it has, its first. Nothing is raised: what is wrong is told.
    """
    try:
        examined = examine(path, text, alone=True, only=size or "")
    except InputError as error:
        return Look(None, _said(error, text, path))
    work = examined.works[0]
    said = tuple(
        Said(place_of(text, path, warning.span), warning.text, wrong=False) for warning in examined.warnings
    )
    words = load_words(voice).bound(work.plan, work.measures)
    numbers = tuple(
        (text_of(number.name), f"{text_of(number.value)}{number.unit}")
        for number in five_numbers(work.measures, words)
    )
    return Look(
        work,
        said,
        numbers,
        duration(plan_minutes(work.plan)),
        duration(plan_minutes(work.plan, practised=True)),
        _cost(work, path.parent, voice),
    )


def accept(path: Path, text: str) -> tuple[Examined | None, tuple[Said, ...]]:
    """What ``rimfold check`` says of a text: the whole recipe, its kits and its class, or what is wrong."""
    try:
        examined = examine(path, text)
        if examined.roster and not _in_time(examined.roster):
            # What would help is looked for, which takes long, only where help is needed.
            refuse_late(outcome(examined.roster))
    except InputError as error:
        return None, _said(error, text, path)
    return examined, ()


def of_class(path: Path, text: str) -> str:
    """What stands on a recipe's card of its class: ``late``, ``wrong``, or nothing.

    Without what would help, which takes long: the recipe's own page says that.
    """
    try:
        roster = examine(path, text).roster
        return "late" if roster and not _in_time(roster) else ""
    except RimfoldError:
        return "wrong"


def _in_time(roster: Roster) -> bool:
    """Whether eight classes of ten end in time."""
    return minutes_over(roster, outlook(roster.setup.lesson, roster.taught.seed)) <= NO_DELAY


def place_of(text: str, path: Path, span: Span) -> Place:
    """The value at a place in the text, or the nearest one that encloses it."""
    best: Place = ()
    for place, at in _places(text, path):
        if at.order <= span.order and at.line == span.line:
            best = place
        if at.order == span.order:
            return place
    return best


def place_of_said(said: Said, names: Collection[str]) -> str:
    """The name of the form's field that something is said of, or nothing where no field is that."""
    # What is wrong with a list of two ages is told at the first of them.
    for place in ((*said.place, "0"), *(said.place[:end] for end in range(len(said.place), 0, -1))):
        name = "/".join(("v", *place))
        if name in names:
            return name
    return ""


@lru_cache(maxsize=TEXTS)
def root_of(text: str) -> nodes.Node | None:
    """What a text holds; kept, since a form asks for it once for each of its parts."""
    return nodes.parse_document(text, "").root


@lru_cache(maxsize=TEXTS)
def values(text: str) -> Mapping[Place, str]:
    """Every plain value of a text, as it is written there."""
    return MappingProxyType(dict(plain_values(root_of(text))))


def _said(error: InputError, text: str, path: Path) -> tuple[Said, ...]:
    found = []
    for fault in error.faults:
        own = fault.span.file in ("", str(path))
        place = place_of(text, path, fault.span) if own else ()
        line = fault.span.line if own and not place else 0
        found.append(Said(place, fault.said if own else fault.line, wrong=True, line=line))
    return tuple(dict.fromkeys(found))


def _places(text: str, path: Path) -> Iterator[tuple[Place, Span]]:
    """Every value with the places of its key and of itself, in reading order."""
    return iter(sorted(spans(nodes.parse_document(text, str(path)).root), key=lambda each: each[1].order))


def _cost(work: Work, folder: Path, voice: Voice) -> str:
    try:
        amount, currency = cost_of(work, folder)
    except RimfoldError:
        return ""
    return money(amount, currency, voice)
