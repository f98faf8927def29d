"""The tutor's pack of a class, as its template shows it: the clock, the room, what is bought, cues, risks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.figures.model import Figure
from generator.lesson.pack import ClassNumbers
from generator.lesson.room import Room
from generator.lesson.schedule import Part
from generator.plan.model import Plan, Step
from generator.plan.work import Work
from generator.sheets.cards import Caution, caution
from generator.sheets.class_buying import BuyingView, buying_view, layout_numbers
from generator.sheets.class_run import RunView, run_view
from generator.sheets.document import Subject
from generator.sheets.formatting import numbers_of, quantity, sentence_case
from generator.sheets.last import all_faults
from generator.sheets.packing import Block
from generator.sheets.segments import after_colon
from generator.sheets.wording import Catalogue, Sentence

TEACHES = 2
"""A demonstration shows the steps whose pictures teach this much; all its others are told in passing."""
CLOSE_OUT = "class.close"
COLUMNS = 3
"""In so many columns people are listed."""


@dataclass(frozen=True, slots=True)
class GuestRow:
    """Somebody in the class."""

    number: str
    name: str
    """Empty: a line to write it on."""
    shade: str
    size: str
    cloth: str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A shared tool."""

    name: str
    count: str
    wait: Sentence
    borrow: Sentence


@dataclass(frozen=True)
class RoomView:
    """The room and its tools."""

    drawing: Figure
    line: Sentence
    queue: Sentence
    """What those do who have no place; empty: everybody has one."""
    tools: tuple[ToolRow, ...]
    shared_none: bool
    out: tuple[str, ...]
    """What lies ready at each place."""
    guests: tuple[tuple[GuestRow, ...], ...]
    """In columns."""
    shades: bool
    """People make shades of several recipes."""


@dataclass(frozen=True, slots=True)
class CueStep:
    """A step that a demonstration shows."""

    number: int
    title: Sentence
    cautions: tuple[Caution, ...]
    figure: Figure
    do: tuple[Sentence, ...]
    check: Sentence
    mistake: Sentence


@dataclass(frozen=True, slots=True)
class Cue:
    """One demonstration."""

    title: str
    clock: str
    minutes: str
    say: Sentence
    others: Sentence
    """Steps that are told in passing; may be empty."""
    steps: tuple[CueStep, ...]


@dataclass(frozen=True, slots=True)
class Risk:
    """A line of the risk record."""

    hazard: Sentence
    consequence: Sentence
    who: str
    avoid: Sentence


@dataclass(frozen=True, slots=True)
class FaultCard:
    """A card to hold beside a shade."""

    see: Sentence
    step: int
    figure: Figure
    cause: Sentence
    mend: Sentence
    until: Sentence


@dataclass(frozen=True)
class PackView:
    """All pages."""

    run: RunView
    room: RoomView
    buying: BuyingView
    cues: tuple[Cue, ...]
    drawn_for: Sentence
    """Whose numbers the pictures have, in a mixed class; may be empty."""
    risks: tuple[Risk, ...]
    faults: tuple[FaultCard, ...]
    close: tuple[Sentence, ...]


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template names. Raises WordingError, FigureError."""
    course = _course(subject)
    own = _bound(subject, words)
    plans = _plans(course)
    return {
        "pack": PackView(
            run=run_view(course, plans, own),
            room=_room(subject, course, own),
            buying=buying_view(subject, course, own),
            cues=tuple(_cue(part.name, part, subject, own) for part in course.schedule.shown),
            drawn_for=_drawn_for(subject, course, own),
            risks=tuple(_risks(plans, own)),
            faults=tuple(_faults(subject, own)),
            close=tuple(_close(course, own)),
        )
    }


def blocks(subject: Subject) -> tuple[Block, ...]:
    """None: tables go on on the next page, and what must stand whole is told so in the style."""
    return ()


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Every number of the class, of each size in it, of step numbers, names and scales."""
    course = _course(subject)
    voice = words.voice
    yield from (quantity(measure, voice) for measure in course.measures.values())
    for work in course.roster.works:
        yield from (quantity(measure, voice) for measure in work.measures.values())
        yield from (text for text in (work.size.name, work.size.title, work.size.covering.name) if text)
    for plan in _plans(course):
        yield from (str(step.number) for step in plan.steps)
    for guest in course.roster.guests:
        yield str(guest.number)
        yield from (text for text in (guest.name, guest.work.size.covering.name) if text)
        yield from (quantity(guest.work.measures[id_], voice) for id_ in ("cloth_length", "cloth_width"))
    if course.roster.taught.adult:
        yield course.roster.taught.adult
    yield from layout_numbers(course, words)


def _course(subject: Subject) -> ClassNumbers:
    assert subject.course is not None, "a class pack is composed of a subject with its class"
    return subject.course


def _bound(subject: Subject, words: Catalogue) -> Catalogue:
    """The words with the numbers of the first person's size at hand."""
    return words.bound(subject.plan, subject.measures, title=subject.size.title, size=subject.size.name)


def _plans(course: ClassNumbers) -> tuple[Plan, ...]:
    return tuple({id(guest.work.plan): guest.work.plan for guest in course.roster.guests}.values())


def _room(subject: Subject, course: ClassNumbers, words: Catalogue) -> RoomView:
    room: Room = course.room
    waits = course.schedule.waits
    loans = {loan.tool: told for loan, told in zip(course.outcome.loans, course.loans, strict=True)}
    rows = []
    for tool, count in course.tools:
        borrow: Sentence = ()
        if tool in loans:
            more, then, saves = loans[tool]
            key = "class.borrow" if saves.value >= 1 else "class.borrow.no-time"
            borrow = words.rich(key, more=more, then=then, saves=saves)
        wait = (
            words.rich("class.wait", wait=waits[tool])
            if tool in waits and waits[tool].value
            else words.rich("class.wait.none")
        )
        rows.append(
            ToolRow(sentence_case(words.say(f"tool.{tool}")), quantity(count, words.voice), wait, borrow)
        )
    shared = set(course.roster.tools)
    tools = dict.fromkeys(
        tool
        for guest in course.roster.guests
        for step in guest.work.plan.steps
        if not (step.task.ahead and course.outcome.setup.terms.pre_cut and guest.cloth is None)
        for tool in step.task.tools
        if tool not in shared
    )
    guests = [_guest(guest.number, guest.name, guest.work, words) for guest in course.roster.guests]
    most = -(-len(guests) // COLUMNS)
    return RoomView(
        drawing=subject.drawing("room-plan"),
        line=words.rich(
            "class.room.line",
            places=room.places,
            people=room.people,
            bench=room.bench,
            scale=f"1 : {quantity(room.scale, words.voice)}",
        ),
        queue=words.rich("class.room.queue") if room.people.value > room.places.value else (),
        tools=tuple(rows),
        shared_none=not rows,
        out=tuple(words.say(f"tool.{tool}") for tool in tools),
        guests=tuple(tuple(guests[at : at + most]) for at in range(0, len(guests), most)),
        shades=len({guest.work.size.recipe for guest in course.roster.guests}) > 1,
    )


def _guest(number: int, name: str | None, work: Work, words: Catalogue) -> GuestRow:
    return GuestRow(str(number), name or "", work.size.title, work.size.name, work.size.covering.name)


def _cue(name: str, part: Part, subject: Subject, words: Catalogue) -> Cue:
    first: tuple[Step, ...] = part.steps
    plan = subject.plan
    steps = [plan.step(step.id) or step for step in first]
    taught = [step for step in steps if step.task.teaches >= TEACHES and plan.step(step.id)]
    taught = taught or [step for step in steps if plan.step(step.id)][:1]
    others = [step.number for step in steps if step not in taught]
    key = f"class.cue.{name}"
    return Cue(
        title=_demonstration(name, words),
        clock=quantity(part.start, words.voice),
        minutes=quantity(part.minutes, words.voice),
        say=words.rich(key if words.has(key) else "class.cue.any"),
        others=words.rich("class.cue.others", count=len(others), numbers=numbers_of(others))
        if others
        else (),
        steps=tuple(
            CueStep(
                step.number,
                words.rich(f"{step.task.key}.title"),
                tuple(caution(words, each) for each in step.task.cautions),
                subject.figure_of(step),
                words.brief(step.task.key),
                words.rich(f"{step.task.key}.check"),
                after_colon(words.rich(f"{step.task.key}.mistake"), words.voice),
            )
            for step in taught
        ),
    )


def _demonstration(name: str, words: Catalogue) -> str:
    key = f"class.show.{name}"
    return words.say(key) if words.has(key) else words.say("class.show.any", name=name)


def _drawn_for(subject: Subject, course: ClassNumbers, words: Catalogue) -> Sentence:
    if len(course.roster.works) < 2:
        return ()
    return words.rich("class.cue.drawn-for", title=subject.size.title, size=subject.size.name)


def _risks(plans: Iterable[Plan], words: Catalogue) -> Iterator[Risk]:
    """Every caution of the work once, with the steps that it guards and who does them."""
    found: dict[str, dict[int, Step]] = {}
    for plan in plans:
        for step in plan.steps:
            for name in step.task.cautions:
                found.setdefault(name, {}).setdefault(step.number, step)
    for name, steps in found.items():
        told = caution(words, name)
        adult = any(step.adult for step in steps.values())
        who = words.say("class.risk.adult" if adult else "class.risk.all")
        at = words.say("class.risk.steps", who=who, count=len(steps), numbers=numbers_of(sorted(steps)))
        yield Risk(told.hazard, told.consequence, at, told.avoid)


def _faults(subject: Subject, words: Catalogue) -> Iterator[FaultCard]:
    by_number = {step.number: step for step in subject.plan.steps}
    for fault in all_faults(subject.plan, words):
        step = by_number[fault.step]
        cause = after_colon(fault.cause, words.voice)
        yield FaultCard(fault.see, fault.step, subject.figure_of(step), cause, fault.mend, fault.until)


def _close(course: ClassNumbers, words: Catalogue) -> Iterator[Sentence]:
    """What to do when the last shade is done: the shared tools by count, then everything else."""
    for tool, count in course.tools:
        yield words.rich("class.close.tool", count=count, tool=sentence_case(words.say(f"tool.{tool}")))
    number = 1
    while words.has(f"{CLOSE_OUT}.{number}"):
        yield words.rich(f"{CLOSE_OUT}.{number}")
        number += 1
