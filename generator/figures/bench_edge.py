"""A zoomed piece of the work on the bench, PVC up, cut off by waves where it goes on."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from shapely import MultiPoint, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point, Role
from generator.figures.pens import THIN, Pen
from generator.figures.plane import distance, wave
from generator.figures.view import Frame

Flat = tuple[float, float]
Side = Literal["left", "right", "near", "far"]
WAVE_DEPTH, WAVE_LENGTH = 0.7, 9.0
"""A broken-off edge swings this far to either side, in waves of about this length, mm on paper."""
_BEYOND = 2000.0


def on(frame: Frame, points: Iterable[Flat], z: float = 0.0) -> list[Point]:
    """Points of the bench plane, raised by z, on paper."""
    return [frame((x, y, z)) for x, y in points]


def rect(x0: float, y0: float, x1: float, y1: float) -> list[Flat]:
    """Corners of a rectangle, from the near left one, counter-clockwise from above."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


@dataclass(frozen=True)
class Window:
    """What is shown of the bench plane; beyond its torn sides everything is cut off."""

    frame: Frame
    region: BaseGeometry
    waves: tuple[list[Point], ...]

    def sheet(
        self,
        canvas: Canvas,
        part: str,
        corners: Iterable[Flat],
        fill: str,
        pen: Pen | None = THIN,
        role: Role = "context",
    ) -> None:
        """A flat area; its outline stays open along torn sides."""
        with canvas.group(role, part), canvas.clip(self.region):
            canvas.area(on(self.frame, corners), fill, pen)

    def line(
        self, canvas: Canvas, part: str, points: Iterable[Flat], pen: Pen, role: Role = "context"
    ) -> None:
        """A line in the bench plane."""
        with canvas.group(role, part), canvas.clip(self.region):
            canvas.line(on(self.frame, points), pen)

    def tear(self, canvas: Canvas) -> None:
        """The waves, above everything that they cut."""
        with canvas.group("context", "break"):
            for line in self.waves:
                canvas.line(line, THIN)


def torn(frame: Frame, a: Flat, b: Flat) -> list[Point]:
    """A broken-off edge between two places of the bench plane, on paper."""
    start, end = frame((*a, 0.0)), frame((*b, 0.0))
    return wave(start, end, WAVE_DEPTH, max(1, round(distance(start, end) / WAVE_LENGTH)))


def window(frame: Frame, x0: float, y0: float, x1: float, y1: float, sides: tuple[Side, ...]) -> Window:
    """The bench plane between these bounds, torn along ``sides``; along the others nothing is cut off."""
    ends: dict[Side, tuple[Flat, Flat]] = {
        "left": ((x0, y0), (x0, y1)),
        "far": ((x0, y1), (x1, y1)),
        "right": ((x1, y1), (x1, y0)),
        "near": ((x1, y0), (x0, y0)),
    }
    region: BaseGeometry = Polygon(on(frame, rect(-_BEYOND, -_BEYOND, _BEYOND, _BEYOND))).buffer(_BEYOND)
    waves = []
    for side in sides:
        a, b = ends[side]
        line = torn(frame, a, b)
        waves.append(line)
        region = region.intersection(_inner(frame, a, b, line))
    return Window(frame, region, tuple(waves))


def _inner(frame: Frame, a: Flat, b: Flat, line: list[Point]) -> Polygon:
    """All that lies to the right of the way from a to b as seen from above."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    away = (along[1], -along[0])
    before = (a[0] - _BEYOND * along[0], a[1] - _BEYOND * along[1])
    after = (b[0] + _BEYOND * along[0], b[1] + _BEYOND * along[1])
    deep = [(p[0] + _BEYOND * away[0], p[1] + _BEYOND * away[1]) for p in (after, before)]
    return Polygon([*on(frame, [before]), *line, *on(frame, [after, *deep])])


def ruled(first: list[Point], second: list[Point]) -> BaseGeometry:
    """The paper area of the strip between two lines of equally many points, in one: without hairlines."""
    sides = zip(pairwise(first), pairwise(second), strict=True)
    return unary_union([MultiPoint([*a, *b]).convex_hull for a, b in sides])
