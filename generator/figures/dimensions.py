"""Dimension lines after ISO 129-1: thin, value above the line, read from below or from the right."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import Polygon

from generator.figures.canvas import Canvas, Point
from generator.figures.lettering import text_width
from generator.figures.pens import DIMENSION, EM, INK
from generator.figures.plane import add, between, direction, distance, normal
from generator.figures.stamps import stamped

HEAD_LENGTH, HEAD_WIDTH = 2.2, 0.84
GAP, PASS = 0.8, 1.2
"""An extension line starts this far off the part and passes the dimension line by this much, mm."""

UPRIGHT = 100.0
"""A value stands along its line at up to this angle, degrees; beyond it is turned about."""


def _head(tip: Point, along: Point) -> Polygon:
    foot, side = add(tip, along, -HEAD_LENGTH), normal(along)
    return Polygon([tip, add(foot, side, HEAD_WIDTH / 2), add(foot, side, -HEAD_WIDTH / 2)])


BESIDE_HEADS = -5.0
"""A value with its heads beside it: so much wider than its line, mm."""


@stamped
def dimension(
    canvas: Canvas,
    start: Point,
    end: Point,
    text: str,
    *,
    measure: str,
    value: float,
    offset: float = 6.0,
    across: Point | None = None,
    text_side: float = 1.0,
    outside: str = "end",
    level: bool = False,
    halo: bool = False,
    over: float = BESIDE_HEADS,
) -> None:
    """Dimension between two points of the drawing.

    ``offset`` is the distance of the line from the points, to the left of start → end as seen on paper
    (negative: to the right), or along ``across`` (a direction on paper). Where the text does not fit between
    the heads, arrows stand outside and the value on the extension past ``outside`` (``start`` or ``end``),
    or, if ``level``, lying beside the middle of the line on the side away from the part. ``halo``: the value
    keeps off lines of other dimensions that cross there. It may be so much wider than its line as ``over``
    says; usually it is narrower, so that it stands between the heads.
    """
    along = direction(start, end)
    away = direction((0.0, 0.0), across) if across else normal(along)
    a, b = add(start, away, offset), add(end, away, offset)
    sign = 1.0 if offset >= 0 else -1.0
    width, span = text_width(text, EM), distance(a, b)
    with canvas.group("dimension", f"dimension-{measure}", measure, value):
        if abs(offset) > GAP:
            for origin in (start, end):
                canvas.line(
                    [add(origin, away, sign * GAP), add(origin, away, offset + sign * PASS)], DIMENSION
                )
        if span >= width - over:
            canvas.line([a, b], DIMENSION)
            canvas.area(_head(a, (-along[0], -along[1])), INK)
            canvas.area(_head(b, along), INK)
            _value(canvas, between(a, b, 0.5), along, text, text_side, halo)
            return
        reach = HEAD_LENGTH + 2.0
        near, far = (a, b) if outside == "end" else (b, a)
        out = along if outside == "end" else (-along[0], -along[1])
        canvas.line([add(near, out, -reach), near], DIMENSION)
        canvas.line([near, far], DIMENSION)
        canvas.line([far, add(far, out, reach + (0.0 if level else width + 1.0))], DIMENSION)
        canvas.area(_head(near, out), INK)
        canvas.area(_head(far, (-out[0], -out[1])), INK)
        if level:
            rightwards = sign * away[0] > 0
            lean = 0.33 * EM * abs(along[0] / along[1]) if abs(along[1]) > 1e-6 else 0.0
            at = add(between(a, b, 0.5), ((1.2 + lean) * (1 if rightwards else -1), 0.33 * EM))
            canvas.letters(at, text, anchor="start" if rightwards else "end", halo=halo)
            return
        middle = add(far, out, reach + (width + 1.0) / 2)
        _value(canvas, middle, along, text, text_side, halo)


def _value(canvas: Canvas, at: Point, along: Point, text: str, side: float, halo: bool = False) -> None:
    angle = math.degrees(math.atan2(-along[1], along[0]))
    # Read from below or from the right: what leans a little past upright is still read from the right.
    if angle > UPRIGHT:
        angle -= 180
    elif angle <= UPRIGHT - 180:
        angle += 180
    turned = math.radians(angle)
    up = (-math.sin(turned), -math.cos(turned))
    lift = 0.9 if side > 0 else -(0.9 + 0.66 * EM)
    canvas.letters(add(at, up, lift), text, angle=angle, anchor="middle", halo=halo)


@stamped
def arc_dimension(
    canvas: Canvas, path: Sequence[Point], text: str, *, measure: str, value: float, side: float = 1.0
) -> None:
    """A length along a curve: a thin line beside the part with heads at its ends, value at its middle."""
    from shapely import LineString

    line = LineString(path)
    middle = line.interpolate(0.5, normalized=True)
    ahead = line.interpolate(0.5 + 0.01, normalized=True)
    along = direction((middle.x, middle.y), (ahead.x, ahead.y))
    with canvas.group("dimension", f"dimension-{measure}", measure, value):
        canvas.line(path, DIMENSION)
        canvas.area(_head(path[0], direction(path[1], path[0])), INK)
        canvas.area(_head(path[-1], direction(path[-2], path[-1])), INK)
        _value(canvas, (middle.x, middle.y), along, text, side)
