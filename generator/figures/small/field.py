"""What is drawn, as a grid of small cells: whether a word would cover a line is then only a sum.

A layout is tried many times before it is drawn once, so asking must be quick. Cells are a quarter of a
millimetre; everything that is asked of them is wider than that.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Letters, Mark, only_areas, only_lines

CELL = 0.25
"""mm."""
_HARD_ROLES = frozenset(("action", "dimension"))
_HARD_PARTS = ("hand", "tool", "turn")

Boxes = Any
"""Array of boxes: left, top, right, bottom, mm."""


class Field:
    """A sheet of cells: which have ink, which must not be covered, which a leader passes, which lie in a
    detail, which are its rim (a leader may cross it, a word may not)."""

    def __init__(self, width: float, height: float, left: float = 0.0, top: float = 0.0) -> None:
        self.left, self.top = left, top
        shape = (math.ceil(height / CELL) + 1, math.ceil(width / CELL) + 1)
        self.ink = np.zeros(shape, dtype=bool)
        self.hard = np.zeros(shape, dtype=bool)
        self.led = np.zeros(shape, dtype=bool)
        self.zone = np.zeros(shape, dtype=bool)
        self.rim = np.zeros(shape, dtype=bool)
        self.blocks: list[tuple[float, float, float, float]] = []
        """Boxes that must not be covered either."""
        self.words: list[tuple[float, float, float, float]] = []
        """Those of them that are words: no leader may cross them."""
        self.discs: list[tuple[float, float, float, float]] = []
        """Those of them that are numbers and letters: nor these."""
        self._corner = np.array([left, top, left, top])
        self.used: set[str] = set()
        """Layers that have any cell."""
        self._sums: dict[str, Any] = {}

    def paste(self, other: Field, x: int, y: int) -> None:
        """Lay another sheet over this one, its first cell in column ``x`` and row ``y``."""
        rows, columns = self.ink.shape
        r0, c0 = max(0, -y), max(0, -x)
        r1, c1 = min(other.ink.shape[0], rows - y), min(other.ink.shape[1], columns - x)
        if r1 <= r0 or c1 <= c0:
            return
        for name in sorted(other.used):
            getattr(self, name)[r0 + y : r1 + y, c0 + x : c1 + x] |= getattr(other, name)[r0:r1, c0:c1]
            self._changed(name)

    def draw(self, shapes: Sequence[BaseGeometry], layer: str = "ink") -> None:
        """The cells that lines run through."""
        if len(shapes):
            points = shapely.get_coordinates(shapely.segmentize(np.array(shapes, dtype=object), 0.8 * CELL))
            self._set(layer, points)

    def mark(self, layer: str, points: Any) -> None:
        """The cells of points."""
        self._set(layer, points)

    def fill(self, shape: BaseGeometry, layer: str = "hard") -> None:
        """The cells of an area; of one that must not be covered, if nothing else is said."""
        if shape.is_empty:
            return
        x0, y0, x1, y1 = shape.bounds
        c0, r0 = self._cell(x0, y0)
        c1, r1 = self._cell(x1, y1)
        c0, r0 = max(c0, 0), max(r0, 0)
        c1, r1 = min(c1 + 1, self.hard.shape[1]), min(r1 + 1, self.hard.shape[0])
        if c1 <= c0 or r1 <= r0:
            return
        xs = self.left + (np.arange(c0, c1) + 0.5) * CELL
        ys = self.top + (np.arange(r0, r1) + 0.5) * CELL
        shapely.prepare(shape)
        grid = np.meshgrid(xs, ys)
        getattr(self, layer)[r0:r1, c0:c1] |= shapely.contains_xy(shape, grid[0], grid[1])
        self._changed(layer)

    def covered(self, places: Boxes) -> Any:
        """Which boxes touch what must not be covered."""
        return (self.count("hard", places) > 0) | (self.count("rim", places) > 0) | self.boxed(places)

    def boxed(self, places: Boxes) -> Any:
        """Which boxes touch one of the ``blocks``."""
        found = np.zeros(len(places), dtype=bool)
        for left, top, right, bottom in self.blocks:
            found |= (
                (places[:, 0] < right)
                & (places[:, 2] > left)
                & (places[:, 1] < bottom)
                & (places[:, 3] > top)
            )
        return found

    def stopped(self, points: Any) -> Any:
        """Whether each point lies on what must not be covered."""
        return self.at("hard", points) | _within(points, self.blocks)

    def worded(self, points: Any) -> Any:
        """Whether each point lies on a word, a number or a letter."""
        return _within(points, self.words) | _within(points, self.discs)

    def reads_on(self, places: Boxes, apart: float) -> Any:
        """Which boxes have a word before or behind them on the same line, less than ``apart`` away, mm."""
        found = np.zeros(len(places), dtype=bool)
        for left, top, right, bottom in self.words:
            shared = np.minimum(places[:, 3], bottom) - np.maximum(places[:, 1], top)
            level = shared > 0.5 * np.minimum(places[:, 3] - places[:, 1], bottom - top)
            found |= level & (places[:, 0] - apart < right) & (places[:, 2] + apart > left)
        return found

    def word(self, box: tuple[float, float, float, float]) -> None:
        """A word stands here."""
        self.blocks.append(box)
        self.words.append(box)

    def sign(self, box: tuple[float, float, float, float]) -> None:
        """A number or a letter stands here."""
        self.blocks.append(box)
        self.discs.append(box)

    def count(self, layer: str, boxes: Boxes) -> Any:
        """How many cells of a layer each box touches."""
        if layer not in self.used:
            return np.zeros(len(boxes), dtype=np.int32)
        if layer not in self._sums:
            cells = getattr(self, layer)
            sums = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1), dtype=np.int32)
            np.cumsum(np.cumsum(cells, axis=0, dtype=np.int32), axis=1, out=sums[1:, 1:])
            self._sums[layer] = sums
        sums = self._sums[layer]
        rows, columns = sums.shape[0] - 1, sums.shape[1] - 1
        corners = np.floor((boxes - self._corner) / CELL).astype(int)
        corners[:, 2:] += 1
        np.maximum(corners, 0, out=corners)
        np.minimum(corners, np.array([columns, rows, columns, rows]), out=corners)
        c0, r0, c1, r1 = corners.T
        return sums[r1, c1] - sums[r0, c1] - sums[r1, c0] + sums[r0, c0]

    def at(self, layer: str, points: Any) -> Any:
        """Whether each point's cell belongs to a layer; ``points`` may have any shape ending in 2."""
        if layer not in self.used:
            return np.zeros(points.shape[:-1], dtype=bool)
        cells = getattr(self, layer)
        c = np.floor((points[..., 0] - self.left) / CELL).astype(int)
        r = np.floor((points[..., 1] - self.top) / CELL).astype(int)
        inside = (c >= 0) & (r >= 0) & (c < cells.shape[1]) & (r < cells.shape[0])
        return cells[np.clip(r, 0, cells.shape[0] - 1), np.clip(c, 0, cells.shape[1] - 1)] & inside

    def _cell(self, x: float, y: float) -> tuple[int, int]:
        return math.floor((x - self.left) / CELL), math.floor((y - self.top) / CELL)

    def _set(self, layer: str, points: Any) -> None:
        cells = getattr(self, layer)
        c = np.floor((points[:, 0] - self.left) / CELL).astype(int)
        r = np.floor((points[:, 1] - self.top) / CELL).astype(int)
        inside = (c >= 0) & (r >= 0) & (c < cells.shape[1]) & (r < cells.shape[0])
        cells[r[inside], c[inside]] = True
        self._changed(layer)

    def _changed(self, layer: str) -> None:
        self.used.add(layer)
        self._sums.pop(layer, None)


def _within(points: Any, places: Sequence[tuple[float, float, float, float]]) -> Any:
    found = np.zeros(points.shape[:-1], dtype=bool)
    x, y = points[..., 0], points[..., 1]
    for left, top, right, bottom in places:
        found |= (x > left) & (x < right) & (y > top) & (y < bottom)
    return found


def field_of(canvas: Canvas) -> Field:
    """All that is drawn on a canvas, on a sheet just large enough; its corner lies on the grid."""
    items = canvas.items
    left, top, right, bottom = shapely.total_bounds(
        [item.shape if isinstance(item, Mark) else item.box for item in items]
    )
    left, top = (math.floor(v / CELL) * CELL - CELL for v in (left, top))
    field = Field(right - left + CELL, bottom - top + CELL, left, top)
    put(field, items, canvas.blocked)
    return field


def put(field: Field, items: Iterable[Mark | Letters], blocked: Iterable[BaseGeometry] = ()) -> None:
    """Add what is drawn to a field."""
    edges: list[BaseGeometry] = []
    for item in items:
        if isinstance(item, Letters):
            field.fill(item.box)
            continue
        edges.append(_edges(item))
        if item.group.role in _HARD_ROLES or item.group.part.startswith(_HARD_PARTS):
            areas = only_areas(item.shape)
            if not areas.is_empty:
                field.fill(areas)
            elif item.group.role == "dimension":
                field.draw([item.shape], "hard")
    field.draw(edges)
    for place in blocked:
        field.fill(place)


def _edges(mark: Mark) -> BaseGeometry:
    if isinstance(only_areas(mark.shape), Polygon) and mark.fill:
        return mark.shape.boundary
    return only_lines(mark.shape)


def boxes(places: Sequence[tuple[float, float, float, float]]) -> Boxes:
    """Boxes as an array."""
    return np.array(places, dtype=float).reshape(-1, 4)
