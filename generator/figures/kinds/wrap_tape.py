"""Wrap the tape: both its sides are pressed round the wire; the gap faces the inside of the shade."""

from __future__ import annotations

from shapely import box

from generator.figures.arrows import action, small_action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import BROKEN_OFF, NEW, RING_TAPE, THIN
from generator.figures.plane import arc
from generator.figures.sections import band, wire_section, wrap_angle
from generator.figures.view import Box, fit
from generator.figures.wire_piece import WirePiece, close_view

FIRST, DONE, FLAT, LAST = -3.0, 0.0, 2.0, 3.8
"""Tape is shown from the first place to the last, wrapped to the second, flat from the third, in widths."""
BELOW = 28.0
"""Height of the sections, mm."""
SMALL = ("2",)
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """A ring's tape being pressed round the wire; below, sections of it before and after."""
    left, wide, r = job.size.makers.hand == "left", job.size.tape.width, job.shade.wire / 2
    canvas = Canvas(job.slot.width, job.slot.height + 14)
    unit = WirePiece(fit(close_view(left), [(0, 0, 0), (1, 1, 1)], Box(0, 0, 1, 1)), job.shade, wide)
    extent = [
        unit.at(s, 0.0, y) for s in unit.steps(FIRST * wide, LAST * wide) for y in (-wide / 2, wide / 2)
    ]
    place = Box(1.5, 9.0, job.slot.width - 1.5, canvas.height - BELOW - 3.0)
    ring = WirePiece(fit(close_view(left), extent, place), job.shade, wide)
    frame = ring.frame

    def wrapped(s: float) -> float:
        t = min(max((s / wide - DONE) / (FLAT - DONE), 0.0), 1.0)
        return 1 - t * t * (3 - 2 * t)

    ring.wire(canvas, (FIRST - 0.12) * wide, (LAST + 0.12) * wide)
    with canvas.group("new", "ring-tape"):
        canvas.area(ring.seen(FIRST * wide, LAST * wide, wrapped), RING_TAPE, NEW)
    grip = frame(ring.tape(0.8 * wide, -0.1 * wide, wrapped(0.8 * wide)))
    hand(canvas, "pinch", grip, 230 if left else -50, scale=0.85, flip=left)
    away = -r - 0.5 * wide - 1.2 / frame.scale
    action(canvas, [frame(ring.at(s, away)) for s in ring.steps(0.9 * wide, 3.2 * wide)], part="along")
    _sections(canvas, job, canvas.height - BELOW)
    return Picture(canvas, [Label(say(job, "ring-tape"), at=frame(ring.at(3.1 * wide, r)), wish=100)])


def _sections(canvas: Canvas, job: Job, top: float) -> None:
    """The tape flat, with the paths of its two sides; the tape wrapped, its gap towards the inside."""
    tape, wire = job.size.tape, job.shade.wire
    scale = (BELOW - 6.5) / tape.width
    r, half, thick = wire / 2 * scale, tape.width / 2 * scale, max(tape.thickness * scale, 0.9)
    middle = top + 1.0 + half
    first: Point = (job.slot.width * 0.24, middle)
    second: Point = (job.slot.width * 0.72, middle)
    for centre in (first, second):
        wire_section(canvas, centre, r)
    with canvas.group("context", "detail-ring-tape"):
        canvas.area(box(first[0] + r, middle - half, first[0] + r + thick, middle + half), RING_TAPE, THIN)
    for sign in (1, -1):
        action(canvas, arc(first, r + 3.6, 46 * sign, 146 * sign), part="wrap")
    angle = wrap_angle(tape.width, wire, tape.thickness)
    with canvas.group("new", "wrapped-tape"):
        canvas.area(band(second, r, r + thick, -angle / 2, angle / 2), RING_TAPE, NEW)
    small_action(canvas, [(job.slot.width * 0.42, middle), (job.slot.width * 0.52, middle)], part="then")
    for centre in (first, second):
        y = top + BELOW - 1.5
        with canvas.group("label", "side"):
            canvas.letters((centre[0] - 1.6, y), say(job, "inside"), anchor="end")
            canvas.letters((centre[0] + 1.6, y), say(job, "outside"))
        with canvas.group("label", "sides"):
            canvas.line([(centre[0], y - 3.2), (centre[0], y + 0.6)], BROKEN_OFF)
    x = second[0] - r
    callout(canvas, (x - thick / 2, middle), (x - 3.0, middle - 4.5), say(job, "gap"), side=-1)
