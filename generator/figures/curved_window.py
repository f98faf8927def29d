"""The curved window of a tapered shade on the cloth, print up, and the detail of what it must clear."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shapely import LineString, Polygon, box
from shapely.affinity import affine_transform

from generator.figures.arrows import action, numbered
from generator.figures.bolt import Bolt, bolt, paint_bolt
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.cloth import sprig
from generator.figures.dimensions import dimension
from generator.figures.flat_sheet import FlatSheet, flat_sheet
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, EM, HEAVY, LINER, MOTIF, NEW, PRINT, THIN, TOOL
from generator.figures.plan_board import Board
from generator.figures.plan_panel import face, word
from generator.figures.plane import add, direction
from generator.figures.tools import tool
from generator.figures.view import Box

FRAME = 1.5
"""Width of the window's frame on paper, mm."""
TOP, LOW_END = 9.0, 43.0
"""Upper edge of the cloth, and how low it may reach, mm."""
RADIUS, PLACE = 12.3, 2.6
"""Of the detail and of its place in the picture, mm."""
AROUND = 45.0
"""Repeat of a print whose repeat the recipe does not state, real mm."""
CLEAR = 9.2
"""The clearance as drawn in the detail: its value fits between the arrowheads, mm."""


class Window:
    """The window on the cloth: the panel's outline seen from the print side, and that outline on paper."""

    def __init__(self, job: Job, sheet: FlatSheet, place: Box) -> None:
        xs, ys = zip(*sheet.loop(sheet.edge), strict=True)
        self.sheet = sheet.moved(-min(xs), -min(ys))
        self.length, self.width = max(xs) - min(xs), max(ys) - min(ys)
        self.bolt: Bolt = bolt(job, place, self.length, self.width, 0.0)
        self.view: Board = self.bolt.view
        self.hole = Polygon(self.paper(self.sheet.loop(sheet.edge)))

    def paper(self, points: Sequence[Point]) -> list[Point]:
        """Places of the sheet, PVC up, on the paper that shows its other side."""
        return [self.view(self.length - x, y) for x, y in points]

    def across(self, x: float) -> tuple[Point, Point]:
        """The line across at a panel coordinate, lower end first."""
        low, high = self.paper(self.sheet.across(x, self.sheet.edge))
        return low, high


def curved_window(job: Job, kind: str) -> Picture:
    """From above, the cloth print up. The print stands upright on one line across the window alone."""
    left = job.size.makers.hand == "left"
    side = -1.0 if left else 1.0
    canvas = Canvas(job.slot.width, job.slot.height + 28, view="plan")
    place = (
        Box(11.0, TOP, job.slot.width - 1.0, LOW_END)
        if left
        else Box(1.0, TOP, job.slot.width - 11.0, LOW_END)
    )
    window = Window(job, flat_sheet(job.size, job.shade), place)
    view, last = window.view, job.shade.panel_length
    canvas.scale = view.scale
    paint_bolt(canvas, window.bolt)
    _print(canvas, job, window, kind)
    with canvas.group("new", "window"):
        canvas.area(
            window.hole.buffer(FRAME, join_style="mitre", mitre_limit=2.0).difference(window.hole), LINER, NEW
        )
    seam = window.across(0.0)
    with canvas.group("new", "seam-line"):
        canvas.line(seam, HEAVY)
    low, high = window.across(window.sheet.grain)
    with canvas.group("detail", "grain-line"):
        canvas.line([add(high, (0.0, -FRAME - 1.5)), low], BROKEN_OFF)
    centre = window.hole.centroid
    ends = [*seam, *window.across(last)]
    for corner in ends:
        along = direction((0.0, 0.0), (0.35 * (corner[0] - centre.x), corner[1] - centre.y))
        tool(canvas, "pin", add(corner, along, 0.8), math.degrees(math.atan2(along[1], -along[0])), scale=0.8)
    # The hand pushes the frame from its own side; the pins stand in all corners.
    x = low[0] + side * 15.0
    foot = window.hole.intersection(LineString([(x, 0.0), (x, 200.0)])).bounds[3] + FRAME
    hand(canvas, "flat", (x, foot - 0.6), 90, scale=0.75, flip=left)
    below = view.bottom + 9.0
    first = (x - side * 8.0, below)
    action(canvas, [add(first, (-side * 2.6, 0.0)), add(first, (-side * 13.0, 0.0))])
    numbered(canvas, first, "1")
    outer = max(ends, key=lambda p: side * p[0] + 0.2 * p[1])
    second = (view(window.length, 0.0)[0] + 4.0 * side, below)
    with canvas.group("detail", "leader"):
        canvas.line([second, add(outer, (side * 1.6, 2.0))], THIN)
    numbered(canvas, second, "2")
    word(canvas, add(second, (0.0, 5.0)), say(job, "pin"), "pin", "middle")
    callout(
        canvas,
        add(high, (0.0, -FRAME - 1.5)),
        (high[0], view.top - 5.4),
        say(job, "grain-true-here"),
        side=0,
        dot=False,
    )
    half = text_width(say(job, "grain-true-here"), EM) / 2 + 2.0
    canvas.blocked.append(box(high[0] - half, view.top - 9.0, high[0] + half, view.top - 4.0))
    labels = _detail(canvas, job, window, low, kind, side)
    middle = ((seam[0][0] + seam[1][0]) / 2, (seam[0][1] + seam[1][1]) / 2)
    labels.append(Label(say(job, "seam-line"), at=middle, wish=90 + side * 90))
    return Picture(canvas, labels)


def _print(canvas: Canvas, job: Job, window: Window, kind: str) -> None:
    """The print so that a motif, or a stripe, stands on the line where the grain is true."""
    if kind == "plain":
        face(canvas, job, window.view, window.bolt.cloth)
        return
    scale = window.view.scale
    low, high = window.across(window.sheet.grain)
    middle = (low[0], (low[1] + high[1]) / 2)
    ring = window.hole.exterior.buffer(FRAME)
    with canvas.group("context", "print"), canvas.clip(window.bolt.cloth):
        for motif in _motifs(job, kind, scale):
            lines = [[(middle[0] + x * scale, middle[1] - y * scale) for x, y in line] for line in motif]
            if kind == "stripe" or not any(LineString(line).intersects(ring) for line in lines):
                for line in lines:
                    canvas.line(line, MOTIF)


def _motifs(job: Job, kind: str, scale: float) -> Iterator[list[list[Point]]]:
    """Whole repeats apart from the middle, real mm, so far apart that lines stay apart on paper."""
    repeat = job.size.covering.repeat
    around = (repeat.around if repeat and repeat.around else None) or AROUND
    up = (repeat.up if repeat and repeat.up else None) or AROUND
    wide = math.ceil((2.4 if kind == "stripe" else 7.0) / (around * scale)) * around
    tall = math.ceil(8.0 / (up * scale)) * up
    reach = math.ceil(50.0 / scale / min(wide, tall)) + 1
    for k in range(-reach, reach + 1):
        if kind == "stripe":
            for edge in (-0.15, 0.15):
                x = (k + edge) * wide
                yield [[(x, -100.0 / scale), (x, 100.0 / scale)]]
            continue
        for row in range(-reach, reach + 1):
            yield list(sprig(k * wide, row * tall, 0.6 * tall, 0.8 * tall))


def _detail(canvas: Canvas, job: Job, window: Window, low: Point, kind: str, side: float) -> list[Label]:
    """The window's near edge, enlarged: how far a motif inside, or a flaw outside, must stay from it."""
    measure = "motif_edge" if kind == "motif" else "motif_clear"
    clear = shown(job, measure)
    k = CLEAR / clear / window.view.scale
    width = canvas.width / 2
    centre = (width - side * (width - RADIUS - 4.0), window.view.bottom + 3.0 + RADIUS)
    spot = add(centre, (0.0, 7.2 if kind == "motif" else -4.5))
    hole = affine_transform(window.hole, [k, 0, 0, k, spot[0] - k * low[0], spot[1] - k * low[1]])
    away = -1.0 if kind == "motif" else 1.0
    with inset(canvas, centre, RADIUS) as region:
        near = hole.intersection(region.buffer(20.0))
        with canvas.group("new", "window"):
            canvas.area(near.buffer(4.0, join_style="mitre").difference(near), LINER, NEW)
        at = add(spot, (-side * 4.0, away * CLEAR))
        if kind == "motif":
            with canvas.group("context", "motif"):
                for line in sprig(at[0], -at[1] + 4.0, 7.0, 8.0):
                    canvas.line([(x, -y) for x, y in line], TOOL)
        else:
            _flaw(canvas, add(at, (0.0, 1.0)))
    start, end = add(spot, (side * 4.0, 0.0)), add(spot, (side * 4.0, away * CLEAR))
    dimension(canvas, start, end, text(job, measure), measure=measure, value=clear, offset=0.0, text_side=1.0)
    canvas.blocked.append(circle(centre, RADIUS))
    canvas.blocked.append(box(low[0] - 3.0, low[1] - 3.0, low[0] + 3.0, low[1] + 3.0))
    rims = (300, 215) if side > 0 else (240, 325)
    link(canvas, low, PLACE, centre, RADIUS, "A", at_place=rims[0], at_detail=rims[1] - 180)
    to = 0.0 if side > 0 else 180.0
    named = "motif" if kind == "motif" else "flaw"
    frame = add(spot, (side * 6.0, 2.0))
    return [
        Label(say(job, named), at=add(at, (side * 0.6, -2.5 * (kind == "motif"))), wish=to),
        Label(say(job, "window"), at=frame, wish=to),
    ]


def _flaw(canvas: Canvas, at: Point) -> None:
    """A slub in the weave: a knot with two ends of thread."""
    x, y = at
    with canvas.group("context", "flaw"):
        canvas.line(
            [(x - 4.5, y + 0.7), (x - 2.2, y - 0.1), (x, y), (x + 2.2, y + 0.2), (x + 4.5, y - 0.6)], TOOL
        )
        canvas.area([(x - 2.2, y), (x - 0.4, y - 1.0), (x + 2.2, y + 0.1), (x + 0.3, y + 1.0)], PRINT)
