"""The paper pattern of a tapered shade on the cloth, print up, and the detail of what it must clear."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shapely import LineString, Polygon, unary_union
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.bolt import Bolt, bolt, paint_bolt
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.cloth import sprig
from generator.figures.dimensions import arc_dimension, dimension
from generator.figures.flat_sheet import FlatSheet, flat_sheet
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import DIMENSION, HEAVY, LINER, MOTIF, NEW, PRINT, TOOL
from generator.figures.plan_board import Board
from generator.figures.plan_panel import face
from generator.figures.plane import add, direction
from generator.figures.tools import tool
from generator.figures.view import Box
from generator.shape.development import ENDS

FRAME = 1.5
"""Motifs keep this far from the pattern's edge on paper, mm."""
ARC, ARC_LEAST = 4.4, 12.0
"""How far a length along a rim stands off the pattern, and the least that holds its value, mm."""
PLACE_AT = 0.6
"""Where along the near edge the detail is, as a share of the panel."""
TOP, LOW_END = 5.0, 43.0
"""Upper edge of the cloth, and how low it may reach, mm."""
PINS = (0.03, 0.43, 0.7, 0.97)
"""Where pins stand along each rim, as shares of the panel."""
RADIUS, PLACE = 12.3, 2.6
"""Of the detail and of its place in the picture, mm."""
AROUND = 45.0
"""Repeat of a print whose repeat the recipe does not state, real mm."""
CLEAR = 9.2
"""The clearance as drawn in the detail: its value fits between the arrowheads, mm."""


class Pattern:
    """The pattern on the cloth: the panel seen from the print side, and its outline on paper."""

    def __init__(self, job: Job, sheet: FlatSheet, place: Box) -> None:
        xs, ys = zip(*sheet.loop(sheet.edge), strict=True)
        self.sheet = sheet.moved(-min(xs), -min(ys))
        self.length, self.width = max(xs) - min(xs), max(ys) - min(ys)
        self.bolt: Bolt = bolt(job, place, self.length, self.width, 0.0, ARC + 2.4)
        self.view: Board = self.bolt.view
        self.area = Polygon(self.paper(self.sheet.loop(sheet.edge)))

    def paper(self, points: Sequence[Point]) -> list[Point]:
        """Places of the sheet, PVC up, on the paper that shows its other side."""
        return [self.view(self.length - x, y) for x, y in points]

    def across(self, x: float) -> tuple[Point, Point]:
        """The line across at a panel coordinate, lower end first."""
        low, high = self.paper(self.sheet.across(x, self.sheet.edge))
        return low, high


def pattern_on_cloth(job: Job, kind: str) -> Picture:
    """From above, the cloth print up. The print stands upright on one line across the pattern alone."""
    left, shade = job.size.makers.hand == "left", job.shade
    side = -1.0 if left else 1.0
    canvas = Canvas(job.slot.width, job.slot.height + 28, view="plan")
    place = Box(6.0, TOP, job.slot.width - 6.0, LOW_END)
    pattern = Pattern(job, flat_sheet(job.size, shade), place)
    view, sheet, grain = pattern.view, pattern.sheet, pattern.sheet.grain
    canvas.scale = view.scale
    paint_bolt(canvas, pattern.bolt)
    arcs = {end: pattern.paper(sheet.line(end, sheet.edge + ARC / view.scale, 0.0, grain)) for end in ENDS}
    arcs = {end: path for end, path in arcs.items() if LineString(path).length > ARC_LEAST}
    rooms = unary_union(
        [pattern.area.exterior.buffer(FRAME), *(LineString(p).buffer(4.0) for p in arcs.values())]
    )
    with canvas.group("new", "pattern"):
        canvas.area(pattern.area, LINER)
    _print(canvas, job, pattern, kind, rooms)
    with canvas.group("new", "pattern"):
        canvas.area(pattern.area, None, NEW)
    low, high = pattern.across(grain)
    with canvas.group("new", "grain-line"):
        canvas.line([low, high], HEAVY)
    for end, path in arcs.items():
        name = f"{end}_grain"
        arc_dimension(
            canvas,
            path,
            text(job, name),
            measure=name,
            value=shown(job, name),
            side=1.0 if end == "bottom" else -1.0,
        )
        with canvas.group("dimension", "arc-ends"):
            for x in (0.0, grain):
                canvas.line(
                    pattern.paper(
                        [sheet.at_rim(end, x, sheet.edge + k / view.scale) for k in (0.8, ARC + 1.2)]
                    ),
                    DIMENSION,
                )
    _pins(canvas, pattern)
    tip = pattern.paper([sheet.point(0.72 * shade.panel_length, 0.42 * shade.slant)])[0]
    hand(canvas, "flat", tip, 60 if not left else 120, scale=0.75, flip=left)
    reach = min(12.5, abs(low[0] - tip[0]) - 1.2)
    action(canvas, [add(tip, (side * (reach - 9.0), -2.0)), add(tip, (side * reach, -2.0))])
    labels = _detail(canvas, job, pattern, kind, side)
    upper = pattern.paper([sheet.point(grain, 0.8 * shade.slant)])[0]
    labels += [
        Label(say(job, "grain-line"), at=upper, wish=90 - side * 70),
        Label(
            say(job, "pattern"),
            at=pattern.paper([sheet.point(4.0, 0.8 * shade.slant)])[0],
            wish=90 - side * 50,
        ),
    ]
    return Picture(canvas, labels)


def _pins(canvas: Canvas, pattern: Pattern) -> None:
    """Pins across the edge all round, their heads outside."""
    sheet = pattern.sheet
    whole = sheet.shade.panel_length
    for end in ENDS:
        for share in PINS:
            inside, edge = pattern.paper(
                [sheet.at_rim(end, share * whole, sheet.edge - k) for k in (8.0, 0.0)]
            )
            along = direction(edge, inside)
            angle = math.degrees(math.atan2(-along[1], along[0]))
            tool(canvas, "pin", add(edge, along, 1.6), angle, scale=0.7)


def _print(canvas: Canvas, job: Job, pattern: Pattern, kind: str, rooms: BaseGeometry) -> None:
    """The print so that a motif, or a stripe, stands on the line where the grain is true."""
    if kind == "plain":
        face(canvas, job, pattern.view, pattern.bolt.cloth.difference(rooms))
        return
    scale = pattern.view.scale
    low, high = pattern.across(pattern.sheet.grain)
    middle = (low[0], (low[1] + high[1]) / 2)
    with canvas.group("context", "print"), canvas.clip(pattern.bolt.cloth):
        for motif in _motifs(job, kind, scale):
            lines = [[(middle[0] + x * scale, middle[1] - y * scale) for x, y in line] for line in motif]
            if kind == "stripe" or not any(LineString(line).intersects(rooms) for line in lines):
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


def _detail(canvas: Canvas, job: Job, pattern: Pattern, kind: str, side: float) -> list[Label]:
    """The near edge, enlarged: how far a motif inside, or a flaw outside, must stay from it."""
    measure = "motif_edge" if kind == "motif" else "motif_clear"
    clear, sheet = shown(job, measure), pattern.sheet
    k = CLEAR / clear / pattern.view.scale
    width = canvas.width / 2
    centre = (width - side * (width - RADIUS - 4.0), pattern.view.bottom + 4.0 + RADIUS)
    spot = add(centre, (0.0, 7.2 if kind == "motif" else -4.5))
    at = PLACE_AT * sheet.shade.panel_length
    place, beside = pattern.paper(
        [sheet.at_rim("bottom", at, sheet.edge), sheet.at_rim("bottom", at - 3.0, sheet.edge)]
    )
    turn = math.atan2(side * (beside[1] - place[1]), side * (beside[0] - place[0]))
    c, s = k * math.cos(turn), k * math.sin(turn)
    move = (spot[0] - c * place[0] - s * place[1], spot[1] + s * place[0] - c * place[1])
    area = affine_transform(pattern.area, [c, s, -s, c, *move])
    away = -1.0 if kind == "motif" else 1.0
    with inset(canvas, centre, RADIUS) as region:
        with canvas.group("new", "pattern"):
            canvas.area(area.intersection(region.buffer(20.0)), LINER, NEW)
        mark = add(spot, (away * side * 4.0, away * CLEAR))
        if kind == "motif":
            with canvas.group("context", "motif"):
                for line in sprig(mark[0], -mark[1] + 4.0, 7.0, 8.0):
                    canvas.line([(x, -y) for x, y in line], TOOL)
        else:
            _flaw(canvas, add(mark, (0.0, 1.0)))
    across = -away * side * 4.0
    start, end = add(spot, (across, 0.0)), add(spot, (across, away * CLEAR))
    with canvas.enlarged():
        dimension(
            canvas, start, end, text(job, measure), measure=measure, value=clear, offset=0.0, text_side=1.0
        )
    canvas.blocked.append(circle(centre, RADIUS))
    rims = (300, 35) if side > 0 else (240, 145)
    link(canvas, place, PLACE, centre, RADIUS, "A", at_place=rims[0], at_detail=rims[1])
    to = 0.0 if side > 0 else 180.0
    named = "motif" if kind == "motif" else "flaw"
    labels = [Label(say(job, named), at=add(mark, (side * 0.6, -2.5 * (kind == "motif"))), wish=to)]
    if kind == "motif":
        labels.append(Label(say(job, "pattern-edge"), at=add(spot, (side * 7.0, 0.0)), wish=to, rank=1))
    return labels


def _flaw(canvas: Canvas, at: Point) -> None:
    """A slub in the weave: a knot with two ends of thread."""
    x, y = at
    with canvas.group("context", "flaw"):
        canvas.line(
            [(x - 4.5, y + 0.7), (x - 2.2, y - 0.1), (x, y), (x + 2.2, y + 0.2), (x + 4.5, y - 0.6)], TOOL
        )
        canvas.area([(x - 2.2, y), (x - 0.4, y - 1.0), (x + 2.2, y + 0.1), (x + 0.3, y + 1.0)], PRINT)
