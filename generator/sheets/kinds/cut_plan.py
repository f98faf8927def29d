"""The cutting plan of a recipe's kits, as its template shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.cutting.roll_numbers import BatchNumbers
from generator.plan.work import Work
from generator.sheets.cards import Caution, caution
from generator.sheets.cut_cloth import ClothView, cloth_view, cut_parts, drawings_of, ratio
from generator.sheets.cut_rolls import PanelView, TapeView, panel_view, tape_ids, tape_view
from generator.sheets.document import Subject
from generator.sheets.formatting import quantity
from generator.sheets.packing import Block
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Sentence

CAUTIONS = ("shears", "rotary-blade")
BEFORE = ("flat", "square", "first")


@dataclass(frozen=True, slots=True)
class Have:
    """Something to have before cutting."""

    name: str
    amount: Sentence
    note: Sentence


@dataclass(frozen=True, slots=True)
class SizeRow:
    """One size of the batch."""

    name: str
    boxes: str
    cloth: Sentence
    panel: Sentence


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
            cloths=tuple(cloth_view(subject, cloth, n, words) for n, cloth in enumerate(numbers.cloths, 1)),
            panels=tuple(panel_view(subject, panel, n, words) for n, panel in enumerate(numbers.panels, 1)),
            tapes=tuple(tape_view(subject, tape, n, words) for n, tape in enumerate(numbers.tapes, 1)),
        )
    }


def blocks(subject: Subject) -> tuple[Block, ...]:
    """What stands whole on a page, in order."""
    numbers = _numbers(subject)
    found = [Block("cut-front")]
    for n, _ in enumerate(numbers.tapes, 1):
        found += [Block(id_) for id_ in tape_ids(n, subject.form) if id_]
    for n, cloth in enumerate(numbers.cloths, 1):
        found += [Block(id_, wish=id_.endswith("-1")) for id_, _ in drawings_of(subject, f"cut-cloth-{n}")]
        found += [
            Block(f"cut-cloth-{n}-cuts-{part}")
            for part, _ in enumerate(cut_parts(cloth.steps, subject.form), 1)
        ]
        found.append(Block(f"cut-cloth-{n}-offcuts"))
    for n, _ in enumerate(numbers.panels, 1):
        found += [Block(id_, wish=id_.endswith("-1")) for id_, _ in drawings_of(subject, f"cut-panel-{n}")]
        found.append(Block(f"cut-panel-{n}-rolls"))
    return tuple(found)


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Measures of the plan, the order of cuts, names of sizes, scales."""
    plan = _numbers(subject)
    voice = words.voice
    yield from (quantity(measure, voice) for measure in plan.measures.values())
    for cloth in plan.cloths:
        yield from (str(cut.number) for cut in cloth.drawn.cuts)
        yield cloth.plan.name
        yield ratio(cloth.scale, words)
    yield from (ratio(panel.scale, words) for panel in plan.panels)
    for work in subject.batch:
        yield work.size.name
        yield from (quantity(measure, voice) for measure in work.measures.values())
        if work.kit:
            yield from (quantity(measure, voice) for measure in work.kit.measures.values())


def _numbers(subject: Subject) -> BatchNumbers:
    assert subject.cutting is not None, "a cutting plan is composed of a subject with its cutting"
    return subject.cutting


def _have(plan: BatchNumbers, words: Catalogue) -> Iterator[Have]:
    voice = words.voice
    for cloth in plan.cloths:
        note = words.rich("cut.have.cloth.note", width=cloth.width, length=cloth.length)
        name = words.say("cut.have.cloth", name=cloth.plan.name)
        yield Have(name, figures_of([cloth.buy], voice), note)
    for panel in plan.panels:
        note = words.rich("cut.have.panels.note", length=panel.length, width=panel.width)
        yield Have(words.say(f"cut.have.{panel.form}"), figures_of([panel.count], voice), note)
    for tape in plan.tapes:
        note = words.rich("cut.have.reels.note", length=tape.length, used=tape.used)
        yield Have(words.say("cut.have.reels"), figures_of([tape.count], voice), note)


def _notes(plan: BatchNumbers, words: Catalogue) -> Iterator[Sentence]:
    if plan.spare is not None:
        yield words.rich("cut.spare.note", spare=plan.spare)
    if not any(work.kit and work.kit.part("cloth") for work in plan.batch.works):
        yield words.rich("cut.no-cloth")
    if plan.batch.without_roll:
        yield words.rich("cut.have.uncut", names=", ".join(plan.batch.without_roll))


def _size(work: Work, words: Catalogue) -> SizeRow:
    measures, voice = work.measures, words.voice
    panel = ("blank_length", "blank_width") if work.shade.tapered else ("panel_length", "panel_height")
    boxes = work.kit.boxes if work.kit else None
    return SizeRow(
        work.size.name,
        quantity(boxes, voice) if boxes else "",
        figures_of((measures["cloth_length"], measures["cloth_width"]), voice),
        figures_of((measures[side] for side in panel), voice),
    )
