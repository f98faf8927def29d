"""Where the straight lines of a flat sheet meet, if they meet in one point."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from generator.shape.development import Development, Generator
from generator.shape.outline import Point

_SAMPLES = 48
_MEET = 1e-6
"""Share of the greatest radius within which all lines of the bare surface pass through the apex."""


@dataclass(frozen=True, slots=True)
class Radii:
    """Distances from the apex to the farthest points of both rims on the flat sheet, mm."""

    outer: float
    inner: float


def radii(development: Development) -> Radii | None:
    """Radii of a taper with an apex; None for one without.

    Whether there is one is asked of the bare surface. The middle of the sheet of a shade that is not round
    is a parallel surface whose lines only nearly meet: there it is the point that all are nearest to.
    """
    if abs(development.turning) < 1e-6:
        return None
    bare = _lines(replace(development, delta=0.0))
    apex = _nearest(bare)
    if apex is None:
        return None
    far = max(math.dist(apex, end) for line in bare for end in (line.flat_low, line.flat_high))
    if any(_distance(apex, line) > _MEET * far for line in bare):
        return None
    lines = _lines(development)
    apex = _nearest(lines)
    assert apex is not None
    low = max(math.dist(apex, line.flat_low) for line in lines)
    high = max(math.dist(apex, line.flat_high) for line in lines)
    return Radii(max(low, high), min(low, high))


def _lines(development: Development) -> list[Generator]:
    """Lines once round: evenly spread, and both ends of each side and bend, where a rim reaches farthest."""
    places = {development.length * k / _SAMPLES for k in range(_SAMPLES)} | {*development.breaks()}
    return [development.generator(x) for x in sorted(places)]


def _direction(line: Generator) -> Point:
    (ax, ay), (bx, by) = line.flat_low, line.flat_high
    return (bx - ax) / line.length, (by - ay) / line.length


def _distance(point: Point, line: Generator) -> float:
    ux, uy = _direction(line)
    x, y = point[0] - line.flat_low[0], point[1] - line.flat_low[1]
    return abs(x * uy - y * ux)


def _nearest(lines: list[Generator]) -> Point | None:
    """The point with the least sum of squared distances from all lines (normal equations, elementary)."""
    xx = xy = yy = px = py = 0.0
    for line in lines:
        ux, uy = _direction(line)
        a, b, c = 1 - ux * ux, -ux * uy, 1 - uy * uy
        x, y = line.flat_low
        xx, xy, yy = xx + a, xy + b, yy + c
        px, py = px + a * x + b * y, py + b * x + c * y
    det = xx * yy - xy * xy
    if abs(det) < 1e-12 * len(lines) ** 2:
        return None
    return (px * yy - py * xy) / det, (py * xx - px * xy) / det
