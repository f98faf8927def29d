"""Wrap the tape: both sides are pressed down round the wire; the gap that is left faces the inside of the shade."""

from __future__ import annotations

from shapely import box

from generator.figures.arrows import action, small_action
from generator.figures.canvas import Canvas, Point
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import NEW, RING_TAPE
from generator.figures.plane import arc
from generator.figures.sections import band, wire_section, wrap_angle


def draw(job: Job) -> Picture:
    """Two sections side by side: the tape flat, with the paths of its two sides; the tape wrapped."""
    canvas = Canvas(job.slot.width, job.slot.height + 2, view="section")
    tape, wire = job.size.tape, job.shade.wire
    scale = min((canvas.height - 10) / tape.width, 3.6)
    canvas.scale = scale
    r = wire / 2 * scale
    thick = max(tape.thickness * scale, 0.9)
    cy = canvas.height / 2 - 1.0
    first: Point = (job.slot.width * 0.2, cy)
    second: Point = (job.slot.width * 0.7, cy)
    wire_section(canvas, first, r)
    half = tape.width / 2 * scale
    with canvas.group("context", "ring-tape"):
        canvas.area(box(first[0] + r, cy - half, first[0] + r + thick, cy + half), RING_TAPE, NEW)
    angle = wrap_angle(tape.width, wire, tape.thickness)
    for sign in (1, -1):
        action(canvas, arc(first, r + 5.2, 48 * sign, 150 * sign), part="wrap")
    wire_section(canvas, second, r)
    with canvas.group("new", "wrapped-tape"):
        canvas.area(band(second, r, r + thick, -angle / 2, angle / 2), RING_TAPE, NEW)
    small_action(canvas, [(job.slot.width * 0.4, cy), (job.slot.width * 0.51, cy)], part="then")
    for centre in (first, second):
        with canvas.group("label", "side"):
            y = cy + half + 4.6
            canvas.letters((centre[0] - 2.0, y), say(job, "inside"), anchor="end")
            canvas.letters((centre[0] + 2.0, y), say(job, "outside"))
        with canvas.group("context", "middle"):
            canvas.line([(centre[0], y - 3.4), (centre[0], y + 0.8)], NEW)
    labels = [
        Label(say(job, "wire"), at=(second[0] - r * 0.3, cy + r * 0.5), wish=240, inside=False),
        Label(say(job, "gap"), at=(second[0] - r - thick / 2, cy), wish=180),
        Label(
            say(job, "ring-tape"), at=(second[0] + (r + thick / 2) * 0.7, cy - (r + thick / 2) * 0.7), wish=60
        ),
    ]
    return Picture(canvas, labels)
