"""A piece of a ring held upright, close to, in the bench view: the wire with its tape, flat or wrapped."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas
from generator.figures.pens import HEAVY, THIN, WHITE
from generator.figures.plane import add, direction, normal, wave
from generator.figures.rings import wire_line
from generator.figures.view import Frame, Point3, View, turned
from generator.shape.outline import Outline
from generator.shape.shade import Shade


def close_view(left: bool) -> View:
    """The bench view from higher up: from the usual height the tape would look little wider than the wire."""
    return turned("bench", -15, 58, left)


@dataclass(frozen=True)
class WirePiece:
    """The ring's top, its seam mark at arc length 0; x along the wire, y along the ring's axis, z up."""

    frame: Frame
    shade: Shade
    width: float
    """Of the tape, mm."""

    @cached_property
    def line(self) -> Outline:
        """The wire's middle."""
        return wire_line(self.shade)

    def middle(self, s: float) -> tuple[float, float]:
        """x and z of the wire's middle; its top is at z = 0 at the seam mark."""
        x, y = self.line.point(s % self.line.length)
        return x, -y + self.line.point(0.0)[1]

    def outwards(self, s: float) -> tuple[float, float]:
        """Direction away from the ring's inside, in x and z."""
        psi = self.line.psi(s % self.line.length)
        return math.sin(psi), math.cos(psi)

    def at(self, s: float, out: float, y: float = 0.0) -> Point3:
        """A place ``out`` mm from the wire's middle, ``y`` mm beside it."""
        (x, z), (nx, nz) = self.middle(s), self.outwards(s)
        return x + out * nx, y, z + out * nz

    def tape(self, s: float, u: float, wrapped: float) -> Point3:
        """A place of the tape, u mm from its middle line; ``wrapped`` is 0 where flat, 1 round the wire."""
        r = self.shade.wire / 2
        if wrapped < 1e-3:
            return self.at(s, r, u)
        bend = wrapped / r
        return self.at(s, r - (1 - math.cos(bend * u)) / bend, math.sin(bend * u) / bend)

    def steps(self, start: float, stop: float, count: int = 40) -> list[float]:
        """Arc lengths from start to stop."""
        return [start + (stop - start) * k / count for k in range(count + 1)]

    def wire(self, canvas: Canvas, start: float, stop: float) -> None:
        """The bare wire, broken off at both ends."""
        path = [self.frame(self.at(s, 0.0)) for s in self.steps(start, stop)]
        r = self.shade.wire / 2 * self.frame.scale
        ahead = [direction(a, b) for a, b in pairwise(path)]
        across = [normal(v) for v in (*ahead, ahead[-1])]
        sides = [[add(p, v, side * r) for p, v in zip(path, across, strict=True)] for side in (1, -1)]
        first, last = (wave(sides[0][k], sides[1][k], 0.5, 1, 16) for k in (0, -1))
        with canvas.group("context", "wire"):
            canvas.area([*first, *sides[1], *reversed(last), *reversed(sides[0])], WHITE)
            for line in (*sides, first, last):
                canvas.line(line, THIN)

    def mark(self, canvas: Canvas, s: float = 0.0) -> None:
        """The seam mark across the side of the wire that is seen."""
        r = self.shade.wire / 2
        turns = [math.radians(a) for a in range(-40, 121, 10)]
        with canvas.group("context", "seam-mark"):
            canvas.line([self.frame(self.at(s, r * math.cos(a), -r * math.sin(a))) for a in turns], HEAVY)

    def seen(self, start: float, stop: float, wrapped: Callable[[float], float]) -> BaseGeometry:
        """The tape's outer side as far as it faces the viewer, on paper."""
        along, across = self.steps(start, stop, 48), self.steps(-self.width / 2, self.width / 2, 18)
        pieces = []
        for s0, s1 in pairwise(along):
            for u0, u1 in pairwise(across):
                corners = [self.tape(s, u, wrapped(s)) for s, u in ((s0, u0), (s1, u0), (s1, u1), (s0, u1))]
                if self._faces(corners):
                    pieces.append(Polygon([self.frame(p) for p in corners]))
        return unary_union(pieces).buffer(0.2).buffer(-0.2)

    def _faces(self, corners: list[Point3]) -> bool:
        (a, b, _, d) = corners
        p, q = [b[i] - a[i] for i in range(3)], [d[i] - a[i] for i in range(3)]
        return self.frame.view.faces(
            (p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0])
        )
