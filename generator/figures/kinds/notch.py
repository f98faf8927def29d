"""Notch: the start end's margin goes where the ends overlap; the outside end's stays. Seen from inside."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Polygon, box

from generator.figures.arrows import action, numbered
from generator.figures.callouts import callout, word
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WASTE_HATCH, hatch
from generator.figures.insets import caption, inset
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import text
from generator.figures.pens import (
    CLOTH_BACK,
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
from generator.figures.turning import mark_shade, small_shade
from generator.figures.view import Box
from generator.shape.development import other_end

LIES = ("plain-end-up", "fitter-end-up")
"""The seam is notched at the rim of the plain end first, then at the other one."""
COLUMN = 26.4
VALUE = 7.4
"""Room for the upright dimension, mm."""
RADIUS = 12.6
OUT, IN = math.radians(38), math.radians(14)
"""How far the outside end is held back and the start end leans to us: each is seen beside the other."""


def start_goes(job: Job) -> float:
    """Whether the start end goes on to the right (+1) or to the left, seen from inside with the plain end up.

    With its top up a shade rolled by the right hand has its stations running to the right at the far wall.
    """
    return 1.0 if job.shade.fitter_end == "bottom" else -1.0


@dataclass(frozen=True)
class _Leaves:
    """The two margins that stand over the rim where the ends lap: x from the start edge, lengths in mm."""

    view: Rim
    goes: float
    lap: float
    margin: float

    @property
    def cut(self) -> float:
        """Where the first cut goes: an overlap from the start edge."""
        return self.goes * self.lap

    @property
    def ends(self) -> tuple[float, float]:
        """How far what is shown of the start end goes, and what is shown of the outside end."""
        view = self.view
        return (view.last, view.first) if self.goes > 0 else (view.first, view.last)

    def near(self, x: float, share: float) -> Point:
        """A place on the start end's margin, at this share of its height."""
        up = share * self.margin
        return self.view.at(x, up * math.cos(IN), -up * math.sin(IN))

    def far(self, x: float, share: float) -> Point:
        """A place on the outside end's margin, which a hand holds back."""
        up = share * self.margin
        return self.view.at(x, up * math.cos(OUT), up * math.sin(OUT))

    def piece(self, x0: float, x1: float) -> list[Point]:
        """The start end's margin between two places."""
        return [self.near(x0, 0.0), self.near(x1, 0.0), self.near(x1, 1.0), self.near(x0, 1.0)]

    def outside_end(self) -> list[Point]:
        """The outside end's margin: its edge is over the first cut."""
        x0, x1 = self.cut, self.ends[1]
        return [self.far(x0, 0.0), self.far(x1, 0.0), self.far(x1, 1.0), self.far(x0, 1.0)]


SMALL = ("main detail", "main")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Scene on the left; on the right how the shade stands now, and A from above."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 60.0)
    goes = start_goes(job)
    screen = goes * (-1.0 if left else 1.0)
    leaves = _Leaves(_rim(canvas, job, screen), goes, shade.overlap, shade.margin)
    view = leaves.view
    _wall(canvas, view, goes)
    sheet(canvas, leaves.outside_end(), CLOTH_BACK, part="outside-end")
    _near_layer(canvas, leaves, screen)
    tip = add(leaves.far(0.72 * leaves.ends[1], 1.0), (0.0, 1.2))
    hand(canvas, "pinch", tip, -90 + screen * 6, scale=0.75, flip=screen > 0)
    _values(canvas, job, leaves)
    x = 0.6 if left else canvas.width - COLUMN + 0.6
    _both_rims(canvas, job, (x, 0.8), left)
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, 17.6 + RADIUS)
    _from_above(canvas, job, centre, screen)
    canvas.blocked.append(circle(centre, RADIUS + 0.5))
    say = job.words.say
    below = view.at((view.first + view.last) / 2, -view.depth)
    caption(canvas, (below[0], below[1] + 6.5), say("label.seen-from-inside"))
    middle, labels = between(leaves.near(leaves.cut, 0.5), leaves.near(leaves.ends[0], 0.5), 0.5), []
    if text_width(say("label.start-end"), EM) < 2 * abs(middle[0] - leaves.near(leaves.cut, 0.5)[0]) - 1.0:
        word(canvas, middle, say("label.start-end"))
    else:
        labels.append(Label(say("label.start-end"), at=middle, wish=270))
    # On the outer leaf, past the start edge: on the start end it would name what stays.
    beyond = leaves.near(0.0, 0.58)
    callout(
        canvas,
        leaves.near(0.3 * leaves.cut, 0.5),
        (beyond[0] - screen * 1.4, beyond[1]),
        say("label.cut-away"),
        side=-screen,
        halo=True,
    )
    spot = leaves.far(0.36 * leaves.ends[1], 0.82)
    labels.append(Label(say("label.outside-end"), at=spot, wish=90))
    return Picture(canvas, labels)


def _rim(canvas: Canvas, job: Job, screen: float) -> Rim:
    """The rim of the plain end, as large as the overlap and the margins let it be."""
    shade, left = job.shade, job.size.makers.hand == "left"
    s, m = shade.overlap, shade.margin
    scale = min(17.2 / ((0.866 * math.cos(OUT) + 0.483 * math.sin(OUT)) * m), 11.2 / s)
    lean = 0.2588 * m * math.sin(OUT) * scale
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
    back, on = 0.33 * half, 0.67 * half
    return rim(
        shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=(x0 + (back if screen > 0 else on) * 0.966 * scale, 34.0),
        first=-back if start_goes(job) > 0 else -on,
        last=on if start_goes(job) > 0 else back,
        depth=11.0 / scale,
        end=other_end(shade.fitter_end),
    )


def _wall(canvas: Canvas, view: Rim, goes: float) -> None:
    ends = (view.first, 0.0) if goes > 0 else (0.0, view.last)
    wall(canvas, view, *ends, waves=(goes > 0, goes < 0), part="panel-outside-end")
    ends = (0.0, view.last) if goes > 0 else (view.first, 0.0)
    wall(canvas, view, *ends, waves=(goes < 0, goes > 0), part="panel-start-end")
    ring_bar(canvas, view, view.first, view.last)


def _near_layer(canvas: Canvas, leaves: _Leaves, screen: float) -> None:
    """The start end's margin between the blades of both cuts; the piece that goes, and the way it goes."""
    near, cut = leaves.near, leaves.cut
    tip = near(cut, 0.5)
    run = direction(near(0.0, 0.0), near(cut, 0.0))
    along = math.degrees(math.atan2(-run[1], run[0]))
    second = add(near(0.42 * cut, 0.0), (0.0, -0.5))
    tool(canvas, "scissors", tip, -90.0, scale=0.85)
    tool(canvas, "scissors", second, along, scale=0.85)
    sheet(canvas, leaves.piece(cut, leaves.ends[0]), CLOTH_BACK, part="start-end")
    piece = Polygon(leaves.piece(0.0, cut))
    with canvas.group("removed", "cut-away"):
        canvas.area(piece, WHITE)
        hatch(canvas, piece, *WASTE_HATCH)
        canvas.line([near(0.0, 0.0), near(0.0, 1.0), near(cut, 1.0)], NEW)
    with canvas.group("action", "cut-line"):
        canvas.line([near(cut, 1.0), near(cut, 0.0)], CUTTING)
        canvas.line([near(0.0, 0.0), near(cut, 0.0)], CUTTING)
    # One blade in front of the inner layer, the other behind it.
    with canvas.clip(box(tip[0] - 40, 0, tip[0], 90) if screen > 0 else box(tip[0], 0, tip[0] + 40, 90)):
        tool(canvas, "scissors", tip, -90.0, scale=0.85)
    away, ahead = add(second, run, -40.0), add(second, run, 20.0)
    with canvas.clip(Polygon([away, ahead, add(ahead, (0, -30)), add(away, (0, -30))])):
        tool(canvas, "scissors", second, along, scale=0.85)
    top = near(cut, 1.0)
    action(canvas, [add(top, (screen * 5.4, -10.0)), add(top, (screen * 5.4, -1.6))])
    numbered(canvas, add(top, (screen * 8.9, -7.4)), "1")
    # Along the ring, from the free start edge inwards.
    view = leaves.view
    y, low = -view.thick / 2, -view.thick - 2.8 / view.frame.scale
    tail, stop = (view.at(-leaves.goes * k / view.frame.scale, low, y) for k in (10.6, 1.4))
    action(canvas, [tail, stop])
    numbered(canvas, add(tail, (-screen * 3.2, screen * 0.4)), "2")
    # Both cuts done, the piece comes off upwards.
    action(canvas, [near(0.45 * cut, 0.7), near(0.45 * cut, 1.62)], "lift")


def _values(canvas: Canvas, job: Job, leaves: _Leaves) -> None:
    """The notch's length under the ring, its width at the far end."""
    length, width = job.measures.shown("notch_length"), job.measures.shown("notch_width")
    view = leaves.view
    a, b = sorted((view.at(0.0, -view.thick), view.at(leaves.cut, -view.thick)))
    dimension(
        canvas,
        a,
        b,
        text(job, "notch_length"),
        measure="notch_length",
        value=length,
        across=(0.0, 1.0),
        offset=7.0,
    )
    low, high = leaves.near(leaves.ends[0], 0.0), leaves.near(leaves.ends[0], 1.0)
    out = 1.0 if low[0] > view.at(0.0, 0.0)[0] else -1.0
    dimension(
        canvas,
        low,
        high,
        text(job, "notch_width"),
        measure="notch_width",
        value=width,
        across=(out, 0.0),
        offset=5.6 if out > 0 else 3.4,
    )


def _both_rims(canvas: Canvas, job: Job, at: Point, left: bool) -> None:
    """The shade stood on its end, small; the seam, or a joint, gets its notch at either rim."""
    wide, high = COLUMN - 1.2, 15.0
    # The seam comes first; where the picture serves once more, joints are notched.
    first = next(step for step in job.plan.steps if step.task.figure == job.step.task.figure)
    joint = job.shade.joints[0] if job.shade.joints and job.step.number != first.number else 0.0
    front = joint / job.shade.wrapped_length * job.shade.outline.length
    small = mark_shade(canvas, job, at, wide=wide, high=high, front=front, mirror=left)
    if small is None:
        place = Box(at[0] + wide / 4, at[1], at[0] + 3 * wide / 4, at[1] + high)
        small = small_shade(canvas, job.shade, place, LIES[0], front=front, mirror=left)
        canvas.blocked.append(box(at[0], at[1], at[0] + wide, at[1] + high))
    ends = list(small.front.values())
    with canvas.group("detail", "notch-place"):
        canvas.line(ends, HEAVY)
        for end in ends:
            canvas.circle(end, 1.6, None, NEW)
            canvas.circle(end, 0.7, SEA)


def _from_above(canvas: Canvas, job: Job, centre: Point, screen: float) -> None:
    """The two margins from above: the blades take the inner layer between them, the outer one is clear."""
    cx, cy = centre
    thick = 1.2

    def at(along: float, out: float) -> Point:
        return cx + screen * along, cy - out

    cut, edge = 5.2, -4.4
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "section-ring"):
            canvas.area([at(-20, -7.4), at(20, -7.4), at(20, -5.2), at(-20, -5.2)], RING_TAPE, TOOL)
        with canvas.group("context", "section-outside-end"):
            low, high = 5.7 - thick / 2, 5.7 + thick / 2
            canvas.area([at(-20, low), at(cut, low), at(cut, high), at(-20, high)], CLOTH_BACK, THIN)
        tool(canvas, "open-scissors", at(1.4, 0.0), 0.0 if screen > 0 else 180.0, scale=0.95)
        with canvas.group("context", "section-start-end"):
            canvas.area([at(cut, 0.6), at(20, 0.6), at(20, -0.6), at(cut, -0.6)], CLOTH_BACK, THIN)
        gone = Polygon([at(edge, 0.6), at(cut, 0.6), at(cut, -0.6), at(edge, -0.6)])
        with canvas.group("removed", "section-cut-away"):
            canvas.area(gone, WHITE, NEW)
            hatch(canvas, gone, *WASTE_HATCH)
        with canvas.group("action", "section-cut"):
            canvas.line([at(cut, 1.4), at(cut, -1.4)], CUTTING)
    say = job.words.say
    word(canvas, at(0.0, 9.2), say("label.outside"))
    word(canvas, at(0.0, -9.7), say("label.inside"))
    caption(canvas, (cx, cy + RADIUS + 1.2 + 0.74 * EM), say("label.from-above"))
