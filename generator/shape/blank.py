"""The blank of a tapered shade: the flat sheet with its margins and its seam overlap."""

from __future__ import annotations

import math
from functools import lru_cache

from generator.shape.development import ENDS, Development, End
from generator.shape.outline import Point

_NEAR = 1e-6
"""Millimetres within which two points of a drawn edge are one."""

_NO_AREA = 1e-4
"""Square millimetres of loops that are not looked for."""

_SIGNS: tuple[tuple[End, float], ...] = (("bottom", 1.0), ("top", -1.0))
"""The lower edge goes with the blank's outline, counter-clockwise, the upper against it."""


def margin_edge(development: Development, end: End, margin: float) -> tuple[Point, ...]:
    """A rim of the flat sheet, or the margin's edge outside it, from the seam, without points that coincide.

    At a sharp corner that the margin's edge goes round on the inside, it ends where both sides meet.
    """
    return _edge(development, end, margin)[0]


def _lost(development: Development, end: End, margin: float) -> float:
    """The signed area of the loops alone; 0 where there are none, or none that matters.

    Where straight edges meet at an angle a, a loop is a kite less a sector: margin² (tan a/2 - a/2)
    (elementary). Where the rim is bent there it is less.
    """
    turns = [hollow.turn for hollow in development.hollows(end, margin)]
    if max(turns, default=0.0) < 1.0 and sum(margin**2 * (math.tan(a / 2) - a / 2) for a in turns) < _NO_AREA:
        return 0.0
    return _edge(development, end, margin)[1]


@lru_cache(maxsize=64)
def _edge(development: Development, end: End, margin: float) -> tuple[tuple[Point, ...], float]:
    """The edge, and the signed area of the loops that were taken out of it."""
    found: list[Point] = []
    for point in development.outline_points(end, margin):
        if not found or math.dist(found[-1], point) > _NEAR:
            found.append(point)
    lost = _untangle(found, 4 * margin) if margin > 0 else 0.0
    return tuple(found), lost


def _untangle(points: list[Point], reach: float) -> float:
    """Take the loops out where a curve turns back on itself, in place; their signed area.

    A parallel curve runs backwards where its distance is greater than the radius on its inner side. The loop
    that it makes there begins and ends where its branches cross, within ``reach`` of where it turns back.
    """
    lost, i = 0.0, 1
    while i < len(points) - 1:
        if not _turns_back(points, i):
            i += 1
            continue
        last = i
        for k in range(i + 1, len(points) - 1):
            if math.dist(points[i], points[k]) > reach:
                break
            if _turns_back(points, k):
                last = k
        found = _branches_cross(points, i, last, reach)
        if found is None:
            i = last + 1
            continue
        a, b, crossing = found
        lost += _signed_area([crossing, *points[a + 1 : b + 1]])
        points[a + 1 : b + 1] = [crossing]
        i = a + 2
    return lost


def _turns_back(points: list[Point], i: int) -> bool:
    (ax, ay), (bx, by), (cx, cy) = points[i - 1 : i + 2]
    return (bx - ax) * (cx - bx) + (by - ay) * (cy - by) < 0


def _branches_cross(points: list[Point], i: int, j: int, reach: float) -> tuple[int, int, Point] | None:
    """Segments a to a + 1 before i and b to b + 1 after j that cross, and where."""
    for a in range(i - 1, -1, -1):
        if math.dist(points[a + 1], points[i]) > reach:
            break
        for b in range(j, len(points) - 1):
            if math.dist(points[b], points[j]) > reach:
                break
            crossing = _crossing(points[a], points[a + 1], points[b], points[b + 1])
            if crossing is not None:
                return a, b, crossing
    return None


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    across = ux * vy - uy * vx
    if across == 0:
        return None
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / across
    s = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / across
    return (a[0] + t * ux, a[1] + t * uy) if 0 <= t <= 1 and 0 <= s <= 1 else None


def _signed_area(points: list[Point]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return math.fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2


def end_edge(development: Development, margin: float, overlap: float) -> list[Point]:
    """The end of the sheet laid last, lower margin first: the last generator moved on by the overlap."""
    low, high = (margin_edge(development, end, margin)[-1] for end in ENDS)
    return end_corners(development, overlap, low, high)


def end_corners(development: Development, overlap: float, low: Point, high: Point) -> list[Point]:
    """The same, of margins' edges that end at ``low`` and ``high``."""
    last = development.generator(development.length)
    ux, uy = math.cos(last.tau), math.sin(last.tau)
    return [(x + overlap * ux, y + overlap * uy) for x, y in (low, last.flat_low, last.flat_high, high)]


@lru_cache(maxsize=64)
def blank_loop(development: Development, margin: float, overlap: float) -> tuple[Point, ...]:
    """The blank's outline as close points, counter-clockwise, from the lower corner of the start."""
    first = development.generator(0.0)
    ring = [
        *margin_edge(development, "bottom", margin),
        *end_edge(development, margin, overlap),
        *reversed(margin_edge(development, "top", margin)),
        first.flat_high,
        first.flat_low,
    ]
    return tuple(p for k, p in enumerate(ring) if math.dist(ring[k - 1], p) > _NEAR)


def blank_area(development: Development, margin: float, overlap: float) -> float:
    """Area of sheet, margins and overlap, mm².

    A strip outside a curve of length L that turns by a: margin L + margin² a / 2 at the lower rim, whose
    centre is above it, and minus at the upper (Steiner's formula for parallel curves; do Carmo, from memory).
    It counts loops of the parallel curve, which the blank has not.
    """
    turning = development.turning
    strips = sum(
        margin * development.rim_length(end) + sign * (margin * margin * turning / 2 - lost)
        for end, sign in _SIGNS
        for lost in (_lost(development, end, margin),)
    )
    last = development.generator(development.length)
    (x0, y0), (x1, y1) = last.flat_low, last.flat_high
    # Only the part of the last generator that goes across counts: the overlap moves at a right angle to it.
    upright = (x1 - x0) * -math.sin(last.tau) + (y1 - y0) * math.cos(last.tau)
    return development.area + strips + overlap * (upright + 2 * margin)
