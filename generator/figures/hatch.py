"""Hatching of cut materials and of waste, drawn as lines so that it survives grey and any viewer."""

from __future__ import annotations

import math

from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas
from generator.figures.pens import RULE, THIN, Pen
from generator.figures.stamps import stamped


@stamped
def hatch(canvas: Canvas, region: BaseGeometry, angle: float, spacing: float, pen: Pen = THIN) -> None:
    """Parallel lines over a region: angle in degrees on paper, spacing in mm (never under 0.7)."""
    if region.is_empty:
        return
    left, top, right, bottom = region.bounds
    cx, cy = (left + right) / 2, (top + bottom) / 2
    reach = math.hypot(right - left, bottom - top) / 2 + spacing
    turned = math.radians(angle)
    along, across = (math.cos(turned), -math.sin(turned)), (math.sin(turned), math.cos(turned))
    # Lines lie on a grid of the paper, so that neighbouring regions of one part hatch in step.
    start = math.ceil((-reach + cx * across[0] + cy * across[1]) / spacing)
    stop = math.floor((reach + cx * across[0] + cy * across[1]) / spacing)
    lines = []
    for k in range(start, stop + 1):
        away = k * spacing - (cx * across[0] + cy * across[1])
        mx, my = cx + across[0] * away, cy + across[1] * away
        lines.append(
            LineString(
                [
                    (mx - along[0] * reach, my - along[1] * reach),
                    (mx + along[0] * reach, my + along[1] * reach),
                ]
            )
        )
    if lines:
        canvas.line(MultiLineString(lines).intersection(region), pen)


PVC_HATCH = (45.0, 1.0)
WIRE_HATCH = (-45.0, 1.3)
WASTE_HATCH = (70.0, 1.1)
BONDED_HATCH = (60.0, 1.6)
BRAID_HATCH = ((55.0, 1.9), (-55.0, 1.9))
"""Threads that cross: one direction alone would be taken for waste."""
LIGHT_HATCH = Pen(0.25, RULE)
"""For large areas and for a zone that is only pointed out."""


def pressed_zone(canvas: Canvas, region: BaseGeometry, mirror: bool) -> None:
    """The zone that is pressed on, pointed out: turned with the hand, so that no line lies along its edge."""
    angle, spacing = BONDED_HATCH
    hatch(canvas, region, 180.0 - angle if mirror else angle, spacing, LIGHT_HATCH)


def braid(canvas: Canvas, region: BaseGeometry) -> None:
    """The threads of a braid or a binding, its right side."""
    for angle, spacing in BRAID_HATCH:
        hatch(canvas, region, angle, spacing)
