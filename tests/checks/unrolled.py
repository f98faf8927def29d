"""Developments of the published values, and what can be read off the flat sheet with a ruler."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise

from generator.shape.development import Development
from generator.shape.outline import Outline, Point
from generator.shape.outlines import circle, ellipse, polygon, rectangle
from tests.checks.published import Published

INCH = 25.4


Numbers = float | tuple[float, ...]


def development_of(published: Published, delta: float = 0.0) -> Development:
    """The program's development for the value's parameters, moved outwards by ``delta``; made once."""
    p = published.params
    if published.id.startswith("D-"):
        unit = INCH if p.get("unit_len") == "inch" else 1.0
        low, high = p["d_bottom" if "d_bottom" in p else "d"] * unit, p.get("d_top", 0.0) * unit
        if "h" in p:
            return _made(low, high, p["h"] * unit, (0.0, 0.0), delta)
        # The blank of T02 with margins does not repeat its slant.
        slant = p.get("slant", 260.0) * unit
        return _made(low, high, math.sqrt(slant**2 - ((low - high) / 2) ** 2), (0.0, 0.0), delta)
    sided = published.shape.startswith(("hexagon", "octagon"))
    low, high = p["bottom"], p.get("top")
    if high is None:
        # Sizes are scaled, the number of sides is not.
        high = [v if sided and k == 0 else v * p["scale_top"] for k, v in enumerate(low)]
    low, high = (tuple(v) if isinstance(v, list) else v for v in (low, high))
    x, y = p.get("shift", (0.0, 0.0))
    return _made(low, high, p["h"], (x, y), delta)


@cache
def _made(low: Numbers, high: Numbers, height: float, shift: Point, delta: float) -> Development:
    return Development(rim(low), rim(high), height, shift, delta)


def rim(numbers: Numbers) -> Outline:
    """Circle (diameter), ellipse (two axes), polygon (sides, across flats, radius) or rectangle."""
    if not isinstance(numbers, tuple):
        return circle.make({"diameter": numbers})
    if len(numbers) == 2:
        return ellipse.make({"length": numbers[0], "width": numbers[1]})
    first, second, radius = numbers
    if first < 20:
        return polygon.make({"sides": first, "across_flats": second, "corner_radius": radius})
    return rectangle.make({"length": first, "width": second, "corner_radius": radius})


def apex(development: Development) -> Point:
    """Where both seam edges of the flat sheet meet if they are drawn on."""
    one, other = development.generator(0.0), development.generator(development.length)
    (ax, ay), (bx, by) = one.flat_low, one.flat_high
    (cx, cy), (dx, dy) = other.flat_low, other.flat_high
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    t = ((cx - ax) * vy - (cy - ay) * vx) / (ux * vy - uy * vx)
    return ax + t * ux, ay + t * uy


def turned(points: Sequence[Point], angle: float) -> list[Point]:
    """Points turned about the origin, counter-clockwise."""
    c, s = math.cos(angle), math.sin(angle)
    return [(x * c - y * s, x * s + y * c) for x, y in points]


def extent(points: Sequence[Point]) -> tuple[float, float]:
    """Width and height."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def walked(points: Sequence[Point]) -> float:
    """Length of a line through the points."""
    return math.fsum(math.dist(a, b) for a, b in pairwise(points))
