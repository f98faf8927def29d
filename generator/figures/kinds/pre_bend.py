"""Pre-bend the corners: from the side, the panel bent up along a rule at the middle of a corner."""

from __future__ import annotations

import math

from generator.figures.arrows import action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import BENCH, CLOTH_CUT, HIDDEN, NEW, PVC, THIN, TOOL, WHITE

THICK, COVER = 2.1, 1.1
"""Drawn thickness of the panel with its cloth, and of its PVC, mm; no number is printed from them."""
RADIUS = 3.0
OVER = 1.15
"""The panel is bent a little further than the ring's corner turns, since it springs back."""
STEEPEST = 80.0
REACH = 22.0
EDGE, TOP = 40.0, 40.0
"""The rule's edge and the bench's top on paper, mm."""


def draw(job: Job) -> Picture:
    """Bench, panel and rule from the side; one hand holds the rule, the arrow bends the panel up."""
    left, shade = job.size.makers.hand == "left", job.shade
    canvas = Canvas(job.slot.width, 58.0)
    corners = [station for station in shade.outline.stations() if station.kind == "corner"]
    degrees = math.degrees(2 * corners[0].psi) if corners else 60.0
    turn = min(degrees * OVER, STEEPEST)
    last = math.radians(turn)

    def at(x: float, y: float) -> Point:
        return (canvas.width - x if left else x, y)

    def round_(radius: float, angle: float, out: float = 0.0) -> Point:
        """A place on the bend, ``out`` mm beyond its end along the panel."""
        x = EDGE + radius * math.sin(angle) + out * math.cos(angle)
        return at(x, TOP - THICK - RADIUS + radius * math.cos(angle) - out * math.sin(angle))

    with canvas.group("context", "bench"):
        canvas.area([at(2, TOP), at(78, TOP), at(78, TOP + 9), at(2, TOP + 9)], BENCH)
        canvas.line([at(2, TOP), at(78, TOP)], THIN)
    with canvas.group("context", "panel-flat"):
        canvas.line([at(EDGE, TOP - THICK / 2), at(76, TOP - THICK / 2)], HIDDEN)
    angles = [last * k / 24 for k in range(25)]
    under = [round_(RADIUS + THICK, angle) for angle in angles] + [round_(RADIUS + THICK, last, REACH)]
    upper = [round_(RADIUS, angle) for angle in angles] + [round_(RADIUS, last, REACH)]
    with canvas.group("new", "panel"):
        canvas.area([at(5, TOP), *under, *reversed(upper), at(5, TOP - THICK)], PVC)
        # The cloth is underneath, PVC up: bent so, the PVC comes to lie inside.
        middle = [round_(RADIUS + COVER, angle) for angle in angles] + [round_(RADIUS + COVER, last, REACH)]
        canvas.area([at(5, TOP), *under, *reversed(middle), at(5, TOP - THICK + COVER)], CLOTH_CUT, THIN)
        canvas.area([at(5, TOP), *under, *reversed(upper), at(5, TOP - THICK)], None, NEW)
    with canvas.group("context", "rule"):
        low = TOP - THICK
        canvas.area([at(9, low), at(EDGE, low), at(EDGE, low - 1.6), at(9, low - 1.6)], WHITE, TOOL)
    spot = at(22.0, TOP - THICK - 2.0)
    hand(canvas, "flat", spot, 172 if left else 8, scale=0.8, flip=not left, part="hand-holding")
    swing = [round_(RADIUS + THICK, math.radians(10 + (turn - 22) * k / 20), 17.0) for k in range(21)]
    action(canvas, swing, part="bend")
    callout(
        canvas,
        round_(RADIUS + THICK, last / 2),
        at(EDGE + 9.0, TOP + 6.2),
        say(job, "corner"),
        side=-1 if left else 1,
    )
    return Picture(
        canvas,
        [
            Label(say(job, "rule"), at=at(EDGE - 4.0, TOP - THICK - 1.6), wish=90),
            Label(say(job, "panel"), at=round_(RADIUS, last, REACH * 0.8), wish=0 if left else 180),
        ],
    )
