"""Try your own cloth: a swatch cut from a corner, under the iron, then on a scrap of panel, pulled back."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action, numbered
from generator.figures.canvas import Canvas, Point
from generator.figures.cloth import print_flat
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.iron import IRON, flat_iron
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BENCH, CLOTH_BACK, CLOTH_FACE, CUTTING, NEW, PVC, THIN
from generator.figures.plane import add, direction, wave
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit

FOLD = 0.52
"""How much of the swatch's two sides the lifted corner takes."""
RISE = 0.46
"""How high the corner is lifted, as a share of the swatch."""
CLOTH = 1.66
"""How much of the cloth is seen beyond the swatch, in swatches."""
RIM = 0.14
"""How far board and scrap reach beyond the swatch, in swatches."""
SHARES = (0.37, 0.3, 0.33)
"""Widths of the three pictures."""


def draw(job: Job) -> Picture:
    """Three pictures in the order of the work; for the left hand they run the other way."""
    left, width = job.size.makers.hand == "left", job.slot.width
    canvas = Canvas(width, job.slot.height)
    side = shown(job, "swatch")
    places: list[Box] = []
    start = 0.0
    for share in SHARES:
        x0, x1 = start, start + share * width
        places.append(Box((width - x1 if left else x0) + 1.0, 6.4, (width - x0 if left else x1) - 1.0, 27.5))
        start = x1
    around = [(x, y, 0.0) for x in (-RIM * side, side + RIM * side) for y in (-RIM * side, side + RIM * side)]
    above: list[Point3] = [(0.5 * side, 0.5 * side, 0.62 * side)]
    whole = [(x, y, 0.0) for x in (0.0, CLOTH * side) for y in (0.0, CLOTH * side)]
    extents = (whole, [*around, *above], [*around, *above])
    view = bench(left)
    # The swatch is as large in all three.
    scale = min(fit(view, points, place).scale for points, place in zip(extents, places, strict=True))
    frames = [
        fit(view, points, place, largest=scale, anchor="bottom")
        for points, place in zip(extents, places, strict=True)
    ]
    swatch = _cut_out(canvas, job, frames[0], side, left)
    _pressed(canvas, job, frames[1], side, left)
    _pulled(canvas, job, frames[2], side, left)
    for number, place in zip("123", places, strict=True):
        numbered(canvas, (place.right - 1.6 if left else place.left + 1.6, 3.2), number)

    def wish(degrees: float) -> float:
        return 180 - degrees if left else degrees

    labels = [
        Label(say(job, "swatch"), at=swatch, wish=wish(-60.0)),
        Label(say(job, "iron"), part="tool-iron", wish=wish(75.0), inside=False, rank=1),
        Label(say(job, "offcut"), at=frames[2]((-RIM / 2 * side, 0.3 * side, 0.0)), wish=wish(270.0)),
    ]
    return Picture(canvas, labels)


def _cut_out(canvas: Canvas, job: Job, frame: Frame, side: float, left: bool) -> Point:
    """A corner of the cloth, from which the shears cut the swatch. Returns a place on the swatch."""
    far = CLOTH * side
    corners = [frame((x, y, 0.0)) for x, y in ((0.0, 0.0), (far, 0.0), (far, far), (0.0, far))]
    edge = [corners[0], *wave(corners[1], corners[2], 0.7), *wave(corners[2], corners[3], 0.7)]
    with canvas.group("context", "cloth"):
        canvas.area(edge, CLOTH_FACE, THIN)
    _print(canvas, job, frame, far, Polygon(edge))
    square = [frame((x, y, 0.0)) for x, y in ((0, 0), (side, 0), (side, side), (0, side))]
    with canvas.group("new", "swatch"):
        canvas.area(square, None, NEW)
    with canvas.group("action", "cut-line"):
        canvas.line([frame((0.62 * side, side, 0.0)), square[3]], CUTTING)
    # Up the side that is done, and along the far one: the shears lie on the cloth that stays.
    ahead = direction(square[2], square[3])
    tip = frame((0.56 * side, side, 0.0))
    turn = math.degrees(math.atan2(-ahead[1], ahead[0]))
    tool(canvas, "shears", tip, turn, scale=0.75, flip=left)
    above = add(tip, (0.0, -3.6))
    action(canvas, [add(above, ahead, -3.0), add(above, ahead, 5.0)])
    dimension(
        canvas,
        square[0],
        square[1],
        text(job, "swatch"),
        measure="swatch",
        value=shown(job, "swatch"),
        offset=4.0,
        across=direction(square[3], square[0]),
        text_side=-1.0,
    )
    return frame((0.22 * side, 0.3 * side, 0.0))


def _print(canvas: Canvas, job: Job, frame: Frame, side: float, keep: Polygon) -> None:
    """The cloth's own print on the swatch."""

    def to_paper(p: Point) -> Point:
        return frame((p[0], p[1], 0.0))

    with canvas.clip(keep):
        print_flat(canvas, job.size, to_paper, side, side, frame.scale)


def _pressed(canvas: Canvas, job: Job, frame: Frame, side: float, left: bool) -> None:
    """The swatch alone on the pressing board, the iron running over it."""
    rim = RIM * side
    places = ((-rim, -rim), (side + rim, -rim), (side + rim, side + rim), (-rim, side + rim))
    with canvas.group("context", "board"):
        canvas.area([frame((x, y, 0.0)) for x, y in places], BENCH, THIN)
    square = [frame((x, y, 0.0)) for x, y in ((0, 0), (side, 0), (side, side), (0, side))]
    with canvas.group("new", "swatch"):
        canvas.area(square, CLOTH_FACE, NEW)
    _print(canvas, job, frame, side, Polygon(square))
    size = 0.72 * side / IRON[0]
    at = (0.4 * side, 0.5 * side)
    grip = flat_iron(canvas, frame, at, size)
    hand(canvas, "hold", grip, 180 - 7.6 if left else 7.6, scale=0.55, flip=left)
    along = direction(frame((0.0, 0.0, 0.0)), frame((1.0, 0.0, 0.0)))
    nose = frame((at[0] + size * IRON[0] / 2, at[1], 0.0))
    action(canvas, [add(nose, along, 1.2), add(nose, along, 8.2)])


def _pulled(canvas: Canvas, job: Job, frame: Frame, side: float, left: bool) -> None:
    """The swatch on a scrap of panel, torn off at two sides; its near corner bent up and held."""
    rim = RIM * side
    near, right, far, start = (
        frame((x, y, 0.0))
        for x, y in (
            (-rim, -rim),
            (side + rim, -rim),
            (side + 1.6 * rim, side + rim),
            (-rim, side + 0.5 * rim),
        )
    )
    scrap = [near, *wave(right, far, 0.8, 2.0), *wave(far, start, 0.8, 2.0)]
    with canvas.group("context", "offcut"):
        canvas.area(scrap, PVC, THIN)
    cut = side * (1 - FOLD)
    flat = [(0, 0), (cut, 0), (side, side * FOLD), (side, side), (0, side)]
    area = Polygon([frame((x, y, 0.0)) for x, y in flat])
    with canvas.group("context", "swatch"):
        canvas.area(area, CLOTH_FACE, THIN)
    _print(canvas, job, frame, side, area)
    # The corner comes up and back over the fold: its wrong side is seen.
    corner = frame((side * 0.74, side * 0.3, side * RISE))
    flap = [frame((cut, 0.0, 0.0)), corner, frame((side, side * FOLD, 0.0))]
    with canvas.group("new", "corner"):
        canvas.area(flap, CLOTH_BACK, NEW)
    hand(canvas, "pinch", corner, 180 - 235 if left else 235, scale=0.7, flip=not left)
    start_at = add(corner, (-2.0 if not left else 2.0, 0.2))
    action(canvas, [start_at, add(start_at, (-7.6 if not left else 7.6, -3.0))])
