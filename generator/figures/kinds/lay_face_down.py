"""Lay face down: the cut cloth, turned wrong side up, is taped at its corners and rid of lint."""

from __future__ import annotations

from shapely import box

from generator.figures.arrows import action
from generator.figures.canvas import Canvas
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.lay import lay
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import NEW
from generator.figures.plan_board import board, breaks
from generator.figures.plan_panel import beside, cloth_back, corner_tape, print_up, table, word
from generator.figures.plane import add
from generator.figures.tools import tool
from generator.figures.turning import mark_flat
from generator.figures.view import Box

HIGH = 17.0
"""Least height of the cloth on paper, mm."""
ROOMY = 55.0
"""A cloth at least this long on paper has room for the longer words beside the roller, mm."""


def draw(job: Job) -> Picture:
    """From above, after the turn. The print's top stays away from the maker."""
    on, left = lay(job), job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8, view="plan")
    place = Box(5.0, 13.5, job.slot.width - 5.0, 13.5 + 34.0)
    view = board(left, place, on.length, on.width, 0.0 if on.sheet else HIGH, 0.66)
    canvas.scale = view.scale
    side = -1.0 if left else 1.0
    x0, y0, x1, y1 = view.rectangle(0.0, 0.0, on.length, on.width).bounds
    around, under = box(x0 - 4.0, y0 - 3.4, x1 + 4.0, y1 + 3.4), box(x0 - 0.6, y0 - 0.6, x1 + 0.6, y1 + 0.6)
    table(canvas, around.difference(under))
    mark_flat(canvas, job, (x1 - 24.0 if left else x0 + 7.0, 1.0))
    cloth_back(canvas, view, on, role="new", pen=NEW)
    breaks(canvas, view)
    corner_tape(canvas, (x0, y0, x1, y1), "new")
    start, end = (x1, x0) if left else (x0, x1)
    roomy = x1 - x0 > ROOMY
    words = say(job, "print-up")
    row = min(y0 + 6.0, (y0 + y1) / 2)
    arrow, at, _ = beside((start + side * 6.0, row), words if roomy else "", 3.8, left)
    print_up(canvas, arrow)
    if roomy:
        word(canvas, at, words, "print-up", "start")
    # The roller runs away from the maker, over the third of the cloth next to the hand that holds it.
    tip = (end - side * min(17.0, 0.35 * (x1 - x0)), y0 + 0.62 * (y1 - y0))
    tool(canvas, "lint-roller", tip, 90, scale=0.85, flip=left)
    hand(canvas, "hold", add(tip, (0.0, 9.8)), 90, scale=0.75, flip=left)
    action(canvas, [add(tip, (0.0, -1.2)), (tip[0], min(y0 + 1.4, tip[1] - 7.4))])
    labels = [
        Label(say(job, "cloth-wrong-side"), at=(start + side * 14.0, y1 - 2.2), wish=270 + side * 25),
        Label(say(job, "low-tack-tape"), at=(end, y0), wish=90 + side * 60),
        Label(say(job, "lint-roller"), at=add(tip, (-side * 2.6, 0.8)), wish=90 + side * 150),
    ]
    if not roomy:
        labels.append(Label(words, part="print-up", wish=0 if left else 180))
    return Picture(canvas, labels)
