"""Cut and fold the binding: a line along the wrong side, its narrow side folded over on it and creased."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action, small_action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import braid
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import CLOTH_BACK, EM, HEAVY, KISS_CUT, LINER, NEW, THIN
from generator.figures.plane import wave
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit

WIDE = 15.0
"""Width of the flat binding on paper, mm; a narrow one is drawn larger than life, a wide one smaller."""
LONG = 3.4
"""How much of the binding is shown while it is folded, in its widths."""
FLAT, OPEN = 172.0, 8.0
"""How far the narrow side has been folded at the finished end and at the other, degrees."""


def draw(job: Job) -> Picture:
    """a: the flat piece from above, wrong side up, with its line. b: the fold, creased with a thumbnail."""
    left = job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 18)
    row = 9.0 + WIDE + 3.0
    _flat(canvas, job, 9.0, left)
    labels = _folding(canvas, job, row, left)
    for name, y in (("a", 0.6), ("b", row + 1.2)):
        with canvas.group("label", f"order-{name}"):
            canvas.letters((0.6, y + 0.74 * EM), name, weight=700)
    return Picture(canvas, labels)


def _flat(canvas: Canvas, job: Job, top: float, left: bool) -> None:
    """The whole piece, broken in the middle: its length, and the line that parts its width."""
    width, fold = shown(job, "braid_width"), shown(job, "binding_fold")
    scale = WIDE / width
    low, line = top + WIDE, top + fold * scale
    x0, x1 = (15.0, 75.0) if left else (5.0, 65.0)
    middle = (x0 + x1) / 2
    for a, b, broken in ((x0, middle - 1.2, False), (x1, middle + 1.2, True)):
        torn = wave((b, top), (b, low), 0.7, 1.5)
        piece = Polygon([(a, top), *torn, (a, low)])
        with canvas.group("context", "binding-flat"):
            canvas.area(piece, CLOTH_BACK, THIN)
        with canvas.group("new", "fold-line"):
            canvas.line([(a, line), (b + (0.4 if broken else -0.4), line)], NEW)
    ends = (x0, x1)
    dimension(
        canvas,
        (ends[0], top),
        (ends[1], top),
        text(job, "binding_length"),
        measure="binding_length",
        value=shown(job, "binding_length"),
        offset=4.2,
    )
    x = x0 if left else x1
    for y0, y1, measure in ((line, top, "binding_fold"), (low, line, "binding_inside")):
        dimension(
            canvas,
            (x, y0),
            (x, y1),
            text(job, measure),
            measure=measure,
            value=shown(job, measure),
            offset=4.0 if left else -4.0,
            level=True,
        )
    spot = (x0 + 0.30 * (x1 - x0), line) if not left else (x0 + 0.70 * (x1 - x0), line)
    tool(canvas, "pencil", spot, 215.0 if not left else -35.0, scale=0.8, flip=left)
    with canvas.group("label", "label-wrong-side"):
        side = x0 + (0.76 if not left else 0.24) * (x1 - x0)
        canvas.letters((side, (line + low) / 2 + 0.33 * EM), say(job, "cloth-wrong-side"), anchor="middle")
    out = 1.0 if left else -1.0
    start = (spot[0] - out * 1.2, line + 3.0)
    small_action(canvas, [start, (start[0] - out * 9.0, start[1])], part="mark")


def _folding(canvas: Canvas, job: Job, top: float, left: bool) -> list[Label]:
    """On the bench, the fold away from the maker: folded at one end, still open at the other."""
    width, fold = shown(job, "braid_width"), shown(job, "binding_fold")
    rest, long = width - fold, LONG * width
    extent: list[Point3] = [(x, y, z) for x in (0.0, long) for y in (0.0, rest + fold) for z in (0.0, fold)]
    place = Box(4.0, top + 5.0, job.slot.width - 4.0, canvas.height - 6.0)
    frame = fit(bench(left), extent, place)
    flat = Polygon(frame.path([(0, 0, 0), (long, 0, 0), (long, rest, 0), (0, rest, 0)]))
    with canvas.group("context", "wide-side"):
        canvas.area(flat, CLOTH_BACK, THIN)
    n = 60
    ridge, edge = [], []
    for k in range(n + 1):
        x = long * k / n
        turn = math.radians(_turned(k / n))
        ridge.append(frame((x, rest, 0.0)))
        edge.append(frame((x, rest + fold * math.cos(turn), fold * math.sin(turn))))
    _narrow(canvas, ridge, edge, n)
    with canvas.group("new", "fold"):
        canvas.line(ridge[: 1 + round(0.46 * n)], HEAVY)
        canvas.line(ridge[round(0.46 * n) :], KISS_CUT)
    tip = frame((0.4 * long, rest - 0.2 * fold, 0.0))
    hand(canvas, "flat", tip, 52 if not left else 128, scale=0.85, flip=left)
    over = [_spot(frame, 0.72 * long, rest, 1.25 * fold, a) for a in range(24, 165, 8)]
    action(canvas, over, part="fold")
    return [
        Label(say(job, "narrow-side"), at=_mid(ridge[-4], edge[-4]), wish=90),
        Label(say(job, "fold"), at=ridge[round(0.1 * n)], wish=110 if not left else 70),
        Label(say(job, "wide-side"), at=frame((0.84 * long, 0.4 * rest, 0.0)), wish=270),
    ]


def _turned(share: float) -> float:
    """How far the narrow side is folded at a share of the piece, degrees."""
    t = min(1.0, max(0.0, (share - 0.36) / 0.42))
    return FLAT + (OPEN - FLAT) * t * t * (3 - 2 * t)


def _narrow(canvas: Canvas, ridge: list[Point], edge: list[Point], n: int) -> None:
    """The narrow side, in strips from the open end on: its right side is seen where it lies on the other."""
    seen = next(k for k in range(n + 1) if edge[k][1] < ridge[k][1])
    for first, last, fill in ((0, seen, LINER), (seen, n, CLOTH_BACK)):
        shape = Polygon([*ridge[first : last + 1], *reversed(edge[first : last + 1])]).buffer(0)
        with canvas.group("new", "narrow-side"):
            canvas.area(shape, fill)
            if fill == LINER:
                braid(canvas, shape)
    with canvas.group("new", "narrow-side"):
        canvas.line([ridge[0], *edge, ridge[-1]], NEW)


def _spot(frame: Frame, x: float, y: float, radius: float, degrees: float) -> Point:
    turn = math.radians(degrees)
    return frame((x, y + radius * math.cos(turn), radius * math.sin(turn)))


def _mid(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
