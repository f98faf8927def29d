"""Try your own cloth: a swatch under the iron, then on an offcut of the panel, a corner pulled back."""

from __future__ import annotations

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
from generator.figures.pens import BENCH, CLOTH_BACK, CLOTH_FACE, NEW, PVC, THIN
from generator.figures.plane import add, direction
from generator.figures.view import Box, Frame, Point3, bench, fit

FOLD = 0.52
"""How much of the swatch's two sides the lifted corner takes."""
RISE = 0.46
"""How high the corner is lifted, as a share of the swatch."""


def draw(job: Job) -> Picture:
    """Two pictures of one size, in the order of the work; for the left hand the second one comes first."""
    left, width = job.size.makers.hand == "left", job.slot.width
    canvas = Canvas(width, job.slot.height + 4)
    half = width / 2
    side = shown(job, "swatch")
    rim = 0.16 * side
    corners = [(x, y, 0.0) for x in (-rim, side + rim) for y in (-rim, side + rim)]
    more: list[Point3] = [(0.5 * side, 0.5 * side, 0.62 * side)]
    frames = [
        fit(bench(left), [*corners, *more], Box(x + 2.0, 7.0, x + half - 3.0, canvas.height - 7.5))
        for x in ((half, 0.0) if left else (0.0, half))
    ]
    _pressed(canvas, job, frames[0], side, rim, left)
    flap = _pulled(canvas, job, frames[1], side, rim, left)
    for number, x in (("1", 3.0), ("2", half + 1.0)):
        numbered(canvas, (width - x if left else x, 6.0), number)
    labels = [
        Label(say(job, "iron"), part="tool-iron", wish=75.0 if not left else 105.0, inside=False),
        Label(say(job, "cloth"), at=flap, wish=115.0 if not left else 65.0),
        Label(
            say(job, "panel"), at=frames[1]((-rim / 2, 0.62 * side, 0.0)), wish=240.0 if not left else 300.0
        ),
    ]
    return Picture(canvas, labels)


def _slab(canvas: Canvas, frame: Frame, side: float, rim: float, fill: str, part: str) -> None:
    places = ((-rim, -rim), (side + rim, -rim), (side + rim, side + rim), (-rim, side + rim))
    with canvas.group("context", part):
        canvas.area([frame((x, y, 0.0)) for x, y in places], fill, THIN)


def _print(canvas: Canvas, job: Job, frame: Frame, side: float, keep: Polygon) -> None:
    """The cloth's own print on the swatch."""

    def to_paper(p: Point) -> Point:
        return frame((p[0], p[1], 0.0))

    with canvas.clip(keep):
        print_flat(canvas, job.size, to_paper, side, side, frame.scale)


def _pressed(canvas: Canvas, job: Job, frame: Frame, side: float, rim: float, left: bool) -> None:
    """The swatch on the pressing board, the iron running over it."""
    _slab(canvas, frame, side, rim, BENCH, "board")
    square = [frame((x, y, 0.0)) for x, y in ((0, 0), (side, 0), (side, side), (0, side))]
    with canvas.group("new", "swatch"):
        canvas.area(square, CLOTH_FACE, NEW)
    _print(canvas, job, frame, side, Polygon(square))
    size = 0.62 * side / IRON[0]
    at = (0.4 * side, 0.5 * side)
    grip = flat_iron(canvas, frame, at, size)
    hand(canvas, "hold", grip, 180 - 7.6 if left else 7.6, scale=0.62, flip=left)
    along = direction(frame((0.0, 0.0, 0.0)), frame((1.0, 0.0, 0.0)))
    nose = frame((at[0] + size * IRON[0] / 2, at[1], 0.0))
    action(canvas, [add(nose, along, 1.6), add(nose, along, 10.0)])
    dimension(
        canvas,
        square[0],
        square[1],
        text(job, "swatch"),
        measure="swatch",
        value=shown(job, "swatch"),
        offset=4.5,
        across=direction(square[3], square[0]),
        text_side=-1.0,
    )


def _pulled(canvas: Canvas, job: Job, frame: Frame, side: float, rim: float, left: bool) -> Point:
    """The swatch on an offcut, its near corner bent up and held. Returns a place on the flap."""
    _slab(canvas, frame, side, rim, PVC, "offcut")
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
    hand(canvas, "pinch", corner, 180 - 200 if left else 200, scale=0.75, flip=not left)
    start = add(corner, (-2.4 if not left else 2.4, -0.6))
    action(canvas, [start, add(start, (-8.0 if not left else 8.0, -3.2))])
    return (flap[0][0] + flap[2][0] + corner[0]) / 3, (flap[0][1] + flap[2][1] + corner[1]) / 3
