"""The rims of a tapered shade's flat sheet, drawn as points, and the margins' edges outside them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

from generator.shape.matching import Curved, Facet
from generator.shape.outline import Point
from generator.shape.surface import Local, Node, Surface

End = Literal["bottom", "top"]
ENDS: tuple[End, End] = ("bottom", "top")

BOW = 0.0004
"""Millimetres by which few points of a rim may fall short of it."""
_RESERVE = 1.05
"""A bend is not quite even within a step, and has so much more of a bow than one that is."""
_HOLLOW = 1e-9
"""Millimetres by which an edge may run back without its being a matter of more than rounding."""


@dataclass(frozen=True, slots=True)
class Way:
    """A rim's way over one step: its length, and its direction on the flat sheet where it begins and ends.

    ``begin`` and ``end`` are, at these places, the rim's element and how far the sheet turns, both a radian.
    """

    length: float
    turn: float
    heading: tuple[float, float]
    begin: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Hollow:
    """Where the margin's edge of a rim runs back: radians of turn there, and mm of rim since the last.

    The last one of a rim has no turn where the rim ends without one.
    """

    before: float
    turn: float


@dataclass(frozen=True)
class Rims(Surface):
    """A surface whose rims are drawn on the flat sheet."""

    def outline_points(
        self, end: End, margin: float = 0.0, step: float = math.radians(0.25)
    ) -> Iterator[Point]:
        """The rim on the flat sheet, or the curve parallel to it a margin outside, as close points.

        At a bend in the rim the parallel curve goes round in an arc; on the inside of one it runs backwards.
        """
        sign = -1.0 if end == "bottom" else 1.0
        facing: float | None = None
        if (end, step) not in self._rims:
            self._rims[end, step] = tuple(self._drawn(end, step))
        for joint, (x, y), heading in self._rims[end, step]:
            # Slanting generators make a thick sheet's rim bend where a side of a ring ends.
            turn = heading - facing if joint and margin and facing is not None else 0.0
            arc = math.ceil(abs(turn) / step)
            for k in range(1, arc):
                between = heading - turn * (arc - k) / arc
                yield x - sign * margin * math.sin(between), y + sign * margin * math.cos(between)
            yield x - sign * margin * math.sin(heading), y + sign * margin * math.cos(heading)
            facing = heading

    @cached_property
    def _rims(self) -> dict[tuple[End, float], tuple[tuple[bool, Point, float], ...]]:
        """Rims as they were drawn once: edges at several distances are drawn from each."""
        return {}

    def _drawn(self, end: End, step: float) -> Iterator[tuple[bool, Point, float]]:
        """Points of a rim on the flat sheet and its direction; whether a part begins there."""
        which = 0 if end == "bottom" else 1
        before = -1
        for node, after in pairwise(self._nodes):
            part, joint = self.parts[node.part], node.part != before
            before = node.part
            if isinstance(part, Facet):
                yield joint, node.flat[which], node.tau
                yield False, after.flat[which], node.tau
                continue
            steps = max(1, math.ceil((after.psi - node.psi) / step))
            curve = self._curve(part, node, after, which)
            for k in range(steps + 1):
                psi = node.psi + (after.psi - node.psi) * k / steps
                point, tau = curve(k / steps)
                along, up = self._speeds(self._even[node.part] or self._bent(part, psi), which)
                heading = tau + (math.atan2(up, along) if along or up else 0.0)
                yield joint and k == 0, point, heading

    def _curve(
        self, part: Curved, node: Node, after: Node, which: int
    ) -> Callable[[float], tuple[Point, float]]:
        """A rim's point and the turning at a share of a step, by cubic Hermite interpolation.

        Over 3 degrees the error is the fourth derivative / 384 of (0.052 rad)^4: under 0.00002 of the radius.
        """
        span = after.psi - node.psi
        ends = []
        for one in (node, after):
            at = self._bent(part, one.psi)
            along, up = self._speeds(at, which)
            c, s = math.cos(one.tau), math.sin(one.tau)
            speed = (along * c - up * s, along * s + up * c, math.sin(at.beta))
            ends.append(((*one.flat[which], one.tau), speed))

        ((x0, y0, tau0), (u0, v0, w0)), ((x1, y1, tau1), (u1, v1, w1)) = ends

        def between(t: float) -> tuple[Point, float]:
            a, b = (1 + 2 * t) * (1 - t) ** 2, t * (1 - t) ** 2 * span
            c, d = t * t * (3 - 2 * t), t * t * (t - 1) * span
            x, y = a * x0 + b * u0 + c * x1 + d * u1, a * y0 + b * v0 + c * y1 + d * v1
            return (x, y), a * tau0 + b * w0 + c * tau1 + d * w1

        return between

    @cached_property
    def step_ends(self) -> tuple[tuple[Local, Local] | None, ...]:
        """The surface where each step of a bent part begins and ends."""
        found: list[tuple[Local, Local] | None] = []
        last: tuple[int, Local] | None = None
        for node, after in pairwise(self._nodes):
            part, even = self.parts[node.part], self._even[node.part]
            if isinstance(part, Facet):
                found.append(None)
                continue
            if even is not None:
                found.append((even, even))
                continue
            begin = last[1] if last is not None and last[0] == node.part else self._bent(part, node.psi)
            end = self._bent(part, after.psi)
            found.append((begin, end))
            last = node.part, end
        return tuple(found)

    @cached_property
    def _ways(self) -> tuple[tuple[Way, ...], tuple[Way, ...]]:
        """The ways of the lower rim and of the upper."""
        return tuple(self._walked(0)), tuple(self._walked(1))

    def _walked(self, which: int) -> Iterator[Way]:
        for (node, after), ends in zip(pairwise(self._nodes), self.step_ends, strict=True):
            length, turn = after.rim[which] - node.rim[which], after.psi - node.psi
            if ends is None:
                yield Way(length, 0.0, (node.tau, node.tau), (0.0, 0.0), (0.0, 0.0))
                continue
            headings, speeds = [], []
            for one, at in zip((node, after), ends, strict=True):
                along, up = self._speeds(at, which)
                headings.append(one.tau + (math.atan2(up, along) if along or up else 0.0))
                speeds.append((math.hypot(along, up), math.sin(at.beta)))
            yield Way(length, turn, (headings[0], headings[1]), speeds[0], speeds[1])

    def hollows(self, end: End, margin: float) -> tuple[Hollow, ...]:
        """Where the margin's edge runs back, since the rim turns towards it within less than the margin."""
        sign = -1.0 if end == "bottom" else 1.0
        found: list[Hollow] = []
        facing, before, back, turned = None, 0.0, False, 0.0
        for way in self._ways[0 if end == "bottom" else 1]:
            joint = 0.0 if facing is None else sign * (way.heading[0] - facing)
            step = sign * (way.heading[1] - way.heading[0])
            facing = way.heading[1]
            for turn, length in ((joint, 0.0), (step, way.length)):
                if margin * turn > _HOLLOW and 2 * margin * turn > length:
                    turned, back = turned + turn, True
                elif length:
                    if back:
                        found.append(Hollow(before, turned))
                        before, turned, back = 0.0, 0.0, False
                    before += length
        return (*found, Hollow(before, turned)) if found or back else ()

    def few_points(self, end: End, margin: float) -> Iterator[Point]:
        """So many points of the margin's edge that no point of it lies farther than ``BOW`` from their hull.

        A chord of length s under which an edge turns by a has a bow of s a / 8 (elementary): that says how
        many points a step takes. Where the edge turns inwards the sheet itself lies outside its chords.
        """
        which, sign = (0, -1.0) if end == "bottom" else (1, 1.0)
        facing: float | None = None
        steps = zip(pairwise(self._nodes), self._ways[which], strict=True)
        for (node, after), way in steps:
            begin, stop = way.heading
            if facing is None or abs(begin - facing) > _HOLLOW:
                turn = 0.0 if facing is None else begin - facing
                fan = _cut(margin * turn * turn) if sign * turn < 0 else 1
                for k in range(1, fan + 1):
                    yield _outside(node.flat[which], sign * margin, begin - turn * (fan - k) / fan)
            facing = stop
            yield from self._within(node, after, way, which, sign * margin)
            yield _outside(after.flat[which], sign * margin, stop)

    def _within(self, node: Node, after: Node, way: Way, which: int, off: float) -> Iterator[Point]:
        """The points inside a step, ``off`` to the left of the rim."""
        count, part = _cut(self._bows(way, -1.0 if which == 0 else 1.0, abs(off))), self.parts[node.part]
        if count == 1 or isinstance(part, Facet):
            return
        (begin, stop), (x, y) = way.heading, node.flat[which]
        if self._even[node.part] is not None:
            # On a cone it is an arc.
            radius = way.begin[0] / way.begin[1]
            x, y, around = x - radius * math.sin(begin), y + radius * math.cos(begin), radius - off
            for k in range(1, count):
                heading = begin + (stop - begin) * k / count
                yield x + around * math.sin(heading), y - around * math.cos(heading)
            return
        curve, own = self._curve(part, node, after, which), (begin - node.tau, stop - after.tau)
        for k in range(1, count):
            share = k / count
            point, tau = curve(share)
            yield _outside(point, off, tau + own[0] + (own[1] - own[0]) * share)

    @staticmethod
    def _bows(way: Way, sign: float, margin: float) -> float:
        """Eight times the bow of a chord over a step: of its mean bend, or of that at either end if more."""
        turned = max(-sign * (way.heading[1] - way.heading[0]), 0.0)
        most = (way.length + margin * turned) * turned
        for speed, rate in (way.begin, way.end):
            bend = max(-sign * rate, 0.0)
            most = max(most, (speed + margin * bend) * bend * way.turn * way.turn)
        return most


def _cut(bows: float) -> int:
    """Into how many a chord is cut so that none has a bow above ``BOW``; ``bows`` is eight times its own."""
    return max(1, math.ceil(math.sqrt(_RESERVE * bows / (8 * BOW))))


def _outside(point: Point, off: float, heading: float) -> Point:
    """A point so far to the left of a direction of travel."""
    return point[0] - off * math.sin(heading), point[1] + off * math.cos(heading)
