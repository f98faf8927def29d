"""Stage headings and step cards as a template shows them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from generator.figures.model import Figure
from generator.plan.model import Plan, Stage, Step
from generator.sheets.document import Subject
from generator.sheets.formatting import duration
from generator.sheets.packing import Block
from generator.sheets.wording import Catalogue, Sentence

ALONE = "tape"
"""The stage that needs no panel: half a class works there while the other half laminates."""


@dataclass(frozen=True, slots=True)
class Tag:
    """A word beside a title; ``look`` is its class in the style sheet."""

    text: str
    look: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Hazard, consequence, how to avoid it."""

    hazard: Sentence
    consequence: Sentence
    avoid: Sentence


@dataclass(frozen=True, slots=True)
class Card:
    """One step."""

    id: str
    more: str
    """Id of its rest, where it stands on two pages."""
    number: int
    title: Sentence
    running: str
    tags: tuple[Tag, ...]
    minutes: str
    cautions: tuple[Caution, ...]
    figure: Figure
    take: str
    pair: Sentence | None
    times: tuple[Sentence, ...]
    """That it is done more than once, and together with which steps."""
    instructions: tuple[Sentence, ...]
    check: Sentence
    mistake: Sentence
    rescue: Sentence
    pause: bool
    gate: bool


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage heading and its cards."""

    id: str
    title: Sentence
    minutes: str
    cards: tuple[Card, ...]
    before_gate: BeforeGate | None


@dataclass(frozen=True, slots=True)
class BeforeGate:
    """What to have ready before work that cannot wait."""

    id: str
    lines: tuple[Sentence, ...]


def step_minutes(step: Step, *, practised: bool = False) -> int:
    """Whole minutes of a step as printed."""
    return step.whole[practised]


def stage_minutes(stage: Stage, *, practised: bool = False) -> int:
    """Sum of a stage's printed minutes."""
    return sum(step_minutes(step, practised=practised) for step in stage.steps)


def plan_minutes(plan: Plan, *, practised: bool = False) -> int:
    """Sum of all printed minutes."""
    return sum(stage_minutes(stage, practised=practised) for stage in plan.stages)


def stage_id(stage: Stage) -> str:
    """Id of a stage's heading on the page."""
    return f"stage-{stage.id}"


def card_id(step: Step) -> str:
    """Id of a step's card on the page."""
    return f"step-{step.id}"


def more_id(step: Step) -> str:
    """Id of the rest of a step's card, where that stands on two pages."""
    return f"{card_id(step)}-more"


def before_id(stage: Stage) -> str:
    """Id of the box before a stage that holds a gate."""
    return f"before-{stage.id}"


def stages(subject: Subject, words: Catalogue) -> tuple[StageView, ...]:
    """All stages with their cards.

    Raises WordingError for a sentence and FigureError for a figure that is missing.
    """
    return tuple(
        StageView(
            stage_id(stage),
            words.rich(f"stage.{stage.id}"),
            duration(stage_minutes(stage)),
            tuple(_card(subject, words, step) for step in stage.steps),
            _before_gate(subject.plan, words, stage),
        )
        for stage in subject.plan.stages
    )


def rules(plan: Plan, *, turned: bool = False) -> Iterator[Block]:
    """Headings and cards with the rules for where a page may end, in order.

    ``turned``: with the rest of each card, which is there where a card stands on two pages.
    """
    chains = chains_of(plan)
    last = plan.steps[-1]
    for position, stage in enumerate(plan.stages):
        opening = stage.steps[0]
        if any(step.task.gate for step in stage.steps):
            yield Block(before_id(stage))
        for step in stage.steps:
            chain = chains.get(step.number, "")
            starts_chain = bool(chain) and chains.get(step.number - 1) != chain
            wish = starts_chain or step is last or (step is opening and (stage.id == ALONE or position == 0))
            if step is opening:
                yield Block(stage_id(stage), wish=wish)
            yield Block(
                card_id(step),
                joined=step is opening,
                chain=chain,
                gate=step.task.gate,
                wish=wish and step is not opening,
                airy=step is not opening,
            )
            if turned:
                yield Block(more_id(step), chain=chain, airy=False)


def chains_of(plan: Plan) -> dict[int, str]:
    """By step number, the chain of those that follow each other without a wait."""
    chains: dict[int, str] = {}
    for before, after in pairwise(plan.steps):
        if before.task.after == "at-once":
            name = chains.setdefault(before.number, f"chain-{before.id}")
            chains[after.number] = name
    return chains


def _card(subject: Subject, words: Catalogue, step: Step) -> Card:
    task = step.task
    given = {"number": step.number}
    things = [words.say(f"tool.{tool}") for tool in task.tools]
    things += [words.say(f"consumable.{thing}") for thing in task.consumables]
    together = task.pair is not None and (step.helper or subject.size.makers.people > 1)
    return Card(
        id=card_id(step),
        more=more_id(step),
        number=step.number,
        title=words.rich(f"{task.key}.title"),
        running=words.say("running.from-step", **given),
        tags=tuple(_tags(subject, words, step)),
        minutes=duration(step_minutes(step)),
        cautions=tuple(caution(words, name) for name in task.cautions),
        figure=subject.figure_of(step),
        take=", ".join(things),
        pair=words.rich(f"pair.{task.pair}") if together else None,
        times=tuple(_times(subject.plan, words, step)),
        instructions=words.instructions(task.key),
        check=words.rich(f"{task.key}.check"),
        mistake=words.rich(f"{task.key}.mistake"),
        rescue=words.rich(f"{task.key}.rescue"),
        pause=task.after == "safe-pause",
        gate=task.gate,
    )


def _times(plan: Plan, words: Catalogue, step: Step) -> Iterator[Sentence]:
    """How often a step is done; steps that must not wait for one another are done together each time."""
    if step.times == 1:
        return
    yield words.rich(f"times.{step.task.times}")
    chains = chains_of(plan)
    chain = [other.number for other in plan.steps if chains.get(other.number, "") == chains.get(step.number)]
    if chain:
        yield words.rich(f"times.{step.task.times}.chain", first=chain[0], last=chain[-1])


def caution(words: Catalogue, name: str) -> Caution:
    """The three parts of a caution. Raises WordingError if one is missing."""
    key = f"caution.{name}"
    return Caution(words.rich(f"{key}.hazard"), words.rich(f"{key}.consequence"), words.rich(f"{key}.avoid"))


def _tags(subject: Subject, words: Catalogue, step: Step) -> Iterator[Tag]:
    task = step.task
    if step.adult:
        yield Tag(words.say("tag.adult"), "adult")
    if step.helper:
        yield Tag(words.say("tag.helper"), "plain")
    elif task.pair and (subject.size.makers.people > 1 or task.most_hands > 2 or task.gate):
        yield Tag(words.say("tag.pair"), "plain")
    if task.after == "at-once":
        yield Tag(words.say("tag.at-once"), "no-wait")
    if task.irreversible:
        yield Tag(words.say("tag.irreversible"), "no-undo")


def _before_gate(plan: Plan, words: Catalogue, stage: Stage) -> BeforeGate | None:
    gate = next((step for step in stage.steps if step.task.gate), None)
    if gate is None:
        return None
    chains = chains_of(plan)
    chain = [step for step in plan.steps if chains.get(step.number) == chains.get(gate.number)] or [gate]
    given = {
        "minutes": sum(step_minutes(step) for step in chain),
        "first": chain[0].number,
        "last": chain[-1].number,
    }
    lines = tuple(
        words.rich(f"before-roll.{part}", **given) for part in ("bench", "people", "minutes", "liners")
    )
    return BeforeGate(before_id(stage), lines)


def text_of(sentence: Sentence) -> str:
    """A sentence as plain text."""
    return "".join(segment.text for segment in sentence)
