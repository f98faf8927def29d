"""How the side of a tapered shade bends: sums along both rims, step by step round the shade."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from operator import mul

from generator.shape.matching import Curved, Facet, matched
from generator.shape.outline import ArcBend, Outline, Point

_STEP = math.radians(3.0)
"""Bent parts are cut into steps of this turn at most, each integrated by itself."""

_NO_TURN = 1e-9
"""Radians under which a sine is its angle to the last digit."""

# Gauss-Legendre, 8 points on -1 to 1 (DLMF table 3.5.2, from memory; tests check the sums of powers).
_HALF_NODES = (0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363)
_HALF_WEIGHTS = (0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763)
GAUSS = tuple(
    (sign * node, weight)
    for node, weight in zip(_HALF_NODES, _HALF_WEIGHTS, strict=True)
    for sign in (-1.0, 1.0)
)


def _so_far() -> tuple[tuple[float, ...], ...]:
    """For each node: weights of the values at all nodes in the integral from -1 up to it.

    The polynomial through the values is integrated (spectral integration, elementary). It serves for what is
    needed inside a step; whole steps are summed by Gauss's weights.
    """
    places = [node for node, _ in GAUSS]

    def basis(j: int, t: float) -> float:
        return math.prod((t - x) / (places[j] - x) for i, x in enumerate(places) if i != j)

    def weight(j: int, end: float) -> float:
        half = (end + 1) / 2
        return half * math.fsum(w * basis(j, half * (node + 1) - 1) for node, w in GAUSS)

    return tuple(tuple(weight(j, end) for j in range(len(places))) for end in places)


SO_FAR = _so_far()


@dataclass(frozen=True, slots=True)
class Node:
    """Where a step begins: everything that was summed up so far."""

    x: float
    rim: tuple[float, float]
    flat: tuple[Point, Point]
    tau: float
    area: float
    part: int
    psi: float


@dataclass(frozen=True, slots=True)
class Local:
    """The surface at one direction: slope, its change, radii, the generator in the tangent plane."""

    beta: float
    change: float
    radii: tuple[float, float]
    points: tuple[Point, Point]


@dataclass(frozen=True)
class Surface:
    """The developable between two convex rims in parallel planes, moved outwards by ``delta``.

    Generators join points with equal outward normals. With support functions h1, h2 of the rims over the
    angle psi and their distance H, the plane sheet turns by tau' = (h1 - h2) / sqrt((h1 - h2)^2 + H^2) (the
    project's geometry notes; geodesic curvature of the rim, any text of differential geometry). The middle of
    the sheet is the parallel surface at ``delta``: the same turning, each rim's element longer by delta cos
    beta, beta the slope of the tangent plane off the vertical. Lengths mm, angles radians.
    """

    bottom: Outline
    top: Outline
    height: float
    shift: Point = (0.0, 0.0)
    delta: float = 0.0

    @cached_property
    def parts(self) -> tuple[Facet | Curved, ...]:
        """Facets and bent parts, once round."""
        return matched(self.bottom, self.top)

    def _local(self, psi: float, low: Point, high: Point, radii: tuple[float, float]) -> Local:
        return self._between(math.sin(psi), math.cos(psi), low, high, radii)

    def _between(
        self, sine: float, cosine: float, low: Point, high: Point, radii: tuple[float, float]
    ) -> Local:
        px, py = low
        qx, qy = high[0] + self.shift[0], high[1] + self.shift[1]
        # Outward normal (sin psi, -cos psi), direction of travel (cos psi, sin psi).
        gap = (px - qx) * sine - (py - qy) * cosine
        drift = (px - qx) * cosine + (py - qy) * sine
        beta = math.atan2(gap, self.height)
        change = drift * self.height / (gap * gap + self.height * self.height)
        return Local(beta, change, radii, ((px, py), (qx, qy)))

    def _bent(self, part: Curved, psi: float) -> Local:
        sine, cosine = math.sin(psi), math.cos(psi)
        (low, low_radius), (high, high_radius) = part.low.touch(sine, cosine), part.high.touch(sine, cosine)
        return self._between(sine, cosine, low, high, (low_radius, high_radius))

    def _pace(self, at: Local) -> float:
        """Panel coordinate per radian: the mean of both rims' elements on the sheet's middle."""
        (low, up), (high, _) = self._speeds(at, 0), self._speeds(at, 1)
        return (math.hypot(low, up) + math.hypot(high, up)) / 2

    def _speeds(self, at: Local, end: int) -> tuple[float, float]:
        """A rim's element on the sheet's middle per radian: along the rim's direction, and up the slope."""
        return at.radii[end] + self.delta * math.cos(at.beta), self.delta * at.change

    def _advance(self, node: Node, psi: float) -> Node:
        """Sums from a node on a bent part up to psi."""
        part = self.parts[node.part]
        assert isinstance(part, Curved)
        half, middle = (psi - node.psi) / 2, (psi + node.psi) / 2
        if half == 0:
            return node
        even = self._paces_of_even[node.part]
        if even is not None:
            return self._advance_evenly(node, psi, even)
        # The same as _bent, _speeds and _swept say of each place, at once: this is done some thousand times.
        delta, height, (shift_x, shift_y) = self.delta, self.height, self.shift
        touch_low, touch_high = part.low.touch, part.high.touch
        found, sines = [], []
        for place, weight in GAUSS:
            angle = middle + half * place
            s, c = math.sin(angle), math.cos(angle)
            (px, py), low = touch_low(s, c)
            (qx, qy), high = touch_high(s, c)
            dx, dy = px - qx - shift_x, py - qy - shift_y
            gap = dx * s - dy * c
            slope = math.hypot(gap, height)
            sines.append(gap / slope)
            steep = height / slope
            change = (dx * c + dy * s) * height / (slope * slope)
            low, high, up = low + delta * steep, high + delta * steep, delta * change
            swept = slope * (low + high) / 2 + change * slope * slope / height * up
            found.append((weight * half, low, high, up, swept))
        low_rim = high_rim = low_x = low_y = high_x = high_y = area = turn = 0.0
        for (share, low, high, up, swept), sine, row in zip(found, sines, SO_FAR, strict=True):
            tau = node.tau + half * sum(map(mul, row, sines))
            c, s = math.cos(tau), math.sin(tau)
            low_rim += share * math.hypot(low, up)
            high_rim += share * math.hypot(high, up)
            low_x += share * (low * c - up * s)
            low_y += share * (low * s + up * c)
            high_x += share * (high * c - up * s)
            high_y += share * (high * s + up * c)
            turn += share * sine
            area += share * swept
        rim = (node.rim[0] + low_rim, node.rim[1] + high_rim)
        flat_low = (node.flat[0][0] + low_x, node.flat[0][1] + low_y)
        flat_high = (node.flat[1][0] + high_x, node.flat[1][1] + high_y)
        flat = (flat_low, flat_high)
        return Node(sum(rim) / 2, rim, flat, node.tau + turn, node.area + area, node.part, psi)

    @cached_property
    def _even(self) -> tuple[Local | None, ...]:
        """For each part that is a piece of an upright cone the surface there: it is the same all along it."""
        return tuple(
            self._bent(part, part.psi0) if isinstance(part, Curved) and self._one_middle(part) else None
            for part in self.parts
        )

    def _one_middle(self, part: Curved) -> bool:
        """Whether both rims go round one middle there, the upper's straight above the lower's."""
        low, high = part.low, part.high
        if not (isinstance(low, ArcBend) and isinstance(high, ArcBend)):
            return False
        (x, y), (dx, dy) = high.centre, self.shift
        return low.centre == (x + dx, y + dy)

    @cached_property
    def _paces_of_even(self) -> tuple[tuple[float, float, float, float] | None, ...]:
        """For each such part, a radian: both rims' elements, turning, and area."""
        return tuple(
            None
            if at is None
            else (self._speeds(at, 0)[0], self._speeds(at, 1)[0], math.sin(at.beta), self._swept(at))
            for at in self._even
        )

    def _advance_evenly(self, node: Node, psi: float, paces: tuple[float, float, float, float]) -> Node:
        """The same sums on a cone, in closed form: each rim is an arc on the flat sheet (elementary)."""
        turn, (low, high, turning, swept) = psi - node.psi, paces
        half = turn * turning / 2
        # An arc's chord points half the way round, and is shorter by sin(half) / half.
        shorter = math.sin(half) / half if abs(half) > _NO_TURN else 1.0
        c, s = math.cos(node.tau + half), math.sin(node.tau + half)
        rim = (node.rim[0] + turn * low, node.rim[1] + turn * high)
        (low_x, low_y), (high_x, high_y) = node.flat
        low, high = turn * low * shorter, turn * high * shorter
        flat = (low_x + low * c, low_y + low * s), (high_x + high * c, high_y + high * s)
        area = node.area + turn * swept
        return Node(sum(rim) / 2, rim, flat, node.tau + 2 * half, area, node.part, psi)

    def _swept(self, at: Local) -> float:
        """Area per radian that a generator sweeps: its length up the slope times the mean of both elements.

        The elements along the generator's own change (delta beta') are equal at both ends and sweep
        what the drift of the generator takes: both are in the cross product.
        """
        along = [self._speeds(at, end) for end in (0, 1)]
        span = self._span(at)
        return sum(span[1] * a - span[0] * u for a, u in along) / 2

    def _span(self, at: Local) -> tuple[float, float]:
        """The generator from the lower rim to the upper: along the direction of travel, up the slope."""
        steep = math.cos(at.beta)
        return -at.change * self.height / (steep * steep), self.height / steep

    @cached_property
    def _nodes(self) -> tuple[Node, ...]:
        """Beginnings of all steps, and the end."""
        first = self._local(0.0, *self._ends_at_start(), (0.0, 0.0))
        span = self._span(first)
        node = Node(0.0, (0.0, 0.0), ((0.0, 0.0), span), 0.0, 0.0, 0, 0.0)
        found: list[Node] = []
        for index, part in enumerate(self.parts):
            node = Node(node.x, node.rim, node.flat, node.tau, node.area, index, node.psi)
            if isinstance(part, Facet):
                found.append(node)
                node = self._across(node, part)
                continue
            steps = max(1, math.ceil((part.psi1 - part.psi0) / _STEP))
            node = Node(node.x, node.rim, node.flat, node.tau, node.area, index, part.psi0)
            for k in range(1, steps + 1):
                found.append(node)
                node = self._advance(node, part.psi0 + (part.psi1 - part.psi0) * k / steps)
        return (*found, node)

    def _ends_at_start(self) -> tuple[Point, Point]:
        part = self.parts[0]
        if isinstance(part, Facet):
            return part.low[0], part.high[0]
        return part.low.at(part.psi0), part.high.at(part.psi0)

    def _across(self, node: Node, part: Facet) -> Node:
        """Sums over a whole facet."""
        lengths = (math.dist(*part.low), math.dist(*part.high))
        c, s = math.cos(node.tau), math.sin(node.tau)
        at = self._local(part.psi, part.low[0], part.high[0], (0.0, 0.0))
        rim = (node.rim[0] + lengths[0], node.rim[1] + lengths[1])
        low, high = (
            (flat[0] + length * c, flat[1] + length * s)
            for flat, length in zip(node.flat, lengths, strict=True)
        )
        area = node.area + sum(lengths) / 2 * self._span(at)[1]
        return Node(sum(rim) / 2, rim, (low, high), node.tau, area, node.part, part.psi)
