"""Glue the braid: laid along the rim on a thin line of glue, pressed on, its ends meeting at the seam."""

from __future__ import annotations

import math

from shapely import LineString, Polygon

from generator.figures.arrows import action
from generator.figures.braiding import free_end, middle, reached
from generator.figures.canvas import Canvas
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import HEAVY, INK, Pen
from generator.figures.plaited import plaited
from generator.figures.plane import add, between, cut_short, direction
from generator.figures.upright import stand
from generator.figures.view import Box, bench

GLUE = Pen(0.7, INK, (0.1, 1.3))
"""The line of glue: a row of dots."""
LAID = 0.62
"""How far the braid has got on paper from the seam to the outline of the shade, as a share."""
NARROWEST = 2.4
"""The braid is drawn at least this wide, mm on paper."""
ROOM = 23.0
"""For the free end and the hand, mm."""


def draw(job: Job) -> Picture:
    """The finished shade; the braid runs from the seam to the hand, the glue on round the rim."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 10)
    sides = (ROOM, 1.5) if left else (1.5, ROOM)
    place = Box(sides[0], 5.0, job.slot.width - sides[1], canvas.height - 1.0)
    view = stand(job.size, shade, bench(left), place)
    view.draw(canvas, role="context", trimmed=False)
    frame, wall, high = view.frame, view.wall, shade.slant
    wide = max(job.size.braid.width if job.size.braid else 0.0, NARROWEST / (0.866 * frame.scale))
    low = high - wide
    seam = [frame(wall.point(wall.start, h)) for h in (0.0, high)]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    runs = [(a, b) for front, a, b in wall.runs(frame) if front]
    right, last = max(runs, key=lambda run: run[1])
    end_of_braid = reached(view, last, right, LAID)
    with canvas.group("new", "glue"):
        for a, b in runs:
            if b < last:
                canvas.line(wall.edge(frame, a, b, high - wide / 2), GLUE)
        canvas.line(wall.edge(frame, right, end_of_braid, high - wide / 2), GLUE)
    laid = wall.patch(frame, end_of_braid, last, low, high)
    plaited(canvas, laid, "new", "braid")
    upper, under = (free_end(view, end_of_braid, -1.0, h) for h in (high, low))
    plaited(canvas, Polygon([*upper, *reversed(under)]), "new", "braid")
    end = middle(upper, under)
    out = direction(end[-4], end[-1])
    turn = math.degrees(math.atan2(out[1], -out[0]))
    hand(canvas, "pinch", end[-1], turn, scale=0.85, flip=not left, part="hand-laying")
    edge = list(reversed(wall.edge(frame, end_of_braid, last, low)))
    finger = LineString(edge).interpolate(0.5, normalized=True)
    hand(
        canvas,
        "flat",
        (finger.x, finger.y - 0.6),
        82 if left else 98,
        scale=0.8,
        flip=left,
        part="hand-pressing",
    )
    ahead = [add(p, (0.0, 3.0)) for p in (*cut_short(edge, 0.86 * LineString(edge).length), *under[1:])]
    action(canvas, ahead, part="lay")
    glue = frame(wall.point(wall.start + 0.6 * (min(b for _, b in runs) - wall.start), high - wide / 2))
    labels = [
        Label(say(job, "braid"), at=end[4], wish=100),
        Label(say(job, "seam"), at=between(seam[0], seam[1], 0.16), wish=180 if left else 0),
        Label(say(job, "glue"), at=glue, wish=270, rank=1),
    ]
    return Picture(canvas, labels)
