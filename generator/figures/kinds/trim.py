"""Trim: the cutter runs along the panel's edge, or a margin outside it where a margin is to be cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString, Polygon, unary_union
from shapely import Point as Dot

from generator.figures.arrows import action
from generator.figures.bench_edge import Flat, on, rect, torn, window
from generator.figures.bench_panel import WEIGHT, weight
from generator.figures.callouts import callout, word
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WASTE_HATCH, hatch
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.near_edge import NearEdge, outside_corner
from generator.figures.numbers import say, shown, text
from generator.figures.pens import (
    CLOTH_BACK,
    CUFF,
    CUTTING,
    EM,
    LINER,
    NEW,
    PVC,
    SEAM_TAPE,
    TOOL,
    WHITE,
)
from generator.figures.plane import add, cut_short
from generator.figures.state import state_before
from generator.figures.turning import mark_flat
from generator.figures.view import Box, Frame, bench, fit

SHOWN, DEEP = 112.0, 66.0
"""How much of the panel is shown from its outside end inwards, and from its near edge away, real mm."""
BLADE = -58.0
"""Where the cutter has got to, real mm from the outside end."""
FALLEN = 17.0
"""How far the strip that is cut off has fallen away at its end, real mm."""
WHEEL, HANDLE, LEAN = 2.9, 15.0, 38.0
"""The cutter on paper: radius of its wheel and length of its handle, mm; slope of the handle, degrees."""
BESIDE = 0.7
"""Between a name and the weight, mm."""


@dataclass(frozen=True)
class Lines:
    """Where the blade goes, real mm from the near corner of the panel's outside end."""

    side: float
    """Distance of the cut from the panel's long edge."""
    end: float
    """Distance of the cut from the panel's end: the hem tab."""
    near: float
    """The cloth's near edge."""
    right: float
    """The cloth's outside edge."""


def draw(job: Job) -> Picture:
    """The near corner of the outside end, PVC up; the strip that is cut off falls away in front."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8)
    side = 0.0 if shade.kiss_cut else -shade.margin
    cut = Lines(side, shade.hem, side - max(shown(job, "slack_edges"), 6.0), shade.hem + 21.0)
    shape = outside_corner(shade, shade.margin if shade.kiss_cut else 0.0)
    extent = [(x, y, 0.0) for x in (-SHOWN, cut.right) for y in (cut.near - FALLEN, DEEP)]
    extent += [(x, y, 0.0) for x, y in shape.line(-SHOWN, 0.0, cut.near - FALLEN)]
    frame = fit(bench(left), extent, Box(1.5, 1.0, job.slot.width - 1.5, canvas.height - 6))
    low = shape(-SHOWN, 0.0)[1] if shade.tapered else side
    view = window(frame, -SHOWN, low, cut.right, DEEP, ("left", "far"))
    near, far = _border(shape, cut), (cut.right, DEEP + 9)
    reached = [shape(BLADE, cut.side), *near, (near[-1][0], far[1])]
    behind = [*shape.all([(-SHOWN - 12, DEEP + 9)]), *shape.line(-SHOWN - 12, BLADE, cut.side)]
    view.sheet(canvas, "cloth", [*reached, *behind], CLOTH_BACK)
    view.sheet(canvas, "panel", [*shape.strip(-SHOWN - 70, 0.0, 0.0, 2 * DEEP + 30)], PVC)
    state = state_before(job)
    if state.strips:
        view.line(canvas, "kiss-cut", shape.line(-SHOWN - 9, 0.0, shade.margin), state.kiss_cut)
    elif shade.kiss_cut:
        view.sheet(canvas, "cloth-margin", shape.strip(-SHOWN - 70, 0.0, 0.0, shade.margin), CLOTH_BACK)
    if state.seam_tape:
        inner, wide = shown(job, "tape_inset"), job.size.tape.width
        rim = shown(job, "rim_inset") + (shade.margin if shade.kiss_cut else 0.0)
        view.sheet(canvas, "seam-tape", rect(-inner - wide, rim, -inner, 2 * DEEP), SEAM_TAPE)
    if shade.hem:
        view.sheet(canvas, "hem-tab", rect(0.0, side, cut.end, DEEP + 9), CLOTH_BACK)
    waste = _waste(canvas, frame, cut, shape)
    view.line(canvas, "trimmed-edge", shape.line(-SHOWN - 9, BLADE, cut.side), NEW, "new")
    ahead = [*shape.line(BLADE, 0.0, cut.side), (cut.end, cut.side), (cut.end, DEEP + 9)]
    view.line(canvas, "cut-line", ahead, CUTTING, "action")
    view.tear(canvas)
    labels = [Label(say(job, "waste"), at=waste, rank=0, wish=270)]
    at_gauge = shade.margin and not shade.kiss_cut
    labels += _with_gauge(canvas, job, frame, shape) if at_gauge else _at_edge(canvas, job, frame, shape)
    if shade.hem:
        labels += _tab(canvas, job, frame, cut)
    place = frame((*shape(BLADE, cut.side), 0.0))
    _cutter(canvas, place, left)
    course = on(frame, shape.line(BLADE, 0.0, cut.side))
    action(canvas, cut_short(course, 5.2, max(0.0, LineString(course).length - 15.5)))
    mark_flat(canvas, job, (job.slot.width - 18.5 if left else 1.0, 1.0))
    return Picture(canvas, labels)


def _border(shape: NearEdge, cut: Lines) -> list[Flat]:
    """The cloth's near edge from the blade on: cut straight, or, of a taper, broken off in a wave."""
    if shape.sheet is None:
        return [(BLADE, cut.near), (cut.right, cut.near)]
    places = [BLADE + (cut.right - BLADE) * k / 48 for k in range(49)]
    return [shape(s, cut.near + 1.3 * math.sin(s / 3.2)) for s in places]


def _waste(canvas: Canvas, frame: Frame, cut: Lines, shape: NearEdge) -> Point:
    """The strip of cloth that is cut off, falling away from the blade on; returns a place in its middle."""
    upper: list[Flat] = []
    lower: list[Flat] = []
    for k in range(25):
        t = k / 24
        x, fall = BLADE - t * (SHOWN + BLADE), FALLEN * (1 - math.cos(math.pi * t)) / 2
        for line, v in ((upper, cut.side), (lower, cut.near)):
            place = shape(x, v)
            line.append((place[0], place[1] - fall))
    end = torn(frame, upper[-1], lower[-1])
    strip = Polygon([*on(frame, upper), *end[1:-1], *reversed(on(frame, lower))])
    with canvas.group("removed", "waste"):
        canvas.area(strip, WHITE)
        hatch(canvas, strip, *WASTE_HATCH)
        canvas.area(strip, None, NEW)
    x, y = upper[17]
    return frame((x, y - 0.62 * (cut.side - cut.near), 0.0))


def _cutter(canvas: Canvas, place: Point, left: bool) -> None:
    """A rotary cutter in the hand, its wheel standing on the cut at ``place``; the handle trails."""
    sign = -1.0 if left else 1.0
    back = (-sign * math.cos(math.radians(LEAN)), -math.sin(math.radians(LEAN)))
    hub = add(place, (0.0, -WHEEL))
    neck, grip, end = (add(hub, back, k) for k in (3.2, 9.2, HANDLE))
    wheel = Dot(hub).buffer(WHEEL)
    guard = wheel.buffer(0.5).intersection(LineString([hub, neck]).buffer(2.1, cap_style="flat"))
    with canvas.group("action", "tool-rotary-cutter"):
        canvas.area(wheel, WHITE, TOOL)
        canvas.area(unary_union([guard, LineString([hub, neck]).buffer(1.0)]), LINER, TOOL)
        canvas.area(LineString([neck, end]).buffer(1.35), CUFF, TOOL)
        canvas.circle(hub, 0.55, CUFF)
    hand(canvas, "hold", grip, 180.0 + LEAN if left else -LEAN, scale=0.95, flip=left)


def _at_edge(canvas: Canvas, job: Job, frame: Frame, shape: NearEdge) -> list[Label]:
    """A weight holds the panel; a kiss cut is named so that nobody cuts along it."""
    left, width, m = job.size.makers.hand == "left", job.slot.width, job.shade.margin
    foot = shape(-26.0, 0.3 * DEEP)
    if state_before(job).strips:
        spot, name = frame((*shape(-40.0, m), 0)), frame((*shape(-42.5, 0.57 * DEEP), 0))
        callout(canvas, spot, name, say(job, "kiss-cut"), side=0)
        # A long name has the weight stand as much farther on as it would cover of it.
        corner = frame((foot[0], foot[1] + WEIGHT[1] / frame.scale, 0.0))
        short = text_width(say(job, "kiss-cut"), EM) / 2 + BESIDE - abs(corner[0] - name[0])
        if short > 0:
            foot = (foot[0] + short / abs(frame((1.0, 0.0, 0.0))[0] - frame((0.0, 0.0, 0.0))[0]), foot[1])
    if not job.shade.hem:
        spot, y = frame((-0.84 * SHOWN, 0.87 * DEEP, 0)), frame((-0.6 * SHOWN, DEEP, 0))[1] - 2.6
        callout(canvas, spot, (width - 21.0 if left else 21.0, y), say(job, "panel"), side=-1 if left else 1)
    top = weight(canvas, frame, foot)
    return [Label(say(job, "weight"), at=top, rank=1, wish=80)]


def _with_gauge(canvas: Canvas, job: Job, frame: Frame, shape: NearEdge) -> list[Label]:
    """A block as wide as the margin, laid against the panel: the cut line runs along its other side."""
    m = job.shade.margin
    x0, x1, high = -25.0, -4.0, 3.0
    with canvas.group("context", "tool-gauge"):
        a, b, c, d = shape.all(rect(x0, -m, x1, 0.0))
        front = [*on(frame, [a, b]), *on(frame, [b, a], high)]
        side = [*on(frame, [d, a]), *on(frame, [a, d], high)]
        for face, fill in ((front, CUFF), (side, CUFF), (on(frame, [a, b, c, d], high), LINER)):
            canvas.area(face, fill, TOOL)
    dimension(
        canvas,
        frame((*shape(0.95 * -SHOWN, -m), 0)),
        frame((*shape(0.95 * -SHOWN, 0.0), 0)),
        text(job, "margin"),
        measure="margin",
        value=shown(job, "margin"),
        offset=0.0,
    )
    word(canvas, frame((-38.0, 0.68 * DEEP, 0)), say(job, "panel"))
    return [Label(say(job, "gauge"), at=frame((*shape((x0 + x1) / 2, -0.4 * m), high)), rank=0, wish=100)]


def _tab(canvas: Canvas, job: Job, frame: Frame, cut: Lines) -> list[Label]:
    """Width of the tab of cloth that stays on at the outside end, up to the cut line."""
    first, last = sorted((frame((0.0, cut.side, 0.0)), frame((cut.end, cut.side, 0.0))))
    left = frame.view.mirror
    dimension(
        canvas,
        first,
        last,
        text(job, "hem"),
        measure="hem",
        value=shown(job, "hem"),
        offset=-8.0,
        outside="start" if left else "end",
    )
    return [Label(say(job, "cloth-tab"), at=frame((cut.end / 2, 0.6 * DEEP, 0.0)), rank=0, wish=90)]
