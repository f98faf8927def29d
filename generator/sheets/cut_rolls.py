"""Panels and tape of a cutting plan as a template shows them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.base.edition import Form
from generator.cutting.roll_numbers import PanelNumbers, TapeNumbers
from generator.figures.model import Figure
from generator.measures.measure import Measure
from generator.plan.work import Work
from generator.sheets.cut_cloth import Offcuts, drawings_of, offcuts_view, ratio
from generator.sheets.document import Subject
from generator.sheets.formatting import quantity
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Sentence


@dataclass(frozen=True, slots=True)
class RollRow:
    """Rolls, sheets or reels that are cut alike."""

    name: str
    """How many they are."""
    pieces: str
    left: Sentence
    across: Sentence = ()


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
    pieces: tuple[tuple[str, Sentence, str], ...]
    rows: tuple[RollRow, ...]
    rows_id: str = ""
    """Of the rows, where they stand by themselves."""


def panel_view(
    subject: Subject,
    panel: PanelNumbers,
    number: int,
    words: Catalogue,
    named: Mapping[str, Work] | None = None,
) -> PanelView:
    """One kind of roll; ``number`` counts them from 1. ``named``: the works by the names of their pieces,
    where those are not the names of sizes. Raises WordingError."""
    name = f"cut-panel-{number}"
    plan = panel.plan
    lines = [
        words.rich(f"cut.panels.sum.{panel.form}", count=panel.count, length=panel.length, width=panel.width),
        words.rich("cut.panels.exact")
        if plan.plan.exact
        else words.rich("cut.panels.open", bound=panel.bound),
        words.rich(f"cut.panels.{'lanes' if plan.plan.lanes > 1 else 'how'}.{panel.form}"),
    ]
    named = named or {work.size.name: work for work in subject.batch}
    works = [named[piece.name] for piece in plan.plan.pieces]
    if any(work.shade.tapered for work in works):
        lines.append(words.rich("cut.panels.curved"))
    elif plan.scored and panel.trimmed and "margin" in works[0].measures:
        lines.append(words.rich("cut.panels.scored", margin=works[0].measures["margin"]))
    # A drawing in inches has their sign behind each; millimetres stand bare, and the line names them.
    scale = "cut.scale.inches" if panel.in_inches and words.voice.units == "inch" else "cut.scale"
    lines.append(words.rich(scale, ratio=ratio(panel.scale, words)))
    return PanelView(
        id=name,
        title=words.say(f"cut.heading.panels.{panel.form}"),
        lines=tuple(lines),
        figures=drawings_of(subject, name),
        rows_name=words.say(f"cut.panels.like-this.{panel.form}"),
        rows=tuple(
            RollRow(
                quantity(alike.count, words.voice),
                _counted(alike.pieces, words),
                figures_of([alike.left], words.voice),
            )
            for alike in panel.alike
        ),
        table_id=f"{name}-rolls",
        offcuts=offcuts_view(panel.offcuts, "panel", words),
    )


def tape_ids(number: int, form: Form) -> tuple[str, str]:
    """What stands whole on a page of one tape: in large print its reels stand by themselves."""
    name = f"cut-tape-{number}"
    return name, f"{name}-reels" if form.large else ""


def tape_view(subject: Subject, tape: TapeNumbers, number: int, words: Catalogue) -> TapeView:
    """One tape; ``number`` counts them from 1. Raises WordingError, FigureError."""
    voice = words.voice
    name, rows = tape_ids(number, subject.form)
    return TapeView(
        id=name,
        rule=words.rich("cut.tape.rule", outer=tape.outer, core=tape.core),
        figure=subject.drawing(f"cut-reel-{number}"),
        pieces=tuple(
            (_tape_name(name, words), figures_of([length], voice), quantity(count, voice))
            for name, length, count in tape.pieces
        ),
        rows=tuple(
            RollRow(
                quantity(reel.count, voice),
                _counted([(_tape_name(name, words), count) for name, count in reel.pieces], words),
                figures_of([reel.left], voice),
                figures_of([reel.across], voice),
            )
            for reel in tape.reels
        ),
        rows_id=rows,
    )


def _tape_name(name: str, words: Catalogue) -> str:
    part, _, size = name.partition(" ")
    return words.say("cut.tape.piece.name", tape=words.say(f"consumable.{part}"), name=size)


def _counted(pieces: Iterable[tuple[str, Measure]], words: Catalogue) -> str:
    each = (words.say("cut.several", count=count, name=name) for name, count in pieces)
    return words.say("told.semicolon").join(each)
