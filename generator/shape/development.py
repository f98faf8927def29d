"""The side of a tapered shade, in space and unrolled into the plane."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from generator.shape.matching import Curved, Facet
from generator.shape.outline import Flat, Point
from generator.shape.rims import ENDS as ENDS
from generator.shape.rims import End as End
from generator.shape.rims import Rims
from generator.shape.surface import Local, Node

Point3 = tuple[float, float, float]
TURN = 2 * math.pi

_NEAR = 1e-9
"""Millimetres within which two places are one."""

_SAME = 1e-8
"""Radians within which two directions are one."""

_STRAIGHT = 1e-7
"""Radians over which a curve of a few metres' radius is straight to 1e-11 mm."""

_EVEN = 1e-9
"""Paces that differ by less are one."""


def other_end(end: End) -> End:
    """The opposite end."""
    return "bottom" if end == "top" else "top"


@dataclass(frozen=True, slots=True)
class Generator:
    """One straight line of the surface, from the lower rim to the upper.

    ``tau`` is the angle through which the flat sheet has turned there. Space and plane agree: the generator
    is ``along`` the rim's direction by the first number and up the slope by the second.
    """

    x: float
    psi: float
    tau: float
    low: Point3
    high: Point3
    flat_low: Point
    flat_high: Point
    tangent: Point3
    upslope: Point3
    outward: Point3

    @property
    def length(self) -> float:
        """mm."""
        return math.dist(self.flat_low, self.flat_high)


@dataclass(frozen=True)
class Development(Rims):
    """The surface walked by the panel coordinate x, in space and in the plane.

    x is the mean of both rims' lengths from the seam, on the sheet's middle. The plane sheet begins at the
    lower end of the seam in (0, 0), its rim going along +x.
    """

    @property
    def nodes(self) -> tuple[Node, ...]:
        """Beginnings of all steps, and the end."""
        return self._nodes

    def node_at(self, x: float) -> Node:
        """Sums up to panel coordinate x."""
        node, _, here = self._found(x)
        if isinstance(self.parts[node.part], Curved):
            return here
        # The area that a facet's lines sweep grows evenly.
        after = self._nodes[self._nodes.index(node) + 1]
        area = node.area + (after.area - node.area) * (x - node.x) / (after.x - node.x)
        return replace(here, area=area)

    @cached_property
    def _starts(self) -> list[float]:
        return [node.x for node in self._nodes[:-1]]

    @property
    def length(self) -> float:
        """Once round at half the slope: the mean of both rims on the sheet's middle."""
        return self._nodes[-1].x

    def rim_length(self, end: End) -> float:
        """Once round one rim on the sheet's middle."""
        return self._nodes[-1].rim[0 if end == "bottom" else 1]

    @property
    def turning(self) -> float:
        """Angle between the two seam edges of the flat sheet; positive: the lower rim is the longer one."""
        return self._nodes[-1].tau

    @property
    def area(self) -> float:
        """Area of the sheet's middle between the rims, mm²."""
        return self._nodes[-1].area

    def _found(self, x: float) -> tuple[Node, Local, Node]:
        """The step that holds x; the surface there; sums up to there."""
        index = max(0, bisect_right(self._starts, x) - 1)
        node, after = self._nodes[index], self._nodes[index + 1]
        part = self.parts[node.part]
        share = (x - node.x) / (after.x - node.x) if after.x > node.x else 0.0
        if isinstance(part, Facet):
            low, high = (
                (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share) for a, b in (part.low, part.high)
            )
            rim, flat = self._mixed(node, after, share)
            at = self._local(part.psi, low, high, (0.0, 0.0))
            return node, at, Node(x, rim, flat, node.tau, node.area, node.part, part.psi)
        # x grows almost evenly with psi over so small a step: Newton's steps from a place that is near.
        psi = node.psi + (after.psi - node.psi) * self._near_share(index, share)
        for _ in range(30):
            here, at = self._advance(node, psi), self._bent(part, psi)
            speed = self._pace(at)
            miss = here.x - x
            if abs(miss) < 1e-10 or speed <= 0:
                break
            nearer = min(max(psi - miss / speed, node.psi), after.psi)
            if abs(nearer - psi) < _STRAIGHT:
                return node, self._bent(part, nearer), self._moved(here, at, nearer, x)
            psi = nearer
        return node, at, here

    def _moved(self, here: Node, at: Local, psi: float, x: float) -> Node:
        """Sums a very little further on, at ``psi`` and ``x``: straight on, as fast as they grow here."""
        turn, c, s = psi - here.psi, math.cos(here.tau), math.sin(here.tau)
        rims, flats = [], []
        for end, (flat_x, flat_y) in enumerate(here.flat):
            along, up = self._speeds(at, end)
            rims.append(here.rim[end] + turn * math.hypot(along, up))
            flats.append((flat_x + turn * (along * c - up * s), flat_y + turn * (along * s + up * c)))
        tau, area = here.tau + turn * math.sin(at.beta), here.area + turn * self._swept(at)
        return Node(x, (rims[0], rims[1]), (flats[0], flats[1]), tau, area, here.part, psi)

    def _near_share(self, index: int, share: float) -> float:
        """Share of a step's turn at a share of its length: Hermite's cubic through its paces at both ends."""
        begin, end = self._paces[index]
        if begin <= 0 or end <= 0 or abs(begin - end) < _EVEN:
            return share
        rest = 1 - share
        return share * rest * rest / begin + share * share * (1 + 2 * rest) - share * share * rest / end

    @cached_property
    def _paces(self) -> tuple[tuple[float, float], ...]:
        """How fast the panel coordinate grows with psi where each step begins and ends: 1 is the mean."""
        found = []
        for (node, after), ends in zip(pairwise(self._nodes), self.step_ends, strict=True):
            length = after.x - node.x
            if ends is None or length <= 0:
                found.append((1.0, 1.0))
                continue
            turn = (after.psi - node.psi) / length
            begin = self._pace(ends[0]) * turn
            found.append((begin, begin if ends[1] is ends[0] else self._pace(ends[1]) * turn))
        return tuple(found)

    @staticmethod
    def _mixed(a: Node, b: Node, share: float) -> tuple[tuple[float, float], tuple[Point, Point]]:
        def mix(p: float, q: float) -> float:
            return p + (q - p) * share

        rim = (mix(a.rim[0], b.rim[0]), mix(a.rim[1], b.rim[1]))
        low, high = ((mix(p[0], q[0]), mix(p[1], q[1])) for p, q in zip(a.flat, b.flat, strict=True))
        return rim, (low, high)

    @cached_property
    def _seen(self) -> dict[float, Generator]:
        return {}

    def generator(self, x: float) -> Generator:
        """The generator at panel coordinate x, from 0 to the length; computed once."""
        if x not in self._seen:
            self._seen[x] = self._generator(min(max(x, 0.0), self.length))
        return self._seen[x]

    def _generator(self, x: float) -> Generator:
        _, at, here = self._found(x)
        psi, beta = here.psi, at.beta
        n = (math.sin(psi) * math.cos(beta), -math.cos(psi) * math.cos(beta), math.sin(beta))
        up = (-math.sin(psi) * math.sin(beta), math.cos(psi) * math.sin(beta), math.cos(beta))
        (px, py), (qx, qy) = at.points
        d = self.delta
        return Generator(
            x=x,
            psi=psi,
            tau=here.tau,
            low=(px + d * n[0], py + d * n[1], d * n[2]),
            high=(qx + d * n[0], qy + d * n[1], self.height + d * n[2]),
            flat_low=here.flat[0],
            flat_high=here.flat[1],
            tangent=(math.cos(psi), math.sin(psi), 0.0),
            upslope=up,
            outward=n,
        )

    def rim_place(self, end: End, x: float) -> float:
        """Length along one rim of the sheet's middle from the seam to panel coordinate x."""
        return self._found(min(max(x, 0.0), self.length))[2].rim[0 if end == "bottom" else 1]

    def panel_place(self, end: End, s: float) -> float:
        """Panel coordinate of the place s (mm from the seam) along a ring, outside its wire; once."""
        if (end, s) not in self._places:
            self._places[end, s] = self._panel_place(end, s)
        return self._places[end, s]

    @cached_property
    def _places(self) -> dict[tuple[End, float], float]:
        return {}

    def _panel_place(self, end: End, s: float) -> float:
        outline = self.bottom if end == "bottom" else self.top
        which = 0 if end == "bottom" else 1
        if s <= 0 or s >= outline.length:
            return 0.0 if s <= 0 else self.length
        for part in outline.walk():
            # Rounding noise must not carry the end of a side to the other side of it.
            if isinstance(part, Flat) and part.s - _NEAR <= s <= part.s + part.length + _NEAR:
                share = min(max((s - part.s) / part.length, 0.0), 1.0)
                return self._on_facet(part.psi, share, which)
        psi = outline.psi(s)
        if psi < _SAME or psi > TURN - _SAME:
            return 0.0 if psi < _SAME else self.length
        # A place of one ring may face a whole side of the other: then the side's middle.
        if any(isinstance(part, Facet) and abs(part.psi - psi) < _SAME for part in self.parts):
            return self._on_facet(psi, 0.5, which)
        return self._at_turn(psi)

    def _on_facet(self, psi: float, share: float, which: int) -> float:
        for index, node in enumerate(self._nodes[:-1]):
            part = self.parts[node.part]
            if isinstance(part, Facet) and abs(part.psi - psi) < _SAME:
                return node.x + (self._nodes[index + 1].x - node.x) * share
        raise AssertionError(f"no side at {psi} on rim {which}")

    def _at_turn(self, psi: float) -> float:
        """Panel coordinate on a bent part where the rims have turned by psi."""
        # The first step that does not end before.
        first = bisect_left(self._turns, psi - 1e-12)
        for index, node in enumerate(self._nodes[first:-1], first):
            part = self.parts[node.part]
            if isinstance(part, Curved) and node.psi - 1e-12 <= psi <= self._nodes[index + 1].psi + 1e-12:
                return self._advance(node, psi).x
        return self.length

    @cached_property
    def _turns(self) -> tuple[float, ...]:
        """How far the rims have turned where each step ends."""
        return tuple(node.psi for node in self._nodes[1:])

    def at_turning(self, tau: float) -> float:
        """Panel coordinate where the flat sheet has turned by tau, which must not shrink on the way."""
        low, high = 0.0, self.length
        sign = 1.0 if self.turning >= 0 else -1.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if sign * self.generator(middle).tau < sign * tau else (low, middle)
        return (low + high) / 2

    def breaks(self) -> tuple[float, ...]:
        """Panel coordinates where facets and bent parts meet."""
        found: list[float] = []
        last = -1
        for node in self._nodes[:-1]:
            if node.part != last:
                found.append(node.x)
                last = node.part
        return tuple(found)
