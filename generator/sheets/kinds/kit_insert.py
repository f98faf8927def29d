"""The leaflet in a kit's box: what is in it, every step with a picture, what may go wrong, cautions, lot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.base.errors import Fault, NoRoomForRecipeError
from generator.base.message import message
from generator.figures.model import slot_named
from generator.plan.facts import ADULT_TOOLS
from generator.plan.model import Step
from generator.sheets import booklet, cards, columns, folded, front, insert_large, packing
from generator.sheets.booklet import Block
from generator.sheets.cards import Card, Tag
from generator.sheets.cells import Cell
from generator.sheets.document import Kind, Subject
from generator.sheets.formatting import duration
from generator.sheets.origin import ranges
from generator.sheets.packing import Layout, Measured
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Segment, Sentence

FRONT = (
    Block("cover"), Block("before"), Block("box", first=True), Block("measures"), Block("also"),
    Block("marks", movable=True),
)  # fmt: skip
BACK = (Block("faults"), Block("closing"), Block("imprint"))
NO_ROOM = {
    "front": message("what it is and its first step"),
    "left": message("the list of the box"),
    "right": message("the checks and the faults"),
    "back": message("the cautions"),
    "steps": message("all steps, even where two share a picture"),
}
PICTURE_FOOT = 0.2
"""Air below a picture on the folded sheet, mm, as its style sheet says."""
HEADING = "heading"
CHECKS, WRONG = "checks", "wrong"
"""Cells after the last step: the five checks, and what went wrong."""
NARROW, WIDE = "narrow-", "wide-"
"""What a cell's id begins with where it is measured in half the width of the page, and across it."""
ENDLESS = 1e6
"""Height, mm, of what cannot stand in half the width of a page."""


@dataclass(frozen=True, slots=True)
class CellView:
    """A step as a cell shows it."""

    card: Card
    do: tuple[Sentence, ...]
    tags: tuple[Tag, ...]
    after: tuple[Tag, ...]
    """What is told after the check: that one may stop here."""


@dataclass(frozen=True, slots=True)
class StageName:
    """A stage in the line above the cells."""

    title: Sentence
    minutes: str


@dataclass(frozen=True, slots=True)
class BoxRow:
    """A part in the list that is ticked off."""

    icon: str | None
    """Id of its little drawing."""
    name: Sentence
    size: Sentence
    count: Sentence
    spare: Sentence


@dataclass(frozen=True, slots=True)
class Slip:
    """A mistake that is mended while the work goes on."""

    step: int
    mistake: Sentence
    rescue: Sentence


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template may name as ``insert``."""
    plan, kits = subject.plan, subject.size.kits
    stages = cards.stages(subject, words)
    steps = {step.number: step for step in plan.steps}
    cells = {
        card.id: _cell(subject, words, steps[card.number], card) for stage in stages for card in stage.cards
    }
    lot = kits.lot if kits else None
    title = words.say("title")
    return {
        "insert": {
            "running": words.say("insert.running", title=title, lot=lot) if lot else title,
            "lot": lot,
            "edition": kits.edition if kits else None,
            "cells": cells,
            # On one sheet no line of stages stands above the steps.
            "step_level": "h2" if kits and kits.format == "folded" and not subject.form.large else "h3",
            "stages": {stage.id: StageName(stage.title, stage.minutes) for stage in stages},
            "size": subject.size.name,
            "adults": ranges([step.number for step in plan.steps if _for_adults(step)]),
            "pauses": ranges([step.number for step in plan.steps if step.task.after == "safe-pause"]),
            "marks": _marks(cells.values(), words),
            "measures": tuple(_measures(subject, words)),
            "box": tuple(_box(subject, words)),
            "needed": _needed(subject, words),
            "slips": tuple(_slips(subject, words)),
            "maker": _maker(subject),
            "cautions": tuple(kits.cautions) if kits else (),
            "time": duration(cards.plan_minutes(plan)),
        }
    }


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Step numbers written as ranges."""
    plan = subject.plan
    yield ranges([step.number for step in plan.steps if _for_adults(step)])
    yield ranges([step.number for step in plan.steps if step.task.after == "safe-pause"])


def blocks(subject: Subject) -> tuple[packing.Block, ...] | None:
    """What stands whole in the one column of large print."""
    return tuple(insert_large.rules(subject.plan)) if subject.form.large else None


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], Layout] | None:
    """From measured heights to pages, as the recipe's kits are folded; None in large print, which is not.

    What it gives raises NoRoomForRecipeError where one sheet has no room for this shade's steps.
    """
    if subject.form.large:
        return None
    kits = subject.size.kits
    make = _one_sheet if kits is not None and kits.format == "folded" else _booklet

    def arranged(placed: Iterable[Measured]) -> Layout:
        return make(kind, subject, {part.id: part.height for part in placed})

    return arranged


def _booklet(kind: Kind, subject: Subject, heights: Mapping[str, float]) -> Layout:
    """The checks stand beside the last step; on the back, if that saves a sheet."""
    known = {**heights, CHECKS: heights[WIDE + CHECKS]}
    cells = tuple(_cells(subject, heights))
    without = tuple(cell for cell in cells if cell.id != CHECKS)
    ways = ((cells, BACK), (without, (Block(CHECKS), *BACK)))
    saved = _saved(kind, subject)
    made = [
        booklet.make_up(FRONT, steps, back, known, kind.rooms.other, HEADING, saved) for steps, back in ways
    ]
    return min(made, key=lambda layout: layout.hindrance)


def _cells(subject: Subject, heights: Mapping[str, float]) -> Iterator[Cell]:
    chains = cards.chains_of(subject.plan)
    for stage in subject.plan.stages:
        for step in stage.steps:
            name = cards.card_id(step)
            yield Cell(
                name,
                heights[NARROW + name],
                heights[WIDE + name],
                chains.get(step.number, ""),
                step.task.gate,
                cards.stage_id(stage),
            )
    yield Cell(CHECKS, heights[NARROW + CHECKS], heights[WIDE + CHECKS])
    if WIDE + WRONG in heights:
        yield Cell(WRONG, ENDLESS, heights[WIDE + WRONG])


def _saved(kind: Kind, subject: Subject) -> Mapping[str, float]:
    """How much lower each step's figure is in the place below a caution, where it does not stand there."""
    low = slot_named(kind.slots[-1]).max_height
    return {
        cards.card_id(step): max(0.0, subject.figure_of(step).height - low)
        for step in subject.plan.steps
        if not step.task.cautions
    }


def _one_sheet(kind: Kind, subject: Subject, heights: Mapping[str, float]) -> Layout:
    steps = [cards.card_id(step) for step in subject.plan.steps]
    known = {**heights, **{step: heights[WIDE + step] for step in steps}}
    cells = {cell.id: cell for cell in _column_cells(kind, subject, heights)}
    made: Layout | str = ""
    for tail in TAILS:
        within = [cells[step] for step in steps[1:-tail]]
        made = folded.make_up(_round(steps[0], steps[-tail:]), within, known, kind.rooms.other)
        if isinstance(made, Layout):
            return made
    assert isinstance(made, str)
    fault = Fault(
        subject.size.span("kits.format"),
        message(
            "the leaflet of size {size} does not fit on one folded sheet: there is no room for {part}",
            size=subject.size.name,
            part=NO_ROOM[made],
        ),
        message("{text} for this shade", text="format: booklet"),
        message("write {text}", text="kits: {format: booklet}"),
    )
    raise NoRoomForRecipeError([fault])


TAILS = (1, 2)
"""So many steps stand beside the faults; where it is more than one the checks are on the back."""


def _round(first: str, last: Sequence[str]) -> folded.Pages:
    """What stands round the panels of steps on one folded sheet."""
    checks = (CHECKS,)
    alone = len(last) == 1
    return folded.Pages(
        front=("cover", first),
        left=("before", "box", "measures", "also"),
        right=(*last, *(checks if alone else ()), "faults"),
        back=("marks", *(() if alone else checks), "closing", WRONG, "imprint"),
        spare=(WRONG,),
    )


def _column_cells(kind: Kind, subject: Subject, heights: Mapping[str, float]) -> Iterator[columns.Cell]:
    """All steps, to stand in a panel's columns."""
    chains, lowest = cards.chains_of(subject.plan), slot_named(kind.slots[-1]).max_height
    gated = {chains.get(step.number) for step in subject.plan.steps if step.task.gate}
    stages = {step.number: stage.id for stage in subject.plan.stages for step in stage.steps}
    for step in subject.plan.steps:
        name, high = cards.card_id(step), subject.figure_of(step).height
        own = step.task.gate or chains.get(step.number, "") in gated
        yield columns.Cell(
            id=name,
            words=heights[NARROW + name] - high - PICTURE_FOOT,
            high=high + PICTURE_FOOT,
            low=(high if own or step.task.cautions else min(high, lowest)) + PICTURE_FOOT,
            stage=stages[step.number],
            chain=chains.get(step.number, ""),
            own=own,
            teaches=step.task.teaches,
            things=frozenset((*step.task.tools, *step.task.consumables)),
        )


def _cell(subject: Subject, words: Catalogue, step: Step, card: Card) -> CellView:
    pause = (Tag(words.say("tag.pause.short"), "pause"),) if card.pause else ()
    return CellView(card, words.brief(step.task.key), tuple(_tags(words, step)), pause)


def _tags(words: Catalogue, step: Step) -> Iterator[Tag]:
    """Short tags for a narrow head; what they mean stands among the marks."""
    task = step.task
    if step.adult:
        yield Tag(words.say("tag.adult.short"), "adult")
    if step.helper:
        yield Tag(words.say("tag.helper.short"), "plain")
    if task.after == "at-once":
        yield Tag(words.say("tag.at-once.short"), "no-wait")
    if task.irreversible:
        yield Tag(words.say("tag.irreversible.short"), "no-undo")


def _marks(cells: Iterable[CellView], words: Catalogue) -> tuple[tuple[Tag, str], ...]:
    """Each tag that is used, and what it means."""
    used = {tag.look: tag for cell in cells for tag in (*cell.tags, *cell.after)}
    known = (
        ("no-undo", "read.irreversible"),
        ("no-wait", "read.at-once"),
        ("pause", "read.pause"),
        ("adult", "read.adult"),
        ("plain", "read.helper"),
    )
    return tuple((used[look], words.say(key)) for look, key in known if look in used)


def _for_adults(step: Step) -> bool:
    """Whether an adult does it where a young maker helps."""
    return step.adult or step.task.adult or any(tool in ADULT_TOOLS for tool in step.task.tools)


def _measures(subject: Subject, words: Catalogue) -> Iterator[front.Number]:
    """The five numbers, then margin, overlap and the room that the work takes."""
    yield from front.five_numbers(subject.measures, words)
    for name, keys in MORE.items():
        if all(key in subject.measures and subject.measures[key].values for key in keys):
            yield front.Number(
                words.rich(f"number.{name}"),
                words.rich(f"number.{name}.note"),
                figures_of((subject.measures[key] for key in keys), words.voice, words.say("number.and")),
            )


MORE: Mapping[str, tuple[str, ...]] = {
    "margin": ("margin", "overlap"),
    "bench": ("lamination_bench", "rolling_bench"),
}
"""Further numbers on the page of the box: wording key and measures."""


def _box(subject: Subject, words: Catalogue) -> Iterator[BoxRow]:
    """What the box holds, packing apart: name and size, how many, how many to spare."""
    drawn = {figure.id for figure in subject.figures}
    for part in subject.kit.supplied if subject.kit else ():
        key = f"box.{part.name}"
        said = words.rich(key if words.has(key) else f"layout.{part.name}")
        name, size = _halves(said)
        spare = figures_of([part.spare], words.voice) if part.spare else (Segment("–"),)
        icon = f"part-{part.name}"
        yield BoxRow(
            icon if icon in drawn else None, name, size, figures_of([part.count], words.voice), spare
        )


def _halves(said: Sentence) -> tuple[Sentence, Sentence]:
    """What a thing is called, and what follows its first comma: how it is."""
    for index, segment in enumerate(said):
        if segment.measure is None and ", " in segment.text:
            before, _, after = segment.text.partition(", ")
            rest = (replace(segment, text=after), *said[index + 1 :]) if after else said[index + 1 :]
            return (*said[:index], replace(segment, text=before)), rest
    return said, ()


def _needed(subject: Subject, words: Catalogue) -> tuple[Sentence, ...]:
    """What the work needs and the box does not hold."""
    if subject.kit is None:
        return ()
    return front.lay_out((*subject.kit.needed, *subject.kit.needed_tools), words)


def _maker(subject: Subject) -> tuple[str, ...]:
    """Whom to write to, as far as the recipe says."""
    maker = subject.size.maker
    if maker is None:
        return ()
    said = (maker.name, maker.address, maker.phone, maker.email, maker.web, maker.contact)
    return tuple(line for line in said if line)


def _slips(subject: Subject, words: Catalogue) -> Iterator[Slip]:
    """Mistakes that must be mended before a certain later step; the table of faults has the others."""
    for mishap in subject.plan.mishaps:
        if mishap.until == "before":
            yield Slip(mishap.step, words.rich(mishap.word("mistake")), words.rich(mishap.word("rescue")))
