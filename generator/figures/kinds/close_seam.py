"""Close the seam: it lies on top, a hand supports it from inside, the roller goes along it."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from shapely import unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point, only_lines
from generator.figures.hands import hand, outline
from generator.figures.insets import letter
from generator.figures.joints import joint_lines
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_FACE,
    HEAVY,
    HIDDEN,
    NEW,
    PVC_INSIDE,
    THIN,
    WHITE,
    Pen,
)
from generator.figures.plane import add, arc, between, direction, distance, normal
from generator.figures.rings import ring
from generator.figures.rolling import facing, spread
from generator.figures.seam_section import seam_section
from generator.figures.state import state_before
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit
from generator.figures.wall import Wall, corner_breaks, paint, print_on
from generator.shape.shade import Shade

COLUMN = 33.0
RADIUS = 15.6
ROOM = 8.4
"""For the letter beside the seam, mm."""
CUT = 0.16
"""Where A is cut through, as a share of the seam."""
YAWS = (34, 45, 56, 67, 78, 90)
"""The shade lies aslant, so that its seam is long on paper and its open end is looked into; degrees."""
FACES = 0.28
"""The seam faces the viewer at least so much: the cosine between its outside and the view."""


def lying(shade: Shade) -> tuple[Wall, bool]:
    """The wrapped shade on its side, seam on top, plain end near; whether it was turned end for end for that.

    As rolled, the top of the print is away from the maker. One whose plain end is its top is turned about.
    """
    return _laid(shade, _yaw(shade)), shade.fitter_end == "bottom"


@lru_cache(maxsize=64)
def _yaw(shade: Shade) -> float:
    """How far it lies aslant, radians: a steep taper further, until its seam is seen."""
    toward = bench().toward
    for yaw in YAWS:
        wall = _laid(shade, math.radians(yaw))
        out = wall.outward(wall.stop - 1.0, wall.stop)
        if sum(a * b for a, b in zip(out, toward, strict=True)) > FACES * math.hypot(*out):
            break
    return math.radians(yaw)


def _laid(shade: Shade, yaw: float) -> Wall:
    lie, round_ = _lie(shade, yaw), shade.wrapped_length

    def place(x: float, h: float) -> Point3:
        return lie(shade.standing(x % round_, h))

    corners = corner_breaks(shade)
    breaks = (*corners, *(s - round_ for s in corners))
    return Wall(shade.overlap - round_, shade.overlap - 1e-6, place, shade.slant, breaks=breaks)


def _lie(shade: Shade, yaw: float) -> Callable[[Point3], Point3]:
    """From the standing shade to the one on its side, on the generator that is opposite the seam."""
    c, turned = shade.wrapped_length / 2 + shade.overlap / 2, shade.fitter_end == "bottom"
    pose = shade.pose(c, facing(shade, c) + yaw + (math.pi if turned else 0.0))
    x0, y0, _ = pose(shade.standing(c, shade.slant if turned else 0.0))

    def lie(p: Point3) -> Point3:
        x, y, z = pose(p)
        return x - x0, y - y0, z

    return lie


SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Scene on the left, section A on the right."""
    shade, size, left = job.shade, job.size, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, max(job.slot.height, 2 * RADIUS + 19.0))
    wall, turned = lying(shade)
    m0 = shade.margin
    ends = [wall.point(x, h) for x in wall.stations for h in (-m0, shade.slant + m0)]
    x0, x1 = (COLUMN + 1, canvas.width - 0.8) if left else (0.8, canvas.width - COLUMN - 1)
    for _ in range(2):
        frame = fit(bench(left), ends, Box(x0, 8.0, x1, canvas.height - 1.0))
        line = [
            frame(wall.point(wall.stop, h)) for h in ((shade.slant, 0.0) if turned else (0.0, shade.slant))
        ]
        # A steep taper's seam runs down its outline: the letter and the arrow need the room beside it.
        beside = _far_side(line)[0] * ROOM
        edges = [p[0] + beside for p in line]
        x0, x1 = x0 + max(0.0, x0 - min(edges)), x1 - max(0.0, max(edges) - x1)
    m, high = spread(m0, frame.scale), shade.slant
    near, far = (high + m, -m) if turned else (-m, high + m)
    _inside(canvas, frame, shade, wall, m, taped=state_before(job).taped)
    top = wall.stop
    seam = [frame(wall.point(top, near)), frame(wall.point(top, far))]
    along = direction(*seam)
    # Where the seam is short on paper, hands and tool are drawn smaller and leave it free.
    fine = min(1.0, max(0.5, distance(*seam) / 20.0))
    palm = add(seam[0], along, 5.5 * fine)
    mouth = [frame(wall.point(x, near)) for x in wall.stations]
    middle = (sum(p[0] for p in mouth) / len(mouth), sum(p[1] for p in mouth) / len(mouth))
    # The arm comes in through the opening.
    reach = direction(between(seam[0], middle, 0.42), palm)
    angle = math.degrees(math.atan2(-reach[1], reach[0]))
    supporting = outline("flat", palm, angle, scale=0.9 * fine, flip=left)
    hand(canvas, "flat", palm, angle, scale=0.9 * fine, flip=left, part="hand-inside")
    paint(canvas, frame, wall, -m, high + m, front=True, fill=CLOTH_FACE, part="shade")
    print_on(canvas, frame, wall, size, -m, high + m)
    joint_lines(canvas, frame, wall, shade, -m, high + m, front=True)
    paint(canvas, frame, wall, -m, high + m, front=True, fill="none", pen=THIN, part="shade")
    fronts = [wall.patch(frame, a, b, -m, high + m) for front, a, b in wall.runs(frame) if front]
    _hidden_hand(canvas, supporting, unary_union(fronts))
    # The print is to be seen: no name stands on it.
    canvas.blocked.append(unary_union(fronts))
    with canvas.group("new", "seam"):
        canvas.line(seam, HEAVY)
    _work(canvas, seam, left, fine)
    x = COLUMN / 2 if left else canvas.width - COLUMN / 2
    centre = (x, canvas.height / 2 + 0.6)
    outside_from = (-1.0 if turned else 1.0) * (-1.0 if left else 1.0)
    seam_section(canvas, job, centre, RADIUS, COLUMN, outside_from)
    _cut_here(canvas, seam)
    turn = -40.0 if outside_from > 0 else 220.0
    letter(canvas, arc(centre, RADIUS, turn, turn, 1)[0], "A")
    labels = [Label(job.words.say("label.seam-turned-up"), at=seam[1], wish=90, rank=1)]
    return Picture(canvas, labels)


def _inside(canvas: Canvas, frame: Frame, shade: Shade, wall: Wall, m: float, *, taped: bool) -> None:
    high = shade.slant
    margins = ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK)) if m else ()
    for low, up, fill in (*margins, (0.0, high, PVC_INSIDE)):
        paint(canvas, frame, wall, low, up, front=False, fill=fill, pen=THIN, part="inside")

    lie = _lie(shade, _yaw(shade))
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
        taped=taped,
    )
    ring(canvas, frame, shade, embed, top - fitter, part="plain-ring", taped=taped)


def _hidden_hand(canvas: Canvas, shape: BaseGeometry, wall: BaseGeometry) -> None:
    """The part of the supporting hand that the wall hides, dashed."""
    inside = wall.buffer(-0.4)
    with canvas.group("action", "hand-hidden"):
        canvas.line(only_lines(shape.boundary.intersection(inside)), Pen(1.1, WHITE, (), "butt"))
        canvas.line(only_lines(shape.boundary.intersection(inside)), HIDDEN)


def _far_side(seam: list[Point]) -> Point:
    """Across the seam on paper, away from the maker: upwards."""
    side = normal(direction(*seam))
    return side if side[1] < 0 else (-side[0], -side[1])


def _cut_here(canvas: Canvas, seam: list[Point]) -> None:
    """Where A is cut through: a short line across the seam, the letter at its end."""
    spot, side = between(seam[0], seam[1], CUT), _far_side(seam)
    with canvas.group("detail", "detail-place"):
        canvas.line([add(spot, side, -2.4), add(spot, side, 3.4)], NEW)
    letter(canvas, add(spot, side, 5.6), "A")


def _work(canvas: Canvas, seam: list[Point], left: bool, fine: float) -> None:
    """The roller on the far part of the seam, a hand on it, the arrow along the seam on its other side."""
    out = -1.0 if left else 1.0
    along = direction(*seam)
    spot = between(seam[0], seam[1], 0.8)
    angle = math.degrees(math.atan2(-along[1], along[0])) - out * 34
    tool(canvas, "roller", spot, angle, scale=0.8 * fine, flip=not left)
    back = (-math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    hand(canvas, "hold", add(spot, back, 8.2 * fine), angle, scale=0.7 * fine, flip=left, part="hand-rolling")
    side, room = _far_side(seam), distance(*seam)
    path = [
        add(add(seam[0], along, k), side, 3.6) for k in (CUT * room + 5.2, max(0.9 * room, CUT * room + 13.0))
    ]
    action(canvas, path)
