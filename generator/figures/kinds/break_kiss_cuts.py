"""Break the kiss cuts: the strip is bent down over the bench's edge until the PVC parts; the cloth holds."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action, small_action
from generator.figures.bench_edge import WAVE_DEPTH, on, ruled, window
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.near_edge import NearEdge, long_edge
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BENCH, CLOTH_BACK, CLOTH_CUT, EM, KISS_CUT, NEW, PVC, THIN, WHITE
from generator.figures.plane import arc, wave
from generator.figures.view import Box, Frame, bench, fit

BEND = 52.0
"""How far down the strip is bent, degrees."""
LONG, DEEP, DROP = 8.4, 2.9, 1.75
"""What is shown of the panel along its edge and away from it, and of the bench's front face, in margins."""
FROM, TO = 3.3, 6.2
"""The strip is bent up to the first place and still flat from the second on, in margins."""
LEVEL = 2.2
"""The kiss cut of a curved panel lies along the bench's edge here, in margins."""
OPEN, CLOSED = 1.5, 0.12
"""Width of the open kiss cut on paper, mm; up to this bend, radians, it is still closed."""


def bend_at(x: float) -> float:
    """Share of the whole bend at a place along the edge, in margins."""
    t = min(max((x - FROM) / (TO - FROM), 0.0), 1.0)
    return 1 - t * t * (3 - 2 * t)


SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Bench and panel, the strip bent down as far as the hands have got; a section of the open kiss cut."""
    left, m = job.size.makers.hand == "left", job.shade.margin
    canvas = Canvas(job.slot.width, job.slot.height + 12)
    radius = 15.0
    start, stop = -1.35 * m, (LONG + 0.5) * m
    extent = [(x, y, z) for x in (start, stop) for y, z in ((DEEP * m, 0.0), (0.0, -DROP * m))]
    frame = fit(bench(left), extent, Box(1.5, 1.0, job.slot.width - 1.5, canvas.height), anchor="top")
    _bench(canvas, frame, start, stop, DROP * m)
    view = window(frame, 0.0, -m, LONG * m, DEEP * m, ("right", "far"))
    # The kiss cut of a curved panel meets the straight bench edge where the strip is being bent.
    shape = long_edge(job.shade, 0.0, LEVEL * m)
    view.sheet(canvas, "panel", shape.strip(0.0, (LONG + 1) * m, 0.0, (DEEP + 1) * m), PVC, None)
    view.line(canvas, "panel", shape.all([(0.0, 0.0), (0.0, DEEP * m)]), THIN)
    xs = [LONG * m * k / 48 for k in range(49)] + [(LONG + 0.6) * m]
    turn = [math.radians(BEND) * bend_at(x / m) for x in xs]
    inner = [frame((*shape(x, 0.0), 0.0)) for x in xs]
    outer = [frame((*shape(x, -m * math.cos(b)), -m * math.sin(b))) for x, b in zip(xs, turn, strict=True)]
    with canvas.clip(view.region):
        with canvas.group("new", "margin-strip"):
            canvas.area(ruled(inner, outer), PVC)
            canvas.line([inner[0], outer[0], *outer[1:]], NEW)
        slot = [frame((*shape(x, OPEN / (0.5 * frame.scale) * bend_at(x / m)), 0.0)) for x in xs]
        parted = sum(b > CLOSED for b in turn)
        with canvas.group("new", "kiss-cut-open"):
            canvas.area([*inner, *reversed(slot)], CLOTH_BACK)
            canvas.line(slot[:parted], NEW)
            canvas.line(inner[:parted], NEW)
    ahead = [shape(x, 0.0) for x in xs[parted:]]
    view.line(canvas, "kiss-cut", ahead, KISS_CUT)
    view.tear(canvas)
    _margin(canvas, job, inner[0], outer[0], frame, left)
    _hands(canvas, frame, m, left, shape)
    centre = (radius + 1.0 if left else job.slot.width - radius - 1.0, canvas.height - radius - 0.8)
    _section(canvas, job, centre, radius)
    spot = frame((3.3 * m, 0.0, 0.0))
    link(canvas, spot, 2.4, centre, radius, "A", at_place=60 if left else 120, at_detail=145)
    corner, words = frame((0.0, DEEP * m, 0.0)), say(job, "kiss-cut-open")
    # What is longer than the free paper before the panel's corner stands above the edge.
    beside = abs(corner[0] - (job.slot.width if left else 0.0)) - 2.0
    rise = 3.0 if text_width(words, EM) < beside else 5.0
    name = (job.slot.width - 1.0 if left else 1.0, corner[1] - rise)
    callout(
        canvas,
        frame((*shape(0.1 * m, 0.05 * m), 0.0)),
        name,
        words,
        side=-1 if left else 1,
    )
    strip = frame((1.2 * m, -0.45 * m, -0.6 * m))
    return Picture(canvas, [Label(say(job, "margin-strip"), at=strip, wish=270)])


def _bench(canvas: Canvas, frame: Frame, start: float, stop: float, drop: float) -> None:
    """The bench's edge and its front face, broken off below and at both ends."""
    top = [frame((start, 0.0, 0.0)), frame((stop, 0.0, 0.0))]
    low = [frame((start, 0.0, -drop)), frame((stop, 0.0, -drop))]
    broken = wave(low[0], low[1], WAVE_DEPTH, 7, 80)
    with canvas.group("context", "bench"):
        canvas.area([*top, *reversed(broken)], BENCH)
        canvas.line(top, THIN)
        canvas.line(broken, THIN)


def _margin(canvas: Canvas, job: Job, inner: Point, outer: Point, frame: Frame, left: bool) -> None:
    """The strip's width, at the panel's start end; its extension lines run along the bench's edge."""
    away = (
        frame((-1.0, 0.0, 0.0))[0] - frame((0.0, 0.0, 0.0))[0],
        frame((-1.0, 0, 0))[1] - frame((0, 0, 0))[1],
    )
    dimension(
        canvas,
        inner,
        outer,
        text(job, "margin"),
        measure="margin",
        value=shown(job, "margin"),
        offset=5.0,
        across=away,
        level=True,
    )


def _hands(canvas: Canvas, frame: Frame, m: float, left: bool, shape: NearEdge) -> None:
    """One hand holds the panel down, the other bends the strip and works along."""
    hold = frame((2.75 * m, 1.45 * m, 0.0))
    hand(canvas, "flat", hold, 172 if left else 8, scale=0.85, flip=not left, part="hand-holding")
    b = math.radians(BEND)
    grip = frame((0.86 * FROM * m, -0.9 * m * math.cos(b), -0.9 * m * math.sin(b)))
    hand(canvas, "pinch", grip, 70 if left else 110, scale=0.85, flip=left, part="hand-bending")
    x, r = 4.55 * m, 1.18 * m
    path = [
        frame((x, -r * math.cos(math.radians(a)), -r * math.sin(math.radians(a)))) for a in range(-38, 46, 6)
    ]
    action(canvas, path, part="bend")
    action(canvas, on(frame, shape.line(5.2 * m, 7.0 * m, 1.0 * m)), part="work-along")


def _section(canvas: Canvas, job: Job, centre: Point, radius: float) -> None:
    """Cut through the bench's edge: the PVC has parted at the kiss cut, the cloth runs on round the edge."""
    cx, cy = centre
    pvc, cloth = 2.1, 1.6
    turn = math.radians(BEND)
    along, out = (-math.cos(turn), math.sin(turn)), (-math.sin(turn), -math.cos(turn))
    edge = (cx - 1.2, cy - 1.2)

    def down(s: float, t: float) -> Point:
        """A place on the bent part: s along it from the bench's edge, t off it."""
        return edge[0] + along[0] * s + out[0] * t, edge[1] + along[1] * s + out[1] * t

    far = cx + radius + 2
    with inset(canvas, centre, radius) as region:
        with canvas.group("context", "detail-bench"):
            canvas.area([edge, (far, edge[1]), (far, cy + 20), (edge[0], cy + 20)], BENCH, THIN)
        with canvas.group("context", "detail-cloth"):
            round_ = arc(edge, cloth, 90, 90 + BEND, 8)
            upper = [(far, edge[1] - cloth), *round_, down(20.0, cloth)]
            canvas.area([*upper, down(20.0, 0.0), edge, (far, edge[1])], CLOTH_CUT, THIN)
        with canvas.group("new", "detail-pvc"):
            low = edge[1] - cloth
            flat = Polygon([(edge[0], low), (far, low), (far, low - pvc), (edge[0], low - pvc)])
            bent = Polygon(
                [down(s, t) for s, t in ((0, cloth), (20, cloth), (20, cloth + pvc), (0, cloth + pvc))]
            )
            for piece, turned in ((flat, 0.0), (bent, BEND)):
                canvas.area(piece, WHITE, NEW)
                hatch(canvas, piece.intersection(region), PVC_HATCH[0] + turned, PVC_HATCH[1])
    small_action(canvas, arc(edge, 9.6, 150, 199, 12), part="bend")
    callout(canvas, (cx + 5.0, low - pvc / 2), (cx + 3.0, low - pvc - 2.2), say(job, "pvc"))
    callout(canvas, (cx + 2.4, low + cloth / 2), (cx + 2.6, edge[1] + 4.6), say(job, "cloth"))
