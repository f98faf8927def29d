"""The pattern of a cone: both rims drawn from one pin with a strip of card, from above, true to scale."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString, Polygon, box

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import arc_dimension, dimension
from generator.figures.flat_sheet import FlatSheet
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import DIMENSION, INK, KISS_CUT, LINER, NEW, THIN, TOOL, WHITE
from generator.figures.plane import add, between, direction, normal, wave
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, fit, plan
from generator.shape.development import ENDS, End

REACHED = 0.6
"""How far along the arcs the strip has come."""
BROKEN = 1.25
"""A pin further away than so many inner radii of what is drawn is shown nearer, the strip broken off."""
STRIP = 3.0
"""Width of the strip of card on paper, mm."""
AWAY = 16.0
"""Distance of a pin that is shown nearer than it is, from the inner rim, mm on paper."""


@dataclass(frozen=True)
class Net:
    """The flat cone on paper."""

    sheet: FlatSheet
    frame: Frame
    pin: Point
    """On paper; where the pin is too far away, a nearer place on the way to it."""
    broken: bool

    def at(self, x: float, end: End, out: float = 0.0) -> Point:
        """A place of a rim, or outside of it, on paper."""
        px, py = self.sheet.at_rim(end, x, out)
        return self.frame((px, py, 0.0))

    def line(self, end: End, out: float, start: float, stop: float) -> list[Point]:
        """A rim, or a curve outside it, on paper."""
        points = self.sheet.line(end, out, start, stop)
        return [self.frame((x, y, 0.0)) for x, y in points]


def pattern_arcs(job: Job) -> Picture:
    """The pencil in the outer hole follows the strip round; the inner arc is drawn."""
    left, shade = job.size.makers.hand == "left", job.shade
    canvas = Canvas(job.slot.width, job.slot.height + 16, view="plan")
    net = _net(job, Box(3.0, 3.0, canvas.width - 3.0, canvas.height - 10.0), left)
    frame = net.frame
    canvas.scale = frame.scale
    wide, narrow = shade.wide_end, shade.narrow_end
    round_, whole = shade.wrapped_length, shade.panel_length
    at = REACHED * round_
    _outline(canvas, net, shade.margin if shade.kiss_cut else 0.0)
    with canvas.group("new", "rims"):
        canvas.line(net.line(narrow, 0.0, 0.0, round_), NEW)
        canvas.line(net.line(wide, 0.0, 0.0, at), NEW)
    with canvas.group("detail", "arc-to-come"):
        canvas.line(net.line(wide, 0.0, at, round_), KISS_CUT)
    with canvas.group("detail", "seam-edges"):
        for x in (0.0, round_):
            canvas.line([net.at(x, "bottom"), net.at(x, "top")], THIN)
    if shade.overlap > 0:
        with canvas.group("detail", "overlap"):
            canvas.line([net.at(whole, "bottom"), net.at(whole, "top")], THIN)
    _radii(canvas, job, net)
    _around(canvas, job, net)
    inner, outer = net.at(at, narrow), net.at(at, wide)
    _strip(canvas, net, inner, outer)
    ahead = net.line(wide, 0.0, at, at + 0.3 * round_)
    along = direction(net.pin, outer)
    turn = direction(ahead[0], ahead[2])
    # The pencil leans away from the pin, the hand behind it.
    lean = direction((0.0, 0.0), (-along[0] - 0.5 * turn[0], -along[1] - 0.5 * turn[1]))
    degrees = math.degrees(math.atan2(-lean[1], lean[0]))
    tool(canvas, "pencil", outer, degrees, scale=0.8)
    hand(canvas, "hold", add(outer, lean, -7.5), degrees, scale=0.7, flip=left)
    path = net.line(wide, -2.6 / frame.scale, at + 3.2 / frame.scale, at + 15.0 / frame.scale)
    action(canvas, path)
    labels = [
        Label(say(job, "pin"), at=net.pin, wish=90 if wide == "bottom" else 270),
        Label(say(job, "card-strip"), at=between(net.pin, inner, 0.5), wish=20),
        Label(say(job, "seam-edge"), at=net.at(round_, "bottom" if wide == "bottom" else "top"), rank=1),
    ]
    if net.sheet.edge:
        cut = net.at(0.12 * round_, wide, net.sheet.edge)
        labels.append(Label(say(job, "cut-line"), at=cut, rank=1))
    return Picture(canvas, labels)


def _net(job: Job, place: Box, left: bool) -> Net:
    shade = job.shade
    sheet = FlatSheet(shade)
    sheet = FlatSheet(shade, -sheet.heading(shade.wrapped_length / 2))
    low, high = sheet.across(shade.wrapped_length / 2)
    narrow, wide = (high, low) if shade.wide_end == "bottom" else (low, high)
    towards = direction(wide, narrow)
    radius = math.dist(low, high) * shade.rim_length(shade.narrow_end)
    radius /= abs(shade.rim_length("bottom") - shade.rim_length("top"))
    loop = sheet.loop(sheet.edge)
    xs = [x for x, _ in loop]
    broken = radius > BROKEN * (max(xs) - min(xs))
    pin = add(narrow, towards, radius)
    points = [(x, y, 0.0) for x, y in loop] + ([] if broken else [(*pin, 0.0)])
    room = AWAY + 3.0 if broken else 3.0
    inner = (
        Box(place.left, place.top + room, place.right, place.bottom)
        if towards[1] > 0
        else Box(place.left, place.top + 8.0, place.right, place.bottom - room)
    )
    frame = fit(plan(left), points, inner, anchor="top")
    if not broken:
        return Net(sheet, frame, frame((*pin, 0.0)), broken)
    low, high = (frame((*p, 0.0)) for p in sheet.across(REACHED * shade.wrapped_length))
    near, far = (high, low) if shade.wide_end == "bottom" else (low, high)
    return Net(sheet, frame, add(near, direction(far, near), AWAY), broken)


def _outline(canvas: Canvas, net: Net, edge: float) -> None:
    """Where the pattern will be cut out."""
    loop = [net.frame((x, y, 0.0)) for x, y in net.sheet.loop(edge)]
    with canvas.group("context", "pattern"):
        canvas.area(loop, WHITE)
    # Without margin strips the rims themselves are cut: they are drawn with the strip.
    with canvas.group("detail", "cut-line"):
        if edge:
            canvas.line([*loop, loop[0]], THIN)
        else:
            whole, round_ = net.sheet.shade.panel_length, net.sheet.shade.wrapped_length
            for end in ENDS:
                canvas.line(net.line(end, 0.0, round_, whole), THIN)


def _strip(canvas: Canvas, net: Net, inner: Point, outer: Point) -> None:
    """The strip of card: the pin at one end, a hole for the pencil at each rim."""
    along = direction(net.pin, outer)
    start, end = add(net.pin, along, -2.4), add(outer, along, 2.4)
    body = LineString([start, end]).buffer(STRIP / 2, cap_style="flat")
    with canvas.group("new", "strip"):
        canvas.area(body, LINER, NEW)
    if net.broken:
        cut = between(net.pin, inner, 0.5)
        side = normal(along)
        a, b = add(cut, side, STRIP), add(cut, side, -STRIP)
        edges = [wave(add(a, along, k), add(b, along, k), 0.5, 1.0) for k in (-0.8, 0.8)]
        with canvas.group("context", "break"):
            canvas.area(Polygon([*edges[0], *reversed(edges[1])]), WHITE)
            for line in edges:
                canvas.line(line, THIN)
    with canvas.group("new", "pin"):
        canvas.circle(net.pin, 1.1, INK)
    with canvas.group("detail", "hole"):
        canvas.circle(inner, 0.7, WHITE, TOOL)


def _radii(canvas: Canvas, job: Job, net: Net) -> None:
    """From the pin to each rim: along the seam edges, or beside a strip whose pin is too far away."""
    shade = job.shade
    middle = net.at(shade.wrapped_length / 2, shade.wide_end)
    for x, end, measure in (
        (0.0, shade.narrow_end, "inner_radius"),
        (shade.wrapped_length, shade.wide_end, "outer_radius"),
    ):
        tip = net.at(REACHED * shade.wrapped_length if net.broken else x, end)
        past = normal(direction(net.pin, tip))
        if net.broken:
            outwards = 1.6 if (past[0] < 0) == (x == 0.0) else -1.6
        else:
            outwards = -1.0 if (middle[0] - tip[0]) * past[0] + (middle[1] - tip[1]) * past[1] > 0 else 1.0
            with canvas.group("dimension", "radius"):
                canvas.line([net.pin, net.at(x, shade.narrow_end)], DIMENSION)
        dimension(
            canvas,
            net.pin,
            tip,
            text(job, measure),
            measure=measure,
            value=shown(job, measure),
            offset=outwards * 4.5,
        )
    canvas.blocked.append(box(net.pin[0] - 2.0, net.pin[1] - 2.0, net.pin[0] + 2.0, net.pin[1] + 2.0))


def _around(canvas: Canvas, job: Job, net: Net) -> None:
    """The length along the wide rim, between the seam edges."""
    shade = job.shade
    measure = "panel_wrapped" if "panel_wrapped" in job.measures else "wrapped_length"
    away = net.sheet.edge + 3.4 / net.frame.scale
    path = net.line(shade.wide_end, away, 0.0, shade.wrapped_length)
    arc_dimension(
        canvas,
        path,
        text(job, measure),
        measure=measure,
        value=shown(job, measure),
        side=-1.0 if shade.wide_end == "bottom" else 1.0,
    )
