"""Join the panels: the next start end is lowered on to the seam tape of the panel before."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.insets import caption, inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import CLOTH_BACK, CLOTH_CUT, CLOTH_FACE, EM, NEW, PVC, SEAM_TAPE, THIN
from generator.figures.plane import add, between, wave
from generator.figures.rolling import facing, spread
from generator.figures.view import Box, Frame, Point3, bench, fit
from generator.shape.shade import Shade

RADIUS = 14.0
COLUMN = 30.0
LIFT, LIFT_TAPER = 0.34, 0.26
"""How high the start end is held, as a share of the height of the panel."""
BEFORE, BEYOND, BEYOND_TAPER = 0.42, 0.95, 0.7
"""How much of either panel is seen, as a share of its height up the slope; a curved one soon turns away."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


@dataclass(frozen=True)
class Lying:
    """The joint on the bench: its line runs straight away from the maker, its near end is the origin.

    Places are given by the way along the panels from the joint, mm, and the way up the slope.
    """

    shade: Shade
    joint: float

    @cached_property
    def _turn(self) -> tuple[float, float, Point]:
        turn = facing(self.shade, self.joint)
        return math.cos(turn), math.sin(turn), self.shade.flat(self.joint, 0.0)

    def place(self, along: float, up: float) -> Point:
        """A place of the flat panels."""
        c, s, (x0, y0) = self._turn
        x, y = self.shade.flat(self.joint + along, up)
        return (x - x0) * c - (y - y0) * s, (x - x0) * s + (y - y0) * c

    def past(self, along: float, up: float) -> Point:
        """A place of the panel before: beyond the joint its overlap runs straight on."""
        if along <= 0 or self.shade.development is None:
            return self.place(along, up)
        tau = self.shade.development.generator(self.joint).tau + facing(self.shade, self.joint)
        x, y = self.place(0.0, up)
        return x + along * math.cos(tau), y + along * math.sin(tau)

    @property
    def steps(self) -> int:
        """In how many pieces an edge is drawn."""
        return 24 if self.shade.tapered else 1


def draw(job: Job) -> Picture:
    """The bench on the left, the joint cut through on the right."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, max(job.slot.height, 2 * RADIUS + 13.0))
    on = Lying(shade, shade.joints[0])
    high = shade.slant
    lift = (LIFT_TAPER if shade.tapered else LIFT) * high
    first, last = -BEFORE * high, (BEYOND_TAPER if shade.tapered else BEYOND) * high
    x0, x1 = (COLUMN + 1.0, canvas.width - 0.8) if left else (0.8, canvas.width - COLUMN - 1.0)
    ys = (-shade.margin, high + shade.margin)
    ends: list[Point3] = [(*on.place(x, y), 0.0) for x in (first, last) for y in ys]
    ends += [(*on.place(0.0, y), lift) for y in ys]
    frame = fit(bench(left), ends, Box(x0, 9.0, x1, canvas.height - 7.0))
    m, lap = spread(shade.margin, frame.scale), spread(shade.overlap, frame.scale)
    _lying(canvas, job, frame, on, first, lap, m)
    start = _lowered(canvas, frame, on, last, lift, m)
    tip = between(*start, 0.62)
    hand(canvas, "pinch", tip, 180 - 205 if left else 205, scale=0.8, flip=left)
    down = between(*start, 0.26)
    action(canvas, [add(down, (0.0, 1.0)), add(down, (0.0, 0.8 * lift * 0.866 * frame.scale))])
    x = COLUMN / 2 if left else canvas.width - COLUMN / 2
    centre = (x, canvas.height / 2)
    _section(canvas, job, centre, -1.0 if left else 1.0)
    spot = frame((*on.past(lap / 2, 0.0), 0.0))
    link(
        canvas,
        spot,
        2.4,
        centre,
        RADIUS,
        "A",
        at_place=225 if left else 315,
        at_detail=-40 if left else 220,
    )

    def wish(degrees: float) -> float:
        return 180 - degrees if left else degrees

    outside = frame((*on.place(first * 0.7, 0.12 * high), 0.0))
    beyond = frame((*on.place(0.75 * last, 0.8 * high), 0.0))
    labels = [
        Label(say(job, "outside-end"), at=outside, wish=wish(262)),
        Label(say(job, "start-end"), at=start[1], wish=90),
        Label(say(job, "next-panel"), at=beyond, wish=wish(70), rank=1),
    ]
    return Picture(canvas, labels)


def _lying(canvas: Canvas, job: Job, frame: Frame, on: Lying, first: float, lap: float, m: float) -> None:
    """The outside end of the panel before, flat, its seam tape bared."""
    high = on.shade.slant

    def edge(x0: float, x1: float, y: float) -> list[Point]:
        xs = [x0 + (x1 - x0) * k / on.steps for k in range(on.steps + 1)]
        if on.shade.tapered and x0 < 0 < x1:
            xs = sorted({*xs, 0.0})  # from the joint on the overlap runs straight
        return [frame((*on.past(x, y), 0.0)) for x in xs]

    def block(x0: float, x1: float, y0: float, y1: float, *, torn: bool = True) -> list[Point]:
        near, far = edge(x0, x1, y0), edge(x0, x1, y1)
        end = wave(far[0], near[0], 0.7) if torn else [far[0], near[0]]
        return [*end, *near[1:], *reversed(far[1:])]

    whole = Polygon(block(first, lap, -m, high + m))
    with canvas.group("context", "cloth-margin"):
        canvas.area(whole, CLOTH_BACK, THIN)
    band = Polygon(block(first - 30.0, lap, 0.0, high, torn=False))
    with canvas.group("context", "panel"):
        canvas.area(band.buffer(0).intersection(whole.buffer(0)), PVC, THIN)
    if job.shade.hem:
        # The outside end is hemmed: the cloth comes round it and lies on the PVC, under the tape.
        fold = min(spread(job.shade.hem, frame.scale), 2 * lap)
        with canvas.group("context", "hem"):
            canvas.area(block(lap - fold, lap, 0.0, high, torn=False), CLOTH_FACE, THIN)
    inset_tape = 0.12 * lap
    wide, short = lap - 2 * inset_tape, spread(shown(job, "rim_inset"), frame.scale)
    with canvas.group("context", "seam-tape"):
        canvas.area(
            block(lap - inset_tape - wide, lap - inset_tape, short, high - short, torn=False), SEAM_TAPE
        )


def _lowered(
    canvas: Canvas, frame: Frame, on: Lying, last: float, lift: float, m: float
) -> tuple[Point, Point]:
    """The next panel, its start end held up over the tape; returns its start edge, near end first."""
    high = on.shade.slant

    def at(t: float, y: float) -> Point:
        # It lies flat beyond two thirds of what is seen, and bends up towards its start end.
        share = min(max(1.0 - t / (0.7 * last), 0.0), 1.0)
        return frame((*on.place(t, y), lift * share * share * (3 - 2 * share)))

    ts = [last * k / 40 for k in range(41)]

    def sheet(y0: float, y1: float) -> list[Point]:
        end = wave(at(last, y0), at(last, y1), 0.7)
        return [*(at(t, y0) for t in ts), *end[1:-1], *(at(t, y1) for t in reversed(ts))]

    with canvas.group("new", "next-panel"):
        canvas.area(sheet(-m, high + m), CLOTH_BACK)
    with canvas.group("new", "next-panel"):
        canvas.area(
            Polygon(sheet(0.0, high)).buffer(0).intersection(Polygon(sheet(-m, high + m)).buffer(0.01)),
            PVC,
            THIN,
        )
        for y in (-m, high + m):
            canvas.line([at(t, y) for t in ts], NEW)
        canvas.line([at(0.0, -m), at(0.0, high + m)], NEW)
        canvas.line(wave(at(last, -m), at(last, high + m), 0.7), THIN)
    return at(0.0, 0.0), at(0.0, high)


def _section(canvas: Canvas, job: Job, centre: Point, side: float) -> None:
    """Cut through from the near edge: the next start end on the tape, the overlap beneath."""
    cx, cy = centre
    thick, tape, k = 1.1, 1.0, 12.0 / job.shade.overlap
    level = cy + 2.6

    def at(x: float, up: float) -> Point:
        return cx + side * x, level - up

    a, b = -6.0, 6.0
    outer = b - shown(job, "tape_inset") * k
    inner = max(a, outer - job.size.tape.width * k)
    folded = thick if job.shade.hem else 0.0
    lift, ramp = 2 * thick + folded + tape, b + 4.6

    def layer(low: float) -> Polygon:
        return Polygon(
            [
                at(a, low + lift),
                at(b + 0.5 + folded, low + lift),
                at(ramp, low),
                at(40, low),
                at(40, low + thick),
                at(ramp, low + thick),
                at(b + 0.5 + folded, low + lift + thick),
                at(a, low + lift + thick),
            ]
        )

    canvas.blocked.append(circle(centre, RADIUS + 0.4))
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "section-outside-end"):
            cloth: BaseGeometry = Polygon([at(-40, 0), at(b, 0), at(b, thick), at(-40, thick)])
            if folded:
                hem = min(job.shade.hem * k, b - a + 3.0)
                end = [at(b - 0.01, 0), at(b + thick, 0), at(b + thick, 3 * thick), at(b - hem, 3 * thick)]
                turned = Polygon([*end, at(b - hem, 2 * thick), at(b - 0.01, 2 * thick)])
                cloth = unary_union([cloth, turned])
            canvas.area(cloth, CLOTH_CUT, THIN)
            pvc = Polygon([at(-40, thick), at(b, thick), at(b, 2 * thick), at(-40, 2 * thick)])
            canvas.area(pvc, PVC, THIN)
            hatch(canvas, pvc, *PVC_HATCH)
        low = 2 * thick + folded
        with canvas.group("context", "section-seam-tape"):
            canvas.area(
                [at(inner, low), at(outer, low), at(outer, low + tape), at(inner, low + tape)],
                SEAM_TAPE,
                THIN,
            )
        with canvas.group("new", "section-start-end"):
            canvas.area(layer(0.0), CLOTH_CUT, NEW)
            pvc = layer(thick)
            canvas.area(pvc, PVC, NEW)
            hatch(canvas, pvc, *PVC_HATCH)
        first, last = sorted((at(a, 0.0), at(b, 0.0)))
        dimension(
            canvas,
            first,
            last,
            text(job, "overlap"),
            measure="overlap",
            value=shown(job, "overlap"),
            offset=-6.4,
        )
    top = cy - RADIUS - 1.2
    tape_spot = at((inner + outer) / 2 + 2.0, 2 * thick + folded + tape / 2)
    callout(canvas, tape_spot, (cx + side * 14.6, top), say(job, "seam-tape"), side=-side)
    low_y = cy + RADIUS + 0.8 + 0.74 * EM
    caption(canvas, (cx, low_y), say(job, "cut-through"))
