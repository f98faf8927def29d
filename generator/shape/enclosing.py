"""The smallest rectangle round a set of points in the plane."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

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
    """The rectangle of least area round the points."""
    return rectangle_round(convex_hull(points))


def rectangle_round(corners: Sequence[Point]) -> Rectangle:
    """The same for the corners of a convex hull, counter-clockwise.

    One of its sides lies along an edge of the convex hull (Freeman and Shapira 1975, from memory), so each
    edge is tried, the touching points moving on with it (rotating calipers: Toussaint 1983, from memory).
    """
    hull = _spaced(corners)
    if len(hull) < 3:
        length = math.dist(hull[0], hull[-1])
        angle = math.atan2(hull[-1][1] - hull[0][1], hull[-1][0] - hull[0][0])
        return Rectangle(length, 0.0, angle)
    best: tuple[float, float, float, float] | None = None
    n = len(hull)
    x, y = ([p[axis] for p in hull] * 4 for axis in (0, 1))
    # The edges: of each the way along both axes.
    ex, ey = ([b - a for a, b in pairwise(axis[: n + 1])] * 4 for axis in (x, y))
    right = far = left = 1
    for k in range(n):
        length = math.hypot(ex[k], ey[k])
        ux, uy = ex[k] / length, ey[k] / length
        # Each moves on while the next corner is farther along the edge, off it, or back along it.
        right = right if right > k else k + 1
        while ex[right] * ux + ey[right] * uy > 0:
            right += 1
        far = far if far > right else right
        while ey[far] * ux - ex[far] * uy > 0:
            far += 1
        left = left if left > far else far
        while ex[left] * ux + ey[left] * uy < 0:
            left += 1
        wide = (x[right] - x[left]) * ux + (y[right] - y[left]) * uy
        high = (y[far] - y[k]) * ux - (x[far] - x[k]) * uy
        if best is None or wide * high < best[0]:
            best = (wide * high, wide, high, math.atan2(uy, ux))
    assert best is not None
    _, wide, high, angle = best
    return Rectangle(wide, high, angle) if wide >= high else Rectangle(high, wide, angle + math.pi / 2)


@dataclass(frozen=True, slots=True)
class Turned:
    """Extents of some points along a direction and across it (to its left), mm; the direction in radians."""

    along: float
    across: float
    angle: float


def turned_into(points: Iterable[Point], length: float, width: float) -> Turned:
    """The direction in which the points need least more than a length along it and a width across it, mm."""
    return turned_round(convex_hull(points), length, width)


def turned_round(corners: Sequence[Point], length: float, width: float) -> Turned:
    """The same for the corners of a convex hull, counter-clockwise.

    One of the two may be endless: then it is the direction of the least extent the other way. Between two
    edges of the hull either extent is a cosine of the direction: the worse of both is least where one edge
    lies along a side, or where both lack alike (rotating calipers: Toussaint 1983, from memory).
    """
    best = (math.inf, Turned(0.0, 0.0, 0.0))

    def tried(angle: float, a: Point, b: Point) -> tuple[float, float]:
        """What is lacking each way; the best direction so far is kept."""
        nonlocal best
        c, s = math.cos(angle), math.sin(angle)
        along, across = a[0] * c + a[1] * s, b[1] * c - b[0] * s
        lacks = along - length, across - width
        if max(lacks) < best[0] - _NEAR:
            best = (max(lacks), Turned(along, across, angle))
        return lacks

    then: tuple[float, float] | None = None
    for low, high, a, b in _calipers(_spaced(corners)):
        # A range ends where the corner that is left and the next reach equally far, and the next begins.
        lacks, then = then or tried(low, a, b), tried(high, a, b)
        if math.inf in (length, width) or (lacks[0] < lacks[1]) == (then[0] < then[1]):
            continue
        # In between both lack alike: a . u - length = b . v - width, with u = (c, s) and v = (-s, c).
        p, q, r = a[0] - b[1], a[1] + b[0], length - width
        middle, off = math.atan2(q, p), math.acos(min(max(r / math.hypot(p, q), -1.0), 1.0))
        for angle in (middle - off, middle + off):
            turn = low + (angle - low) % (2 * math.pi)
            if turn < high:
                tried(turn, a, b)
    return best[1]


def _calipers(hull: Sequence[Point]) -> Iterator[tuple[float, float, Point, Point]]:
    """Ranges of directions over half a turn, each with the hull's span along the direction and across it.

    A span leads from the corner that lies nearest to the one that lies farthest.
    """
    n = len(hull)
    edges = [
        math.atan2(hull[(k + 1) % n][1] - hull[k][1], hull[(k + 1) % n][0] - hull[k][0]) for k in range(n)
    ]
    # The corner farthest along a direction is left when the edge after it stands at a right angle to it.
    stops = sorted(
        ((edge - math.pi / 2 - side * math.pi / 2) % (2 * math.pi), side, k)
        for side in range(4)
        for k, edge in enumerate(edges)
    )
    held = [
        max(range(n), key=lambda k: (round(hull[k][0] * ux + hull[k][1] * uy, 9), _ahead(hull[k], ux, uy)))
        for ux, uy in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    ]
    low = 0.0
    for stop, side, k in stops:
        if stop > low:
            right, far, left, near = (hull[corner] for corner in held)
            yield (
                low,
                min(stop, math.pi),
                (right[0] - left[0], right[1] - left[1]),
                (far[0] - near[0], far[1] - near[1]),
            )
            low = stop
        held[side] = (k + 1) % n
        if low >= math.pi:
            return


def _ahead(point: Point, ux: float, uy: float) -> float:
    """Of corners that are equally far along a direction the one that a turning caliper leaves last."""
    return point[1] * ux - point[0] * uy


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
        x, y = p
        while len(chain) > 1:
            ax, ay = chain[-2]
            bx, by = chain[-1]
            # A corner that the way does not turn left at is none.
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append(p)
    return chain
