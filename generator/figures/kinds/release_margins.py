"""Release the margins: hold the panel, pull the strip low along itself; the cloth margin is left bare."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action, press
from generator.figures.bench_edge import ruled, window
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WASTE_HATCH, hatch
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.near_edge import NearEdge, long_edge
from generator.figures.numbers import say, shown, text
from generator.figures.pens import CLOTH_BACK, NEW, PVC, WHITE
from generator.figures.plane import add, direction
from generator.figures.state import state_before
from generator.figures.view import Box, Frame, bench, fit

LONG, DEEP = 7.4, 5.0
"""How much of the panel is shown from its start end on, and from its near edge away, in margins."""
FOLD = 2.7
"""How far the strip has come off, in margins."""
LOOP, RISE = 0.36, 0.06
"""The strip is pulled low: radius of its turn, in margins, and slope of what is pulled."""
SEEN = 6
"""From this sixteenth of the half turn on the loop shows its outer side, in the bench view."""


def draw(job: Job) -> Picture:
    """The start end of the panel: the near strip is folded back on itself and pulled along."""
    left, m = job.size.makers.hand == "left", job.shade.margin
    canvas = Canvas(job.slot.width, job.slot.height + 8)
    fold, right, deep = FOLD * m, LONG * m, DEEP * m
    sides = (1.5, 9.0) if left else (9.0, 1.5)
    shape = long_edge(job.shade, job.shade.margin, fold)
    corners = [(x, y, 0.0) for x in (shape(0.0, deep)[0], right) for y in (0.0, deep)]
    frame = fit(bench(left), corners, Box(sides[0], 4, job.slot.width - sides[1], canvas.height - 6))
    view = window(frame, 0.0, 0.0, right, deep, ("right", "far"))
    view.sheet(canvas, "panel", shape.strip(0.0, right + 2 * m, 0.0, deep + m), PVC)
    view.line(canvas, "kiss-cut", shape.line(fold, right + m, m), state_before(job).kiss_cut)
    view.sheet(canvas, "cloth-margin", shape.strip(0.0, fold, 0.0, m), CLOTH_BACK, NEW, "new")
    view.tear(canvas)
    end = _strip(canvas, frame, m, shape)
    last = frame((*shape(end[0] - 1.0, m / 2), end[1]))
    tip = frame((*shape(end[0], m / 2), end[1]))
    along = direction(last, tip)
    lean = math.degrees(math.atan2(-along[1], along[0]))
    hand(
        canvas,
        "pinch",
        tip,
        lean + (172.0 if left else -172.0) if job.shade.tapered else -4 if left else 184,
        scale=0.85,
        flip=not left,
    )
    cuff = add(tip, along, 16.2)
    action(canvas, [cuff, add(cuff, along, 11.0)], part="pull")
    held = frame((2.4 * m, 2.6 * m, 0.0))
    hand(canvas, "flat", held, 172 if left else 8, scale=0.85, flip=not left)
    press(canvas, add(held, (6.6 if left else -6.6, -4.6)), (0.0, 1.0), part="hold")
    dimension(
        canvas,
        frame((*shape(0.0, 0.0), 0.0)),
        frame((*shape(0.0, m), 0.0)),
        text(job, "margin"),
        measure="margin",
        value=shown(job, "margin"),
        offset=-4.0 if left else 4.0,
        level=True,
    )
    middle = frame((*shape((end[0] + fold) / 2, 0.5 * m), end[1]))
    back = frame((*shape(end[0], 1.9 * m), end[1]))
    callout(canvas, middle, (middle[0], back[1] - 1.5), say(job, "margin-strip"), side=0)
    labels = [
        Label(say(job, "cloth-margin"), at=frame((*shape(0.6 * fold, 0.4 * m), 0.0)), wish=270),
        Label(say(job, "kiss-cut"), at=frame((*shape(0.93 * right, m), 0.0)), wish=270, rank=1),
    ]
    return Picture(canvas, labels)


def _strip(canvas: Canvas, frame: Frame, m: float, shape: NearEdge) -> tuple[float, float]:
    """The strip turned back over itself, as long as what was freed; returns x and z of its end."""
    fold, r = FOLD * m, LOOP * m
    loop = [(fold - r * math.sin(t), r * (1 - math.cos(t))) for t in (math.pi * k / 16 for k in range(17))]
    tail = fold - math.pi * r
    end = (fold + tail, 2 * r + RISE * tail)
    # What is pulled lies over the strip that is still on: the fold is a mirror.
    pulled = [(loop[-1][0] + tail * k / 12, 2 * r + RISE * tail * k / 12) for k in range(1, 13)]
    near, far = ([frame((*shape(x, v), z)) for x, z in (*loop, *pulled)] for v in (0.0, m))
    with canvas.group("removed", "margin-strip"):
        canvas.area(ruled(far, near), WHITE)
        outside = Polygon([*near[SEEN:], *reversed(far[SEEN:])])
        canvas.area(outside, WHITE)
        hatch(canvas, outside, *WASTE_HATCH)
        canvas.line([*near, *reversed(far[SEEN:]), near[SEEN]], NEW)
    return end
