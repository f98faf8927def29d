"""Close the seam: the shade lies with its seam on top, a hand supports it from inside, the roller goes along it."""

from __future__ import annotations

import math

from shapely import Polygon, unary_union

from generator.figures.arrows import action, press
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_CUT,
    CLOTH_FACE,
    EM,
    HEAVY,
    NEW,
    PVC,
    PVC_INSIDE,
    SEAM_TAPE,
    THIN,
)
from generator.figures.plane import add, between, direction, distance
from generator.figures.rings import ring
from generator.figures.rolling import spread
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit
from generator.figures.wall import Wall, paint, print_on
from generator.shape.shade import Shade

COLUMN = 33.0
RADIUS = 15.6


def lying(shade: Shade) -> tuple[Wall, bool]:
    """The wrapped shade on its side: seam on top, plain end near; whether it had to be turned end for end for that.

    As rolled, the top of the print is away from the maker. A shade whose plain end is its top is turned about.
    """
    turned = shade.fitter_end == "bottom"
    side = 1.0 if turned else -1.0
    middle = shade.overlap / 2
    angle = shade.sheet.psi(middle)
    cos, sin = math.cos(angle), math.sin(angle)

    def section(x: float) -> Point:
        px, py = shade.sheet.point(x % shade.sheet.length)
        px, py = px * cos + py * sin, -px * sin + py * cos
        return side * px, -py

    base = min(section(shade.sheet.length * k / 360)[1] for k in range(360))

    def embed(p: Point, h: float) -> Point3:
        return p[0], (shade.height - h if turned else h), p[1] - base

    corners = tuple(station.s for station in shade.sheet.stations())
    wall = Wall(
        shade.overlap - shade.sheet.length,
        shade.overlap - 1e-6,
        section,
        embed,
        clockwise=turned,
        breaks=(*corners, *(s - shade.sheet.length for s in corners)),
    )
    return wall, turned


def draw(job: Job) -> Picture:
    """Scene on the left, section A on the right."""
    shade, size, left = job.shade, job.size, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, max(job.slot.height, 2 * RADIUS + 19.0))
    view = bench(left)
    wall, turned = lying(shade)
    m0 = shade.margin
    ends = [wall.point(x, h) for x in wall.stations for h in (-m0, shade.height + m0)]
    x0, x1 = (COLUMN + 1, canvas.width - 0.8) if left else (0.8, canvas.width - COLUMN - 1)
    frame = fit(view, ends, Box(x0, 8.0, x1, canvas.height - 1.0))
    m, high = spread(m0, frame.scale), shade.height
    near, far = (high + m, -m) if turned else (-m, high + m)
    _inside(canvas, frame, shade, wall, m, turned)
    top = wall.stop
    seam = [frame(wall.point(top, near)), frame(wall.point(top, far))]
    along = direction(*seam)
    angle = math.degrees(math.atan2(-along[1], along[0]))
    # Where the seam is short on paper, hand, tool and place circle are drawn smaller, so that they leave it free.
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
    _section(canvas, job, centre, outside_from)
    link(
        canvas,
        between(*seam, 0.2),
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
    high = shade.height
    for low, up, fill in ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK), (0.0, high, PVC_INSIDE)):
        paint(canvas, frame, wall, low, up, front=False, fill=fill, pen=THIN, part="inside")

    def embed(p: Point, h: float) -> Point3:
        # The rings lie inside the same sheet: turned and set down as the wall is.
        angle = shade.sheet.psi(shade.overlap / 2)
        cos, sin = math.cos(angle), math.sin(angle)
        px, py = p[0] * cos + p[1] * sin, -p[0] * sin + p[1] * cos
        _, y, z = wall.embed((0.0, 0.0), h)
        return (px if turned else -px), y, z - py

    fitter = high if shade.fitter_end == "top" else 0.0
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
    ring(canvas, frame, shade, embed, high - fitter, part="plain-ring", taped=True)


def _work(canvas: Canvas, seam: list[Point], left: bool, fine: float) -> None:
    """The roller on the far part of the seam, the arrow along it, the press from inside beside the hand."""
    side = -1.0 if left else 1.0
    along = direction(*seam)
    spot = between(seam[0], seam[1], 0.66)
    angle = math.degrees(math.atan2(-along[1], along[0]))
    tool(canvas, "roller", spot, angle + side * 38, scale=0.75 * fine, flip=not left)
    beside = (-side * 4.4, -0.6)
    path = [add(add(seam[0], along, 2.0 * fine), beside), add(add(seam[1], along, -2.0 * fine), beside)]
    if distance(*path) < 6.5:
        path[1] = add(path[0], along, 6.5)
    action(canvas, path)
    press(canvas, add(seam[0], (side * 7.2 * max(fine, 0.8), 1.4)), (0.0, -1.0))


def _section(canvas: Canvas, job: Job, centre: Point, outside_from: float) -> None:
    """A: seen from the open end. The outside end comes from the right (+1) or from the left, over the start end."""
    cx, cy = centre
    shade, measures = job.shade, job.measures
    kx = 12.0 / shade.overlap
    thick, tape = 1.1, 1.0
    folded = thick if shade.hem else 0.0
    level = cy - 2.2

    def at(along: float, up: float) -> Point:
        return cx + outside_from * (along - 1.0), level - up

    a, b = -6.0, 6.0
    inset_tape = a + measures.shown("tape_inset") * kx
    end_tape = min(b, inset_tape + shade_tape(job) * kx)
    lift = tape + folded
    ramp = b + 4.4

    def band(low: float, high: float, start: float) -> Polygon:
        """A layer of the outside end: over the overlap it is lifted, then it comes down to the level."""
        up = [at(start, high + lift), at(b + 0.6, high + lift), at(ramp, high - 2 * thick), at(40, high - 2 * thick)]
        down = [at(40, low - 2 * thick), at(ramp, low - 2 * thick), at(b + 0.6, low + lift), at(start, low + lift)]
        return Polygon([*up, *down])

    canvas.blocked.append(circle(centre, RADIUS + 0.4))
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "section-start-end"):
            pvc = Polygon([at(-40, -thick), at(b, -thick), at(b, -2 * thick), at(-40, -2 * thick)])
            canvas.area([at(-40, 0), at(b, 0), at(b, -thick), at(-40, -thick)], CLOTH_CUT, THIN)
            canvas.area(pvc, PVC, THIN)
            hatch(canvas, pvc, *PVC_HATCH)
        with canvas.group("context", "section-seam-tape"):
            canvas.area(
                [at(inset_tape, 0), at(end_tape, 0), at(end_tape, tape), at(inset_tape, tape)], SEAM_TAPE, THIN
            )
        pvc = band(0.0, thick, a).buffer(0)
        cloth = band(thick, 2 * thick, a - (thick if folded else 0.0)).buffer(0)
        if folded:
            hem = min(shade.hem * kx, b + 0.6 - a)
            cloth = unary_union(
                [
                    cloth,
                    Polygon([at(a - thick, lift - thick), at(a, lift - thick), at(a, lift + 2 * thick),
                             at(a - thick, lift + 2 * thick)]),
                    Polygon([at(a - thick, lift - thick), at(a + hem, lift - thick), at(a + hem, lift),
                             at(a - thick, lift)]),
                ]
            )
        with canvas.group("new", "section-outside-end"):
            canvas.area(cloth, CLOTH_CUT, NEW)
            canvas.area(pvc, PVC, NEW)
            hatch(canvas, pvc, *PVC_HATCH)
        press(canvas, at(0.2, lift + 2 * thick + 0.7), (0.0, 1.0))
        press(canvas, at(0.2, -2 * thick - 0.7), (0.0, -1.0))
        left_end, right_end = sorted((at(a, -2 * thick), at(b, -2 * thick)))
        overlap = measures.shown("overlap")
        dimension(
            canvas, left_end, right_end, job.words.number(overlap), measure="overlap", value=overlap,
            offset=-12.2,
        )
    say = job.words.say
    top = cy - RADIUS - 1.2
    # Two words side by side at the outer edge of the page; they may reach over the corner of the scene.
    words = {outside_from: say("label.outside-end"), -outside_from: say("label.seam-tape")}
    spots = {outside_from: at(ramp + 1.8, -0.5 * thick), -outside_from: at(inset_tape + 1.2, tape / 2)}
    outer = 1.0 if cx > canvas.width / 2 else -1.0
    edge = canvas.width - 0.4 if outer > 0 else 0.4
    callout(canvas, spots[outer], (edge, top), words[outer], side=-outer)
    edge -= outer * (text_width(words[outer], EM) + 2.2)
    callout(canvas, spots[-outer], (edge, top), words[-outer], side=-outer)
    low = cy + RADIUS + 0.8 + 0.74 * EM
    callout(
        canvas, at(-10.6, -1.5 * thick), (cx - outside_from * (COLUMN / 2 - 0.6), low), say("label.start-end"),
        side=outside_from,
    )


def shade_tape(job: Job) -> float:
    """Width of the tape, mm."""
    return job.size.tape.width


