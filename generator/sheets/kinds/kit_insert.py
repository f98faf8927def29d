"""The leaflet in a kit's box: what is in it, every step with a picture, what may go wrong, cautions, lot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from generator.figures.model import slot_named
from generator.measures.measure import Measure
from generator.plan.facts import ADULT_TOOLS
from generator.plan.model import Step
from generator.sheets import cards, front
from generator.sheets.booklet import Block, make_up
from generator.sheets.cards import Card, Tag
from generator.sheets.cells import Cell
from generator.sheets.document import Kind, Subject
from generator.sheets.formatting import duration
from generator.sheets.origin import ranges
from generator.sheets.packing import Layout, Measured
from generator.sheets.wording import Catalogue, Segment, Sentence

FRONT = (Block("cover", alone=True), Block("box"), Block("measures"), Block("also"), Block("marks"))
BACK = (Block("faults"), Block("closing"), Block("imprint"))
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


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], Layout]:
    """From measured heights to the pages of the booklet."""

    def arranged(placed: Iterable[Measured]) -> Layout:
        parts = list(placed)
        heights = {part.id: part.height for part in parts}
        cells = tuple(_cells(subject, heights))
        return make_up(FRONT, cells, BACK, parts, kind.rooms.other, HEADING, _saved(kind, subject))

    return arranged


def _saved(kind: Kind, subject: Subject) -> Mapping[str, float]:
    """How much lower each step's figure is in the place below a caution, where it does not stand there."""
    low = slot_named(kind.slots[-1]).max_height
    return {
        cards.card_id(step): max(0.0, subject.figure_of(step).height - low)
        for step in subject.plan.steps
        if not step.task.cautions
    }


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
                front.figures_of((subject.measures[key] for key in keys), words.language, ", "),
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
        spare = figures_of([part.spare], words) if part.spare else (Segment("–"),)
        icon = f"part-{part.name}"
        yield BoxRow(icon if icon in drawn else None, name, size, figures_of([part.count], words), spare)


def figures_of(measures: Iterable[Measure], words: Catalogue) -> Sentence:
    """Counts of parts, each traced to its measure."""
    return front.figures_of(measures, words.language)


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
