"""A flat iron standing on cloth in the bench view."""

from __future__ import annotations

from shapely import Polygon, unary_union

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CUFF, INK, LINER, TOOL, WHITE, Pen
from generator.figures.plane import between
from generator.figures.view import Frame

IRON = (230.0, 110.0, 95.0)
"""Length, breadth and height of the drawn iron, real mm; never printed."""


def flat_iron(canvas: Canvas, frame: Frame, at: Point, size: float) -> Point:
    """A flat iron from its sole up, its point along x; ``at`` is the middle of the sole, ``size`` its scale.

    Returns the middle of its grip on paper, where the hand holds it.
    """
    long, wide, tall = (size * value for value in IRON)
    x, y = at

    def level(h: float, shrink: float) -> list[Point]:
        half, w = long / 2 * shrink, wide / 2 * shrink
        sole = [
            (-half, -w),
            (-half, w),
            (0.1 * half, w),
            (0.6 * half, 0.62 * w),
            (half, 0.0),
            (0.6 * half, -0.62 * w),
            (0.1 * half, -w),
        ]
        return [frame((x + p, y + q, h)) for p, q in sole]

    sole, edge, top = level(0.0, 1.0), level(0.17 * tall, 1.0), level(0.5 * tall, 0.82)
    with canvas.group("context", "tool-iron"):
        canvas.area(unary_union([Polygon(sole), Polygon(edge)]).convex_hull, CUFF, TOOL)
        canvas.area(unary_union([Polygon(edge), Polygon(top)]).convex_hull, WHITE, TOOL)
        canvas.area(Polygon(top), LINER, TOOL)
        grip = [
            frame((x + p, y, h))
            for p, h in (
                (-0.42 * long, 0.5 * tall),
                (-0.40 * long, tall),
                (0.12 * long, tall),
                (0.2 * long, 0.5 * tall),
            )
        ]
        canvas.line(grip, Pen(3.0, INK, (), "butt"))
        canvas.line(grip, Pen(2.4, CUFF, (), "butt"))
    return between(grip[1], grip[2], 0.5)
