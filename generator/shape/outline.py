"""What an outline answers, and outlines made of straight lines and arcs."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol, Self

from generator.base.errors import ShapeError

Point = tuple[float, float]

_POINT = 1e-9
"""Millimetres within which two places are one: far under a wire's width, far over rounding noise."""


@dataclass(frozen=True, slots=True)
class Station:
    """A notable place on an outline: ``s`` is the arc length from the start (mm), ``psi`` the angle turned.

    ``kind`` is ``side`` (middle of a straight side), ``tangent`` (line meets arc) or ``corner`` (middle of a
    bend).
    """

    s: float
    psi: float
    kind: str


@dataclass(frozen=True, slots=True)
class Flat:
    """A straight side as walked: its ends, and the angle turned there."""

    psi: float
    s: float
    """Arc length at its beginning, mm."""
    start: Point
    end: Point

    @property
    def length(self) -> float:
        """mm."""
        return math.dist(self.start, self.end)


class Bend(Protocol):
    """A curved part as walked, from angle ``psi0`` to ``psi1``: its points are found by their direction."""

    @property
    def psi0(self) -> float:
        """Angle turned at its beginning, radians."""
        ...

    @property
    def psi1(self) -> float:
        """Angle turned at its end, radians."""
        ...

    def at(self, psi: float) -> Point:
        """The point at which the curve has turned by psi."""
        ...

    def radius(self, psi: float) -> float:
        """Radius of curvature there, mm; 0 all along at a sharp corner."""
        ...

    def touch(self, sine: float, cosine: float) -> tuple[Point, float]:
        """Both at once, by sine and cosine of psi: who sums along a bend asks many thousand times."""
        ...


@dataclass(frozen=True, slots=True)
class ArcBend:
    """An arc of a circle, or a sharp corner with radius 0."""

    psi0: float
    psi1: float
    centre: Point
    around: float
    """Radius, mm."""

    def at(self, psi: float) -> Point:
        """The point at which the arc has turned by psi."""
        return self.centre[0] + self.around * math.sin(psi), self.centre[1] - self.around * math.cos(psi)

    def radius(self, psi: float) -> float:
        """The arc's radius, mm."""
        return self.around

    def touch(self, sine: float, cosine: float) -> tuple[Point, float]:
        """Point and radius, by sine and cosine of psi."""
        return (self.centre[0] + self.around * sine, self.centre[1] - self.around * cosine), self.around


class Outline(Protocol):
    """A closed convex curve, y up, from the middle of the front side (0, -depth/2), counter-clockwise.

    ``s`` is arc length in mm; any number is allowed, one length more is one round more. ``psi`` is the angle
    turned since the start, in radians: 0 at the start, 2 pi after one round, growing on from there. The
    origin is the centre: of the circle that touches all sides for a polygon, so one with an odd number of
    sides reaches further to the back than to the front.
    """

    def __hash__(self) -> int:
        """An outline is a value: what is worked out of it may be kept."""
        ...

    @property
    def length(self) -> float:
        """Perimeter, mm."""
        ...

    @property
    def width(self) -> float:
        """Extent along x, mm."""
        ...

    @property
    def depth(self) -> float:
        """Extent along y, mm."""
        ...

    @property
    def smallest_radius(self) -> float:
        """Smallest radius of curvature, mm; 0 at a sharp corner."""
        ...

    def point(self, s: float) -> Point:
        """Point at arc length s."""
        ...

    def psi(self, s: float) -> float:
        """Angle through which the outline has turned at s, radians. At a sharp corner: half of its turn."""
        ...

    def stations(self) -> tuple[Station, ...]:
        """Side middles, tangent points and bend middles in order of s; none on a smooth closed curve."""
        ...

    def walk(self) -> tuple[Flat | Bend, ...]:
        """Straight sides and bends in order, once round from the start."""
        ...

    def offset(self, d: float) -> Outline:
        """The parallel curve at distance d, outward positive. Raises ShapeError if it would cross itself."""
        ...


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight line (``radius`` None) or an arc (``radius`` 0 is a sharp corner, which has no length)."""

    start: Point
    heading: float
    length: float
    turn: float = 0.0
    radius: float | None = None

    def at(self, t: float) -> Point:
        """Point at arc length t from the piece's start."""
        x, y = self.start
        if self.radius is None:
            return x + t * math.cos(self.heading), y + t * math.sin(self.heading)
        if self.radius == 0:
            return self.start
        end = self.heading + t / self.radius
        return (
            x + self.radius * (math.sin(end) - math.sin(self.heading)),
            y - self.radius * (math.cos(end) - math.cos(self.heading)),
        )

    def heading_at(self, t: float) -> float:
        """Direction of travel at arc length t, radians; the middle direction at a sharp corner."""
        if self.radius is None:
            return self.heading
        if self.radius == 0:
            return self.heading + self.turn / 2
        return self.heading + t / self.radius


@dataclass(frozen=True)
class ArcPath:
    """A convex outline of lines and arcs: ``sides`` are full lengths, ``turns`` the bend after each side.

    The walk starts in the middle of the first side, heading along +x. A side may have no length (then two
    bends meet) and a bend no radius (then it is a sharp corner). Perimeter of a convex polygon rounded by a
    disc: Minkowski addition, perimeters add (Schneider, *Convex Bodies*, section 1.7, from memory).
    """

    sides: tuple[float, ...]
    turns: tuple[float, ...]
    radius: float
    front: float
    """Distance of the front side from the centre, mm."""

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """Lines and arcs in order; lines of no length are left out, bends of no radius are sharp corners."""
        found: list[Piece] = []
        radius = self.radius if self.radius > _POINT else 0.0
        x, y, heading = 0.0, -self.front, 0.0
        spans: list[tuple[float, float]] = []
        for index, (side, turn) in enumerate(zip(self.sides, self.turns, strict=True)):
            spans.append((side / 2 if index == 0 else side, turn))
        spans.append((self.sides[0] / 2, 0.0))
        for side, turn in spans:
            if side > _POINT:
                line = Piece((x, y), heading, side)
                found.append(line)
                x, y = line.at(side)
            if turn > 0:
                bend = Piece((x, y), heading, turn * radius, turn, radius)
                found.append(bend)
                x, y = bend.at(bend.length)
                heading += turn
        return tuple(found)

    @cached_property
    def _starts(self) -> tuple[float, ...]:
        total, starts = 0.0, []
        for piece in self.pieces:
            starts.append(total)
            total += piece.length
        return tuple(starts)

    @cached_property
    def length(self) -> float:
        """Perimeter, mm."""
        return math.fsum(self.sides) + 2 * math.pi * self.radius

    @cached_property
    def _box(self) -> tuple[float, float]:
        points = [self.point(s) for s in self._extreme_stations()]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return max(xs) - min(xs), max(ys) - min(ys)

    def _extreme_stations(self) -> Iterable[float]:
        for start, piece in zip(self._starts, self.pieces, strict=True):
            yield start
            if piece.radius:
                quarter = math.pi / 2
                first = math.ceil(piece.heading / quarter - 1e-12)
                last = math.floor((piece.heading + piece.turn) / quarter + 1e-12)
                for k in range(first, last + 1):
                    yield start + (k * quarter - piece.heading) * piece.radius

    @property
    def width(self) -> float:
        """Extent along x, mm."""
        return self._box[0]

    @property
    def depth(self) -> float:
        """Extent along y, mm."""
        return self._box[1]

    @property
    def smallest_radius(self) -> float:
        """The bend radius, mm."""
        return self.radius

    def _locate(self, s: float) -> tuple[Piece, float]:
        s = s % self.length
        index = max(0, bisect_right(self._starts, s + 1e-12) - 1)
        piece = self.pieces[index]
        return piece, min(max(s - self._starts[index], 0.0), piece.length)

    def point(self, s: float) -> Point:
        """Point at arc length s."""
        piece, t = self._locate(s)
        return piece.at(t)

    def psi(self, s: float) -> float:
        """Angle turned at s, radians."""
        rounds, rest = divmod(s, self.length)
        # A sharp corner is a single point, so rounding noise must not decide on which side of it s stands.
        for index in self._sharp:
            if abs(rest - self._starts[index]) < _POINT:
                return 2 * math.pi * rounds + self.pieces[index].heading_at(0.0)
        piece, t = self._locate(rest)
        return 2 * math.pi * rounds + piece.heading_at(t)

    @cached_property
    def _sharp(self) -> tuple[int, ...]:
        return tuple(index for index, piece in enumerate(self.pieces) if piece.radius == 0)

    def stations(self) -> tuple[Station, ...]:
        """Middles of sides that have a length, points where line meets arc, bend middles, in order of s."""
        found: list[Station] = []
        last = len(self.pieces) - 1
        for index, (start, piece) in enumerate(zip(self._starts, self.pieces, strict=True)):
            if piece.radius is None:
                if index == 0:
                    found.append(Station(0.0, 0.0, "side"))
                elif index < last:
                    found.append(Station(start + piece.length / 2, piece.heading, "side"))
                continue
            middle = Station(start + piece.length / 2, piece.heading + piece.turn / 2, "corner")
            if piece.radius == 0:
                found.append(middle)
                continue
            # Two bends that meet have no line between them, and so no tangent point.
            if self.pieces[index - 1].radius is None:
                found.append(Station(start, piece.heading, "tangent"))
            found.append(middle)
            if self.pieces[(index + 1) % len(self.pieces)].radius is None:
                found.append(Station(start + piece.length, piece.heading + piece.turn, "tangent"))
        return tuple(found)

    def walk(self) -> tuple[Flat | Bend, ...]:
        """Its lines and arcs."""
        found: list[Flat | Bend] = []
        for start, piece in zip(self._starts, self.pieces, strict=True):
            if piece.radius is None:
                found.append(Flat(piece.heading, start, piece.start, piece.at(piece.length)))
                continue
            # The centre lies to the left of the way, a radius away.
            x, y = piece.start
            centre = (x - piece.radius * math.sin(piece.heading), y + piece.radius * math.cos(piece.heading))
            found.append(ArcBend(piece.heading, piece.heading + piece.turn, centre, piece.radius))
        return tuple(found)

    def offset(self, d: float) -> Self:
        """The parallel curve at distance d. Raises ShapeError beyond the bend radius inwards."""
        if self.radius + d < -_POINT:
            raise ShapeError(
                f"an offset of {d} mm is beyond the smallest radius of curvature, {self.radius} mm"
            )
        return type(self)(self.sides, self.turns, max(self.radius + d, 0.0), self.front + d)
