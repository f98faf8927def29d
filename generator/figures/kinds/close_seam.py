"""Close the seam: it lies on top, a hand supports it from inside, the roller goes along it."""

from __future__ import annotations

import math
from collections.abc import Callable

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.hands import hand
from generator.figures.insets import link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_FACE,
    HEAVY,
    PVC_INSIDE,
    THIN,
)
from generator.figures.plane import add, between, direction, distance
from generator.figures.rings import ring
from generator.figures.rolling import spread
from generator.figures.seam_section import seam_section
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit
from generator.figures.wall import Wall, corner_breaks, paint, print_on
from generator.shape.shade import Shade

COLUMN = 33.0
RADIUS = 15.6


def lying(shade: Shade) -> tuple[Wall, bool]:
    """The wrapped shade on its side, seam on top, plain end near; whether it was turned end for end for that.

    As rolled, the top of the print is away from the maker. One whose plain end is its top is turned about.
    """
    turned = shade.fitter_end == "bottom"
    lie, round_ = _lie(shade, turned), shade.wrapped_length

    def place(x: float, h: float) -> Point3:
        return lie(shade.standing(x % round_, h))

    corners = corner_breaks(shade)
    breaks = (*corners, *(s - round_ for s in corners))
    return Wall(shade.overlap - round_, shade.overlap - 1e-6, place, shade.slant, breaks=breaks), turned


def _lie(shade: Shade, turned: bool) -> Callable[[Point3], Point3]:
    """From the standing shade to the one on its side, on the generator that is opposite the seam."""
    pose, end = shade.pose(shade.wrapped_length / 2 + shade.overlap / 2), shade.slant
    x0 = pose(shade.standing(shade.overlap / 2, 0.0))[0]

    def lie(p: Point3) -> Point3:
        x, y, z = pose(p)
        return (x0 - x, end - y, z) if turned else (x - x0, y, z)

    return lie


def draw(job: Job) -> Picture:
    """Scene on the left, section A on the right."""
    shade, size, left = job.shade, job.size, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, max(job.slot.height, 2 * RADIUS + 19.0))
    view = bench(left)
    wall, turned = lying(shade)
    m0 = shade.margin
    ends = [wall.point(x, h) for x in wall.stations for h in (-m0, shade.slant + m0)]
    x0, x1 = (COLUMN + 1, canvas.width - 0.8) if left else (0.8, canvas.width - COLUMN - 1)
    frame = fit(view, ends, Box(x0, 8.0, x1, canvas.height - 1.0))
    m, high = spread(m0, frame.scale), shade.slant
    near, far = (high + m, -m) if turned else (-m, high + m)
    _inside(canvas, frame, shade, wall, m, turned)
    top = wall.stop
    seam = [frame(wall.point(top, near)), frame(wall.point(top, far))]
    along = direction(*seam)
    angle = math.degrees(math.atan2(-along[1], along[0]))
    # Where the seam is short on paper, hand, tool and place circle are drawn smaller and leave it free.
    fine = min(1.0, max(0.5, distance(*seam) / 13.0))
    palm = add(seam[0], along, 4.5 * fine)
    hand(canvas, "flat", palm, angle, scale=0.85 * fine, flip=left)
    paint(canvas, frame, wall, -m, high + m, front=True, fill=CLOTH_FACE, part="shade")
    print_on(canvas, frame, wall, size, -m, high + m)
    paint(canvas, frame, wall, -m, high + m, front=True, fill="none", pen=THIN, part="shade")
    with canvas.group("new", "seam"):
        canvas.line(seam, HEAVY)
    _work(canvas, seam, left, fine)
    x = COLUMN / 2 if left else canvas.width - COLUMN / 2
    centre = (x, canvas.height / 2 + 0.6)
    outside_from = (-1.0 if turned else 1.0) * (-1.0 if left else 1.0)
    seam_section(canvas, job, centre, RADIUS, COLUMN, outside_from)
    link(
        canvas,
        between(seam[0], seam[1], 0.2),
        2.2 * fine,
        centre,
        RADIUS,
        "A",
        at_place=180.0 if not left else 0.0,
        at_detail=-40 if outside_from > 0 else 220,
    )
    labels = [Label(job.words.say("label.seam-turned-up"), at=seam[1], wish=90, rank=1)]
    return Picture(canvas, labels)


def _inside(canvas: Canvas, frame: Frame, shade: Shade, wall: Wall, m: float, turned: bool) -> None:
    high = shade.slant
    margins = ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK)) if m else ()
    for low, up, fill in (*margins, (0.0, high, PVC_INSIDE)):
        paint(canvas, frame, wall, low, up, front=False, fill=fill, pen=THIN, part="inside")

    lie = _lie(shade, turned)
    dx, dy, top = shade.ring_centre("top")

    def embed(p: Point, h: float) -> Point3:
        # The rings lie inside the same sheet: turned and set down as the wall is.
        return lie((p[0] + dx * h / top, p[1] + dy * h / top, h))

    fitter = top if shade.fitter_end == "top" else 0.0
    ring(
        canvas,
        frame,
        shade,
        embed,
        fitter,
        part="fitter-ring",
        fitter=True,
        inward=-1.0 if fitter else 1.0,
        taped=True,
    )
    ring(canvas, frame, shade, embed, top - fitter, part="plain-ring", taped=True)


def _work(canvas: Canvas, seam: list[Point], left: bool, fine: float) -> None:
    """The roller on the far part of the seam, the arrow along it, the press from inside beside the hand."""
    side = -1.0 if left else 1.0
    along = direction(*seam)
    spot = between(seam[0], seam[1], 0.66)
    angle = math.degrees(math.atan2(-along[1], along[0]))
    tool(canvas, "roller", spot, angle + side * 38, scale=0.75 * fine, flip=not left)
    beside = (-side * 4.4, -0.6)
    # Past the letter of the detail, which stands on the same side.
    begin = add(add(between(seam[0], seam[1], 0.2), along, 3.4), beside)
    room = distance(*seam) * 0.8 - 3.4 - 1.2
    path = [begin, add(begin, along, max(room, 6.5))]
    action(canvas, path)
