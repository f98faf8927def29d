"""Sections of the wire and of what is laid round it, in paper mm."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.canvas import Canvas, Point, circle
from generator.figures.hatch import WIRE_HATCH, hatch
from generator.figures.pens import THIN, WHITE
from generator.figures.plane import arc


def wire_section(canvas: Canvas, centre: Point, radius: float) -> None:
    """The wire cut through: a hatched circle."""
    disc = circle(centre, radius)
    with canvas.group("context", "wire"):
        canvas.area(disc, WHITE, THIN)
        hatch(canvas, disc, *WIRE_HATCH)


def band(centre: Point, inner: float, outer: float, start: float, stop: float) -> Polygon:
    """A layer round a wire between two angles, degrees counter-clockwise on paper from the right."""
    return Polygon([*arc(centre, outer, start, stop, 72), *reversed(arc(centre, inner, start, stop, 72))])


def wrap_angle(width: float, wire: float, thickness: float) -> float:
    """Angle in degrees that a tape covers of a wire: its width over the radius of its middle line."""
    return min(math.degrees(width / (wire / 2 + thickness / 2)), 352.0)
