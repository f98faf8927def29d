"""The plan as a whole, as a template shows it: for a tutor, or whoever else prepares the work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from generator.base.edition import Form
from generator.figures.model import Figure
from generator.figures.outlook import board_of
from generator.figures.pair_chart import ticks
from generator.plan.critical import Pace
from generator.plan.model import Plan, Stage, Step
from generator.plan.outlook import PACES, Outlook, chains
from generator.plan.pair import PairPlan, Turn
from generator.sheets import last, narrow, origin
from generator.sheets.document import Subject
from generator.sheets.formatting import numbers_of
from generator.sheets.packing import Block
from generator.sheets.why import phrase
from generator.sheets.wording import Catalogue, Sentence

_LEFT, _RIGHT = ("needs", "earlier", "free"), ("waits", "later")
"""Reasons that stand in the first and in the second column below a step; others follow below."""
_MARKED = ("followed", "pause", "undone")
"""Reasons that a mark beside the step tells."""
PERSONS = ("first", "second")
"""The two people, by what their names in the catalogues end with."""
_LOOKS = {"irreversible": "no-undo", "at-once": "no-wait", "pause": "rest", "adult": "adult"}
"""Marks in a narrow cell, and the class of each in the style sheet."""


@dataclass(frozen=True, slots=True)
class Fact:
    """A row of the table on the first page: minutes at both paces."""

    name: str
    first_time: str
    practised: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A short word beside a step, and its class."""

    text: str
    look: str


@dataclass(frozen=True, slots=True)
class Row:
    """A step in the table step by step."""

    number: int
    title: Sentence
    critical: bool
    first_time: str
    practised: str
    slack: str
    needs: str
    waiting: str
    marks: tuple[Mark, ...]
    left: tuple[str, ...]
    """Reasons about what comes before."""
    right: tuple[str, ...]
    """Reasons about what follows."""
    more: str
    """Other reasons that no mark tells."""


@dataclass(frozen=True, slots=True)
class StageRows:
    """The steps of one stage."""

    id: str
    title: Sentence
    first_time: str
    practised: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Named:
    """A step by its number and title, with what is told of it."""

    number: int
    title: Sentence
    first_time: str = ""
    practised: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Chain:
    """Steps that must go on at once."""

    steps: str
    first: Sentence
    last: Sentence
    first_time: str
    practised: str


@dataclass(frozen=True, slots=True)
class Part:
    """What one of two people does from one minute to another; no step: free."""

    start: str
    end: str
    step: int | None
    what: Sentence
    both: bool


@dataclass(frozen=True, slots=True)
class Person:
    """One of two people and all that is theirs."""

    id: str
    name: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two people at one pace."""

    id: str
    title: str
    saved: Sentence
    standing: Sentence
    chart: Figure | None
    people: tuple[Person, ...]


@dataclass(frozen=True, slots=True)
class WorkPlan:
    """Everything that these pages tell."""

    silhouette: Figure
    facts: tuple[Fact, ...]
    paths: tuple[Sentence, ...]
    order: Sentence
    graph: Figure | None
    pauses: tuple[Named, ...]
    chains: tuple[Chain, ...]
    undone: tuple[Named, ...]
    adults: tuple[Named, ...]
    helpers: tuple[Named, ...]
    marks: tuple[tuple[Mark, str], ...]
    stages: tuple[StageRows, ...]
    pairs: tuple[Pair, ...]
    twice: Sentence | None
    faults: tuple[last.Fault, ...]


def view(subject: Subject, ahead: Outlook, words: Catalogue) -> WorkPlan:
    """The pages of a plan. Raises WordingError for a sentence, FigureError for a drawing that is missing."""
    plan, steps, board = ahead.plan, ahead.plan.steps, board_of(subject.form)
    stages = tuple(_stage(stage, ahead, words) for stage in plan.stages)
    used = {mark.look: mark for stage in stages for row in stage.rows for mark in row.marks}
    tools = sorted({tool for pair in ahead.pairs.values() for tool in pair.twice}, key=plan.tools.index)
    return WorkPlan(
        silhouette=subject.drawing("silhouette-small"),
        facts=tuple(_facts(ahead, words)),
        paths=tuple(
            words.rich(f"plan.path.{_slug(pace)}", steps=origin.ranges(ahead.paths[pace].steps))
            for pace in PACES
        ),
        order=origin.order_standing(plan, words),
        graph=subject.drawing("plan-graph") if board.graph else None,
        pauses=tuple(_pauses(plan, words)),
        chains=tuple(_chain(chain, words) for chain in chains(plan)),
        undone=tuple(_named(step, words) for step in steps if step.task.irreversible),
        adults=tuple(_named(step, words, _tools(step, words)) for step in steps if step.adult),
        helpers=tuple(_named(step, words) for step in steps if step.helper),
        marks=tuple(
            (used[look], words.say(f"plan.mark.{name}")) for name, look in _LOOKS.items() if look in used
        ),
        stages=stages,
        pairs=tuple(_pair(subject, ahead, pace, words) for pace in PACES),
        twice=words.rich("pair.twice", tools=", ".join(words.say(f"tool.{tool}") for tool in tools))
        if tools
        else None,
        faults=last.all_faults(plan, words),
    )


def rules(plan: Plan, form: Form) -> Iterator[Block]:
    """Blocks of these pages, in order, with the rules for where a page may end."""
    yield Block("plan-front")
    if form.narrow:
        yield from _narrow(plan)
    else:
        yield Block("plan-glance", airy=False)
        yield Block("plan-graph", wish=True)
        yield Block("plan-steps", wish=True)
        for place, stage in enumerate(plan.stages):
            yield Block(f"plan-{stage.id}", joined=place == 0, airy=place > 0)
        yield Block("plan-pair", wish=True)
        yield Block("plan-turns", joined=True)
        yield Block("plan-faults", wish=True)


def _narrow(plan: Plan) -> Iterator[Block]:
    """In one column: step by step, and each person's steps as a list."""
    for part in ("facts", "standing"):
        yield Block(f"plan-{part}", airy=False)
    for part in ("pauses", "chains", "undone", "adults", "helpers"):
        yield from narrow.rows(f"plan-{part}")
    yield Block("plan-steps", wish=True)
    for place, stage in enumerate(plan.stages):
        yield Block(f"plan-{stage.id}", joined=place == 0)
        for step in stage.steps:
            yield Block(f"plan-step-{step.number}", joined=step is stage.steps[0])
    yield Block("plan-pair", wish=True)
    for pace in PACES:
        yield Block(f"plan-{_slug(pace)}")
        for person in PERSONS:
            yield from narrow.rows(f"plan-{_slug(pace)}-{person}")
    yield Block("plan-twice", airy=False)
    yield from narrow.rows("plan-faults", wish=True)


def numbers(subject: Subject, ahead: Outlook, words: Catalogue) -> frozenset[str]:
    """Texts whose numbers may stand on these pages beside those of every sheet: minutes that follow from the
    printed ones, and what the order costs."""
    found: set[float] = {1, 2}
    for pace in PACES:
        path, pair = ahead.paths[pace], ahead.pairs[pace]
        found |= {path.length, pair.minutes, pair.alone, pair.saved, pair.bound, _rests(ahead.plan)}
        found |= {step.rest for step in ahead.plan.steps}
        found |= set(path.slack.values())
        found |= {minute for turn in pair.turns for minute in (turn.start, turn.end)}
        found |= set(ticks(pair, board_of(subject.form).width))
        found |= set(_running(ahead.plan, pace))
        found |= {_sum(chain, pace) for chain in chains(ahead.plan)}
        found |= {_sum(stage.steps, pace) for stage in ahead.plan.stages}
    return frozenset({_whole(minutes, words) for minutes in found} | origin.order_numbers(ahead.plan))


def _facts(ahead: Outlook, words: Catalogue) -> Iterator[Fact]:
    rests = _rests(ahead.plan)
    rows = {
        "alone": [ahead.pairs[pace].alone for pace in PACES],
        "rests": [rests, rests],
        "critical": [ahead.paths[pace].length for pace in PACES],
        "pair": [ahead.pairs[pace].minutes for pace in PACES],
        "saved": [ahead.pairs[pace].saved for pace in PACES],
    }
    for name, (first, practised) in rows.items():
        if name != "rests" or rests:
            yield Fact(words.say(f"plan.fact.{name}"), _minutes(first, words), _minutes(practised, words))


def _stage(stage: Stage, ahead: Outlook, words: Catalogue) -> StageRows:
    first, practised = (_whole(_sum(stage.steps, pace), words) for pace in PACES)
    return StageRows(
        f"plan-{stage.id}",
        words.rich(f"stage.{stage.id}"),
        first,
        practised,
        tuple(_row(step, ahead, words) for step in stage.steps),
    )


def _row(step: Step, ahead: Outlook, words: Catalogue) -> Row:
    path = ahead.paths["first_time"]
    by_kind = {reason.kind: reason for reason in step.why}

    def said(kinds: Iterable[str]) -> tuple[str, ...]:
        return tuple(phrase(reason, words) for kind, reason in by_kind.items() if kind in kinds)

    return Row(
        number=step.number,
        title=words.rich(f"{step.task.key}.title"),
        critical=step.number in path.steps,
        first_time=_whole(step.minutes.first_time, words),
        practised=_whole(step.minutes.practised, words),
        slack=_whole(path.slack[step.number], words),
        needs=_listed(step.from_steps.values()),
        waiting=_listed(number for several in step.to_steps.values() for number in several),
        marks=tuple(_marks(step, words)),
        left=said(_LEFT),
        right=said(_RIGHT),
        more=" ".join(said(set(by_kind) - {*_LEFT, *_RIGHT, *_MARKED})),
    )


def _marks(step: Step, words: Catalogue) -> Iterator[Mark]:
    task = step.task
    held = {
        "adult": step.adult,
        "irreversible": task.irreversible,
        "at-once": task.after == "at-once",
        "pause": task.after == "safe-pause" or bool(step.rest),
    }
    for name, holds in held.items():
        if holds:
            yield Mark(words.say(f"tag.{name}.short"), _LOOKS[name])


def _pauses(plan: Plan, words: Catalogue) -> Iterator[Named]:
    """Where the work may rest, and how many minutes are done by then."""
    first, practised = (_running(plan, pace) for pace in PACES)
    for place, step in enumerate(plan.steps):
        if step.task.after == "safe-pause" or step.rest:
            note = words.say("plan.pause.rests", minutes=words.number(step.rest)) if step.rest else ""
            done = (_whole(first[place], words), _whole(practised[place], words))
            yield Named(step.number, words.rich(f"{step.task.key}.title"), *done, note)


def _chain(chain: Sequence[Step], words: Catalogue) -> Chain:
    return Chain(
        origin.ranges([step.number for step in chain]),
        words.rich(f"{chain[0].task.key}.title"),
        words.rich(f"{chain[-1].task.key}.title"),
        *(_whole(_sum(chain, pace), words) for pace in PACES),
    )


def _named(step: Step, words: Catalogue, note: str = "") -> Named:
    return Named(step.number, words.rich(f"{step.task.key}.title"), note=note)


def _tools(step: Step, words: Catalogue) -> str:
    return ", ".join(words.say(f"tool.{tool}") for tool in step.task.tools)


def _pair(subject: Subject, ahead: Outlook, pace: Pace, words: Catalogue) -> Pair:
    pair = ahead.pairs[pace]
    given = {"minutes": pair.minutes, "alone": pair.alone, "saved": pair.saved, "bound": pair.bound}
    if abs(pair.minutes - ahead.paths[pace].length) < 0.01:
        standing = "critical"
    else:
        standing = "proved" if pair.proved else "found"
    return Pair(
        f"plan-{_slug(pace)}",
        words.say(f"pair.title.{_slug(pace)}"),
        words.rich("pair.saved", **given),
        words.rich(f"pair.standing.{standing}", **given),
        subject.drawing(f"pair-{_slug(pace)}") if board_of(subject.form).charts else None,
        tuple(
            Person(name, words.say(f"pair.person.{name}"), tuple(_parts(ahead.plan, pair, person, words)))
            for person, name in enumerate(PERSONS, 1)
        ),
    )


def _parts(plan: Plan, pair: PairPlan, person: int, words: Catalogue) -> Iterator[Part]:
    """A person's steps in order, and when the person is free between them."""
    steps = {step.number: step for step in plan.steps}

    def part(start: float, end: float, turn: Turn | None) -> Part:
        key = f"{steps[turn.step].task.key}.title" if turn else "pair.free"
        both = turn is not None and len(turn.people) > 1
        number = turn.step if turn else None
        return Part(_whole(start, words), _whole(end, words), number, words.rich(key), both)

    done = 0.0
    for turn in pair.turns:
        if person in turn.people:
            if turn.start > done:
                yield part(done, turn.start, None)
            yield part(turn.start, turn.end, turn)
            done = turn.end
    if pair.minutes > done:
        yield part(done, pair.minutes, None)


def _running(plan: Plan, pace: Pace) -> list[float]:
    """Minutes of one person after each step, its rest not counted, rests before it counted."""
    ends = accumulate(step.rest + getattr(step.minutes, pace) for step in plan.steps)
    return [end - step.rest for end, step in zip(ends, plan.steps, strict=True)]


def _rests(plan: Plan) -> float:
    return sum(step.rest for step in plan.steps)


def _sum(steps: Iterable[Step], pace: Pace) -> float:
    return sum(float(getattr(step.minutes, pace)) for step in steps)


def _whole(minutes: float, words: Catalogue) -> str:
    return words.number(round(minutes))


def _minutes(minutes: float, words: Catalogue) -> str:
    return words.say("minutes.one", minutes=round(minutes))


def _listed(numbers: Iterable[int]) -> str:
    return numbers_of(sorted(set(numbers))) or "–"


def _slug(pace: Pace) -> str:
    return pace.replace("_", "-")
