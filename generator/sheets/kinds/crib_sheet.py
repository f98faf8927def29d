"""The crib sheet as a template shows it, for somebody who has made a shade before: one side, or pages.

Which steps stand together and which are pictured comes from ``plan/glance.py``; nothing here names a task.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.base.errors import NoRoomError
from generator.base.message import Number as Figured
from generator.base.message import message
from generator.figures.model import Figure
from generator.measures.measure import Measure, Measures
from generator.plan.glance import Box, Cell, Glance
from generator.plan.model import Mishap, Plan, Step
from generator.plan.outlook import chains
from generator.sheets import crib_pages, origin
from generator.sheets.cards import caution, plan_minutes, step_minutes
from generator.sheets.document import Kind, Subject, kind_for
from generator.sheets.formatting import duration, unit_sign, value
from generator.sheets.packing import Block, Layout, Measured, arrange
from generator.sheets.wording import Catalogue, Segment, Sentence

FIVE: Mapping[str, tuple[str, ...]] = {
    "cloth": ("cloth_length", "cloth_width"),
    "panel": ("panel_length", "panel_height"),
    "perimeter": ("perimeter",),
    "tape": ("tape_total",),
    "seam": ("seam_mark",),
}
"""The five numbers in large: the last is the one with which the rings are marked."""
OF_TAPERS: Mapping[str, tuple[str, ...]] = {
    "panel": ("blank_length", "blank_width"),
    "perimeter": ("bottom_perimeter", "top_perimeter"),
}
NOTES = (("date", "minutes"), ("ring",), ("cloth",), ("next",))
"""Lines to write on; short ones stand beside one another."""
BOXES = 4
"""Boxes to tick in the stop."""


@dataclass(frozen=True, slots=True)
class Number:
    """One of the five numbers."""

    key: str
    measures: tuple[str, ...]
    """Ids of what it is made of."""
    value: Sentence
    unit: str
    name: Sentence


@dataclass(frozen=True, slots=True)
class Tick:
    """A step beside its box."""

    number: int
    lines: tuple[Sentence, ...]
    undone: bool
    caution: bool
    pause: bool


@dataclass(frozen=True, slots=True)
class CellView:
    """A picture with the steps that share it, and how to know that the pictured one is right."""

    id: str
    figure: Figure
    ticks: tuple[Tick, ...]
    check: Sentence
    hazards: tuple[Hazard, ...]
    """The cautions of its steps."""
    running: str
    """Its first step, for the head of its page."""


@dataclass(frozen=True, slots=True)
class BoxView:
    """One stage or more."""

    id: str
    span: str
    title: str
    time: str
    """Its minutes, and which of its steps must not wait."""
    cells: tuple[CellView, ...]


@dataclass(frozen=True, slots=True)
class StopView:
    """The gate."""

    number: int
    chain: Sentence
    figure: Figure
    boxes: tuple[Sentence, ...]
    check: Sentence
    hazards: tuple[Hazard, ...]
    """Its own cautions."""
    running: str


@dataclass(frozen=True, slots=True)
class Hazard:
    """A caution and the steps that it is for."""

    steps: str
    text: Sentence


@dataclass(frozen=True, slots=True)
class Loss:
    """A mistake that cannot be undone."""

    number: int
    what: Sentence
    mend: Sentence


@dataclass(frozen=True)
class Crib:
    """Everything that the sheet tells."""

    paged: bool
    """It has pages in one column, in the place of one side."""
    badge: Figure
    use: Sentence
    five: tuple[Number, ...]
    tools: str
    hazards: tuple[Hazard, ...]
    before: tuple[tuple[BoxView, ...], ...]
    """Rows of boxes before the stop."""
    stop: StopView | None
    after: tuple[tuple[BoxView, ...], ...]
    losses: tuple[Loss, ...]
    notes: tuple[tuple[str, tuple[str, ...]], ...]
    """Rows of lines: each row's part of the page, and the names of its lines."""
    times: Sentence
    pauses: bool
    """Whether a step is a good place to stop after."""
    undone: int | None
    """A step that cannot be undone, to show in the key how such a number looks; None: there is none."""


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template may name. Raises WordingError for a sentence, FigureError for a missing drawing."""
    return {"crib": view(subject, words)}


def blocks(subject: Subject) -> tuple[Block, ...]:
    """None where the whole is one side; on pages, what may stand on one and where it may end."""
    return tuple(crib_pages.rules(subject.plan, _glance(subject))) if _paged(subject) else ()


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], Layout]:
    """How its pages end. What it gives raises NoRoomError for steps with their picture that no page holds."""

    def arranged(placed: Iterable[Measured]) -> Layout:
        layout = arrange(blocks(subject), placed, kind.rooms, kind.most_pages)
        for over in layout.over.values():
            raise NoRoomError(
                message(
                    "steps in the {kind} of {shade} are {over} higher than a page",
                    kind=kind.called,
                    shade=subject.size.called,
                    over=Figured(f"{over:.0f} mm"),
                ),
                message("take smaller print or larger paper, or shorten what the technique calls its steps"),
            )
        return layout

    return arranged


def numbers(subject: Subject, words: Catalogue) -> Iterator[str]:
    """Texts whose numbers may stand on the page beside those of every sheet: minutes of its boxes."""
    for box in _glance(subject).boxes:
        yield duration(_minutes(box.steps))


def view(subject: Subject, words: Catalogue) -> Crib:
    """The page. Raises WordingError for a sentence, FigureError for a drawing that is missing."""
    plan, glance = subject.plan, _glance(subject)
    ticks = [tick for box in glance.boxes for cell in box.cells for tick in cell.steps]
    return Crib(
        paged=_paged(subject),
        badge=subject.drawing("badge"),
        use=words.rich(
            "crib.use",
            fitter=words.say(f"strip.fitter.{subject.size.fitter_end}"),
            first=duration(plan_minutes(plan)),
            practised=duration(plan_minutes(plan, practised=True)),
        ),
        five=tuple(five_numbers(subject.measures, words)),
        tools=words.say("crib.tools.list", tools=", ".join(words.say(f"tool.{tool}") for tool in plan.tools)),
        hazards=tuple(_hazards(plan.steps, plan, words)),
        before=_rows(subject, glance.before, words),
        stop=_stop(subject, glance.gate, words) if glance.gate else None,
        after=_rows(subject, glance.after, words),
        losses=tuple(_loss(mishap, words) for mishap in glance.undone),
        notes=tuple(
            (f"note-{row[0]}", tuple(words.say(f"crib.note.{name}") for name in row)) for row in NOTES
        ),
        times=origin.times_note(plan, words),
        pauses=any(step.task.after == "safe-pause" for step in ticks),
        undone=next(_undone(glance, ticks), None),
    )


def _undone(glance: Glance, ticks: Sequence[Step]) -> Iterator[int]:
    """Numbers that the page shows as those of steps that cannot be undone, the best example first."""
    yield from (mishap.step for mishap in glance.undone)
    if glance.gate:
        yield glance.gate.number
    yield from (step.number for step in ticks if step.task.irreversible)


def five_numbers(measures: Measures, words: Catalogue) -> Iterator[Number]:
    """The numbers that a maker needs most, each traced to its measures."""
    five = {**FIVE, **(OF_TAPERS if "bottom_perimeter" in measures else {})}
    for name, keys in five.items():
        several = [measures[key] for key in keys]
        joint = words.say("number.and") if name == "perimeter" else " × "
        unit = unit_sign(several, words.voice)
        shown = tuple(_joined(several, joint, words))
        yield Number(name, keys, shown, unit, words.rich(f"crib.number.{name}"))


def _joined(measures: Sequence[Measure], joint: str, words: Catalogue) -> Iterator[Segment]:
    for place, measure in enumerate(measures):
        if place:
            yield Segment(joint, keep=True)
        yield Segment(value(measure, words.voice), measure.id, measure.id, keep=place > 0)


def _paged(subject: Subject) -> bool:
    """Whether it has pages: nothing is left out where one side could not hold it."""
    return not kind_for("crib-sheet", subject.size, subject.form).gives_up


def _glance(subject: Subject) -> Glance:
    assert subject.glance is not None  # compose sees to it
    return subject.glance


def _rows(subject: Subject, boxes: Sequence[Box], words: Catalogue) -> tuple[tuple[BoxView, ...], ...]:
    """Boxes, two in a row."""
    views = [_box(subject, box, words) for box in boxes]
    return tuple(tuple(views[place : place + 2]) for place in range(0, len(views), 2))


def _box(subject: Subject, box: Box, words: Catalogue) -> BoxView:
    steps = box.steps
    title = words.say(f"stage.{box.stages[0]}")
    for stage in box.stages[1:]:
        title = words.say("crib.stages", first=title, second=words.say(f"stage.{stage}"))
    inside = {step.number for step in steps}
    linked = [chain for chain in chains(subject.plan) if {step.number for step in chain} <= inside]
    time = duration(_minutes(steps))
    for chain in reversed(linked):
        time = words.say("crib.chain", first=chain[0].number, last=chain[-1].number, minutes=time)
    return BoxView(
        crib_pages.box_id(box),
        _span(steps),
        title,
        time,
        tuple(_cell(subject, cell, words) for cell in box.cells),
    )


def _cell(subject: Subject, cell: Cell, words: Catalogue) -> CellView:
    return CellView(
        crib_pages.cell_id(cell),
        subject.figure_of(cell.shown),
        tuple(_tick(subject.plan, step, words) for step in cell.steps),
        _sure(subject.plan, cell.shown, words),
        tuple(_hazards(cell.steps, subject.plan, words)),
        words.say("running.from-step", number=cell.steps[0].number),
    )


def _tick(plan: Plan, step: Step, words: Catalogue) -> Tick:
    task = step.task
    return Tick(
        step.number,
        _line(plan, step, words),
        task.irreversible,
        bool(task.cautions),
        task.after == "safe-pause",
    )


def _own(plan: Plan) -> frozenset[str]:
    """Keys that the technique file has words of its own for, without their variants."""
    return frozenset(phrase.key.partition("@")[0] for phrase in plan.phrases)


def _stands_for(short: str, long: str, plan: Plan, words: Catalogue) -> bool:
    """Whether short words may stand for long ones: not where a technique has its own long ones."""
    own = _own(plan)
    return words.has(short) and (short in own or long not in own)


def _line(plan: Plan, step: Step, words: Catalogue) -> tuple[Sentence, ...]:
    """A step in a line or two, or by its title."""
    key = f"{step.task.key}.line"
    if not _stands_for(key, f"{step.task.key}.title", plan, words):
        return (words.rich(f"{step.task.key}.title"),)
    own = _own(plan)
    more = f"{key}.2"
    second = words.has(more) and (key in own) == (more in own)
    return (words.rich(key), *([words.rich(more)] if second else []))


def _sure(plan: Plan, step: Step, words: Catalogue) -> Sentence:
    key, long = f"{step.task.key}.sure", f"{step.task.key}.check"
    return words.rich(key if _stands_for(key, long, plan, words) else long)


def _stop(subject: Subject, gate: Step, words: Catalogue) -> StopView:
    plan, key = subject.plan, gate.task.key
    chain = next((chain for chain in chains(plan) if gate in chain), (gate,))
    own = _own(plan)
    boxes = [f"{key}.box.{n}" for n in range(1, BOXES + 1)]
    short = [box for box in boxes if words.has(box)]
    if any(box in own for box in boxes):
        short = [box for box in short if box in own]
    elif f"{key}.do.1" in own:
        short = []
    return StopView(
        gate.number,
        words.rich("crib.stop.chain", last=chain[-1].number, minutes=duration(_minutes(chain))),
        subject.figure_of(gate),
        tuple(words.rich(box) for box in short) or words.instructions(key),
        _sure(plan, gate, words),
        tuple(_hazards((gate,), plan, words)),
        words.say("running.from-step", number=gate.number),
    )


def _hazards(among: Sequence[Step], plan: Plan, words: Catalogue) -> Iterator[Hazard]:
    """Every caution of some steps once, in their order, told shortly or in its three parts."""
    for name in dict.fromkeys(name for step in among for name in step.task.cautions):
        steps = [step.number for step in among if name in step.task.cautions]
        key = f"caution.{name}.line"
        if _stands_for(key, f"caution.{name}.hazard", plan, words):
            text = words.rich(key)
        else:
            whole = caution(words, name)
            text = (*whole.hazard, Segment(" "), *whole.consequence, Segment(" "), *whole.avoid)
        yield Hazard(origin.ranges(steps), text)


def _loss(mishap: Mishap, words: Catalogue) -> Loss:
    return Loss(mishap.step, words.rich(mishap.word("mistake")), words.rich(mishap.word("rescue")))


def _span(steps: Sequence[Step]) -> str:
    first, last = steps[0].number, steps[-1].number
    return f"{first}" if first == last else f"{first}–{last}"


def _minutes(steps: Iterable[Step]) -> int:
    return sum(step_minutes(step) for step in steps)
