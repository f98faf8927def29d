"""Relief cuts of a taper: turned in, its margin is too long at the wide rim, too short at the narrow one."""

from __future__ import annotations

from collections.abc import Sequence

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.insets import caption, inset, letter
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.paragraph import lines, plain, text_of
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_FACE,
    CUTTING,
    EM,
    HEAVY,
    MOTIF,
    NEW,
    PVC_INSIDE,
    THIN,
    TOOL,
    Pen,
)
from generator.figures.plane import arc, wave
from generator.figures.tools import tool

RIM, WALL = 29.0, 7.0
"""Level of the rim, and how much of the wall is seen below it, mm on paper."""
TALLEST = 21.0
"""Height of the margin on paper, at most, mm."""
BREAK = 2.0
"""Gap where the rim between two cuts is left out, mm."""
RADIUS, RAISED = 9.6, 47.5
"""Of the details, and the level of their middles, mm."""
BESIDE, PITCH = 1.2, 1.2
"""From a detail to its name, mm, and from line to line of it, by the size of the lettering."""
TUCK = 11.0
"""Height of the turned margin in the details, mm."""


def sloping(job: Job) -> Picture:
    """A piece of rim, its margin standing: one cut done, the next begun; below, both rims turned in."""
    left = job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 60.0)
    depth, stop = shown(job, "relief_depth"), shown(job, "slit_stop")
    scale = TALLEST / (depth + stop)
    # The cut is drawn to stop well short of the rim, so that the distance can be seen.
    short = max(stop * scale, 2.4)

    def at(x: float, up: float) -> Point:
        return (canvas.width - x if left else x), RIM - up

    top, middle = TALLEST, canvas.width / 2
    done, begun = 25.0, 55.0
    for a, b, waves in ((4.0, middle - BREAK / 2, (True, True)), (middle + BREAK / 2, 76.0, (True, True))):
        _piece(canvas, [at(a, top), at(b, top), at(b, -WALL), at(a, -WALL)], [at(a, 0.0), at(b, 0.0)], waves)
    with canvas.group("new", "relief-done"):
        canvas.area([at(done - 0.5, top), at(done, short), at(done + 0.5, top)], PVC_INSIDE, NEW)
    with canvas.group("action", "relief"):
        canvas.line([at(begun, top), at(begun, short)], CUTTING)
    tool(canvas, "scissors", at(begun, top - 6.0), -90.0, scale=0.85)
    # Two fingers in the bows, the arm from above and from the side of the hand.
    hand(canvas, "pinch", at(begun + 1.6, top + 0.8), -112 if not left else -68, scale=0.66, flip=not left)
    action(canvas, [at(begun - 6.5, top + 4.0), at(begun - 6.5, top - 8.0)])
    out = -1.0 if not left else 1.0
    dimension(
        canvas,
        at(done, short),
        at(done, top),
        text(job, "relief_depth"),
        measure="relief_depth",
        value=depth,
        offset=9.0,
        across=(out, 0.0),
    )
    dimension(
        canvas,
        at(done, 0.0),
        at(done, short),
        text(job, "slit_stop"),
        measure="slit_stop",
        value=stop,
        offset=9.0,
        across=(-out, 0.0),
        outside="end",
    )
    details = (("A", "wide-rim", 11.5, 49.5 - RADIUS), ("B", "narrow-rim", 49.5, canvas.width))
    for name, noun, x, free in details:
        centre = (x, RAISED)
        (_lapping if name == "A" else _spreading)(canvas, centre)
        letter(canvas, arc(centre, RADIUS, 135, 135, 1)[0], name)
        beside = x + RADIUS + BESIDE
        # Words too long to stand in one line before the next detail stand below one another.
        told = lines(plain(say(job, noun)), EM, free - BESIDE / 2 - beside)
        for number, line in enumerate(told):
            down = 0.33 * EM + (number - (len(told) - 1) / 2) * PITCH * EM
            caption(canvas, (beside, RAISED + down), text_of(line), anchor="start")
    labels = [
        Label(say(job, "margin"), at=at(10.0, 0.62 * top), wish=110 if not left else 70),
        Label(say(job, "rim"), at=at(70.0, 0.0), wish=300 if not left else 240),
    ]
    return Picture(canvas, labels)


def _piece(canvas: Canvas, corners: Sequence[Point], rim: Sequence[Point], waves: tuple[bool, bool]) -> None:
    """Margin and wall, broken off at both ends; the PVC begins at the rim."""
    a, b, c, d = corners
    start = wave(d, a, depth=0.6) if waves[0] else [d, a]
    stop = wave(b, c, depth=0.6) if waves[1] else [b, c]
    with canvas.group("context", "margin"):
        canvas.area([*start, *stop], CLOTH_BACK)
    with canvas.group("context", "wall"):
        canvas.area([rim[0], rim[1], c, d], PVC_INSIDE)
    with canvas.group("context", "margin"):
        canvas.line([a, b], THIN)
        canvas.line(start, THIN)
        canvas.line(stop, THIN)
    with canvas.group("context", "rim"):
        canvas.line(list(rim), TOOL)


def _turned_in(centre: Point) -> tuple[float, float, float, float]:
    """The rim's level, the raw edge's, the cut's tip's, and the middle."""
    x, y = centre
    rim = y - 5.4
    return rim, rim + TUCK, rim + 1.8, x


def _ground(canvas: Canvas, centre: Point) -> None:
    rim, _, _, x = _turned_in(centre)
    with canvas.group("detail", "detail-wall"):
        canvas.area([(x - 20, rim), (x + 20, rim), (x + 20, rim + 30), (x - 20, rim + 30)], PVC_INSIDE)


def _lapping(canvas: Canvas, centre: Point) -> None:
    """At the wide rim there is too much cloth inside: one piece laps over the other."""
    rim, edge, tip, x = _turned_in(centre)
    with inset(canvas, centre, RADIUS):
        _ground(canvas, centre)
        with canvas.group("detail", "detail-margin"):
            canvas.area(
                [(x, tip), (x - 2.2, edge), (x + 20, edge), (x + 20, rim), (x, rim)], CLOTH_FACE, THIN
            )
        with canvas.group("new", "lapping"):
            canvas.area([(x - 20, rim), (x, rim), (x, tip), (x + 2.4, edge), (x - 20, edge)], CLOTH_FACE, NEW)
        _right_side(canvas, x, rim, (-1.0, 1.0))
        with canvas.group("detail", "detail-hidden"):
            canvas.line([(x, tip), (x - 2.2, edge)], Pen(0.25, THIN.colour, (0.9, 0.7), "butt"))
        _rim_line(canvas, x, rim)


def _spreading(canvas: Canvas, centre: Point) -> None:
    """At the narrow rim there is too little cloth inside: the pieces spread."""
    rim, edge, tip, x = _turned_in(centre)
    with inset(canvas, centre, RADIUS):
        _ground(canvas, centre)
        with canvas.group("new", "spreading"):
            for side in (-1.0, 1.0):
                canvas.area(
                    [(x + side * 20, rim), (x, rim), (x, tip), (x + side * 2.4, edge), (x + side * 20, edge)],
                    CLOTH_FACE,
                )
                canvas.line([(x, tip), (x + side * 2.4, edge), (x + side * 20, edge)], NEW)
        _right_side(canvas, x, rim, (-1.0, 1.0))
        _rim_line(canvas, x, rim)


def _right_side(canvas: Canvas, x: float, rim: float, sides: Sequence[float]) -> None:
    """Sparse threads: the margin turned in shows its right side."""
    with canvas.group("detail", "print"):
        for side in sides:
            for k, (across, down) in enumerate(((3.4, 2.6), (6.6, 4.0), (4.4, 6.6), (7.4, 8.4))):
                a, b = x + side * across, rim + down
                canvas.line([(a - 0.7, b), (a + 0.7, b)] if k % 2 else [(a, b - 0.7), (a, b + 0.7)], MOTIF)


def _rim_line(canvas: Canvas, x: float, rim: float) -> None:
    with canvas.group("detail", "detail-rim-edge"):
        canvas.line([(x - 20, rim), (x + 20, rim)], HEAVY)
