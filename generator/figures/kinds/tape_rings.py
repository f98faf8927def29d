"""Tape the rings: the tape goes along the outside of the wire, centred, unstretched; a gap at the join."""

from __future__ import annotations

import math

from shapely import box

from generator.figures.arrows import action, press
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.pens import HEAVY, NEW, RING_TAPE, THIN, WHITE, Pen
from generator.figures.plane import add
from generator.figures.sections import wire_section
from generator.figures.state import state_before
from generator.figures.view import Box, fit
from generator.figures.wire_piece import WirePiece, close_view

CENTRE = Pen(0.25, THIN.colour, (3.0, 0.8, 0.4, 0.8), "butt")
RADIUS = 11.8
BEFORE, LAID, AFTER = 1.4, 2.7, 6.2
"""Bare wire before the seam mark, tape that lies on the wire, and wire that is shown, in tape widths."""
BOW, LIFT = 2.6, 46.0
"""Radius of the tape that still has to be laid, in tape widths, and how far it is lifted, degrees."""
HAND_ROOM = 0.775
"""Share of the picture's width at which the lifted end stands; the hand needs the rest."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """The top of a ring with its tape half laid, a section of it, and the join seen from outside."""
    left, wide = job.size.makers.hand == "left", job.size.tape.width
    gap, r = shown(job, "tape_gap"), job.shade.wire / 2
    canvas = Canvas(job.slot.width, job.slot.height + 14)
    unit = WirePiece(fit(close_view(left), [(0, 0, 0), (1, 1, 1)], Box(0, 0, 1, 1)), job.shade, wide)
    bent = [math.radians(LIFT) * k / 14 for k in range(1, 15)]
    lifted = [(BOW * wide * math.sin(t), r + BOW * wide * (1 - math.cos(t))) for t in bent]
    laid = _laid(unit, wide, *lifted[-1])
    extent = [unit.at(s, 0.0) for s in unit.steps(-BEFORE * wide, AFTER * wide)]
    extent += [_off(unit, laid, *lifted[-1], y) for y in (-wide / 2, wide / 2)]
    bottom = canvas.height - 2 * RADIUS - 4.0
    frame = fit(close_view(left), extent, Box(1.5, 4.0, job.slot.width - 1.5, bottom))
    ring = WirePiece(frame, job.shade, wide)
    ring.wire(canvas, -BEFORE * wide, AFTER * wide)
    marked = state_before(job).seam_marks
    if marked:
        ring.mark(canvas)
    rows = []
    for y in (-wide / 2, 0.0, wide / 2):
        rows.append([frame(ring.at(s, r, y)) for s in ring.steps(gap / 2, laid)])
        rows[-1] += [frame(_off(ring, laid, x, z, y)) for x, z in lifted]
    with canvas.group("new", "ring-tape"):
        canvas.area([*rows[0], *reversed(rows[2])], RING_TAPE, NEW)
        canvas.line(rows[1], CENTRE)
    hand(canvas, "pinch", rows[1][-1], -28 if left else 208, scale=0.85, flip=not left)
    press(canvas, add(frame(ring.at(0.62 * laid, r)), (0.0, -0.4)), (0.0, 1.0))
    away = -r - 0.5 * wide - 1.4 / frame.scale
    below = [frame(ring.at(s, away)) for s in ring.steps(0.75 * laid, 1.75 * laid)]
    action(canvas, below, part="along")
    row = canvas.height - RADIUS - 1.0
    more = wider(job, "tape_gap")
    one, two = (job.slot.width * 0.32 - more, row), (job.slot.width - RADIUS - 1.0 - more, row)
    if left:
        two = (job.slot.width * 0.84 - more, row)
    _section(canvas, job, one)
    _join(canvas, job, two)
    link(canvas, frame(ring.at(0.36 * laid, r)), 2.4, one, RADIUS, "A", at_place=270, at_detail=135)
    link(
        canvas, frame(ring.at(0.0, 0.0)), 2.4, two, RADIUS, "B", at_place=-60 if left else 240, at_detail=135
    )
    labels = [
        Label(say(job, "ring-tape"), at=rows[1][46], wish=120),
        Label(say(job, "wire"), at=frame(ring.at(0.93 * AFTER * wide, 0.0)), wish=300 if not left else 240),
    ]
    if marked:
        spot = frame(ring.at(0.0, 0.0, -r))
        labels.append(Label(say(job, "seam-mark"), at=spot, wish=110 if not left else 70, rank=1))
    return Picture(canvas, labels)


def _laid(ring: WirePiece, wide: float, x: float, z: float) -> float:
    """How much tape lies on the wire: less on a small ring, so that the hand has room at the lifted end."""
    first, last = ring.middle(-BEFORE * wide)[0], ring.middle(AFTER * wide)[0]
    most = first + HAND_ROOM * (last - first)
    tries = ring.steps(LAID * wide, 0.5 * LAID * wide)
    return next((s for s in tries if _off(ring, s, x, z, 0.0)[0] <= most), tries[-1])


def _off(ring: WirePiece, s: float, x: float, z: float, y: float) -> tuple[float, float, float]:
    """A place x ahead of s and z above the wire's middle there, measured along the tape's own plane."""
    (nx, nz), (px, py, pz) = ring.outwards(s), ring.at(s, z, y)
    return px + x * nz, py, pz - x * nx


def _section(canvas: Canvas, job: Job, centre: Point) -> None:
    """A: the tape stands on the outside of the wire, as far above its middle as below."""
    scale = 1.72 * RADIUS / job.size.tape.width
    wire, half = job.shade.wire / 2 * scale, job.size.tape.width / 2 * scale
    thick = max(job.size.tape.thickness * scale, 0.7)
    middle = (centre[0] - 1.2, centre[1])
    with inset(canvas, centre, RADIUS):
        wire_section(canvas, middle, wire)
        x = middle[0] + wire
        with canvas.group("new", "detail-ring-tape"):
            canvas.area(box(x, middle[1] - half, x + thick, middle[1] + half), RING_TAPE, NEW)
        with canvas.group("context", "detail-centre-line"):
            canvas.line([(middle[0] - wire - 2.5, middle[1]), (x + 3.0, middle[1])], CENTRE)
    with canvas.group("label", "side"):
        canvas.letters((centre[0] + RADIUS + 1.0, centre[1] + 1.2), say(job, "outside"))


def _join(canvas: Canvas, job: Job, centre: Point) -> None:
    """B: where the two ends of the tape meet, a small gap over the seam mark, never an overlap."""
    value = shown(job, "tape_gap")
    scale = 1.05 * RADIUS / job.size.tape.width
    gap, half = max(value * scale, 2.2), job.size.tape.width / 2 * scale
    wire = max(job.shade.wire / 2 * scale, 1.0)
    x, y = centre[0], centre[1] + 3.2
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "detail-wire"):
            canvas.area(box(x - 30, y - wire, x + 30, y + wire), WHITE, THIN)
        if state_before(job).seam_marks:
            with canvas.group("context", "seam-mark"):
                canvas.line([(x, y - wire), (x, y + wire)], HEAVY)
        with canvas.group("new", "detail-ring-tape"):
            for a, b in ((x - 30, x - gap / 2), (x + gap / 2, x + 30)):
                canvas.area(box(a, y - half, b, y + half), RING_TAPE, NEW)
    with canvas.enlarged():
        dimension(
            canvas,
            (x - gap / 2, y - half),
            (x + gap / 2, y - half),
            text(job, "tape_gap"),
            measure="tape_gap",
            value=value,
            offset=1.8,
            halo=wider(job, "tape_gap") > 0.0,
        )
