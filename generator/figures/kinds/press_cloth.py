"""Press and square the cloth: the iron runs along a thread; a set square judges the cross threads."""

from __future__ import annotations

import math

from shapely import Polygon, box

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.iron import IRON, flat_iron
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.pens import (
    BENCH,
    BROKEN_OFF,
    CLOTH_FACE,
    LINER,
    NEW,
    RULE,
    THIN,
    TOOL,
    Pen,
)
from generator.figures.plane import add, between, direction, wave
from generator.figures.view import Box, Frame, bench, fit

THREADS = Pen(0.25, RULE)
DETAIL = 12.5
"""Radius of the detail, mm."""
ENLARGED = 1.5
"""Paper mm for one mm in the detail."""


def draw(job: Job) -> Picture:
    """A corner of the cloth on the pressing board, right side up, its far and right edges broken off."""
    left = job.size.makers.hand == "left"
    width = job.slot.width
    canvas = Canvas(width, job.slot.height + 16)
    deep = shown(job, "cloth_width") * 1.3
    # As much of the cloth's breadth as fills the picture.
    long, rim = 1.8 * deep, 0.09 * deep
    corners = [(x, y, 0.0) for x in (-rim, long) for y in (-rim, deep + rim)]
    frame = fit(bench(left), corners, Box(2.0, 9.0, width - 2.0, canvas.height - 12.0), anchor="top")
    _board(canvas, frame, long, deep, rim)
    _cloth(canvas, frame, long, deep)
    tip = _set_square(canvas, frame, deep)
    along = direction(frame((0.0, 0.0, 0.0)), frame((1.0, 0.0, 0.0)))
    at = (0.46 * long, 0.72 * deep)
    size = 17.0 / (frame.scale * IRON[0])
    grip = flat_iron(canvas, frame, at, size)
    nose = frame((at[0] + size * IRON[0] / 2, at[1], 0.0))
    action(canvas, [add(nose, along, 2.5), add(nose, along, 15.0)])
    hand(canvas, "hold", grip, 180 - 7.6 if left else 7.6, scale=0.75, flip=left)
    centre = (width - DETAIL - 1.0 if not left else DETAIL + 1.0, canvas.height - DETAIL - 0.8)
    _bow(canvas, job, centre, left)
    link(
        canvas,
        tip,
        2.4,
        centre,
        DETAIL,
        "A",
        at_place=300 if not left else 240,
        at_detail=135 if not left else 45,
    )
    labels = [
        Label(say(job, "square"), part="set-square", wish=240.0 if not left else 300.0, inside=False),
        Label(say(job, "cloth"), at=frame((0.88 * long, 0.9 * deep, 0.0)), wish=90.0),
        Label(
            say(job, "iron"),
            at=frame((at[0] + 0.36 * size * IRON[0], at[1], 30.0 * size)),
            wish=75.0 if not left else 105.0,
        ),
    ]
    return Picture(canvas, labels)


def _board(canvas: Canvas, frame: Frame, long: float, deep: float, rim: float) -> None:
    places = ((-rim, -rim), (long, -rim), (long, deep + rim), (-rim, deep + rim))
    a, b, c, d = (frame((x, y, 0.0)) for x, y in places)
    with canvas.group("context", "board"):
        canvas.area([a, b, *wave(b, c, 0.8, 2)[1:], d], BENCH)
        canvas.line([b, a, d, c], THIN)


def _cloth(canvas: Canvas, frame: Frame, long: float, deep: float) -> None:
    near_left, near_right, far_left, far_right = (
        frame((x, y, 0.0)) for x, y in ((0, 0), (long, 0), (0, deep), (long, deep))
    )
    edge = wave(near_right, far_right, 1.0, 2.0)
    region = Polygon([near_left, *edge, far_left])
    with canvas.group("new", "cloth"):
        canvas.area(region, CLOTH_FACE)
    with canvas.clip(region), canvas.group("context", "threads"):
        step = 2.3 / frame.scale
        for k in range(1, int(long / step) + 2):
            canvas.line([frame((k * step, 0, 0)), frame((k * step, deep, 0))], THREADS)
        for k in range(1, int(deep / (step * 1.6)) + 1):
            canvas.line([frame((0, k * step * 1.6, 0)), frame((long + 40, k * step * 1.6, 0))], THREADS)
    with canvas.group("new", "cloth"):
        canvas.line([near_right, near_left, far_left, far_right], NEW)
        canvas.line(edge, BROKEN_OFF)


def _set_square(canvas: Canvas, frame: Frame, deep: float) -> Point:
    """One leg on the cloth's own edge, the other along the cross threads. Returns the end of that leg."""
    low, short, long = 0.16 * deep, 0.42 * deep, 0.82 * deep
    corners = [frame((x, y, 0.0)) for x, y in ((0.0, low), (long, low), (0.0, low + short))]
    middle = (sum(p[0] for p in corners) / 3, sum(p[1] for p in corners) / 3)
    with canvas.group("new", "set-square"):
        canvas.area(Polygon(corners, [[between(middle, c, 0.45) for c in corners]]), LINER, NEW)
    with canvas.group("context", "thread"):
        bowed = [
            frame((long * t, low - 0.9 / frame.scale * math.sin(t * 2.2), 0.0))
            for t in (k / 30 for k in range(46))
        ]
        canvas.line(bowed, TOOL)
    return frame((0.7 * long, low, 0.0))


def _bow(canvas: Canvas, job: Job, centre: Point, left: bool) -> None:
    """A cross thread beside the set square's edge, from above: how far it may bow away."""
    x, y = centre
    out = -1.0 if left else 1.0
    # A fraction stands above the edge within the circle: the edge lies lower for it.
    edge, away = y + 1.0 + min(3.2, wider(job, "bow")), ENLARGED * shown(job, "bow")
    with inset(canvas, centre, DETAIL):
        with canvas.group("detail", "threads"):
            for k in range(8):
                rise = away + 2.2 * k
                line = [
                    (x + out * t, edge + rise - away * max(-t, 0.0) ** 1.6 / 90.0) for t in range(-14, 15)
                ]
                canvas.line(line, NEW if k == 0 else THREADS)
            for k in range(-6, 7):
                canvas.line([(x + 2.2 * k, edge), (x + 2.2 * k, y + 14)], THREADS)
        with canvas.group("detail", "square-edge"):
            canvas.area(box(x - 14, y - 14, x + 14, edge), LINER, NEW)
    start, end = (x + 2.0 * out, edge + away), (x + 2.0 * out, edge)
    with canvas.enlarged():
        dimension(
            canvas,
            start,
            end,
            f"≤ {text(job, 'bow')}",
            measure="bow",
            value=shown(job, "bow"),
            offset=0.0,
            outside="end",
        )
