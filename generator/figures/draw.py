"""Draws the figure of every step: finds its file, sets its labels, lets it grow where room is short."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from generator.base.errors import FigureError
from generator.base.message import message
from generator.base.registry import kinds, load_kind
from generator.base.words import Words, on_the_line
from generator.figures.canvas import Canvas
from generator.figures.kinds import PACKAGE as PACKAGE
from generator.figures.labels import place
from generator.figures.model import FULL, FULL_LESS, HALF_A4, Figure, Job, Picture, Slot
from generator.figures.small.anatomy import take_apart
from generator.figures.small.compose import compose, compose_whole
from generator.figures.svg import Passport, write_svg
from generator.figures.told import told
from generator.measures.measure import Measures
from generator.plan.model import Plan, Step
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

BEFORE_JOINING = frozenset({"make-pattern", "place-motif", "rough-cut"})
"""Figures of one panel, although their steps are done once: the pattern of a taper serves for all panels."""
_TEXT = re.compile(r"<text[^>]*>([^<]+)<")
_LETTER = re.compile("[A-Z]")
GROWTH = 6.0
PAD = 0.8
DEFAULT = ("scene",)
"""What a small place shows of a figure whose file says nothing of it in ``SMALL``."""


def draw(
    size: SizeRecipe,
    shade: Shade,
    measures: Measures,
    plan: Plan,
    words: Words,
    slot: Slot = HALF_A4,
    under_caution: Slot | None = None,
) -> tuple[Figure, ...]:
    """One figure a step, in order; for steps with a caution in the place ``under_caution``, if it is given.

    Raises FigureError for a figure with no file or no room.
    """

    def place_of(step: Step) -> Slot:
        return under_caution if under_caution and step.task.cautions else slot

    return tuple(
        draw_one(Job(size, shade, measures, plan, step, words, place_of(step))) for step in plan.steps
    )


def draw_one(job: Job) -> Figure:
    """The figure that the job's step asks for. Raises FigureError if there is none, or it has no room."""
    name = job.step.task.figure
    if name not in kinds(PACKAGE):
        raise FigureError(
            message(
                "step {number} asks for the figure {name}, which nobody has drawn",
                number=job.step.number,
                name=name,
            )
        )
    alt = job.words.say(f"alt.{name}")
    job = of_its_panel(job)
    if job.slot.whole:
        return _low_or_usual(job)
    if job.slot.small:
        return draw_small(job, [job.slot])[0]
    try:
        drawn = finish(load_kind(PACKAGE, name).draw, job, name, job.step.number, alt, sides=job.slot is FULL)
        if job.slot is FULL and drawn.height > FULL.max_height:
            raise FigureError(message("the figure {name} is too high", name=name))
    except FigureError:
        if job.slot is not FULL:
            raise
        return draw_small(job, [FULL_LESS])[0]
    # Two tasks may share one picture: the figure is named after the task.
    return replace(drawn, id=job.step.id)


def _low_or_usual(job: Job) -> Figure:
    """The figure as beside a step card on A4; in the job's own place, if it is too high otherwise, and
    nothing that it says would be lost there."""
    name = job.step.task.figure
    usual = draw_one(replace(job, slot=replace(HALF_A4, enlarged=job.slot.enlarged)))
    if usual.height <= job.slot.max_height * job.slot.enlarged:
        return usual
    kind, alt = load_kind(PACKAGE, name), job.words.say(f"alt.{name}")
    picture = kind.draw(replace(job, slot=HALF_A4))
    canvas = compose_whole(take_apart(picture), job.slot)
    if canvas is None:
        return usual
    low = written(canvas, job, name, job.step.number, alt)
    if said(usual) - said(low):
        return usual
    return replace(low, id=job.step.id)


def said(figure: Figure) -> Counter[str]:
    """The texts in a figure: names, values, numbers of parts. Letters that tie a detail to its place do not
    count."""
    texts = (text for text in _TEXT.findall(figure.svg) if not _LETTER.fullmatch(text))
    return Counter(texts)


def of_its_panel(job: Job) -> Job:
    """The job with one panel of a taper as its shade, where the step is about one of several."""
    task = job.step.task
    one = task.times == "panels" or task.figure in BEFORE_JOINING
    return replace(job, shade=job.shade.one_panel) if one and job.shade.tapered else job


def draw_small(job: Job, slots: Sequence[Slot]) -> list[Figure]:
    """The figure of the job's step in several small places; it is painted once for all of them."""
    name = job.step.task.figure
    job = of_its_panel(job)
    kind, alt = load_kind(PACKAGE, name), job.words.say(f"alt.{name}")
    anatomy = take_apart(kind.draw(replace(job, slot=HALF_A4)))
    drawn = []
    for slot in slots:
        canvas = compose(anatomy, slot, getattr(kind, "SMALL", DEFAULT))
        figure = written(canvas, replace(job, slot=slot), name, job.step.number, alt)
        drawn.append(replace(figure, id=job.step.id))
    return drawn


def finish(
    paint: Callable[[Job], Picture], job: Job, name: str, number: int, alt: str, *, sides: bool = False
) -> Figure:
    """Paint, set labels, grow the canvas until every label that must be there has a place, write.

    Raises FigureError where a label has none; with ``sides`` also where a text, in a full column anything,
    would be cut at the left or right edge.
    """
    slot = job.slot
    while True:
        picture = paint(replace(job, slot=slot))
        dropped = place(picture.canvas, picture.labels)
        missing = [label.text for label in picture.labels if label.rank == 0 and label.text in dropped]
        if not missing:
            break
        if slot.height + GROWTH > slot.max_height:
            raise _no_room(name, missing)
        slot = replace(slot, height=slot.height + GROWTH)
    canvas = picture.canvas
    if sides:
        spans = [(text.text, text.box.bounds) for text in canvas.texts()]
        if slot is FULL:
            spans += [(mark.group.part, mark.shape.bounds) for mark in canvas.marks()]
        cut = [name for name, (left, _, right, _) in spans if left < 0 or right > canvas.width]
        if cut:
            raise _no_room(name, cut)
    return written(canvas, replace(job, slot=slot), name, number, alt)


def _no_room(name: str, words: Iterable[str]) -> FigureError:
    return FigureError(
        message("the figure {name} has no room for {words}", name=name, words=", ".join(words))
    )


def written(canvas: Canvas, job: Job, name: str, number: int, alt: str) -> Figure:
    """A finished canvas, cut to its ink above and below, as a file."""
    slot = job.slot
    extents = [(*mark.shape.bounds, mark.pen.width / 2 if mark.pen else 0.0) for mark in canvas.marks()]
    extents += [(*text.box.bounds, 0.0) for text in canvas.texts()]
    top = min(above - half for _, above, _, _, half in extents) - PAD
    bottom = max(below + half for _, _, _, below, half in extents) + PAD
    if slot.small:
        top, bottom = max(0.0, top), min(slot.max_height, bottom)
    canvas.top, canvas.height = round(top, 2), round(bottom - top, 2)
    if slot.enlarged != 1.0:
        canvas.magnify(slot.enlarged)
    task = job.step.id if number else name
    if number and slot.name != HALF_A4.name:
        # Two drawings of one step may stand in one page of the web.
        task += f"-{slot.name}"
    passport = Passport(
        owner=f"{job.size.recipe}-{job.size.name}-{task}",
        figure=name,
        step=number,
        title=alt,
        description=description(canvas, job.words),
        language=job.words.language,
    )
    used = tuple(dict.fromkeys(item.group.measure for item in canvas.items if item.group.measure))
    svg = write_svg(canvas, passport)
    return Figure(name, number, svg, canvas.width, canvas.height, alt, used, told(canvas))


def description(canvas: Canvas, words: Words) -> str:
    """The names and the lengths that stand in a picture, in words, for those who cannot see it."""
    names = [text.text for text in canvas.texts() if text.group.role == "label" and len(text.text) > 1]
    lengths = [on_the_line(text.text) for text in canvas.texts() if text.group.role == "dimension"]
    told = [
        words.say(f"desc.{key}", listed=", ".join(dict.fromkeys(found)))
        for key, found in (("names", names), ("dimensions", lengths))
        if found
    ]
    return " ".join(told)
