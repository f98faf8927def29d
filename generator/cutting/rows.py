"""A long cloth or roll in rows under one another, at a scale that fits a page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.base.edition import PAPERS, Form
from generator.cutting.model import UNIT, Layout

SCALES = (2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
"""Real mm to one mm on paper; 2, 5, 10, 20, 50 and 100 are those of ISO 5455 (from memory)."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One row: from where to where along the cloth, mm."""

    start: float
    stop: float

    @property
    def length(self) -> float:
        """mm."""
        return self.stop - self.start


@dataclass(frozen=True, slots=True)
class Fit:
    """How layouts are drawn: the scale, and each layout's rows."""

    scale: int
    """Real mm to one mm on paper."""
    rows: tuple[tuple[Stretch, ...], ...]


@dataclass(frozen=True, slots=True)
class Paper:
    """What a drawing has room for, mm."""

    width: float
    height: float
    between: float
    """Kept for each row's dimensions and names."""
    least: float
    """No piece is drawn narrower than this, so that its name can be read."""
    enlarged: float = 1.0
    """Lettering and lines are so many times as large as usual; lengths here are those on the page."""
    page: float = 178.0
    """Width between the margins: the drawing's own, with its dimensions at the sides."""

    def for_form(self, form: Form) -> Paper:
        """The same on the pages of a form: on larger paper more room, in large print less of it."""
        # The columns of Letter are those of A4.
        wider = 0.0 if form.paper == "Letter" else form.sheet.width - PAPERS["A4"].width
        higher = form.sheet.height - PAPERS["A4"].height
        by = {"normal": 1.0, "large": 1.5, "larger": 2.0}[form.print_size]
        aside = self.page - self.width
        return Paper(
            width=self.page + wider - aside * by,
            height=self.height + higher,
            between=self.between * by,
            least=self.least * (1 + by) / 2,
            enlarged=by,
            page=self.page + wider,
        )


def stretches(
    layout: Layout, most: float, *, rest: bool = False, parting: bool = False, ends: Sequence[float] = ()
) -> tuple[Stretch, ...] | None:
    """Rows of at most ``most`` mm that part no piece; None if some piece or part is longer.

    What follows the last piece has no row of its own, unless ``rest`` asks for it. With ``parting`` a row may
    end within pieces where it must: where it parts the fewest, each row as long as it can be then. No row
    runs over one of ``ends``.
    """
    spans = [(p.area.x, p.area.x + p.area.along) for p in layout.placed]
    places = sorted({round(stop, 2) for _, stop in spans} | {layout.length})
    parted = {x: sum(start + UNIT < x < stop - UNIT for start, stop in spans) for x in places}
    rows: list[Stretch] = []
    start = 0.0
    while start < layout.length - UNIT:
        last = min([start + most, *(x for x in ends if x > start + UNIT)]) + UNIT
        within = [x for x in places if start + UNIT < x <= last]
        if all(stop <= start + UNIT for _, stop in spans):
            if rest:
                rows.append(Stretch(start, layout.length))
            break
        stop = max((x for x in within if not parted[x]), default=None)
        if stop is None and parting and within:
            stop = min(within, key=lambda x: (parted[x], -x))
        if stop is None:
            return None
        rows.append(Stretch(start, stop))
        start = stop
    return tuple(rows)


def fit(layouts: Sequence[Layout], paper: Paper, *, rest: bool = False, ends: Sequence[float] = ()) -> Fit:
    """The scale and rows of some layouts.

    The fewest rows that stand under one another on the paper, with every name large enough to be read, at the
    largest scale; else the smallest scale at which names can be read, with more rows than one paper holds.
    Rows part no piece, unless some part of a layout is longer than any row.
    ``rest``: what follows the last piece is drawn too; no row runs over one of ``ends``.
    """
    narrow = min((min(p.area.along, p.area.across) for each in layouts for p in each.placed), default=0.0)
    legible = [scale for scale in SCALES if narrow / scale >= paper.least] or [SCALES[0]]
    possible: list[tuple[int, tuple[tuple[Stretch, ...], ...]]] = []
    for parting in (False, True):
        for scale in legible:
            rows = [
                stretches(each, paper.width * scale, rest=rest, parting=parting, ends=ends)
                for each in layouts
            ]
            if None not in rows:
                possible.append((scale, tuple(row for row in rows if row is not None)))
        fitting = [pair for pair in possible if _height(layouts, pair[1], pair[0], paper) <= paper.height]
        if fitting:
            return Fit(*min(fitting, key=_rows_then_scale))
        if possible:
            return Fit(*possible[-1])
    # One piece alone is longer than the paper at every scale at which its name could be read.
    long = max(each.length for each in layouts)
    scale = next((s for s in SCALES if long <= paper.width * s), SCALES[-1])
    return Fit(scale, tuple((Stretch(0.0, each.length),) for each in layouts))


def _rows_then_scale(pair: tuple[int, Sequence[Sequence[Stretch]]]) -> tuple[int, int]:
    return sum(len(rows) for rows in pair[1]), pair[0]


def _height(layouts: Sequence[Layout], rows: Sequence[Sequence[Stretch]], scale: int, paper: Paper) -> float:
    high = (layout.width / scale + paper.between for layout in layouts)
    return sum(len(each) * one for each, one in zip(rows, high, strict=True))


def pages(fitted: Fit, layout: Layout, paper: Paper) -> int:
    """How many papers the rows of one layout take."""
    each = layout.width / fitted.scale + paper.between
    return math.ceil(len(fitted.rows[0]) / max(1, int(paper.height / each)))
