"""Both rings of a taper from above, one in the other, their middles together: the mark carried straight out.

The fitter ring gets its mark; a rule through the middle of the hub and that mark shows the other's place.
That holds for rings of any sizes, as long as their sides are parallel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from shapely import Polygon, box

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import arc_dimension, dimension
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, DIMENSION, HEAVY, LINER, NEW, THIN, TOOL, WHITE
from generator.figures.plane import add, between
from generator.figures.rings import ring
from generator.figures.state import state_before
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, fit, plan
from generator.shape.development import ENDS, End, other_end
from generator.shape.outline import Outline
from generator.shape.shade import Shade

STRIP = 3.0
"""Breadth of the paper strip on paper, mm."""
RULE = 4.6
"""Breadth of the rule on paper, mm."""
BESIDE = 0.8
"""The rule lies so far beside the line through the marks that they are seen, mm on paper."""
NEAREST = 4.4
"""The rings are drawn at least this far apart at their marks, mm on paper: a smaller gap is spread."""
SEEN = 0.2
"""How much of the rings is seen beyond their middle, as a share of the larger depth."""


@dataclass(frozen=True)
class Nest:
    """Both rings on paper. ``side`` is the picture's side, before any mirroring, of a positive arc length."""

    shade: Shade
    frame: Frame
    side: float
    shrunk: float
    """The inner ring is drawn at this share of its size."""

    @cached_property
    def fitter(self) -> End:
        """End of the fitter ring."""
        return self.shade.fitter_end

    def outline(self, end: End) -> Outline:
        """Outside of the wire."""
        return self.shade.rim(end)

    def share(self, end: End) -> float:
        """How much smaller than true a ring is drawn."""
        return self.shrunk if end == self.inner else 1.0

    @property
    def inner(self) -> End:
        """The ring that lies inside, judged at the seam mark."""
        return min(ENDS, key=lambda end: self.shade.rim(end).depth)

    def at(self, end: End, s: float, out: float = 0.0) -> Point:
        """A ring's outside at arc length s, ``out`` paper mm further out."""
        outline, k = self.outline(end), self.share(end)
        (x, y), psi = outline.point(s % outline.length), outline.psi(s % outline.length)
        away = out / self.frame.scale
        return self.frame((self.side * (k * x + away * math.sin(psi)), k * y - away * math.cos(psi), 0.0))

    def beside(self, end: End, share: float, way: float) -> Point:
        """A ring's outside a share of its length from the mark, on the picture's right (+1) or left (-1)."""
        found = (self.at(end, sign * share * self.outline(end).length) for sign in (-1.0, 1.0))
        return max(found, key=lambda p: way * p[0])

    def run(self, start: float, stop: float, out: float) -> list[Point]:
        """A line along the fitter ring between two arc lengths, ``out`` paper mm off the wire."""
        return [self.at(self.fitter, start + (stop - start) * k / 60, out) for k in range(61)]

    def draw(self, canvas: Canvas, end: End, *, taped: bool) -> None:
        """One ring; the fitter ring with its hub on top."""
        k, fitter = self.share(end), end == self.fitter

        def embed(p: Point, h: float) -> Point3:
            return self.side * k * p[0], k * p[1], h

        part = "fitter-ring" if fitter else "plain-ring"
        ring(
            canvas,
            self.frame,
            self.shade,
            embed,
            0.0,
            part=part,
            fitter=fitter,
            inward=1.0,
            end=end,
            taped=taped,
        )


def nested(job: Job, along_wire: bool, start: float) -> Picture:
    """``along_wire``: the mark is measured along the fitter ring's wire from arc length ``start``."""
    left = job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.max_height, view="plan")
    nest = _nest(job, canvas, left, along_wire)
    frame, fitter, plain = nest.frame, nest.fitter, other_end(nest.fitter)
    canvas.scale = frame.scale
    middle = frame((0.0, 0.0, 0.0))
    reach = max(nest.outline(end).depth for end in (fitter, plain))
    cut = frame((0.0, SEEN * reach, 0.0))[1]
    with canvas.clip(box(0.0, cut, canvas.width, canvas.height)):
        for end in (plain, fitter):
            nest.draw(canvas, end, taped=state_before(job).taped)
    # The strip lies on the left, or where the measured place is; rule, arrow and pencil on the other side.
    from_ = -1.0 if not along_wire or nest.side * start <= 0 else 1.0
    names = _along(canvas, job, nest, start) if along_wire else _from_side(canvas, job, nest)
    way = -from_ * (-1.0 if left else 1.0)
    marks = {end: nest.at(end, 0.0) for end in (fitter, plain)}
    _rule(canvas, middle, max(p[1] for p in marks.values()), min(p[1] for p in marks.values()), way)
    for end in (fitter, plain):
        with canvas.group("new", "seam-mark"):
            canvas.line([add(marks[end], (0.0, -2.4)), add(marks[end], (0.0, 1.4))], HEAVY)
    _carry(canvas, marks[fitter], marks[plain], way)
    names += [
        Label(
            say(job, noun),
            at=max(
                (nest.at(end, sign * share * nest.outline(end).length) for sign in (-1, 1)),
                key=lambda p: way * p[0],
            ),
            wish=30.0 if way > 0 else 150.0,
            rank=rank,
        )
        for end, noun, share, rank in ((fitter, "fitter-ring", 0.27, 0), (plain, "plain-ring", 0.2, 1))
    ]
    below = add(marks[plain], (0.0, 1.0)) if plain != nest.inner else add(marks[fitter], (0.0, 1.0))
    names.append(Label(say(job, "seam-mark"), at=below, wish=250.0 if way > 0 else 290.0))
    with canvas.group("label", "caption"):
        x = 0.6 if way > 0 else canvas.width - 0.6
        canvas.letters((x, canvas.height - 2.6), say(job, "from-above"), anchor="start" if way > 0 else "end")
    return Picture(canvas, names)


def _nest(job: Job, canvas: Canvas, left: bool, along_wire: bool) -> Nest:
    shade = job.shade
    # A pendant's fitter ring is turned over for this, so that its hub is on top.
    side = 1.0 if shade.fitter_end == "top" else -1.0
    rims = [shade.rim("bottom"), shade.rim("top")]
    wide, deep = max(rim.width for rim in rims) / 2, max(rim.depth for rim in rims) / 2
    # Room for names beside the rings, and for the set square on the side where the work begins.
    near, far = 7.0 if along_wire else 17.5, 7.0
    place = Box(far if left else near, 2.0, canvas.width - (near if left else far), canvas.height - 20.5)
    frame = fit(plan(left), [(x, y, 0.0) for x in (-wide, wide) for y in (-deep, SEEN * 2 * deep)], place)
    depths = sorted(rim.depth / 2 for rim in rims)
    most = (depths[1] - NEAREST / frame.scale) / depths[0]
    return Nest(shade, frame, side, min(1.0, most))


def _rule(canvas: Canvas, middle: Point, low: float, high: float, way: float) -> None:
    """The rule on both wires, one edge through the middle of the hub; ``way`` is the side that it lies on."""
    x, top, foot = middle[0] + BESIDE * way, middle[1] + 0.35 * (high - middle[1]), low + 5.0
    with canvas.group("detail", "through-the-middle"):
        canvas.line([middle, (middle[0], foot)], BROKEN_OFF)
        canvas.circle(middle, 0.6, WHITE, NEW)
    with canvas.group("new", "rule"):
        canvas.area([(x, top), (x + way * RULE, top), (x + way * RULE, foot), (x, foot)], LINER, NEW)
        for k in range(1, int((foot - top) / 1.6)):
            y = foot - 1.6 * k
            canvas.line([(x, y), (x + way * (1.6 if k % 5 == 0 else 1.0), y)], THIN)


def _carry(canvas: Canvas, from_: Point, to: Point, way: float) -> None:
    """From the fitter ring's mark to the plain ring's: the arrow beside the rule, pencil and hands."""
    side = way * (RULE + 2.6)
    out = 1.0 if to[1] > from_[1] else -1.0
    long = max(abs(to[1] - from_[1]), 8.0)
    tail, tip = add(to, (side, -out * long)), add(to, (side, 0.0))
    action(canvas, [tail, tip])
    angle = 128.0 if way > 0 else 52.0
    tool(canvas, "pencil", add(to, (0.2 * way, 0.6)), angle, scale=0.9)
    aft = (-math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    hand(
        canvas, "pinch", add(add(to, (0.2 * way, 0.6)), aft, 7.0), angle - way * 14, scale=0.75, flip=way < 0
    )


def _along(canvas: Canvas, job: Job, nest: Nest, start: float) -> list[Label]:
    """A paper strip along the wire from the nearest strut; the wire itself from a corner of a polygon."""
    corner = _kind(job) == "polygon"
    gap = abs(nest.at(nest.fitter, 0.0)[1] - nest.at(other_end(nest.fitter), 0.0)[1])
    inside = nest.inner == nest.fitter
    line = 3.4 if corner else 1.0 + STRIP + 3.0
    if inside and gap < line + 5.6:
        # No room between the rings: the value stands outside both.
        line = gap + 3.6
    if not corner:
        strip = [*nest.run(start, -0.14 * start, 1.0), *reversed(nest.run(start, -0.14 * start, 1.0 + STRIP))]
        with canvas.group("context", "paper-strip"):
            canvas.area(strip, WHITE, TOOL)
    with canvas.group("dimension", "dimension-seam_mark", "seam_mark", shown(job, "seam_mark")):
        for s in (start, 0.0):
            canvas.line([nest.at(nest.fitter, s, line - 2.0), nest.at(nest.fitter, s, line + 1.2)], DIMENSION)
    arc_dimension(
        canvas,
        nest.run(start, 0.0, line),
        text(job, "seam_mark"),
        measure="seam_mark",
        value=shown(job, "seam_mark"),
        side=-1.0,
    )
    spot = nest.at(nest.fitter, start)
    outer = 180.0 if spot[0] < canvas.width / 2 else 0.0
    labels = [Label(say(job, "corner" if corner else "strut"), at=spot, wish=outer)]
    if not corner:
        place = nest.at(nest.fitter, 0.7 * start, 1.0 + STRIP / 2)
        labels.append(Label(say(job, "paper-strip"), at=place, wish=200.0 if outer else 340.0, rank=1))
    return labels


def _from_side(canvas: Canvas, job: Job, nest: Nest) -> list[Label]:
    """A set square at the neighbouring side of the fitter ring; the measure before both rings."""
    rim, k, scale = nest.outline(nest.fitter), nest.share(nest.fitter), nest.frame.scale
    half, deep = k * rim.width / 2, k * rim.depth / 2
    frame = nest.frame
    low = -max(deep, max(nest.outline(end).depth * nest.share(end) / 2 for end in (nest.inner, nest.fitter)))
    near = low - 8.0 / scale
    reach = max(-0.3 * deep, near + 20.0 / scale)
    corners = [
        frame((x, y, 0.0)) for x, y in ((-half, near), (-half, reach), (-half - 0.6 * (reach - near), near))
    ]
    middle = (sum(p[0] for p in corners) / 3, sum(p[1] for p in corners) / 3)
    hole = [(m + 0.42 * (c - m), n + 0.42 * (d - n)) for (c, d), (m, n) in ((p, middle) for p in corners)]
    with canvas.group("context", "set-square"):
        canvas.area(Polygon(corners, [hole]), LINER, TOOL)
    dimension(
        canvas,
        frame((-half, low, 0.0)),
        frame((0.0, low, 0.0)),
        text(job, "seam_mark"),
        measure="seam_mark",
        value=shown(job, "seam_mark"),
        offset=5.0,
        across=(0.0, 1.0),
    )
    place = between(between(corners[0], corners[2], 0.62), middle, 0.3)
    return [Label(say(job, "square"), at=place, wish=265.0)]


def _kind(job: Job) -> str:
    """Outline of the fitter ring."""
    ends = job.size.ends
    assert ends is not None
    return ends.at(job.shade.fitter_end).outline
