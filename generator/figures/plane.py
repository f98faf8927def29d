"""Small plane geometry on paper: along, across, turned."""

from __future__ import annotations

import math
from collections.abc import Sequence

Point = tuple[float, float]


def add(a: Point, b: Point, k: float = 1.0) -> Point:
    """a + k b."""
    return a[0] + k * b[0], a[1] + k * b[1]


def between(a: Point, b: Point, t: float) -> Point:
    """The point at share t of the way from a to b."""
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def distance(a: Point, b: Point) -> float:
    """mm."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def direction(a: Point, b: Point) -> Point:
    """Unit vector from a to b; (1, 0) if they are one."""
    d = distance(a, b)
    return ((b[0] - a[0]) / d, (b[1] - a[1]) / d) if d > 1e-12 else (1.0, 0.0)


def normal(v: Point) -> Point:
    """v turned a quarter to the left as seen on paper (y down)."""
    return v[1], -v[0]


def arc(centre: Point, radius: float, start: float, end: float, steps: int = 24) -> list[Point]:
    """Points on an arc; angles in degrees, counter-clockwise as seen on paper, 0 to the right."""
    return [
        (
            centre[0] + radius * math.cos(math.radians(start + (end - start) * i / steps)),
            centre[1] - radius * math.sin(math.radians(start + (end - start) * i / steps)),
        )
        for i in range(steps + 1)
    ]


def wave(a: Point, b: Point, depth: float = 1.2, waves: float = 1.5, steps: int = 36) -> list[Point]:
    """A broken-off edge from a to b: a soft wave."""
    along, across = (b[0] - a[0], b[1] - a[1]), normal(direction(a, b))
    return [
        add(add(a, along, i / steps), across, depth * math.sin(2 * math.pi * waves * i / steps))
        for i in range(steps + 1)
    ]


def cut_short(points: Sequence[Point], start: float = 0.0, end: float = 0.0) -> list[Point]:
    """The line without its first ``start`` and last ``end`` mm."""
    from shapely import LineString
    from shapely.ops import substring

    line = LineString(points)
    return [(x, y) for x, y in substring(line, start, line.length - end).coords]
