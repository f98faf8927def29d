"""What paths paint on a page: the colour that is seen at a place, worked out from their own numbers.

Painting the page would be slower by far, and a thin line would come out mixed with what is beside it.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import pypdfium2.raw as pdfium

from generator.press.geometry import Box, Matrix, Point
from generator.press.sheet import Colour, Thing

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, np.dtype[Any]]

PAPER: Colour = (255, 255, 255, 255)
_PIECES = 4
"""Straight pieces that stand for one curve: the bends of a figure are short."""
_MOST_EDGES = 20_000
"""A path of more is none of ours: it is taken to paint nothing."""
_AT_ONCE = 1_000_000
"""Pairs of a point and an edge, or of a point and a box, that are looked at together: what memory holds."""
_OPAQUE = 0.99
"""What covers this much of its ground leaves nothing of it to be seen."""


@dataclass(frozen=True, eq=False)
class Layer:
    """A path that paints something."""

    thing: Thing
    fill: Colour | None
    stroke: Colour | None
    width: float
    """Of its stroke, points on the page."""

    @cached_property
    def box(self) -> Box:
        """As far as it is painted."""
        return self.thing.visible

    @property
    def size(self) -> tuple[float, float]:
        """Width and height, points."""
        return self.box.right - self.box.left, self.box.top - self.box.bottom

    @cached_property
    def edges(self) -> Array:
        """Its straight pieces, each x, y, x, y in points; subpaths are closed where the path is filled."""
        import numpy as np

        found: list[tuple[float, float, float, float]] = []
        many = pdfium.FPDFPath_CountSegments(self.thing.handle) > _MOST_EDGES
        for line in [] if many else _lines(self.thing.handle):
            ends = [*line[1:], line[0]] if self.fill else line[1:]
            found.extend((*one, *two) for one, two in zip(line, ends, strict=False) if one != two)
        matrix = _whole(self.thing)
        turn = np.array([[matrix.a, matrix.b], [matrix.c, matrix.d]])
        spots = np.array(found, float).reshape(-1, 2) @ turn + (matrix.e, matrix.f)
        pieces: Array = spots.reshape(-1, 4)
        return pieces

    def covers(self, x: Array, y: Array) -> tuple[Array, Array]:
        """Which of these points its fill covers, and which its stroke does."""
        import numpy as np

        odd, on = np.zeros(len(x), bool), np.zeros(len(x), bool)
        each = max(1, _AT_ONCE // max(1, len(x)))
        for first in range(0, len(self.edges), each):
            x0, y0, x1, y1 = self.edges[first : first + each].T[:, :, None]
            if self.fill:
                # Even or odd, as all our own paths are filled: how many edges lie to the right.
                with np.errstate(divide="ignore", invalid="ignore"):
                    right = x < (x1 - x0) * (y - y0) / (y1 - y0) + x0
                odd ^= (((y0 > y) != (y1 > y)) & right).sum(0) % 2 == 1
            if self.stroke:
                dx, dy = x1 - x0, y1 - y0
                along = np.clip(((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy), 0, 1)
                away = np.hypot(x - x0 - along * dx, y - y0 - along * dy).min(0)
                on |= away <= self.width / 2
        return odd, on


def layer_of(thing: Thing) -> Layer | None:
    """What a thing paints; None for text, for a path that only clips, and where it has no plain colour."""
    if pdfium.FPDFPageObj_GetType(thing.handle) != pdfium.FPDF_PAGEOBJ_PATH:
        return None
    mode, stroked = ctypes.c_int(), ctypes.c_int()
    pdfium.FPDFPath_GetDrawMode(thing.handle, mode, stroked)
    fill = thing.fill if mode.value and thing.fill and thing.fill[3] else None
    stroke, width = None, 0.0
    if stroked.value:
        red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
        thick = ctypes.c_float()
        pdfium.FPDFPageObj_GetStrokeWidth(thing.handle, thick)
        if pdfium.FPDFPageObj_GetStrokeColor(thing.handle, red, green, blue, alpha) and alpha.value:
            stroke = (red.value, green.value, blue.value, round(alpha.value * thing.dense))
            width = thick.value * _whole(thing).scale
    return Layer(thing, fill, stroke, width) if fill or stroke else None


@dataclass(frozen=True, slots=True)
class Seen:
    """What is seen at some points of a page."""

    colours: Array
    """Red, green and blue of each."""
    top: Array
    """The order of painting of what is topmost at each; -1: bare paper."""
    by_stroke: Array
    """Whether that is its stroke."""


def seen_at(points: Array, layers: list[Layer]) -> Seen:
    """What is seen at points of a page, x and y of each, when these layers are painted in their order."""
    import numpy as np

    rest = np.ones(len(points))
    colours = np.zeros((len(points), 3))
    top = np.full(len(points), -1)
    by_stroke = np.zeros(len(points), bool)
    for layer, at_all in _near(points, layers):
        at_all = at_all[rest[at_all] > 1 - _OPAQUE]
        if not len(at_all):
            continue
        inside, on = layer.covers(*points[at_all].T)
        for hit, paint, stroked in ((on, layer.stroke, True), (inside, layer.fill, False)):
            at = at_all[hit & (rest[at_all] > 1 - _OPAQUE)]
            if paint is None or not len(at):
                continue
            alpha = paint[3] / 255
            colours[at] += (rest[at] * alpha)[:, None] * np.array(paint[:3])
            new = at[top[at] < 0]
            top[new], by_stroke[new] = layer.thing.order, stroked
            rest[at] *= 1 - alpha
    return Seen(colours + rest[:, None] * np.array(PAPER[:3]), top, by_stroke)


def _near(points: Array, layers: list[Layer]) -> Iterator[tuple[Layer, Array]]:
    """Each layer, the topmost first, with the points that lie in its box."""
    import numpy as np

    x, y = points.T
    each = max(1, _AT_ONCE // max(1, len(points)))
    for last in range(len(layers), 0, -each):
        some = layers[max(0, last - each) : last]
        sides = [(layer.box.left, layer.box.bottom, layer.box.right, layer.box.top) for layer in some]
        left, bottom, right, top = np.array(sides).T[:, :, None]
        near = (x >= left) & (x <= right) & (y >= bottom) & (y <= top)
        for layer, here in zip(reversed(some), near[::-1], strict=True):
            yield layer, here.nonzero()[0]


def _whole(thing: Thing) -> Matrix:
    raw = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(thing.handle, raw)
    return Matrix(raw.a, raw.b, raw.c, raw.d, raw.e, raw.f).then(thing.within)


def _lines(handle: Any) -> list[list[Point]]:
    """The subpaths of a path in its own coordinates, curves in straight pieces."""
    x, y = ctypes.c_float(), ctypes.c_float()
    lines: list[list[Point]] = []
    line: list[Point] = []
    curve: list[Point] = []
    for index in range(pdfium.FPDFPath_CountSegments(handle)):
        segment = pdfium.FPDFPath_GetPathSegment(handle, index)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        spot = (x.value, y.value)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_BEZIERTO and line:
            curve.append(spot)
            if len(curve) == 3:
                line.extend(_bend(line[-1], *curve))
                curve = []
        elif kind == pdfium.FPDF_SEGMENT_MOVETO or not line:
            line = [spot]
            lines.append(line)
        else:
            line.append(spot)
        if pdfium.FPDFPathSegment_GetClose(segment) and line[0] != line[-1]:
            line.append(line[0])
    return lines


def _bend(start: Point, one: Point, two: Point, end: Point) -> list[Point]:
    """Points along a cubic curve, its start left out."""
    found: list[Point] = []
    for piece in range(1, _PIECES + 1):
        t = piece / _PIECES
        u = 1 - t
        shares = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
        spots = (start, one, two, end)
        found.append(
            (
                sum(share * spot[0] for share, spot in zip(shares, spots, strict=True)),
                sum(share * spot[1] for share, spot in zip(shares, spots, strict=True)),
            )
        )
    return found
