"""A word at a place that the figure itself chooses, with its leader: for details of fixed layout."""

from __future__ import annotations

import math

from shapely import Point as Dot

from generator.figures.canvas import Canvas, Point
from generator.figures.lettering import DESCENT, text_width
from generator.figures.pens import EM, INK, THIN
from generator.figures.stamps import stamped

EDGE = 0.4
"""Words keep this far from the picture's edges, mm."""
CAPITAL = 0.66
"""Height of capitals, ems."""


def within(canvas: Canvas, start: float, wide: float) -> float:
    """Where a word of this width starts on paper, mm: as wished, or as near as the picture's edges let it."""
    return max(min(start, canvas.width - EDGE - wide), EDGE)


@stamped
def callout(
    canvas: Canvas,
    spot: Point,
    at: Point,
    text: str,
    *,
    side: float = 1.0,
    dot: bool = True,
    halo: bool = False,
    over: float | None = None,
) -> None:
    """``text`` with its base line at ``at``, growing to the right (``side`` 1), the left (-1) or both (0).

    The leader runs from ``spot`` to the nearest side of the text; to one above or below it straight up or
    down, or to ``over`` along it.
    """
    wide = text_width(text, EM)
    start = within(canvas, at[0] - {1: 0.0, 0: 0.5, -1: 1.0}[round(side)] * wide, wide)
    along = min(max(spot[0] if over is None else over, start + 0.15 * wide), start + 0.85 * wide)
    top, foot = at[1] - CAPITAL * EM - 0.6, at[1] + DESCENT * EM + 0.3
    middle = at[1] - CAPITAL * EM / 2
    ends = [(start - 0.7, middle), (start + wide + 0.7, middle), (along, top), (along, foot)]
    end = min(ends, key=lambda p: math.dist(p, spot))
    with canvas.group("label", "callout"):
        canvas.line([spot, end], THIN)
        if dot:
            canvas.area(Dot(spot).buffer(0.55), INK)
        canvas.letters((start, at[1]), text, halo=halo)


@stamped
def word(canvas: Canvas, centre: Point, text: str, *, halo: bool = False) -> None:
    """A word that stands on its thing, its capitals centred on ``centre``."""
    with canvas.group("label", "word"):
        canvas.letters((centre[0], centre[1] + CAPITAL / 2 * EM), text, anchor="middle", halo=halo)
