"""One of several equal panels: the first part of a development, from the seam to the first joint."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from functools import cached_property, lru_cache

from generator.shape.development import Development
from generator.shape.matching import Curved, Facet
from generator.shape.outline import Outline
from generator.shape.surface import Node

SAMPLES = 24
"""Places on a panel's share of a ring at which it is compared with the next share."""
SAME = 1e-6
"""Millimetres within which two places are one."""


@dataclass(frozen=True)
class Section(Development):
    """The part of a side that one of ``count`` equal panels covers, walked like the whole of it.

    All other panels are the same, turned about the middle: ``alike`` says whether that is so.
    """

    count: int = 1

    @cached_property
    def whole(self) -> Development:
        """All panels together."""
        return Development(**{part.name: getattr(self, part.name) for part in fields(Development)})

    @cached_property
    def parts(self) -> tuple[Facet | Curved, ...]:
        """Facets and bent parts up to the joint, the last one ending there."""
        last = self._nodes[-1]
        parts = [*self.whole.parts[: last.part + 1]]
        cut = parts[-1]
        if isinstance(cut, Curved):
            parts[-1] = Curved(cut.psi0, last.psi, cut.low, cut.high)
            return tuple(parts)
        begin = next(node for node in self._nodes if node.part == last.part)
        lengths = [end - start for start, end in zip(begin.rim, last.rim, strict=True)]
        low, high = (
            _shortened(side, length) for side, length in zip((cut.low, cut.high), lengths, strict=True)
        )
        parts[-1] = Facet(cut.psi, low, high)
        return tuple(parts)

    @cached_property
    def _nodes(self) -> tuple[Node, ...]:
        """Beginnings of all steps up to the joint, and the joint."""
        stop = self.whole.length / self.count
        before = [node for node in self.whole.nodes if node.x < stop - SAME / 1000]
        return (*before, self.whole.node_at(stop))


def _shortened(
    side: tuple[tuple[float, float], tuple[float, float]], length: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    (ax, ay), (bx, by) = side
    whole = math.dist((ax, ay), (bx, by))
    share = length / whole if whole > 0 else 0.0
    return (ax, ay), (ax + (bx - ax) * share, ay + (by - ay) * share)


def section_of(development: Development, count: int) -> Section:
    """The first of ``count`` equal panels."""
    whole = {part.name: getattr(development, part.name) for part in fields(Development)}
    return Section(**whole, count=count)


def alike(development: Development, count: int) -> bool:
    """Whether a side comes apart into so many panels of one form.

    It does where both rings look the same after that share of a turn, one straight above the other.
    """
    if any(abs(way) > SAME for way in development.shift):
        return False
    return all(_turns_into_itself(rim, count) for rim in (development.bottom, development.top))


@lru_cache(maxsize=64)
def _turns_into_itself(outline: Outline, count: int) -> bool:
    """Whether an outline, turned about its centre by a share of a turn, lies where it lay."""
    c, s = math.cos(2 * math.pi / count), math.sin(2 * math.pi / count)
    for k in range(count * SAMPLES):
        place = outline.length * k / (count * SAMPLES)
        (x, y), there = outline.point(place), outline.point(place + outline.length / count)
        if math.dist(there, (x * c - y * s, x * s + y * c)) > SAME:
            return False
    return True
