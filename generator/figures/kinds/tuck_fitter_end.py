"""Tuck the fitter end: one side of a strut is tucked, on the other the tool pushes close beside it."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.hands import hand
from generator.figures.insets import caption, inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import CLOTH_FACE, EM, NEW, THIN, TOOL, WHITE
from generator.figures.plane import add, direction, wave
from generator.figures.rim_inside import (
    Rim,
    Turned,
    flap,
    rim,
    skew,
    strut_bar,
    strut_run,
    turned_print,
    wall,
)
from generator.figures.rim_section import rim_section
from generator.figures.section_draw import Cut, cloth, raw_edge, tilted, wall_and_wire
from generator.figures.tools import tool
from generator.figures.turning import mark_shade

COLUMN = 28.0
RADIUS = 13.2
STRUT = 0.72
REACH = 16.0
"""From the strut to where the margin hangs again, real mm."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """One strut of the far rim, seen from inside; A, the section at the tool."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 60.0)
    scale = min(17.0 / shade.margin, 1.35)
    section = rim_section(shade, job.size.tape, scale, thin=0.1, thin_cloth=0.1)
    x0, x1 = (COLUMN + 2.0, canvas.width - 1.8) if left else (1.8, canvas.width - COLUMN - 2.0)
    aside = skew(shade, shade.fitter_end, 20.0)
    x0, x1 = x0 + aside, x1 - aside
    whole = (x1 - x0) / 0.966 / scale
    tucked, free = -0.4 * whole, 0.6 * whole
    start = x1 - 0.4 * (x1 - x0) if left else x0 + 0.4 * (x1 - x0)
    view = rim(
        shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=(start, 20.0),
        first=tucked,
        last=free,
        depth=20.0 / scale,
        end=shade.fitter_end,
    )
    wall(canvas, view, tucked, free, waves=(True, True))
    up = shade.fitter_end == "top"
    _tucked(canvas, job, view, section.taped + section.cloth)
    edge = _pushing(canvas, job, view, section.hang, section.taped, up)
    run = strut_run(shade, mirrored=not up)
    bar, line = strut_bar(view, 0.0, run, STRUT * shade.wire, long=30.0, aside=15.0)
    with canvas.group("context", "strut"):
        canvas.area(bar, WHITE, TOOL)
    # The tool runs beside the strut, on the side that is still to be tucked.
    aft = direction(*line)
    degrees = min(112.0, max(68.0, math.degrees(math.atan2(aft[1], -aft[0]))))
    aft = (-math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    tool(canvas, "tucking-tool", edge, degrees, scale=0.95)
    hand(canvas, "hold", add(edge, aft, 12.4), degrees, scale=0.8, flip=left, part="hand-pushing")
    out = -1.0 if left else 1.0
    beside = add(edge, (out * 8.8, 0.0))
    action(canvas, [add(beside, aft, 16.0), add(beside, aft, 7.5)])
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, 36.0)
    _section(canvas, job, centre)
    link(
        canvas,
        add(edge, (0.0, 0.6)),
        2.4,
        centre,
        RADIUS,
        "A",
        at_place=180 - 50 if left else 50,
        at_detail=140 if not left else 40,
    )
    say = job.words.say
    caption(canvas, (centre[0], centre[1] + RADIUS + 1.2 + 0.74 * EM), say("label.section"))
    canvas.blocked.append(circle(centre, RADIUS + 0.5))
    mark_shade(canvas, job, (1.0 if left else canvas.width - 23.0, 0.8), mirror=left)
    labels = [
        Label(say("label.tucked"), part="tucked", wish=90),
        Label(say("label.still-to-tuck"), part="still-to-tuck", wish=90),
        Label(say("label.strut"), at=line[1], wish=200 if not left else -20, rank=1),
        Label(say("label.tucking-tool"), at=add(edge, aft, 10.0), wish=200 if left else -20, rank=2),
    ]
    return Picture(canvas, labels)


def _tucked(canvas: Canvas, job: Job, view: Rim, round_: float) -> None:
    """The rim with the cloth gone round the wire: a smooth roll, no raw edge."""
    y, top, foot = -view.thick - 0.4, 0.3, -2 * round_ + 0.6
    a = view.first
    over = Polygon([view.at(a, top), view.at(0.0, top), view.at(0.0, top, y), view.at(a, top, y)])
    broken = wave(view.at(a, top, y), view.at(a, foot, y), depth=0.4, waves=1.0)
    front = Polygon([*broken, view.at(0.0, foot, y), view.at(0.0, top, y)])
    with canvas.group("context", "tucked"):
        canvas.area(over, CLOTH_FACE, THIN)
        canvas.area(front, CLOTH_FACE, THIN)
    turned = Turned(over, front, y, top)
    turned_print(canvas, view, job.size, turned, a, 0.0, 1.6 * -foot, job.shade.fitter_end == "top")


def _pushing(canvas: Canvas, job: Job, view: Rim, hang: float, taped: float, up: bool) -> Point:
    """The margin on the other side: hanging, its raw edge pushed up under the wire close to the strut."""
    b = view.last
    turned = flap(view, 0.0, b, hang)
    foot = -2 * taped - 0.8
    raw = []
    n = 60
    for k in range(n + 1):
        x = b * k / n
        share = min(1.0, max(0.0, (x - 3.0) / REACH))
        eased = share * share * (3 - 2 * share)
        raw.append(view.at(x, foot + eased * (-hang - foot), turned.y))
    last = wave(view.at(b, turned.top, turned.y), raw[-1], depth=0.5)
    hangs = Polygon([view.at(0.0, turned.top, turned.y), *last, *reversed(raw)])
    with canvas.group("new", "still-to-tuck"):
        canvas.area(turned.over, CLOTH_FACE, THIN)
        canvas.area(hangs, CLOTH_FACE, NEW)
    turned_print(canvas, view, job.size, Turned(turned.over, hangs, turned.y, turned.top), 0.0, b, hang, up)
    tip = 0.2 * b
    share = min(1.0, max(0.0, (tip - 3.0) / REACH))
    eased = share * share * (3 - 2 * share)
    return view.at(tip, foot + eased * (-hang - foot) + 0.6, turned.y)


def _section(canvas: Canvas, job: Job, centre: Point) -> None:
    """A: the same section as for the plain end: the raw edge on its way up, the tool under it."""
    scale = 2.55
    section = rim_section(job.shade, job.size.tape, scale)
    scale = min(2.55, 21.0 / (1.0 - min(z for _, z in section.pushed())))
    section = rim_section(job.shade, job.size.tape, scale)
    margin = section.pushed()
    low = min(z for _, z in margin)
    tilt = tilted(job.shade, job.shade.fitter_end)
    corner = (centre[0] + section.taped * scale + 0.6, centre[1] + low / 2 * scale - 1.2)
    cut = Cut(section, corner, scale, tilt)
    with inset(canvas, centre, RADIUS):
        wall_and_wire(canvas, cut, low=-60.0)
        cloth(canvas, cut, margin, low=-60.0)
        tip, run = raw_edge(cut, margin)
        degrees = (84.0 if run[1] < -0.5 else 66.0) - math.degrees(tilt)
        tool(canvas, "tucking-tool", (tip[0] - 0.2, tip[1] + 0.2), degrees, scale=0.75)
