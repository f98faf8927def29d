"""Draws the section of a rim: PVC and cloth, wire and tape, the margin where it has got to, the tucking tool."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon

from generator.figures.canvas import Canvas, Point, circle
from generator.figures.hatch import PVC_HATCH, WIRE_HATCH, hatch
from generator.figures.pens import CLOTH_CUT, INK, NEW, PVC, SEAM_TAPE, THIN, TOOL, WHITE
from generator.figures.plane import direction
from generator.figures.sections import RimSection

Place = Callable[[float, float], Point]


@dataclass(frozen=True)
class Cut:
    """A section set on paper: the PVC's inner upper corner at ``origin``, outside to the right, true to scale."""

    section: RimSection
    origin: Point
    scale: float

    def at(self, x: float, z: float) -> Point:
        """A place on paper."""
        return self.origin[0] + x * self.scale, self.origin[1] - z * self.scale

    def path(self, points: Sequence[Point]) -> list[Point]:
        """A line on paper."""
        return [self.at(x, z) for x, z in points]


def wall_and_wire(canvas: Canvas, cut: Cut, *, low: float, gap: float = 0.0) -> None:
    """PVC with its bonded cloth down to z = ``low``, and the taped wire ``gap`` off it."""
    s = cut.section
    pvc = Polygon(cut.path([(0, 0), (s.panel, 0), (s.panel, low), (0, low)]))
    with canvas.group("context", "panel"):
        canvas.area(pvc, PVC, THIN)
        hatch(canvas, pvc, *PVC_HATCH)
    middle = cut.at(*s.centre(gap))
    with canvas.group("context", "ring-tape"):
        canvas.circle(middle, s.taped * cut.scale, SEAM_TAPE, THIN)
    wire = circle(middle, s.wire / 2 * cut.scale)
    with canvas.group("context", "wire"):
        canvas.area(wire, WHITE, THIN)
        hatch(canvas, wire, *WIRE_HATCH)


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


__all__ = ["INK", "TOOL", "Cut", "cloth", "raw_edge", "wall_and_wire"]
