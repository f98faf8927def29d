"""The list for whoever packs the boxes: part, shelf, pieces, weight for each size; then all together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.base.edition import PAPERS, Form
from generator.measures.measure import Measure, Measures
from generator.plan.kit import KitPart, PartKind
from generator.plan.lot import LotPart, TotalPart, batch_lot, size_lot
from generator.plan.work import Work
from generator.sheets.called import packing
from generator.sheets.context import subline
from generator.sheets.document import Subject
from generator.sheets.formatting import listed, quantity, sentence_case
from generator.sheets.packing import Block
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Segment, Sentence

SMALL_ROWS, ROW = 12, 5.4
"""Rows that half a sheet of A4 holds, and the height of one, mm; a longer list is printed on a whole one."""
MOST_TICKS = 40
"""A square to tick for each box, up to so many."""
MOST_COLUMNS = 6
"""Sizes that have columns of their own in the table of all."""


@dataclass(frozen=True, slots=True)
class PickRow:
    """A part of one size."""

    part: Sentence
    shelf: str
    kit: Sentence
    lot: Sentence
    length: Sentence
    """Metres off the reel for the lot; empty for what is counted."""
    weight: Sentence


@dataclass(frozen=True, slots=True)
class PickPage:
    """One size."""

    title: Sentence
    subline: Sentence
    rows: tuple[PickRow, ...]
    weight: Sentence
    """What a packed box weighs."""
    ticks: int
    """Squares to tick, one a box; 0: there are too many boxes."""


@dataclass(frozen=True, slots=True)
class TotalRow:
    """A part over all sizes."""

    part: Sentence
    shelf: str
    by_size: tuple[Sentence, ...]
    total: Sentence
    length: Sentence


@dataclass(frozen=True, slots=True)
class Totals:
    """All sizes together."""

    title: Sentence
    sizes: tuple[str, ...]
    rows: tuple[TotalRow, ...]
    weight: Sentence


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template names."""
    pages = tuple(_page(work, subject, words) for work in subject.batch)
    kits = subject.size.kits
    longest = max(len(page.rows) for page in pages)
    return {
        "paper": _paper(subject.form, longest),
        "lot": kits.lot if kits else None,
        "name": subject.size.title,
        "pages": pages,
        "parted": subject.form.print_size == "larger",
        "totals": _totals(subject, words) if len(pages) > 1 else None,
    }


def _paper(form: Form, rows: int) -> str:
    """Half a sheet lying, as wide as a whole one standing; in large print a whole one lying.

    At 24 points eight columns are wider than that, and rows are blocks of lines on a sheet that stands.
    """
    sheet = form.sheet
    if form.print_size == "larger":
        return f"{sheet.width}mm {sheet.height}mm"
    # Half of A4 is A5, which ISO 216 rounds down.
    half = PAPERS["A5"].width if form.paper == "A4" else sheet.height / 2
    if form.large:
        return f"{sheet.height}mm {sheet.width}mm"
    most = SMALL_ROWS - int((PAPERS["A5"].width - half) / ROW)
    return f"{sheet.width}mm {half if rows <= most else sheet.height}mm"


def blocks(subject: Subject) -> tuple[Block, ...]:
    """None: each size begins a page, and a table goes on on the next one."""
    return ()


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Every number of every size's kit and lot, and the names of sizes, parts and shelves."""
    lots = [lot for work in subject.batch if work.kit for lot in size_lot(work.kit)]
    every: list[Measure] = [*batch_lot(subject.batch).measures.values()]
    every += [m for lot in lots for m in (lot.total, lot.length) if m is not None]
    for work in subject.batch:
        every += work.with_kit.measures.values()
        yield work.size.name
    yield from (quantity(measure, words.voice) for measure in every)
    yield from (text for lot in lots for text in (lot.part.shelf, lot.part.called) if text)


def _page(work: Work, subject: Subject, words: Catalogue) -> PickPage:
    kit = work.kit
    assert kit is not None
    lots = size_lot(kit)
    own = _words_of(work, subject, words, lots)
    unweighed = [_name(part, own) for part in kit.parts if part.name in kit.unweighed]
    weight: Sentence = ()
    if kit.weight is not None:
        key = "pick.weight.without" if unweighed else "pick.weight.whole"
        weight = own.rich(key, parts=listed(unweighed, own.voice))
    boxes = round(kit.boxes.value)
    return PickPage(
        title=own.rich("pick.size", name=work.size.name),
        subline=subline(work.size, own),
        rows=tuple(_row(lot, own) for lot in lots),
        weight=weight,
        ticks=boxes if boxes <= MOST_TICKS else 0,
    )


def _words_of(work: Work, subject: Subject, words: Catalogue, lots: Iterable[LotPart]) -> Catalogue:
    """The words bound to one size and its lot."""
    lot = {m.id: m for each in lots for m in (each.total, each.length) if m is not None}
    measures = Measures({**work.with_kit.measures, **lot})
    return words.bound(work.plan, measures, title=work.size.title, size=work.size.name)


def _row(lot: LotPart, words: Catalogue) -> PickRow:
    part = lot.part
    count = [part.count] + ([part.spare] if part.spare else [])
    return PickRow(
        part=_described(part.name, part.kind, part.called, words),
        shelf=part.shelf or "",
        kit=figures_of(count, words.voice, " + "),
        lot=figures_of([lot.total], words.voice),
        length=figures_of([lot.length], words.voice) if lot.length else (),
        weight=figures_of([part.weight], words.voice) if part.weight else (),
    )


def _described(name: str, kind: PartKind, called: str | None, words: Catalogue) -> Sentence:
    """A part as it is looked for on the shelf, with its size."""
    if called is not None:
        return (Segment(packing(called, words)),)
    own = f"pick.part.{name}"
    return words.rich(own if words.has(own) else f"layout.{name}")


def _name(part: KitPart, words: Catalogue) -> str:
    return packing(part.called, words) if part.called else words.say(f"{part.kind}.{part.name}")


def _totals(subject: Subject, words: Catalogue) -> Totals:
    lot = batch_lot(subject.batch)
    own = words.bound(subject.plan, lot.measures)
    sizes = tuple(work.size.name for work in subject.batch)
    columns = len(sizes) <= MOST_COLUMNS
    return Totals(
        title=own.rich("pick.all"),
        sizes=sizes if columns else (),
        rows=tuple(_total_row(part, own, columns) for part in lot.parts),
        weight=own.rich("pick.weight.all") if lot.weight else (),
    )


def _total_row(part: TotalPart, words: Catalogue, columns: bool) -> TotalRow:
    own = words.say(f"{part.kind}.{part.name}") if part.called is None else packing(part.called, words)
    return TotalRow(
        part=(Segment(sentence_case(own)),),
        shelf=part.shelf or "",
        by_size=tuple(_pieces(part.by_size, words)) if columns else (),
        total=figures_of([part.total], words.voice),
        length=figures_of([part.length], words.voice) if part.length else (),
    )


def _pieces(counts: Iterable[Measure | None], words: Catalogue) -> Iterator[Sentence]:
    for count in counts:
        yield figures_of([count], words.voice) if count else ()
