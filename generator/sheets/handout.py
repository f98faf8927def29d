"""What one person of a class gets: measures to compare, steps to tick, a card to take home.

The views know nothing of pages; ``handout_pages.py`` has those.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.figures.model import Figure
from generator.plan.model import Plan, Step
from generator.sheets import cards, front, last
from generator.sheets.cards import Card, chains_of, step_minutes
from generator.sheets.context import subline
from generator.sheets.document import Subject
from generator.sheets.formatting import duration
from generator.sheets.origin import ranges
from generator.sheets.wording import Catalogue, Sentence

BENCHES = ("lamination_bench", "rolling_bench")
"""Lengths of table that work at home needs."""


@dataclass(frozen=True, slots=True)
class Row:
    """A step with its box to tick."""

    card: Card
    do: tuple[Sentence, ...]
    ahead: str = ""
    """That the tutor has done it; empty: it is done in the class."""


@dataclass(frozen=True, slots=True)
class StageRow:
    """A line above the steps of a stage."""

    id: str
    title: Sentence
    minutes: str
    steps: str
    rows: tuple[str, ...]
    """Ids of its steps."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A place where the work may rest, and what comes after it."""

    after: int
    next: int
    task: Sentence
    """What the next step is called."""
    minutes: str
    """To the next such place, or to the end."""
    rest: str
    """To the end of the work."""
    at_once: str
    """Steps on the way to the next such place that follow one another without a wait; empty: none do."""


@dataclass(frozen=True, slots=True)
class Handout:
    """All that stands on it."""

    maker: str | None
    title: str
    subline: Sentence
    size: str
    silhouette: Figure
    five: tuple[front.Number, ...]
    fitter: Sentence
    direction: Sentence
    cloth: Sentence
    undone: str
    adults: str
    """Steps that a named adult does; empty where the makers are grown up."""
    room: tuple[Sentence, ...]
    stages: tuple[StageRow, ...]
    rows: Mapping[str, Row]
    """By the id of its card."""
    checks: tuple[last.Check, ...]
    """By their numbers in the last picture."""
    lamp_checks: tuple[last.Check, ...]
    stops: tuple[Stop, ...]
    benches: Sentence
    closing: tuple[Sentence, ...]


def handout(subject: Subject, words: Catalogue, *, pre_cut: bool = False) -> Handout:
    """The views of one size; ``pre_cut``: the tutor has cut the cloth before the class.

    Raises WordingError, and FigureError for a picture that is missing.
    """
    plan, size = subject.plan, subject.size
    steps = {step.number: step for step in plan.steps}
    stages = cards.stages(subject, words)
    whole = subject.silhouette
    assert whole is not None  # every document that shows steps has it
    return Handout(
        maker=size.maker.name if size.maker else None,
        title=words.say("title"),
        subline=subline(size, words),
        size=size.name,
        silhouette=whole,
        five=front.five_numbers(subject.measures, words),
        fitter=words.rich(f"strip.fitter.{size.fitter_end}"),
        direction=words.rich(f"strip.print.{size.covering.direction}"),
        cloth=words.rich("handout.cloth", cloth=size.covering.name),
        undone=ranges([step.number for step in plan.steps if step.task.irreversible]),
        adults=ranges([step.number for step in plan.steps if step.adult]),
        room=tuple(last.numbered(words, "room")),
        stages=tuple(
            StageRow(
                stage.id,
                stage.title,
                stage.minutes,
                ranges([card.number for card in stage.cards]),
                tuple(card.id for card in stage.cards),
            )
            for stage in stages
        ),
        rows={
            card.id: Row(
                card,
                words.brief(steps[card.number].task.key),
                words.say("handout.ahead") if pre_cut and steps[card.number].task.ahead else "",
            )
            for stage in stages
            for card in stage.cards
        },
        checks=last.checks(words),
        lamp_checks=last.lamp_checks(subject.measures, words),
        stops=tuple(stops(plan, words)),
        benches=words.rich("handout.benches"),
        closing=tuple(last.closing(subject, words)),
    )


def figures_of_all(members: Sequence[Subject]) -> tuple[Figure, ...]:
    """The figures of several subjects, told apart by their ids."""
    return tuple(
        replace(figure, id=f"{number}-{figure.id}")
        for number, member in enumerate(members)
        for figure in member.figures
    )


def stops(plan: Plan, words: Catalogue) -> Iterator[Stop]:
    """Every place to stop, in order, with the printed minutes that are left."""
    places = [k for k, step in enumerate(plan.steps) if step.task.after == "safe-pause"]
    for place, following in zip(places, [*places[1:], len(plan.steps) - 1], strict=True):
        ahead, left = plan.steps[place + 1 : following + 1], plan.steps[place + 1 :]
        if not left:
            continue
        yield Stop(
            plan.steps[place].number,
            left[0].number,
            words.rich(f"{left[0].task.key}.title"),
            duration(_minutes(ahead)),
            duration(_minutes(left)),
            ", ".join(_chains(plan, ahead)),
        )


def _minutes(steps: Sequence[Step]) -> int:
    return sum(step_minutes(step) for step in steps)


def _chains(plan: Plan, steps: Sequence[Step]) -> Iterator[str]:
    """Each run of steps without a wait, first and last."""
    chains = chains_of(plan)
    for name in dict.fromkeys(chains[step.number] for step in steps if step.number in chains):
        yield ranges([step.number for step in plan.steps if chains.get(step.number) == name])


def numbers(subject: Subject, words: Catalogue) -> Iterator[str]:
    """Texts whose numbers stand on it besides measures, step numbers and minutes of steps and stages."""
    for stop in stops(subject.plan, words):
        yield from (stop.minutes, stop.rest, stop.at_once)
    yield ranges([step.number for step in subject.plan.steps if step.task.irreversible])
