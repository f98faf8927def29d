"""Draws the section of a rim: PVC and cloth, wire and tape, the margin where it has got to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon

from generator.figures.canvas import Canvas, Point
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.pens import CLOTH_CUT, NEW, PVC, RING_TAPE, THIN
from generator.figures.plane import direction
from generator.figures.rim_inside import leaning
from generator.figures.rim_section import RimSection
from generator.figures.sections import band, wire_section
from generator.shape.development import End
from generator.shape.shade import Shade


@dataclass(frozen=True)
class Cut:
    """A section on paper: the PVC's inner upper corner at ``origin``, outside to the right, true to scale."""

    section: RimSection
    origin: Point
    scale: float
    tilt: float = 0.0
    """How far the wall leans to the outside at its top, radians."""

    def at(self, x: float, z: float) -> Point:
        """A place on paper."""
        c, s = math.cos(self.tilt), math.sin(self.tilt)
        x, z = x * c + z * s, z * c - x * s
        return self.origin[0] + x * self.scale, self.origin[1] - z * self.scale

    def path(self, points: Sequence[Point]) -> list[Point]:
        """A line on paper."""
        return [self.at(x, z) for x, z in points]


SLANT = math.radians(10)
"""A taper's wall is drawn leaning by no more than this, so that sections stand side by side."""


def tilted(shade: Shade, end: End) -> float:
    """How far the wall at an end that is up leans in its section."""
    return min(max(leaning(shade, end), -SLANT), SLANT)


def wall_and_wire(canvas: Canvas, cut: Cut, *, low: float, gap: float = 0.0) -> None:
    """PVC with its bonded cloth down to z = ``low``, and the taped wire ``gap`` off it."""
    s = cut.section
    pvc = Polygon(cut.path([(0, 0), (s.panel, 0), (s.panel, low), (0, low)]))
    with canvas.group("context", "panel"):
        canvas.area(pvc, PVC, THIN)
        hatch(canvas, pvc, *PVC_HATCH)
    middle = cut.at(*s.centre(gap))
    with canvas.group("context", "ring-tape"):
        inner, outer = s.wire / 2 * cut.scale, s.taped * cut.scale
        canvas.area(band(middle, inner, outer, -s.wrap / 2, s.wrap / 2), RING_TAPE, THIN)
    wire_section(canvas, middle, s.wire / 2 * cut.scale)


def cloth(canvas: Canvas, cut: Cut, margin: Sequence[Point], *, low: float) -> None:
    """The cloth: bonded to the PVC from z = ``low``, then its margin; one band of its own thickness."""
    s = cut.section
    bonded = [(s.panel + s.cloth / 2, low), (s.panel + s.cloth / 2, 0.0)]
    line = LineString(cut.path([*bonded, *margin]))
    band = line.buffer(s.cloth / 2 * cut.scale, cap_style="flat", join_style="round")
    with canvas.group("new", "cloth"):
        canvas.area(band, CLOTH_CUT, NEW)


def raw_edge(cut: Cut, margin: Sequence[Point]) -> tuple[Point, Point]:
    """The margin's raw edge on paper, and the direction in which the cloth runs out there."""
    path = cut.path(margin)
    return path[-1], direction(path[-2], path[-1])
