"""A long cloth or roll in rows under one another, at a scale that fits a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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


def stretches(layout: Layout, most: float, *, rest: bool = False) -> tuple[Stretch, ...] | None:
    """Rows of at most ``most`` mm that part no piece; None if some piece is longer.

    What follows the last piece has no row of its own, unless ``rest`` asks for it.
    """
    ends = sorted({round(p.area.x + p.area.along, 2) for p in layout.placed} | {layout.length})
    whole = [x for x in ends if not any(_within(x, p.area.x, p.area.x + p.area.along) for p in layout.placed)]
    rows: list[Stretch] = []
    start = 0.0
    while start < layout.length - UNIT:
        stop = max((x for x in whole if start + UNIT < x <= start + most + UNIT), default=None)
        if all(p.area.x + p.area.along <= start + UNIT for p in layout.placed):
            if rest:
                rows.append(Stretch(start, layout.length))
            break
        if stop is None:
            return None
        rows.append(Stretch(start, stop))
        start = stop
    return tuple(rows)


def fit(layouts: Sequence[Layout], paper: Paper, *, rest: bool = False) -> Fit:
    """The scale and rows of some layouts.

    The fewest rows that stand under one another on the paper, with every name large enough to be read, at the
    largest scale; else the smallest scale at which names can be read, with more rows than one paper holds.
    ``rest``: what follows the last piece is drawn too.
    """
    narrow = min((min(p.area.along, p.area.across) for each in layouts for p in each.placed), default=0.0)
    found = [(scale, _rows(layouts, paper.width * scale, rest)) for scale in SCALES]
    possible = [(scale, rows) for scale, rows in found if rows is not None]
    legible = [pair for pair in possible if narrow / pair[0] >= paper.least]
    fitting = [
        (scale, rows) for scale, rows in legible if _height(layouts, rows, scale, paper) <= paper.height
    ]
    scale, rows = min(fitting, key=_rows_then_scale) if fitting else (legible[-1:] or possible)[0]
    return Fit(scale, rows)


def _rows_then_scale(pair: tuple[int, Sequence[Sequence[Stretch]]]) -> tuple[int, int]:
    return sum(len(rows) for rows in pair[1]), pair[0]


def _height(layouts: Sequence[Layout], rows: Sequence[Sequence[Stretch]], scale: int, paper: Paper) -> float:
    high = (layout.width / scale + paper.between for layout in layouts)
    return sum(len(each) * one for each, one in zip(rows, high, strict=True))


def _rows(layouts: Sequence[Layout], most: float, rest: bool) -> tuple[tuple[Stretch, ...], ...] | None:
    rows = tuple(stretches(layout, most, rest=rest) for layout in layouts)
    return None if None in rows else tuple(row for row in rows if row is not None)


def _within(x: float, start: float, stop: float) -> bool:
    return start + UNIT < x < stop - UNIT
