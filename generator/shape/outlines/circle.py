"""Circle, by its diameter outside the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from generator.base.errors import ShapeError
from generator.base.outline_keys import OutlineKeys
from generator.shape.facts import MENSURATION, OutlineFacts
from generator.shape.outline import ArcBend, Point, Station
from generator.shape.say import plain

KEYS = OutlineKeys(lengths=("diameter",))


@dataclass(frozen=True)
class Circle:
    """P = pi d. Elementary mensuration."""

    diameter: float

    @property
    def length(self) -> float:
        """Perimeter, mm."""
        return math.pi * self.diameter

    @property
    def width(self) -> float:
        """Diameter, mm."""
        return self.diameter

    @property
    def depth(self) -> float:
        """Diameter, mm."""
        return self.diameter

    @property
    def smallest_radius(self) -> float:
        """Radius, mm."""
        return self.diameter / 2

    def psi(self, s: float) -> float:
        """Angle turned at s, radians."""
        return 2 * s / self.diameter

    def point(self, s: float) -> Point:
        """Point at arc length s."""
        angle = self.psi(s)
        return self.diameter / 2 * math.sin(angle), -self.diameter / 2 * math.cos(angle)

    def stations(self) -> tuple[Station, ...]:
        """None: a circle has no sides and no corners."""
        return ()

    def walk(self) -> tuple[ArcBend, ...]:
        """One bend, all the way round."""
        return (ArcBend(0.0, 2 * math.pi, (0.0, 0.0), self.diameter / 2),)

    def offset(self, d: float) -> Circle:
        """The parallel circle. Raises ShapeError beyond the centre."""
        if self.diameter + 2 * d < 0:
            raise ShapeError(f"an offset of {d} mm is beyond the centre of a circle of {self.diameter} mm")
        return Circle(self.diameter + 2 * d)


def make(dimensions: Mapping[str, float]) -> Circle:
    """Outline of a recipe's dimensions (mm)."""
    return Circle(dimensions["diameter"])


def facts(dimensions: Mapping[str, float]) -> OutlineFacts:
    """Its formulas in words."""
    return OutlineFacts(f"π × diameter {plain(dimensions['diameter'])}", MENSURATION)
