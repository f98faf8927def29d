"""Projections from the workshop's millimetres to paper, and the fit into a place on the page.

World: x along the bench to the right, y away from the maker, z up, table at z = 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

Point = tuple[float, float]
Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class View:
    """An orthographic view: paper right, paper up, towards the viewer. ``mirror`` swaps left and right."""

    name: str
    right: Point3
    up: Point3
    toward: Point3
    mirror: bool = False

    def project(self, point: Point3) -> Point:
        """World mm to view mm, right and up."""
        x, y, z = point
        u = self.right[0] * x + self.right[1] * y + self.right[2] * z
        v = self.up[0] * x + self.up[1] * y + self.up[2] * z
        return (-u if self.mirror else u), v

    def faces(self, normal: Point3) -> bool:
        """Whether a surface with this outward normal is seen from outside."""
        x, y, z = normal
        return self.toward[0] * x + self.toward[1] * y + self.toward[2] * z > 1e-9


def turned(name: str, azimuth: float, elevation: float, mirror: bool = False) -> View:
    """An orthographic view from azimuth and elevation, in degrees."""
    a, e = math.radians(azimuth), math.radians(elevation)
    return View(
        name,
        (math.cos(a), math.sin(a), 0.0),
        (-math.sin(a) * math.sin(e), math.cos(a) * math.sin(e), math.cos(e)),
        (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e)),
        mirror,
    )


def bench(left_handed: bool = False) -> View:
    """The one bench view: from the maker's left front, azimuth -15, elevation 30; mirrored for the left."""
    return turned("bench", -15, 30, left_handed)


def plan(left_handed: bool = False) -> View:
    """From above, true to scale, the maker at the lower edge."""
    return View("plan", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), left_handed)


@dataclass(frozen=True, slots=True)
class Box:
    """A place on the paper, mm, y down."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """mm."""
        return self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Frame:
    """A view fitted to paper: ``frame((x, y, z))`` is a place on the paper in mm, y down."""

    view: View
    scale: float
    """Paper mm per work mm."""
    left: float
    base: float

    def __call__(self, point: Point3) -> Point:
        """A world point on paper."""
        u, v = self.view.project(point)
        return self.left + u * self.scale, self.base - v * self.scale

    def path(self, points: Iterable[Point3]) -> list[Point]:
        """A line of world points on paper."""
        return [self(point) for point in points]


def fit(
    view: View, points: Iterable[Point3], place: Box, largest: float = math.inf, anchor: str = "middle"
) -> Frame:
    """The largest scale at which all points fit the place, set in its middle (or ``top``, ``bottom``)."""
    flat = [view.project(point) for point in points]
    us, vs = [p[0] for p in flat], [p[1] for p in flat]
    width, height = max(us) - min(us), max(vs) - min(vs)
    scale = min(place.width / max(width, 1e-9), place.height / max(height, 1e-9), largest)
    left = place.left + (place.width - width * scale) / 2 - min(us) * scale
    spare = place.height - height * scale
    above = {"middle": spare / 2, "top": 0.0, "bottom": spare}[anchor]
    return Frame(view, scale, left, place.top + above + max(vs) * scale)
