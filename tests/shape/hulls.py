"""A second way to the side of a taper, which shares no code with the program's own.

Both rims are replaced by polygons of close points. The side of their convex hull is a strip of triangles: the
edges of both polygons, sorted by direction, are the bases. The strip is unrolled triangle by triangle, from
nothing but lengths in space.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from generator.shape.development import Development
from generator.shape.outline import Outline

Numbers = NDArray[np.float64]
TURN = 2 * math.pi
SHARP = math.radians(10)
"""Radians of turn from which a point is a corner of the curve."""
FAN = math.radians(0.25)
"""Step in which round bends of a hull that was moved outwards are cut."""


def dense(outline: Outline, count: int) -> Numbers:
    """Points once round, not closed: evenly spaced, and each end of a side and middle of a bend."""
    places = [outline.length * k / count for k in range(count)]
    places += [station.s for station in outline.stations() if station.kind != "side"]
    found: list[float] = []
    for s in sorted(places):
        if s < outline.length - 1e-6 and (not found or s - found[-1] > 1e-6):
            found.append(s)
    return np.array([outline.point(s) for s in found])


def rims(development: Development, count: int) -> tuple[Numbers, Numbers]:
    """Points of the lower rim and of the upper, where they stand in plan."""
    return dense(development.bottom, count), dense(development.top, count) + np.array(development.shift)


def headings(points: Numbers) -> Numbers:
    """Direction of each edge of a closed convex polygon, growing from 0 to a full turn."""
    steps = np.diff(np.vstack([points, points[:1]]), axis=0)
    angles = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    return np.clip(np.maximum.accumulate(angles), 0.0, TURN)


@dataclass(frozen=True)
class Strip:
    """The ends of all generators in space (rows of x, y, z)."""

    low: Numbers
    high: Numbers
    loss: float
    """How much shorter both rims are than the curves between their points, by estimate, mm."""

    @cached_property
    def flat(self) -> tuple[Numbers, Numbers]:
        """Both rims in the plane: the first lower end in the origin, the rim going along +x there."""
        a, b = self.low, self.high
        first = b[0] - a[0]
        low, high = 0j, complex(first[0], math.hypot(first[1], first[2]))
        lows, highs = [low], [high]
        # A new point lies to the right of the line before it, as far along it and off it as in space.
        near, far = _along_and_off(a[:-1], b[:-1], a[1:]), _along_and_off(a[1:], b[:-1], b[1:])
        for (along, off), (along2, off2) in zip(near, far, strict=True):
            low += complex(along, -off) * (high - low) / abs(high - low)
            high = low + complex(along2, -off2) * (high - low) / abs(high - low)
            lows.append(low)
            highs.append(high)
        return _rows(lows), _rows(highs)

    @cached_property
    def turning(self) -> float:
        """Angle from the first generator to the last, counter-clockwise, within half a turn of 0."""
        low, high = self.flat
        (x0, y0), (x1, y1) = high[0] - low[0], high[-1] - low[-1]
        return math.atan2(x0 * y1 - y0 * x1, x0 * x1 + y0 * y1)

    @cached_property
    def area(self) -> float:
        """Sum of all triangles."""
        a, b = self.low, self.high
        halves = (np.cross(a[1:] - a[:-1], b[:-1] - a[:-1]), np.cross(b[1:] - b[:-1], b[:-1] - a[1:]))
        return float(sum(np.linalg.norm(half, axis=1).sum() for half in halves) / 2)

    def lengths(self) -> tuple[float, float]:
        """Once round the lower rim and the upper."""
        low, high = (np.linalg.norm(np.diff(rim, axis=0), axis=1).sum() for rim in (self.low, self.high))
        return float(low), float(high)


def strip(development: Development, count: int, fan: float = FAN) -> Strip:
    """The side of the hull of both rims, moved outwards by the sheet's ``delta``.

    A hull moved outwards is made of its faces, moved, and of a round bend of that radius along each edge
    between two faces (elementary; Steiner): the bend is cut into steps of at most ``fan``.
    """
    low, high = rims(development, count)
    turns = (headings(low), headings(high))
    between = np.arange(0.0, TURN, fan)
    angles = np.concatenate([*turns, between])
    moves = np.concatenate([np.full(len(part), k) for k, part in enumerate((*turns, between))])
    order = np.argsort(angles, kind="stable")
    angles, moves = angles[order], moves[order]
    # At each direction a generator before the rim's edge and one after it: both lie in the same plane.
    psi = np.concatenate([[0.0], np.repeat(angles, 2), [TURN]])
    ends = []
    for k, (points, level) in enumerate(((low, 0.0), (high, development.height))):
        passed = np.cumsum(moves == k)
        index = np.concatenate([[0], np.column_stack([passed - (moves == k), passed]).ravel(), [len(points)]])
        rim = points[index % len(points)]
        ends.append(np.column_stack([rim, np.full(len(rim), level)]))
    travel = np.column_stack([np.cos(psi), np.sin(psi), np.zeros_like(psi)])
    outward = np.cross(travel, ends[1] - ends[0])
    outward *= development.delta / np.linalg.norm(outward, axis=1, keepdims=True)
    round_bends = 2 * TURN * development.delta * fan * fan / 24
    return Strip(ends[0] + outward, ends[1] + outward, _loss(low) + _loss(high) + round_bends)


def _loss(points: Numbers) -> float:
    """A chord of an arc that turns by a is shorter by a^2 / 24; sharp corners are kept whole."""
    steps = np.diff(np.concatenate([[0.0], headings(points), [TURN]]))
    steps = np.where(steps < SHARP, steps, 0.0)
    chords = np.linalg.norm(np.diff(np.vstack([points, points[:1]]), axis=0), axis=1)
    return float((chords * np.maximum(steps[:-1], steps[1:]) ** 2).sum() / 24)


def _along_and_off(start: Numbers, end: Numbers, point: Numbers) -> list[tuple[float, float]]:
    line, reach = end - start, point - start
    length = np.linalg.norm(line, axis=1)
    along = np.sum(line * reach, axis=1) / length
    off = np.linalg.norm(np.cross(line, reach), axis=1) / length
    return list(zip(along.tolist(), off.tolist(), strict=True))


def _rows(points: list[complex]) -> Numbers:
    return np.array([(p.real, p.imag) for p in points])
