"""Fold the hem: the tab of cloth past the outside end is folded over on to the PVC and stuck down."""

from __future__ import annotations

import math

from generator.figures.arrows import action
from generator.figures.bench_edge import on
from generator.figures.canvas import Canvas
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, CLOTH_BACK, CLOTH_FACE, HIDDEN, NEW, PVC, THIN
from generator.figures.plane import wave
from generator.figures.view import Box, bench, fit

RAISED = 0.62
"""Share of a half turn that the tab has been folded."""


def draw(job: Job) -> Picture:
    """The outside end on the bench, PVC up; the tab stands half folded, its right side showing."""
    left = job.size.makers.hand == "left"
    hem, m = job.shade.hem, job.shade.margin
    canvas = Canvas(job.slot.width, job.slot.height + 6)
    view = bench(left)
    high = 5.4 * m
    back = -9.5 * hem
    extent = [(x, y, 0.0) for x in (back, 1.6 * hem) for y in (0.0, high + 2 * m)]
    frame = fit(view, extent, Box(2, 3, job.slot.width - 12, canvas.height - 3))
    if left:
        frame = fit(view, extent, Box(12, 3, job.slot.width - 2, canvas.height - 3))
    top = high + 2 * m
    with canvas.group("context", "cloth-margin"):
        outline = on(frame, [(back, 0), (0, 0), (0, top), (back, top)])
        canvas.area(outline, CLOTH_BACK)
        canvas.line([outline[0], outline[1], outline[2], outline[3]], THIN)
    with canvas.group("context", "panel"):
        pvc = on(frame, [(back, m), (0, m), (0, m + high), (back, m + high)])
        canvas.area(pvc, PVC)
        canvas.line([pvc[0], pvc[1], pvc[2], pvc[3]], THIN)
        canvas.line(wave(outline[0], outline[3], 1.0, 3), BROKEN_OFF)
    with canvas.group("context", "hem-place"):
        canvas.line(on(frame, [(-hem, m), (-hem, m + high)]), HIDDEN)
    turn = math.pi * RAISED
    tip = (hem * math.cos(turn), hem * math.sin(turn))
    with canvas.group("new", "cloth-tab"):
        tab = [frame((0, m, 0)), frame((tip[0], m, tip[1])), frame((tip[0], m + high, tip[1])), frame((0, m + high, 0))]
        canvas.area(tab, CLOTH_FACE if view.faces((math.sin(turn), 0.0, -math.cos(turn))) else CLOTH_BACK, NEW)
    middle = m + high * 0.3
    path = [
        frame((1.15 * hem * math.cos(a), middle, 1.15 * hem * math.sin(a)))
        for a in (0.1 + (math.pi * 0.93 - 0.1) * k / 16 for k in range(17))
    ]
    action(canvas, path, part="fold")
    grip = frame((tip[0], m + high * 0.74, tip[1]))
    hand(canvas, "pinch", grip, 195 if not left else -15, scale=0.75, flip=not left)
    ends = (frame((-hem, m, 0)), frame((0, m, 0)))
    dimension(
        canvas, *(ends if not left else reversed(ends)), text(job, "hem"), measure="hem", value=shown(job, "hem"),
        offset=-(m * frame.scale * 0.6 + 4.0), outside="start" if not left else "end",
    )
    labels = [
        Label(say(job, "cloth-tab"), at=frame((tip[0] * 0.6, m + high * 0.93, tip[1] * 0.6)), wish=40),
        Label(say(job, "pvc"), at=frame((back * 0.6, m + high * 0.5, 0)), leader=False, rank=1),
        Label(say(job, "outside-end"), at=frame((0, m * 0.2, 0)), wish=300 if not left else 240, rank=1),
    ]
    return Picture(canvas, labels)
