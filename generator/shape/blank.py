"""The blank of a tapered shade: the flat sheet with its margins and its seam overlap."""

from __future__ import annotations

import math
from functools import lru_cache

from generator.shape.development import ENDS, Development, End
from generator.shape.enclosing import Rectangle, smallest_rectangle
from generator.shape.outline import Point


def end_edge(development: Development, margin: float, overlap: float) -> list[Point]:
    """The end of the sheet laid last, lower margin first: the last generator moved on by the overlap."""
    last = development.generator(development.length)
    ux, uy = math.cos(last.tau), math.sin(last.tau)
    low, high = (list(development.outline_points(end, margin))[-1] for end in ENDS)
    return [(x + overlap * ux, y + overlap * uy) for x, y in (low, last.flat_low, last.flat_high, high)]


@lru_cache(maxsize=64)
def blank_loop(development: Development, margin: float, overlap: float) -> tuple[Point, ...]:
    """The blank's outline as close points, counter-clockwise, from the lower corner of the start."""
    first = development.generator(0.0)
    return (
        *development.outline_points("bottom", margin),
        *end_edge(development, margin, overlap),
        *reversed(list(development.outline_points("top", margin))),
        first.flat_high,
        first.flat_low,
    )


def blank_area(development: Development, margin: float, overlap: float) -> float:
    """Area of sheet, margins and overlap, mm².

    A strip outside a curve of length L that turns by a: margin L + margin² a / 2 at the lower rim, whose
    centre is above it, and minus at the upper (Steiner's formula for parallel curves; do Carmo, from memory).
    """
    turning = development.turning
    signs: tuple[tuple[End, float], ...] = (("bottom", 1.0), ("top", -1.0))
    strips = sum(
        margin * development.rim_length(end) + sign * margin * margin * turning / 2 for end, sign in signs
    )
    last = development.generator(development.length)
    (x0, y0), (x1, y1) = last.flat_low, last.flat_high
    # Only the part of the last generator that goes across counts: the overlap moves at a right angle to it.
    upright = (x1 - x0) * -math.sin(last.tau) + (y1 - y0) * math.cos(last.tau)
    return development.area + strips + overlap * (upright + 2 * margin)


def blank_box(development: Development, margin: float, overlap: float) -> Rectangle:
    """The smallest rectangle that the blank can be cut from."""
    return smallest_rectangle(blank_loop(development, margin, overlap))
