"""The cutting plan of a recipe's kits, as its template shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.cutting.batch import SWATCH_NAME, VIEWFINDER
from generator.cutting.numbers import ClothNumbers, CutStep, OffcutNumbers
from generator.cutting.roll_numbers import BatchNumbers, PanelNumbers, TapeNumbers
from generator.figures.model import Figure
from generator.measures.measure import Measure
from generator.plan.work import Work
from generator.sheets.cards import Caution, caution
from generator.sheets.document import Subject
from generator.sheets.formatting import product, quantity, value
from generator.sheets.packing import Block
from generator.sheets.wording import Catalogue, Sentence

CAUTIONS = ("shears", "rotary-blade")
BEFORE = ("flat", "square", "first")
MOST_CUTS = 84
"""Rows of cuts in one table: two columns as high as a page."""
ONE_COLUMN = 12
"""More rows of cuts than this stand in two columns."""


@dataclass(frozen=True, slots=True)
class Have:
    """Something to have before cutting."""

    name: str
    amount: str
    note: Sentence


@dataclass(frozen=True, slots=True)
class SizeRow:
    """One size of the batch."""

    name: str
    boxes: str
    cloth: str
    panel: str


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

    size: str
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


@dataclass(frozen=True, slots=True)
class RollRow:
    """Rolls, sheets or reels that are cut alike."""

    name: str
    """How many they are."""
    pieces: str
    left: str
    across: str = ""


@dataclass(frozen=True)
class PanelView:
    """Panels out of one kind of roll."""

    id: str
    title: str
    lines: tuple[Sentence, ...]
    figures: tuple[tuple[str, Figure], ...]
    rows_name: str
    """What the rows count: rolls or sheets."""
    rows: tuple[RollRow, ...]
    table_id: str
    offcuts: Offcuts


@dataclass(frozen=True)
class TapeView:
    """Tape of one kind."""

    id: str
    rule: Sentence
    figure: Figure
    pieces: tuple[tuple[str, str, str], ...]
    rows: tuple[RollRow, ...]


@dataclass(frozen=True)
class CutPlanView:
    """All that the pages of a cutting plan show."""

    lot: str | None
    cautions: tuple[Caution, ...]
    have: tuple[Have, ...]
    notes: tuple[Sentence, ...]
    sizes: tuple[SizeRow, ...]
    before: tuple[Sentence, ...]
    cloths: tuple[ClothView, ...]
    panels: tuple[PanelView, ...]
    tapes: tuple[TapeView, ...]


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template names. Raises WordingError, FigureError."""
    numbers = _numbers(subject)
    kits = subject.size.kits
    return {
        "cut": CutPlanView(
            lot=words.say("cut.lot", lot=kits.lot) if kits and kits.lot else None,
            cautions=tuple(caution(words, name) for name in CAUTIONS),
            have=tuple(_have(numbers, words)),
            notes=tuple(_notes(numbers, words)),
            sizes=tuple(_size(work, words) for work in numbers.batch.works),
            before=tuple(words.rich(f"cut.before.{name}") for name in BEFORE),
            cloths=tuple(_cloth(subject, cloth, n, words) for n, cloth in enumerate(numbers.cloths, 1)),
            panels=tuple(_panel(subject, panel, n, words) for n, panel in enumerate(numbers.panels, 1)),
            tapes=tuple(_tape(subject, tape, n, words) for n, tape in enumerate(numbers.tapes, 1)),
        )
    }


def blocks(subject: Subject) -> tuple[Block, ...]:
    """What stands whole on a page, in order."""
    numbers = _numbers(subject)
    found = [Block("cut-front")]
    found += [Block(f"cut-tape-{n}") for n, _ in enumerate(numbers.tapes, 1)]
    for n, cloth in enumerate(numbers.cloths, 1):
        found += [Block(id_, wish=id_.endswith("-1")) for id_, _ in _figures(subject, f"cut-cloth-{n}")]
        found += [Block(f"cut-cloth-{n}-cuts-{part}") for part, _ in enumerate(_parts(cloth.steps), 1)]
        found.append(Block(f"cut-cloth-{n}-offcuts"))
    for n, _ in enumerate(numbers.panels, 1):
        found += [Block(id_, wish=id_.endswith("-1")) for id_, _ in _figures(subject, f"cut-panel-{n}")]
        found.append(Block(f"cut-panel-{n}-rolls"))
    return tuple(found)


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Measures of the plan, the order of cuts, names of sizes, scales."""
    plan = _numbers(subject)
    language = words.language
    yield from (quantity(measure, language) for measure in plan.measures.values())
    for cloth in plan.cloths:
        yield from (str(cut.number) for cut in cloth.drawn.cuts)
        yield cloth.plan.name
        yield _ratio(cloth.scale, words)
    yield from (_ratio(panel.scale, words) for panel in plan.panels)
    for work in subject.batch:
        yield work.size.name
        yield from (quantity(measure, language) for measure in work.measures.values())
        if work.kit:
            yield from (quantity(measure, language) for measure in work.kit.measures.values())


def _numbers(subject: Subject) -> BatchNumbers:
    assert subject.cutting is not None, "a cutting plan is composed of a subject with its cutting"
    return subject.cutting


def _have(plan: BatchNumbers, words: Catalogue) -> Iterator[Have]:
    language = words.language
    for cloth in plan.cloths:
        note = words.rich("cut.have.cloth.note", width=cloth.width, length=cloth.length)
        name = words.say("cut.have.cloth", name=cloth.plan.name)
        yield Have(name, quantity(cloth.buy, language), note)
    for panel in plan.panels:
        note = words.rich("cut.have.panels.note", length=panel.length, width=panel.width)
        yield Have(words.say(f"cut.have.{panel.form}"), quantity(panel.count, language), note)
    for tape in plan.tapes:
        note = words.rich("cut.have.reels.note", length=tape.length, used=tape.used)
        yield Have(words.say("cut.have.reels"), quantity(tape.count, language), note)


def _notes(plan: BatchNumbers, words: Catalogue) -> Iterator[Sentence]:
    if plan.spare is not None:
        yield words.rich("cut.spare.note", spare=plan.spare)
    if not any(work.kit and work.kit.part("cloth") for work in plan.batch.works):
        yield words.rich("cut.no-cloth")
    if plan.batch.without_roll:
        yield words.rich("cut.have.uncut", names=", ".join(plan.batch.without_roll))


def _size(work: Work, words: Catalogue) -> SizeRow:
    measures, language = work.measures, words.language
    panel = ("blank_length", "blank_width") if work.shade.tapered else ("panel_length", "panel_height")
    boxes = work.kit.boxes if work.kit else None
    return SizeRow(
        work.size.name,
        quantity(boxes, language) if boxes else "",
        product((measures["cloth_length"], measures["cloth_width"]), language),
        product((measures[side] for side in panel), language),
    )


def _cloth(subject: Subject, cloth: ClothNumbers, number: int, words: Catalogue) -> ClothView:
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
            words.rich("cut.scale", ratio=_ratio(cloth.scale, words)),
        ),
        how=words.say("cut.cloth.how"),
        figures=_figures(subject, name),
        heading=words.say("cut.heading.cuts", name=plan.name),
        once=any(step.times for step in cloth.steps),
        tables=tuple(
            CutTable(f"{name}-cuts-{part}", _columns([_cut(step, words) for step in steps]))
            for part, steps in enumerate(_parts(cloth.steps), 1)
        ),
        offcuts=_offcuts(cloth.offcuts, "cloth", words),
        offcuts_id=f"{name}-offcuts",
    )


def _parts(steps: tuple[CutStep, ...]) -> list[tuple[CutStep, ...]]:
    return [steps[at : at + MOST_CUTS] for at in range(0, len(steps), MOST_CUTS)]


def _columns(rows: list[CutRow]) -> tuple[tuple[CutRow, ...], ...]:
    if len(rows) <= ONE_COLUMN:
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
    times = quantity(step.times, words.language) if step.times else ""
    return CutRow(numbers, runs, quantity(step.distance, words.language), gives, times)


def _offcuts(offcuts: tuple[OffcutNumbers, ...], of: str, words: Catalogue) -> Offcuts:
    """``of`` says what a piece of a size is: cloth or panel."""
    language = words.language
    useful = [offcut for offcut in offcuts if offcut.made]
    rows = tuple(
        OffcutRow(
            product((offcut.long, offcut.short), language),
            quantity(offcut.count, language),
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


def _panel(subject: Subject, panel: PanelNumbers, number: int, words: Catalogue) -> PanelView:
    name = f"cut-panel-{number}"
    plan = panel.plan
    lines = [
        words.rich(f"cut.panels.sum.{panel.form}", count=panel.count, length=panel.length, width=panel.width),
        words.rich("cut.panels.exact")
        if plan.plan.exact
        else words.rich("cut.panels.open", bound=panel.bound),
        words.rich(f"cut.panels.{'lanes' if plan.plan.lanes > 1 else 'how'}.{panel.form}"),
    ]
    works = [work for work in subject.batch if work.size.name in {piece.name for piece in plan.plan.pieces}]
    if any(work.shade.tapered for work in works):
        lines.append(words.rich("cut.panels.curved"))
    elif plan.scored and panel.trimmed and "margin" in works[0].measures:
        lines.append(words.rich("cut.panels.scored", margin=works[0].measures["margin"]))
    lines.append(words.rich("cut.scale", ratio=_ratio(panel.scale, words)))
    return PanelView(
        id=name,
        title=words.say(f"cut.heading.panels.{panel.form}"),
        lines=tuple(lines),
        figures=_figures(subject, name),
        rows_name=words.say(f"cut.panels.like-this.{panel.form}"),
        rows=tuple(
            RollRow(
                quantity(alike.count, words.language),
                _counted(alike.pieces, words),
                quantity(alike.left, words.language),
            )
            for alike in panel.alike
        ),
        table_id=f"{name}-rolls",
        offcuts=_offcuts(panel.offcuts, "panel", words),
    )


def _tape(subject: Subject, tape: TapeNumbers, number: int, words: Catalogue) -> TapeView:
    language = words.language
    return TapeView(
        id=f"cut-tape-{number}",
        rule=words.rich("cut.tape.rule", outer=tape.outer, core=tape.core),
        figure=subject.drawing(f"cut-reel-{number}"),
        pieces=tuple(
            (_tape_name(name, words), quantity(length, language), quantity(count, language))
            for name, length, count in tape.pieces
        ),
        rows=tuple(
            RollRow(
                quantity(reel.count, language),
                _counted([(_tape_name(name, words), count) for name, count in reel.pieces], words),
                quantity(reel.left, language),
                quantity(reel.across, language),
            )
            for reel in tape.reels
        ),
    )


def _tape_name(name: str, words: Catalogue) -> str:
    part, _, size = name.partition(" ")
    return words.say("cut.tape.piece.name", tape=words.say(f"consumable.{part}"), name=size)


def _counted(pieces: Iterable[tuple[str, Measure]], words: Catalogue) -> str:
    return "; ".join(words.say("cut.several", count=count, name=name) for name, count in pieces)


def _figures(subject: Subject, name: str) -> tuple[tuple[str, Figure], ...]:
    """The drawings of one cloth or kind of roll, each with the id of its block."""
    found = [figure for figure in subject.figures if _belongs(figure.id, name)]
    return tuple((f"{name}-drawing-{place}", figure) for place, figure in enumerate(found, 1))


def _belongs(id_: str, name: str) -> bool:
    return id_ == name or id_.startswith(f"{name}-")


def _ratio(scale: Measure, words: Catalogue) -> str:
    return f"1 : {value(scale, words.language)}"
