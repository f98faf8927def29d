"""Two rims walked together: where both have turned by the same angle, a generator joins them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.shape.outline import Bend, Flat, Outline, Point

_SAME = 1e-9
"""Radians within which two directions are one."""


@dataclass(frozen=True, slots=True)
class Facet:
    """A plane part: a side of one rim or of both, and what is opposite; each rim goes from a to b (mm)."""

    psi: float
    low: tuple[Point, Point]
    high: tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Curved:
    """A bent part from ``psi0`` to ``psi1``: on either rim one bend, or the corner where it stays."""

    psi0: float
    psi1: float
    low: Bend
    high: Bend


def matched(low: Outline, high: Outline) -> tuple[Facet | Curved, ...]:
    """Facets and bent parts once round, joining points of equal outward normals, both from psi 0.

    Two convex rims in parallel planes always match so: the developable is the side of their convex hull (the
    project's geometry notes; compare Glaeser and Gruber, *Developable surfaces in contemporary architecture*,
    2007, from memory).
    """
    walks = (low.walk(), high.walk())
    cuts = _merged([psi for walk in walks for psi in _angles(walk)])
    found: list[Facet | Curved] = []
    for k, psi in enumerate(cuts):
        flats = [_flat(walk, psi) for walk in walks]
        if any(flats):
            ends = [
                (flat.start, flat.end) if flat else (_corner(walk, psi),) * 2
                for flat, walk in zip(flats, walks, strict=True)
            ]
            found.append(Facet(psi, ends[0], ends[1]))
        if k + 1 < len(cuts):
            middle = (psi + cuts[k + 1]) / 2
            found.append(Curved(psi, cuts[k + 1], _bend(walks[0], middle), _bend(walks[1], middle)))
    return tuple(found)


def _angles(walk: tuple[Flat | Bend, ...]) -> Iterator[float]:
    yield from (0.0, 2 * math.pi)
    for part in walk:
        yield from (part.psi,) if isinstance(part, Flat) else (part.psi0, part.psi1)


def _merged(angles: list[float]) -> list[float]:
    found: list[float] = []
    for angle in sorted(angles):
        if not found or angle - found[-1] > _SAME:
            found.append(angle)
    return found


def _flat(walk: tuple[Flat | Bend, ...], psi: float) -> Flat | None:
    return next((p for p in walk if isinstance(p, Flat) and abs(p.psi - psi) <= _SAME), None)


def _bend(walk: tuple[Flat | Bend, ...], psi: float) -> Bend:
    return next(p for p in walk if not isinstance(p, Flat) and p.psi0 <= psi <= p.psi1)


def _corner(walk: tuple[Flat | Bend, ...], psi: float) -> Point:
    bend = next(p for p in walk if not isinstance(p, Flat) and p.psi0 - _SAME <= psi <= p.psi1 + _SAME)
    return bend.at(psi)
