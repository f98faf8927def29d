"""Cutting plans as drawings: cloth with its cuts in order, rolls with their panels, a reel."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Literal

from shapely import box

from generator.base.words import Words
from generator.cutting.model import Layout
from generator.cutting.numbers import ClothNumbers, PieceNumbers
from generator.cutting.roll_numbers import BatchNumbers, PanelNumbers, TapeNumbers
from generator.cutting.rows import Paper, Stretch
from generator.figures.canvas import Canvas, Point
from generator.figures.cut_legend import FOOT, paint, signs
from generator.figures.cut_rows import RowPainter, Sides
from generator.figures.dimensions import BESIDE_HEADS, dimension
from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.figures.numbers import length as told
from generator.figures.pens import (
    BENCH,
    CLOTH_BACK,
    CLOTH_FACE,
    EM,
    NEW,
    PVC_INSIDE,
    RING_TAPE,
    SOFT,
    THIN,
    WHITE,
)
from generator.figures.svg import Passport, write_svg
from generator.measures.measure import Measure

LEFT, HEAD = 14.0, 9.0
"""Paper for dimensions at the left of a row and above it, mm."""
MILLIMETRES, LEFT_MORE = 6.6, 3.8
"""What a value at the left of a row has room for; how much further right the row may begin for it, mm."""
SHORTEST, MOST_OVER = 5.0, 8.0
"""A line that has room for its heads; how much wider than its line a value above a row may be, mm."""
GAP = 6.0
"""Paper for a note below a row, mm."""
TONES = (CLOTH_FACE, PVC_INSIDE, CLOTH_BACK, BENCH)
REELS, REEL_EDGE = (0.25, 0.2, 0.1, 0.05, 0.02), 6.0
"""Paper mm to one mm of a reel, the largest of which two fit on half a page; paper beside each, mm."""
REEL_MOST, NAME_EDGE = 96.0, 2.0
"""How wide both are together on half a page; paper beside a name below one, mm."""


def cut_figures(numbers: BatchNumbers, words: Words) -> tuple[Figure, ...]:
    """Every drawing of a cutting plan: ``cut-cloth-1``, ``cut-panel-1``, ``cut-reel-1`` and so on.

    What is longer than a page goes on in ``cut-cloth-1-2``, ``cut-cloth-1-3``.
    """
    cloths = (cloth_figures(cloth, words, f"cut-cloth-{n}") for n, cloth in enumerate(numbers.cloths, 1))
    panels = (panel_figures(panel, words, f"cut-panel-{n}") for n, panel in enumerate(numbers.panels, 1))
    reels = (reel_figure(tape, words, f"cut-reel-{n}") for n, tape in enumerate(numbers.tapes, 1))
    return (*chain.from_iterable(cloths), *chain.from_iterable(panels), *reels)


def cloth_figures(cloth: ClothNumbers, words: Words, name: str) -> tuple[Figure, ...]:
    """The cloth from its first end, in rows if it is long; cuts carry their numbers."""
    notes = (words.say("label.cut-first-end"), "")
    lines = [
        replace(line, note=words.say("label.cut-alike-length", count=times)) if times else line
        for line, times in zip(
            _lines(cloth.drawn, cloth.fit.rows[0], iter(cloth.rows), words, notes), cloth.times, strict=True
        )
    ]
    extra = [times.id for times in cloth.times if times]
    look = _look(cloth, words, in_inches=False, numbered=True, one_way=cloth.plan.one_way)
    alt = words.say("alt.layout-cloth", name=cloth.plan.name)
    return _drawn(look, lines, name, alt, extra)


def panel_figures(panel: PanelNumbers, words: Words, name: str) -> tuple[Figure, ...]:
    """Each way in which a roll is cut, once, in rows if it is long."""
    lengths, lines, extra = iter(panel.rows), list[_Line](), list[str]()
    for alike, rows in zip(panel.alike, panel.fit.rows, strict=True):
        notes = (
            words.say(f"label.cut-alike-{panel.form}", count=alike.count),
            words.say("label.cut-left", left=_told(words, alike.left, panel.in_inches)),
        )
        lines += _lines(alike.layout, rows, lengths, words, notes)
        extra += (alike.count.id, alike.left.id)
    look = _look(panel, words, in_inches=panel.in_inches, numbered=False, one_way=False)
    return _drawn(look, lines, name, words.say("alt.layout-panel"), extra)


def reel_figure(tape: TapeNumbers, words: Words, name: str) -> Figure:
    """A full reel, and the last one when all is cut: what is left is read with a rule across it."""
    last, paper = tape.reels[-1], tape.paper
    # In large print it has the whole column, and a name may be wider than its reel.
    most = (REEL_MOST if paper.enlarged == 1.0 else paper.page) / paper.enlarged
    scale = next((s for s in REELS if 2 * (tape.outer.value * s + 2 * REEL_EDGE) <= most), REELS[-1])
    outer, core, left = (each.value * scale for each in (tape.outer, tape.core, last.across))
    names = {noun: words.say(f"label.{noun}") for noun in ("cut-full-reel", "cut-last-reel")}
    half = max(outer + 2 * REEL_EDGE, *(text_width(name, EM) + NAME_EDGE for name in names.values()))
    wide = 2 * half
    canvas = Canvas(round(wide, 2), round(outer + 17.0, 2), view="plan", scale=scale)
    y = 9.0 + outer / 2
    for x, across, measure, noun in (
        (half / 2, outer, tape.outer, "cut-full-reel"),
        (wide - half / 2, left, last.across, "cut-last-reel"),
    ):
        with canvas.group("new" if measure is last.across else "context", f"reel-{measure.id}"):
            canvas.circle((x, y), across / 2, RING_TAPE, NEW)
            canvas.circle((x, y), core / 2, WHITE, THIN)
        ends = ((x - across / 2, y), (x + across / 2, y))
        value = told(words, measure)
        rise = y - 4.5
        dimension(canvas, *ends, value, measure=measure.id, value=measure.value, across=(0, -1), offset=rise)
        inner = ((x - core / 2, y), (x + core / 2, y))
        dimension(
            canvas,
            *inner,
            told(words, tape.core),
            measure=tape.core.id,
            value=tape.core.value,
            offset=0,
        )
        with canvas.group("label", noun):
            canvas.letters((x, canvas.height - 2.2), names[noun], anchor="middle")
    shown = (tape.outer.id, tape.core.id, last.across.id)
    alt = words.say("alt.layout-reel")
    _enlarge(canvas, paper.enlarged)
    svg = write_svg(canvas, Passport(name, name, 0, alt, language=words.language))
    return Figure(name, 0, svg, canvas.width, canvas.height, alt, shown)


def _told(words: Words, measure: Measure, in_inches: bool) -> str:
    return told(words, measure) if in_inches else words.number(measure.value)


def _enlarge(canvas: Canvas, by: float) -> None:
    if by != 1.0:
        canvas.magnify(by)


@dataclass(frozen=True, slots=True)
class _Line:
    """One row of a drawing, with what stands below it at its beginning and at its end."""

    layout: Layout
    row: Stretch
    length: Measure
    note: str
    end: str


@dataclass(frozen=True)
class _Look:
    """What all rows of a drawing share."""

    words: Words
    in_inches: bool
    """Lengths are told in inches where those come first; False: in mm alone."""
    scale: float
    """Real mm to one mm of the drawing before it is enlarged."""
    pieces: tuple[PieceNumbers, ...]
    width: Measure
    paper: Paper
    numbered: bool
    one_way: bool

    @property
    def tones(self) -> dict[str, str]:
        """Fill by name of a piece."""
        return {piece.name: TONES[place % len(TONES)] for place, piece in enumerate(self.pieces)}

    def length(self, measure: Measure) -> str:
        """A length as it is written."""
        return _told(self.words, measure, self.in_inches)

    @property
    def sides(self) -> dict[str, Sides]:
        """Both sides of each piece as written."""
        return {
            piece.name: Sides(
                f"{self.length(piece.length)} × {self.length(piece.width)}",
                (piece.length.id, piece.width.id),
            )
            for piece in self.pieces
        }


def _look(
    drawn: ClothNumbers | PanelNumbers, words: Words, *, in_inches: bool, numbered: bool, one_way: bool
) -> _Look:
    return _Look(
        words,
        in_inches,
        drawn.fit.scale * drawn.paper.enlarged,
        drawn.pieces,
        drawn.width,
        drawn.paper,
        numbered=numbered,
        one_way=one_way,
    )


def _lines(
    layout: Layout,
    rows: Sequence[Stretch],
    lengths: Iterator[Measure],
    words: Words,
    notes: tuple[str, str],
) -> list[_Line]:
    last = len(rows) - 1
    on = words.say("label.cut-goes-on")
    return [
        _Line(layout, row, next(lengths), "" if place else notes[0], on if place < last else notes[1])
        for place, row in enumerate(rows)
    ]


def _drawn(
    look: _Look, lines: Sequence[_Line], name: str, alt: str, extra: Sequence[str] = ()
) -> tuple[Figure, ...]:
    """All rows, as many on a page as it holds."""
    each = look.width.value / look.scale + HEAD + GAP
    most = max(1, int(look.paper.height / look.paper.enlarged / each))
    pages = [lines[at : at + most] for at in range(0, len(lines), most)]
    said: set[str] = set()
    figures = []
    for number, page in enumerate(pages, 1):
        sheet = _Sheet(look, len(page), each, said)
        for line in page:
            sheet.row(line)
        sheet.legend()
        own = name if number == 1 else f"{name}-{number}"
        figures.append(sheet.figure(own, alt, extra if number == 1 else ()))
    return tuple(figures)


class _Sheet:
    """Paper that rows are set on, one under another."""

    def __init__(self, look: _Look, rows: int, each: float, said: set[str]) -> None:
        self.look, self.said = look, said
        self.wide = look.paper.page / look.paper.enlarged
        # A fraction beside a row is wider than millimetres; at the right some paper is free.
        wide = text_width(look.length(look.width), EM) - MILLIMETRES
        self.left = LEFT + min(max(0.0, wide), LEFT_MORE)
        self.signs = signs(
            look.words, self.left, self.wide if look.paper.enlarged != 1.0 else math.inf,
            numbered=look.numbered, one_way=look.one_way,
        )  # fmt: skip
        high = rows * each + len(self.signs) * FOOT
        self.canvas = Canvas(self.wide, round(high, 2), view="plan", scale=1 / look.scale)
        self.shown: list[str] = []
        self.top = HEAD

    def row(self, line: _Line) -> None:
        """One row with its dimensions and notes."""
        look, high = self.look, line.layout.width / self.look.scale
        bands = [
            box(0.0, self.top - HEAD, self.wide, self.top),
            box(0.0, self.top + high, self.wide, self.top + high + GAP),
            box(0.0, self.top - HEAD, self.left - 0.1, self.top + high + GAP),
        ]
        painter = RowPainter(
            self.canvas,
            line.layout,
            look.scale,
            look.tones,
            look.sides,
            numbered=look.numbered,
            said=self.said,
            taken=list(bands),
            shown=self.shown,
        )
        left, upper, right, lower = painter.paint(line.row, (self.left, self.top)).bounds
        self._dimension((left, upper), (right, upper), line.length, (0.0, -1.0), 4.6)
        if look.width.id not in self.shown:
            self._dimension((left, lower), (left, upper), look.width, (-1.0, 0.0), 5.6)
        with self.canvas.group("label", "notes"):
            for x, text, anchor in ((left, line.note, "start"), (max(right, left + 60), line.end, "end")):
                if text:
                    self.canvas.letters((x, lower + 4.2), text, fill=SOFT, anchor=_ANCHORS[anchor])
        self.top = lower + GAP + HEAD

    def legend(self) -> None:
        """What hatching and lines mean; which way the print runs."""
        paint(self.canvas, self.signs, self.look.words, self.left, numbered=self.look.numbered)

    def figure(self, name: str, alt: str, extra: Sequence[str]) -> Figure:
        """The finished drawing; ``extra`` are measures of its notes."""
        _enlarge(self.canvas, self.look.paper.enlarged)
        svg = write_svg(self.canvas, Passport(name, name, 0, alt, language=self.look.words.language))
        shown = tuple(dict.fromkeys([*self.shown, *extra]))
        return Figure(name, 0, svg, self.canvas.width, self.canvas.height, alt, shown)

    def _dimension(self, start: Point, end: Point, measure: Measure, across: Point, offset: float) -> None:
        text = self.look.length(measure)
        # Above a row there is paper on both sides of a short one.
        over = min(text_width(text, EM) - SHORTEST, MOST_OVER) if across[1] else BESIDE_HEADS
        dimension(
            self.canvas,
            start,
            end,
            text,
            measure=measure.id,
            value=measure.value,
            across=across,
            offset=offset,
            over=over,
            level=True,
        )
        self.shown.append(measure.id)


_ANCHORS: Mapping[str, Literal["start", "end"]] = {"start": "start", "end": "end"}
