"""A cloth of a cutting plan as a template shows it: drawings, cuts in order, what offcuts still make."""

from __future__ import annotations

from dataclasses import dataclass

from generator.base.edition import PAPERS, Form
from generator.cutting.batch import SWATCH_NAME, VIEWFINDER
from generator.cutting.numbers import ClothNumbers, CutStep, OffcutNumbers
from generator.figures.model import Figure
from generator.measures.measure import Measure
from generator.sheets.document import Subject
from generator.sheets.formatting import quantity, value
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Sentence

MOST_CUTS, MOST_LARGE = 84, 24
"""Rows of cuts in one table on A4: two columns as high as a page, or one in large print."""
ROUND = 55.0
"""Height of a page that such a table does not have, mm."""
A4_HIGH = PAPERS["A4"].height
ONE_COLUMN = 12
"""More rows of cuts than this stand in two columns."""


@dataclass(frozen=True, slots=True)
class CutRow:
    """Cuts that are alike."""

    numbers: str
    runs: str
    distance: str
    gives: str
    times: str
    """How many lengths of cloth are cut so; empty: one."""


@dataclass(frozen=True, slots=True)
class OffcutRow:
    """Offcuts that make the same."""

    size: Sentence
    count: str
    makes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Offcuts:
    """What is still made, and a line about the rest."""

    rows: tuple[OffcutRow, ...]
    rest: str


@dataclass(frozen=True, slots=True)
class CutTable:
    """A part of the cuts, in one column or in two."""

    id: str
    columns: tuple[tuple[CutRow, ...], ...]


@dataclass(frozen=True)
class ClothView:
    """One cloth."""

    id: str
    title: str
    lines: tuple[Sentence, ...]
    how: str
    figures: tuple[tuple[str, Figure], ...]
    """Each with the id of its block."""
    heading: str
    once: bool
    """Lengths that are cut alike stand in drawing and tables once."""
    tables: tuple[CutTable, ...]
    offcuts: Offcuts
    offcuts_id: str


def cloth_view(subject: Subject, cloth: ClothNumbers, number: int, words: Catalogue) -> ClothView:
    """One cloth; ``number`` counts them from 1. Raises WordingError."""
    name = f"cut-cloth-{number}"
    plan = cloth.plan
    lie = "any" if plan.turn else "one-way" if plan.one_way else "pattern"
    return ClothView(
        id=name,
        title=words.say("cut.heading.cloth", name=plan.name),
        lines=(
            words.rich("cut.cloth.sum", length=cloth.length, pieces=cloth.count, **{"yield": cloth.used}),
            words.rich("cut.cloth.exact")
            if plan.layout.exact
            else words.rich("cut.cloth.blocks", bound=cloth.bound),
            words.rich(f"cut.cloth.{lie}"),
            words.rich("cut.scale", ratio=ratio(cloth.scale, words)),
        ),
        how=words.say("cut.cloth.how"),
        figures=drawings_of(subject, name),
        heading=words.say("cut.heading.cuts", name=plan.name),
        once=any(step.times for step in cloth.steps),
        tables=tuple(
            CutTable(f"{name}-cuts-{part}", _columns([_cut(step, words) for step in steps], subject.form))
            for part, steps in enumerate(cut_parts(cloth.steps, subject.form), 1)
        ),
        offcuts=offcuts_view(cloth.offcuts, "cloth", words),
        offcuts_id=f"{name}-offcuts",
    )


def cut_parts(steps: tuple[CutStep, ...], form: Form) -> list[tuple[CutStep, ...]]:
    """Rows of cuts, as many as one table holds."""
    most = MOST_LARGE if form.large else round(MOST_CUTS * (form.sheet.height - ROUND) / (A4_HIGH - ROUND))
    return [steps[at : at + most] for at in range(0, len(steps), most)]


def _columns(rows: list[CutRow], form: Form) -> tuple[tuple[CutRow, ...], ...]:
    if form.large or len(rows) <= ONE_COLUMN:
        return (tuple(rows),)
    half = (len(rows) + 1) // 2
    return tuple(rows[:half]), tuple(rows[half:])


def _cut(step: CutStep, words: Catalogue) -> CutRow:
    first, last = step.first.number, step.cuts[-1].number
    numbers = str(first) if first == last else words.say("range", first=str(first), last=str(last))
    cut = step.first
    if cut.waste:
        gives = words.say("cut.cuts.offcut")
    elif cut.gives:
        gives = words.say("cut.cuts.piece", name=cut.gives)
    else:
        gives = words.say("cut.cuts.part")
    runs = words.say("cut.cuts.along" if cut.runs_along else "cut.cuts.across")
    times = quantity(step.times, words.voice) if step.times else ""
    return CutRow(numbers, runs, quantity(step.distance, words.voice), gives, times)


def offcuts_view(offcuts: tuple[OffcutNumbers, ...], of: str, words: Catalogue) -> Offcuts:
    """``of`` says what a piece of a size is: cloth or panel."""
    voice = words.voice
    useful = [offcut for offcut in offcuts if offcut.made]
    rows = tuple(
        OffcutRow(
            figures_of((offcut.long, offcut.short), voice),
            quantity(offcut.count, voice),
            tuple(_made(name, count, of, words) for name, count in offcut.made),
        )
        for offcut in useful
    )
    if not rows:
        rest = words.say("cut.makes.nothing")
    else:
        rest = words.say("cut.makes.rest") if len(useful) < len(offcuts) else ""
    return Offcuts(rows, rest)


def _made(name: str, count: Measure, of: str, words: Catalogue) -> str:
    if name == SWATCH_NAME:
        return words.say("cut.makes.swatch", count=count)
    kind, _, size = name.partition(" ")
    if kind == VIEWFINDER:
        return words.say("cut.makes.viewfinder", count=count, name=size)
    return words.say(f"cut.makes.{of}", count=count, name=name)


def drawings_of(subject: Subject, name: str) -> tuple[tuple[str, Figure], ...]:
    """The drawings of one cloth or kind of roll, each with the id of its block."""
    found = [figure for figure in subject.figures if _belongs(figure.id, name)]
    return tuple((f"{name}-drawing-{place}", figure) for place, figure in enumerate(found, 1))


def _belongs(id_: str, name: str) -> bool:
    return id_ == name or id_.startswith(f"{name}-")


def ratio(scale: Measure, words: Catalogue) -> str:
    """A scale as it is written."""
    return f"1 : {value(scale, words.voice)}"
