"""Tape the rings: the tape laid along the outside of the wire, centred, not stretched; the gap at the join."""

from __future__ import annotations

import math

from shapely import box

from generator.figures.arrows import action, press
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.insets import inset, letter
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, NEW, RING_TAPE, THIN, WHITE, Pen
from generator.figures.plane import add, direction
from generator.figures.sections import wire_section
from generator.figures.view import Box, bench, fit

CENTRE = Pen(0.25, THIN.colour, (3.0, 0.8, 0.4, 0.8), "butt")


def draw(job: Job) -> Picture:
    """A length of wire with its tape in the bench view, a section, and the join from above."""
    left = job.size.makers.hand == "left"
    w, width = job.shade.wire, job.size.tape.width
    canvas = Canvas(job.slot.width, job.slot.height + 10)
    radius = 11.5
    view = bench(left)
    length, lifted = 8.2 * width, 5.4 * width
    bow = 3.6 * width
    tape = [(x, 0.0) for x in (0.0, lifted)]
    tape += [
        (lifted + bow * math.sin(t), bow * (1 - math.cos(t))) for t in (0.78 * k / 14 for k in range(1, 15))
    ]
    extent = [
        (x, y, z)
        for x, z in ((-0.6 * width, 0), (length, 0), (tape[-1][0], tape[-1][1]))
        for y in (-width, width)
    ]
    # Room for the hand beyond the lifted end of the tape.
    sides = (17.0, job.slot.width - 2) if left else (2.0, job.slot.width - 17)
    frame = fit(view, extent, Box(sides[0], 5, sides[1], canvas.height - 2 * radius - 5), anchor="top")
    with canvas.group("context", "wire"):
        tube = [
            frame((-0.6 * width, -w / 2, 0)),
            frame((length, -w / 2, 0)),
            frame((length, w / 2, 0)),
            frame((-0.6 * width, w / 2, 0)),
        ]
        canvas.area(tube, WHITE)
        canvas.line([tube[0], tube[1]], THIN)
        canvas.line([tube[3], tube[2]], THIN)
        canvas.line([tube[0], tube[3]], BROKEN_OFF)
        canvas.line([tube[1], tube[2]], BROKEN_OFF)
    low = [frame((x, -width / 2, z + w / 2)) for x, z in tape]
    high = [frame((x, width / 2, z + w / 2)) for x, z in tape]
    with canvas.group("new", "ring-tape"):
        canvas.area([*low, *reversed(high)], RING_TAPE, NEW)
        canvas.line([frame((x, 0.0, z + w / 2)) for x, z in tape], CENTRE)
    tip = frame((tape[-1][0], 0.0, tape[-1][1] + w / 2))
    hand(canvas, "pinch", tip, 205 if not left else -25, scale=0.85, flip=not left)
    press(canvas, frame((lifted * 0.55, 0.0, w / 2 + 0.5)), (0.0, 1.0))
    along = direction(frame((0, 0, 0)), frame((1, 0, 0)))
    start = frame((lifted * 0.5, -width * 1.15, 0.0))
    action(canvas, [start, add(start, along, 22.0)])
    row = canvas.height - radius - 0.8
    first, second = (radius + 12.5, row), (job.slot.width - radius - 1.0, row)
    labels = _section(canvas, job, first, radius) + _join(canvas, job, second, radius)
    labels += [
        Label(say(job, "ring-tape"), part="ring-tape", inside=False, wish=150),
        Label(say(job, "wire"), at=frame((length * 0.94, 0, 0)), wish=300),
    ]
    return Picture(canvas, labels)


def _section(canvas: Canvas, job: Job, centre: Point, radius: float) -> list[Label]:
    """a: the tape stands on the outside of the wire, as far above it as below."""
    scale = 1.72 * radius / job.size.tape.width
    wire, half = job.shade.wire / 2 * scale, job.size.tape.width / 2 * scale
    thick = max(job.size.tape.thickness * scale, 0.7)
    middle = (centre[0] - 1.2, centre[1])
    with inset(canvas, centre, radius):
        wire_section(canvas, middle, wire)
        with canvas.group("new", "ring-tape-section"):
            x = middle[0] + wire
            canvas.area(box(x, middle[1] - half, x + thick, middle[1] + half), RING_TAPE, NEW)
        with canvas.group("context", "centre-line"):
            canvas.line([(middle[0] - wire - 2.5, middle[1]), (x + 3.0, middle[1])], CENTRE)
    letter(canvas, (centre[0] - radius * 0.8, centre[1] - radius * 0.8), "a")
    with canvas.group("label", "side"):
        canvas.letters((centre[0] - radius - 1.0, centre[1] + 1.2), say(job, "inside"), anchor="end")
        canvas.letters((centre[0] + radius + 1.0, centre[1] + 1.2), say(job, "outside"))
    return []


def _join(canvas: Canvas, job: Job, centre: Point, radius: float) -> list[Label]:
    """b: where the two ends of the tape meet, a small gap, never an overlap."""
    gap_mm = shown(job, "tape_gap")
    scale = 1.05 * radius / job.size.tape.width
    gap, half = max(gap_mm * scale, 2.2), job.size.tape.width / 2 * scale
    wire = max(job.shade.wire / 2 * scale, 1.0)
    cy = centre[1] + 3.4
    with inset(canvas, centre, radius):
        with canvas.group("context", "wire"):
            canvas.area(box(centre[0] - 30, cy - wire, centre[0] + 30, cy + wire), WHITE, THIN)
        with canvas.group("new", "ring-tape-ends"):
            canvas.area(box(centre[0] - 30, cy - half, centre[0] - gap / 2, cy + half), RING_TAPE, NEW)
            canvas.area(box(centre[0] + gap / 2, cy - half, centre[0] + 30, cy + half), RING_TAPE, NEW)
    dimension(
        canvas,
        (centre[0] - gap / 2, cy - half),
        (centre[0] + gap / 2, cy - half),
        text(job, "tape_gap"),
        measure="tape_gap",
        value=gap_mm,
        offset=1.6,
    )
    letter(canvas, (centre[0] - radius * 0.8, centre[1] - radius * 0.8), "b")
    return []
