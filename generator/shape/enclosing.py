"""The smallest rectangle round a set of points in the plane."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.shape.outline import Point

_NEAR = 1e-6
"""Millimetres within which two corners of a hull are one."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Sides in mm, the long one first, and the direction of the long one in radians."""

    length: float
    width: float
    angle: float


def smallest_rectangle(points: Iterable[Point]) -> Rectangle:
    """The rectangle of least area round the points.

    One of its sides lies along an edge of the convex hull (Freeman and Shapira 1975, from memory), so each
    edge is tried, the touching points moving on with it (rotating calipers: Toussaint 1983, from memory).
    """
    hull = _spaced(convex_hull(points))
    if len(hull) < 3:
        length = math.dist(hull[0], hull[-1])
        angle = math.atan2(hull[-1][1] - hull[0][1], hull[-1][0] - hull[0][0])
        return Rectangle(length, 0.0, angle)
    best: tuple[float, float, float, float] | None = None
    n, right, far, left = len(hull), 1, 1, 1
    for k in range(n):
        a, b = hull[k], hull[(k + 1) % n]
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length

        def along(i: int, ux: float = ux, uy: float = uy) -> float:
            x, y = hull[i % n]
            return x * ux + y * uy

        def off(i: int, ux: float = ux, uy: float = uy) -> float:
            x, y = hull[i % n]
            return y * ux - x * uy

        right = max(right, k + 1)
        while along(right + 1) > along(right):
            right += 1
        far = max(far, right)
        while off(far + 1) > off(far):
            far += 1
        left = max(left, far)
        while along(left + 1) < along(left):
            left += 1
        wide, high = along(right) - along(left), off(far) - off(k)
        if best is None or wide * high < best[0]:
            best = (wide * high, wide, high, math.atan2(uy, ux))
    assert best is not None
    _, wide, high, angle = best
    return Rectangle(wide, high, angle) if wide >= high else Rectangle(high, wide, angle + math.pi / 2)


def _spaced(hull: Sequence[Point]) -> list[Point]:
    """The hull without corners that are no farther apart than rounding noise: there edges point anywhere.

    The calipers move on while the next corner is farther out, and would stop at such an edge.
    """
    found: list[Point] = []
    for point in hull:
        if not found or math.dist(found[-1], point) > _NEAR:
            found.append(point)
    while len(found) > 1 and math.dist(found[0], found[-1]) <= _NEAR:
        found.pop()
    return found


def convex_hull(points: Iterable[Point]) -> list[Point]:
    """The hull's corners, counter-clockwise (monotone chain: Andrew 1979, from memory)."""
    found = sorted(set(points))
    if len(found) < 3:
        return found
    return [*_chain(found)[:-1], *_chain(found[::-1])[:-1]]


def _chain(points: Sequence[Point]) -> list[Point]:
    chain: list[Point] = []
    for p in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
            chain.pop()
        chain.append(p)
    return chain


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
