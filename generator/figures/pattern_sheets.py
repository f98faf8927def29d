"""A printed pattern: its sheets are laid together, the crosses of one on those of the other, and taped."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from shapely import LineString, Polygon, box, transform
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.flat_sheet import FlatSheet, flat_sheet
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import KISS_CUT, LINER, NEW, THIN, TOOL, WHITE, Pen
from generator.figures.plan_panel import table
from generator.figures.plane import add, wave
from generator.shape.development import ENDS

Mirror = Callable[[float], float]
APART = 9.0
"""How far the right sheet still has to go, mm on paper."""
TOP, LOW = 2.0, 37.0
RADIUS = 11.5
CROSS = 2.2
"""Half the length of a cross's arms, mm on paper."""
OVERLAP = 5.0
"""How far the printed border of a sheet goes past its crosses, mm on paper."""


def pattern_sheets(job: Job) -> Picture:
    """Two neighbouring sheets from above, broken off: one lies, the other slides until the crosses meet."""
    left, shade = job.size.makers.hand == "left", job.shade
    canvas = Canvas(job.slot.width, job.slot.height + 20, view="plan")
    sheet = flat_sheet(job.size, shade)
    scale = (LOW - TOP - 9.0) / (shade.slant + 2 * sheet.edge) * 0.9
    canvas.scale = scale
    seam = canvas.width / 2 - 4.0
    lines = _drawn(sheet, (seam, (TOP + LOW) / 2), scale)
    around = box(0.5, TOP - 1.5, canvas.width - 0.5, LOW + 3.0)

    def mirrored(x: float) -> float:
        return canvas.width - x if left else x

    spots = [(seam, TOP + 5.0), (seam, LOW - 5.0)]
    moved = (APART, 2.0)
    first = _page(3.0, seam + OVERLAP, True)
    second = translate(_page(seam - OVERLAP, canvas.width - 3.0 - APART, False), *moved)
    pages = ((first, (0.0, 0.0), THIN, "context"), (second, moved, NEW, "new"))
    table(canvas, around.difference(_flip(first.union(second), mirrored).buffer(0.4)))
    for page, by, pen, role in pages:
        paper = _flip(page, mirrored)
        with canvas.group("new" if role == "new" else "context", "pattern-sheet"):
            canvas.area(paper, LINER, pen)
        with canvas.clip(paper), canvas.group("detail", "pattern"):
            for line, drawn in lines:
                canvas.line([(mirrored(x + by[0]), y + by[1]) for x, y in line], drawn)
        for spot in spots:
            _cross(canvas, (mirrored(spot[0] + by[0]), spot[1] + by[1]))
    grip = (mirrored(canvas.width - 20.0), LOW - 10.0)
    hand(canvas, "flat", grip, 160 if not left else 20, scale=0.8, flip=left)
    start = add(grip, (-6.0 if not left else 6.0, -13.0))
    way = -1.0 if not left else 1.0
    action(canvas, [start, add(start, (way * 12.0, -2.4))])
    centre = (mirrored(canvas.width / 2 + 6.0), LOW + 5.0 + RADIUS)
    _meeting(canvas, centre)
    canvas.blocked.append(circle(centre, RADIUS))
    low = (mirrored(spots[1][0]), spots[1][1])
    rims = (235, 130) if not left else (305, 50)
    link(canvas, low, 3.0, centre, RADIUS, "A", at_place=rims[0], at_detail=rims[1])
    to = 180.0 if not left else 0.0
    return Picture(
        canvas,
        [
            Label(say(job, "pattern-sheet"), at=(mirrored(9.0), LOW - 1.5), wish=270),
            Label(say(job, "cross"), at=add(centre, (-way * 3.6, 0.0)), wish=180.0 - to),
            Label(say(job, "tape"), at=add(centre, (way * 4.0, 3.6)), wish=to + 20.0),
            Label(say(job, "cut-line"), at=_on_line(lines[0][0], first, mirrored), wish=90, rank=1),
        ],
    )


def _drawn(sheet: FlatSheet, at: Point, scale: float) -> list[tuple[list[Point], Pen]]:
    """Cut line, rims and grain line round the middle of the pattern, on paper; that middle is ``at``."""
    mx, my = sheet.point(sheet.grain, sheet.shade.slant / 2)

    def put(points: list[Point]) -> list[Point]:
        return [(at[0] + (x - mx) * scale, at[1] - (y - my) * scale) for x, y in points]

    low, high = sheet.across(sheet.grain, sheet.edge)
    found = [(put([*sheet.loop(sheet.edge), sheet.loop(sheet.edge)[0]]), TOOL)]
    if sheet.edge:
        found += [(put(sheet.line(end, 0.0)), KISS_CUT) for end in ENDS]
    # The middle of the pattern stands beside the seam of the sheets, where the grain line is seen.
    shift = -14.0
    return [([(x + shift, y) for x, y in line], pen) for line, pen in [*found, (put([low, high]), THIN)]]


def _page(x0: float, x1: float, first: bool) -> Polygon:
    """A sheet of paper, broken off on the side away from the other one."""
    if first:
        edge = wave((x0, TOP), (x0, LOW), 0.8, 4.0)
        return Polygon([*edge, (x1, LOW), (x1, TOP)])
    edge = wave((x1, LOW), (x1, TOP), 0.8, 4.0)
    return Polygon([(x0, TOP), (x0, LOW), *edge])


def _flip(shape: BaseGeometry, mirrored: Mirror) -> BaseGeometry:
    return transform(shape, lambda all_: np.array([(mirrored(x), y) for x, y in all_]))


def _on_line(line: list[Point], page: Polygon, mirrored: Mirror) -> Point:
    """The middle of the upper part of a line that a sheet shows."""
    part = LineString(line).intersection(page)
    pieces = [piece for piece in getattr(part, "geoms", [part]) if piece.length > 1]
    upper = min(pieces, key=lambda piece: piece.centroid.y)
    spot = upper.interpolate(0.4, normalized=True)
    return mirrored(spot.x), spot.y


def _cross(canvas: Canvas, at: Point, size: float = CROSS) -> None:
    x, y = at
    with canvas.group("detail", "cross"):
        canvas.line([(x - size, y), (x + size, y)], TOOL)
        canvas.line([(x, y - size), (x, y + size)], TOOL)


def _meeting(canvas: Canvas, centre: Point) -> None:
    """The crosses lie on one another; a piece of tape holds the edge."""
    x, y = centre
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "detail-sheet"):
            canvas.area(box(x - 20, y - 20, x + 20, y + 20), LINER)
            canvas.area(box(x - 4.5, y - 20, x + 20, y + 20), LINER, TOOL)
        with canvas.group("new", "tape"):
            canvas.area(box(x - 9.0, y + 3.2, x + 1.0, y + 7.4), WHITE, NEW)
        _cross(canvas, centre, 4.0)
