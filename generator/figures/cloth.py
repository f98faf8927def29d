"""The right side of the cloth: its print at true repeat, as lines in panel coordinates (along, up), mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from shapely import LineString

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import MOTIF, Pen
from generator.recipe.models import SizeRecipe

STRIDE = 4.0
"""Longest piece of a motif line before it is bent over a curved panel, real mm."""
SMALLEST = 3.0
"""A motif that would be smaller than this on paper is drawn at every second place, mm."""


def sprig(x: float, y: float, w: float, h: float) -> Iterator[list[Point]]:
    """A frond that grows upwards: it tells the top of the print."""
    stem = [(x + 0.08 * w * math.sin(3 * t), y + h * (t - 0.5)) for t in (k / 8 for k in range(9))]
    yield stem
    for k, side in ((2, 1), (3, -1), (4, 1), (5, -1), (6, 1)):
        sx, sy = stem[k]
        reach = 0.3 * w * (1.25 - k / 8)
        yield [(sx, sy), (sx + side * reach * 0.7, sy + 0.06 * h), (sx + side * reach, sy + 0.16 * h)]


def motif(
    size: SizeRecipe, length: float, height: float, scale: float, start: float = 0.0
) -> Iterator[list[Point]]:
    """Lines of the print over a piece of cloth from ``start`` to ``length`` and 0 to ``height``, real mm.

    A one-way cloth carries fronds that point up, a cloth with a repeat around only carries stripes, any other
    a plain weave shown by sparse threads. ``scale`` is paper mm per real mm.
    """
    repeat = size.covering.repeat
    around = (repeat.around if repeat and repeat.around else None) or 45.0
    up = (repeat.up if repeat and repeat.up else None) or 60.0
    if size.covering.direction == "one-way":
        across = max(1, math.ceil(SMALLEST * 1.6 / (around * scale))) * around
        rise = max(1, math.ceil(SMALLEST * 1.8 / (up * scale))) * up
        for i in range(math.floor(start / across), math.ceil(length / across) + 1):
            for j in range(-1, math.ceil(height / rise) + 1):
                x, y = (i + 0.5) * across, (j + 0.5 + (0.5 if i % 2 else 0.0)) * rise
                yield from sprig(x, y, min(across, rise) * 0.55, rise * 0.62)
    elif repeat and repeat.around:
        across = max(1, math.ceil(1.6 / (around * scale))) * around
        for i in range(math.floor(start / across), math.ceil(length / across) + 1):
            yield [(i * across, 0.0), (i * across, height)]
            yield [(i * across + 0.3 * across, 0.0), (i * across + 0.3 * across, height)]
    else:
        step = max(22.0, 5.0 / scale)
        dash = min(step * 0.34, 2.0 / scale)
        for i in range(math.floor(start / step), math.ceil(length / step) + 1):
            for j in range(math.ceil(height / step) + 1):
                x, y = (i + 0.5 + (0.5 if j % 2 else 0.0)) * step, (j + 0.5) * step
                if (i + j) % 2:
                    yield [(x - dash / 2, y), (x + dash / 2, y)]
                else:
                    yield [(x, y - dash / 2), (x, y + dash / 2)]


def print_flat(
    canvas: Canvas,
    size: SizeRecipe,
    to_paper: Callable[[Point], Point],
    length: float,
    height: float,
    scale: float,
    pen: Pen = MOTIF,
) -> None:
    """The print on a flat cloth of length × height whose point (along, up) stands at ``to_paper``."""
    field = LineString([(0.0, 0.0), (length, height)]).envelope
    with canvas.group("context", "print"):
        for line in motif(size, length, height, scale):
            clipped = LineString(line).intersection(field)
            for piece in getattr(clipped, "geoms", [clipped]):
                if piece.geom_type == "LineString" and not piece.is_empty:
                    canvas.line([to_paper((x, y)) for x, y in piece.coords], pen)


def pieces(line: Sequence[Point]) -> list[list[Point]]:
    """A motif line cut into pieces that are short enough to bend."""
    lengths = [math.dist(a, b) for a, b in pairwise(line)]
    stride = math.fsum(lengths) / max(1, math.ceil(math.fsum(lengths) / STRIDE))
    found: list[list[Point]] = [[line[0]]]
    room = stride
    for ((ax, ay), (bx, by)), length in zip(pairwise(line), lengths, strict=True):
        gone = 0.0
        while length - gone > room + 1e-9:
            gone += room
            cut = (ax + (bx - ax) * gone / length, ay + (by - ay) * gone / length)
            found[-1].append(cut)
            found.append([cut])
            room = stride
        found[-1].append((bx, by))
        room -= length - gone
    return found
