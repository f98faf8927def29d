"""Notch: the start end's margin goes where the ends overlap; the outside end's stays. Seen from inside."""

from __future__ import annotations

import math

from shapely import Point as Dot
from shapely import Polygon, box

from generator.figures.arrows import action, numbered
from generator.figures.callouts import callout, word
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WASTE_HATCH, hatch
from generator.figures.insets import caption, inset
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_BACK,
    CUFF,
    CUTTING,
    EM,
    HEAVY,
    NEW,
    RING_TAPE,
    SEA,
    THIN,
    TOOL,
    WHITE,
)
from generator.figures.plane import add, between, direction
from generator.figures.rim_inside import Rim, rim, ring_bar, sheet, skew, wall
from generator.figures.tools import tool
from generator.figures.upright import stand
from generator.figures.view import Box, bench
from generator.shape.development import other_end

COLUMN = 26.4
VALUE = 7.4
"""Room for the upright dimension, mm."""
RADIUS = 13.0
LEAN = math.radians(35)
"""How far the outside end is held back."""


def start_goes(job: Job) -> float:
    """Whether the start end goes on to the right (+1) or to the left, seen from inside with the plain end up.

    With its top up a shade rolled by the right hand has its stations running to the right at the far wall.
    """
    return 1.0 if job.shade.fitter_end == "bottom" else -1.0


SMALL = ("main detail", "main")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Scene on the left, A from above on the right."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 60.0)
    goes = start_goes(job)
    screen = goes * (-1.0 if left else 1.0)
    s, m = shade.overlap, shade.margin
    scale = min(13.4 / (0.866 * m), 9.6 / s)
    lean = 0.2588 * m * math.sin(LEAN) * scale
    # The scene's two ends on paper: room for the dimension at the start end, for the lean at the other.
    x0, x1 = (COLUMN + 2.0, canvas.width - 0.8) if left else (0.8, canvas.width - COLUMN - 2.0)
    x0, x1 = (
        (x0 + (lean if not left else 0.0), x1 - VALUE)
        if screen > 0
        else (x0 + VALUE, x1 - (lean if left else 0.0))
    )
    aside = skew(shade, other_end(shade.fitter_end), max(m * scale, 11.0))
    x0, x1 = x0 + aside, x1 - aside
    half = (x1 - x0) / 0.966 / scale
    back, on = 0.38 * half, 0.62 * half
    first, last = (-back, on) if goes > 0 else (-on, back)
    start = x0 + (back if screen > 0 else on) * 0.966 * scale
    view = rim(
        shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=(start, 33.0),
        first=first,
        last=last,
        depth=11.0 / scale,
        end=other_end(shade.fitter_end),
    )
    _wall(canvas, view, goes)
    _outside_end(canvas, view, goes, s, m)
    _near_layer(canvas, view, goes, s, m, screen)
    _hand(canvas, view, goes, m, screen)
    _values(canvas, job, view, goes)
    x_column = (0.0, COLUMN) if left else (canvas.width - COLUMN, canvas.width)
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, 38.0)
    _from_above(canvas, job, centre, screen)
    canvas.blocked.append(circle(centre, RADIUS + 0.5))
    _both_rims(canvas, job, (x_column[0] + 1.0, x_column[1] - 1.0), centre[1] - RADIUS - 2.0)
    say = job.words.say
    below = view.at((view.first + view.last) / 2, -view.depth)
    caption(canvas, (below[0], below[1] + 6.5), say("label.seen-from-inside"))
    # Above the scissors, between the hand and the arrow.
    spot = view.at(
        0.3 * (view.first if goes > 0 else view.last), 0.8 * m * math.cos(LEAN), 0.8 * m * math.sin(LEAN)
    )
    base = view.at(goes * s, m)[1] - 9.2
    reach = view.at(goes * s, m)[0] + screen * 2.6
    callout(canvas, spot, (reach, base), say("label.outside-end"), side=-screen)
    sides = (view.at(goes * s, 0.5 * m), view.at(view.last if goes > 0 else view.first, 0.5 * m))
    word(canvas, between(*sides, 0.5), say("label.start-end"))
    labels = [
        Label(say("label.cut-away"), part="cut-away", wish=180 if screen > 0 else 0),
    ]
    return Picture(canvas, labels)


def _wall(canvas: Canvas, view: Rim, goes: float) -> None:
    ends = (view.first, 0.0) if goes > 0 else (0.0, view.last)
    wall(canvas, view, *ends, waves=(goes > 0, goes < 0), part="panel-outside-end")
    ends = (0.0, view.last) if goes > 0 else (view.first, 0.0)
    wall(canvas, view, *ends, waves=(goes < 0, goes > 0), part="panel-start-end")
    ring_bar(canvas, view, view.first, view.last)


def _outside_end(canvas: Canvas, view: Rim, goes: float, s: float, m: float) -> None:
    """The outer layer's margin, leaning out, its edge at the far side of the overlap, held by a hand."""
    far = view.first if goes > 0 else view.last
    up, away = m * math.cos(LEAN), m * math.sin(LEAN)
    edge = goes * s
    outline = [view.at(far, 0.0), view.at(edge, 0.0), view.at(edge, up, away), view.at(far, up, away)]
    sheet(canvas, outline, CLOTH_BACK, part="outside-end")


def _near_layer(canvas: Canvas, view: Rim, goes: float, s: float, m: float, screen: float) -> None:
    far = view.last if goes > 0 else view.first
    edge = goes * s
    piece = view.strip(0.0, edge, 0.0, m)
    tip = view.at(edge, 0.52 * m)
    run = direction(view.at(0.0, 0.0), view.at(edge, 0.0))
    along = math.degrees(math.atan2(-run[1], run[0]))
    second = add(view.at(0.35 * edge, 0.0), (0.0, -0.5))
    tool(canvas, "scissors", tip, -90.0, scale=0.85)
    tool(canvas, "scissors", second, along, scale=0.7)
    sheet(canvas, view.strip(edge, far, 0.0, m), CLOTH_BACK, part="start-end")
    with canvas.group("removed", "cut-away"):
        canvas.area(piece, WHITE)
        hatch(canvas, piece, *WASTE_HATCH)
        canvas.line([view.at(0.0, 0.0), view.at(0.0, m), view.at(edge, m)], NEW)
    with canvas.group("action", "cut-line"):
        canvas.line([view.at(edge, m), view.at(edge, 0.0)], CUTTING)
        canvas.line([view.at(0.0, 0.0), view.at(edge, 0.0)], CUTTING)
    # One blade in front of the inner layer, the other behind it.
    with canvas.clip(box(tip[0] - 40, 0, tip[0], 90) if screen > 0 else box(tip[0], 0, tip[0] + 40, 90)):
        tool(canvas, "scissors", tip, -90.0, scale=0.85)
    away = add(second, run, -40.0)
    above = Polygon(
        [away, add(second, run, 20.0), add(add(second, run, 20.0), (0, -30)), add(away, (0, -30))]
    )
    with canvas.clip(above):
        tool(canvas, "scissors", second, along, scale=0.7)
    top = view.at(edge, m)
    action(canvas, [add(top, (screen * 5.4, -10.0)), add(top, (screen * 5.4, -1.6))])
    numbered(canvas, add(top, (screen * 8.9, -7.4)), "1")
    # Along the ring, from the free start edge inwards.
    y, low = -view.thick / 2, -view.thick - 2.8 / view.frame.scale
    tail, stop = (
        view.at(-goes * 11.0 / view.frame.scale, low, y),
        view.at(-goes * 1.2 / view.frame.scale, low, y),
    )
    action(canvas, [tail, stop])
    numbered(canvas, add(tail, (-screen * 3.2, screen * 0.4)), "2")


def _hand(canvas: Canvas, view: Rim, goes: float, m: float, screen: float) -> None:
    """A pinch holds the outer layer back, well away from the blades."""
    far = view.first if goes > 0 else view.last
    up, away = m * math.cos(LEAN), m * math.sin(LEAN)
    tip = add(view.at(0.8 * far, up, away), (0.0, 1.2))
    hand(canvas, "pinch", tip, -90 + screen * 6, scale=0.75, flip=screen > 0)


def _values(canvas: Canvas, job: Job, view: Rim, goes: float) -> None:
    """The notch's length under the ring, its width at the far end."""
    s, m = job.shade.overlap, job.shade.margin
    length, width = job.measures.shown("notch_length"), job.measures.shown("notch_width")
    a, b = view.at(0.0, -view.thick), view.at(goes * s, -view.thick)
    if a[0] > b[0]:
        a, b = b, a
    dimension(
        canvas,
        a,
        b,
        job.words.number(length),
        measure="notch_length",
        value=length,
        across=(0.0, 1.0),
        offset=7.0,
    )
    far = view.last if goes > 0 else view.first
    low, high = view.at(far, 0.0), view.at(far, m)
    out = 1.0 if low[0] > view.at(0.0, 0.0)[0] else -1.0
    dimension(
        canvas,
        low,
        high,
        job.words.number(width),
        measure="notch_width",
        value=width,
        across=(out, 0.0),
        offset=5.6 if out > 0 else 3.4,
        # On whichever side the edge leans, the value stands left of its line.
        text_side=-1.0 if high[0] < low[0] - 1e-6 else 1.0,
    )


def _both_rims(canvas: Canvas, job: Job, across: tuple[float, float], floor: float) -> None:
    """The shade, small, plain end up: the seam gets its notch at either rim."""
    over = job.shade.fitter_end == "top"
    place = Box(across[0], 2.4, across[1], floor)
    small = stand(job.size, job.shade, bench(job.size.makers.hand == "left"), place, over=over)
    small.draw(canvas, role="context", printed=False)
    ends = [small.frame(small.wall.point(small.wall.start, h)) for h in (0.0, job.shade.slant)]
    with canvas.group("context", "seam"):
        canvas.line(ends, HEAVY)
    for end in ends:
        with canvas.group("detail", "notch-place"):
            canvas.circle(end, 1.9, None, NEW)
            canvas.circle(end, 0.7, SEA)
    canvas.blocked.append(box(across[0], 0.0, across[1], floor))


def _from_above(canvas: Canvas, job: Job, centre: Point, screen: float) -> None:
    """A: the two margins from above; the blades take the inner layer only."""
    cx, cy = centre
    thick = 1.2

    def at(along: float, out: float) -> Point:
        return cx + screen * along, cy - out

    cut, edge = 4.0, -4.0
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "section-ring"):
            canvas.area([at(-20, -5.6), at(20, -5.6), at(20, -2.6), at(-20, -2.6)], RING_TAPE, TOOL)
        with canvas.group("context", "section-outside-end"):
            spine = [(-20.0, 0.0), (edge - 3.6, 0.0), (edge + 0.6, 4.0), (cut, 4.8)]
            upper = [at(x, y + thick / 2) for x, y in spine]
            lower = [at(x, y - thick / 2) for x, y in reversed(spine)]
            canvas.area([*upper, *lower], CLOTH_BACK, THIN)
        with canvas.group("context", "section-start-end"):
            canvas.area([at(cut, 0.6), at(20, 0.6), at(20, -0.6), at(cut, -0.6)], CLOTH_BACK, THIN)
        gone = Polygon([at(edge, 0.6), at(cut, 0.6), at(cut, -0.6), at(edge, -0.6)])
        with canvas.group("removed", "section-cut-away"):
            canvas.area(gone, WHITE, NEW)
            hatch(canvas, gone, *WASTE_HATCH)
        with canvas.group("action", "section-cut"):
            canvas.line([at(cut, 1.0), at(cut, -1.0)], CUTTING)
        with canvas.group("action", "tool-blades"):
            for out in (1.75, -1.75):
                x, y = at(cut, out)
                canvas.area(
                    Dot(x, y).buffer(0.6).union(Dot(x, y + math.copysign(0.5, -out)).buffer(0.5)), CUFF
                )
    say = job.words.say
    word(canvas, at(0.0, 9.4), say("label.outside"))
    word(canvas, at(0.0, -9.2), say("label.inside"))
    caption(canvas, (cx, cy + RADIUS + 1.2 + 0.74 * EM), say("label.from-above"))
