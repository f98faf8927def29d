"""Rough-cut: the piece on the cloth from above, part of its cut line already cut."""

from __future__ import annotations

from shapely import Polygon, box, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action, open_arrow
from generator.figures.bolt import LOW, bolt, paint_bolt, shown_cloth, turned
from generator.figures.canvas import Canvas, Point
from generator.figures.hatch import LIGHT_HATCH, WASTE_HATCH, hatch
from generator.figures.labels import Label
from generator.figures.lay import Lay, lay
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown
from generator.figures.pens import CLOTH_FACE, CUTTING, EM, HEAVY, KISS_CUT
from generator.figures.plan_board import Board, breaks
from generator.figures.plan_panel import beside, chain_x, chain_y, face, word
from generator.figures.plane import add
from generator.figures.tools import tool
from generator.figures.view import Box

CUT = 20.0
"""How far the shears have come, mm on paper."""


def draw(job: Job) -> Picture:
    """The shears run along the near edge, from the side of the hand that holds them."""
    on, left = lay(job), job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8, view="plan")
    whole = bolt(
        job, Box(1.0, 6.0, job.slot.width - 11.0, 46.0), on.length, on.width, 0.0 if on.sheet else LOW
    )
    view = whole.view
    canvas.scale = view.scale
    ahead = 1 if left else -1
    paint_bolt(canvas, whole)
    blank = view.rectangle(0.0, 0.0, on.length, on.width)
    with canvas.group("removed", "surround"):
        hatch(canvas, shown_cloth(whole).difference(blank), *WASTE_HATCH, LIGHT_HATCH)
    with canvas.group("new", "blank"):
        canvas.area(blank, CLOTH_FACE)
    # Words on the print stand in places that are kept clear of it.
    start, middle = view(0.0, on.width / 2), view(on.length, on.width * 0.7)
    along = turned(job)
    arrow, at, room = beside(add(start, (-ahead * 3.0, 0.0)), say(job, "grain"), 8.0 if along else 3.8, left)
    side = say(job, "cloth-right-side")
    half = text_width(side, EM) / 2 + 0.8
    middle = ((start[0] + middle[0]) / 2 - ahead * 6.0, middle[1])
    free = Box(middle[0] - half, middle[1] - 2.6, middle[0] + half, middle[1] + 2.6)
    clear = box(free.left, free.top, free.right, free.bottom)
    roomy = blank.buffer(-0.5).contains(clear) and not clear.intersects(room)
    face(canvas, job, view, blank.difference(unary_union([room, clear]) if roomy else room))
    if roomy:
        word(canvas, middle, side, "right-side", "middle")
    if on.sheet:
        _pattern(canvas, view, on, unary_union([room, clear]))
    span = (4.0, 0.0) if along else (0.0, 4.0)
    open_arrow(canvas, add(arrow, span, -1.0), add(arrow, span), double=True, part="grain")
    word(canvas, at, say(job, "grain"), "grain", "start")
    tip = _cut(canvas, view, on)
    breaks(canvas, view)
    tool(canvas, "shears", tip, 0 if left else 180, scale=0.9)
    rest = abs(tip[0] - start[0])
    action(canvas, [add(tip, (1.5 * ahead, 2.6)), add(tip, (max(8.0, min(12.5, rest - 2.0)) * ahead, 2.6))])
    chain_x(canvas, job, view, [(0.0, on.length, "cloth_length")], 0.0, -9.5, left=left)
    chain_y(canvas, job, view, [(0.0, on.width, "cloth_width")], 0.0 if left else on.length, -9.5)
    centre = (start[0] + view(on.length, 0.0)[0]) / 2
    with canvas.group("dimension", "dimension-diagonal", "diagonal", shown(job, "diagonal")):
        canvas.letters((centre, view.bottom + 15.0), say(job, "both-diagonals"), anchor="middle")
    seen = view(on.length - min(12.0 / view.scale, on.length / 3), on.width)
    labels = [Label(say(job, "cut-line"), at=seen, wish=60)]
    if on.sheet:
        x, y = on.sheet.at_rim("top", 0.7 * on.sheet.shade.panel_length, on.sheet.edge)
        labels.append(Label(say(job, "panel-goes-here"), at=view(on.length - x, y), wish=90, rank=1))
    return Picture(canvas, labels)


def _pattern(canvas: Canvas, view: Board, on: Lay, words: BaseGeometry) -> None:
    """Where the curved panel will lie, from the print side: the cut line stands clear of it all round."""
    loop = [view(on.length - x, y) for x, y in on.outline()]
    with canvas.group("detail", "panel-place"):
        canvas.line(Polygon(loop).exterior.difference(words), KISS_CUT)


def _cut(canvas: Canvas, view: Board, on: Lay) -> Point:
    """The line still to cut, the part that is cut; returns where the blades are."""
    cut = on.length - min(CUT / view.scale, 0.45 * on.length)
    with canvas.group("new", "cut-line"):
        view.line(canvas, [(cut, 0), (0, 0), (0, on.width), (on.length, on.width), (on.length, 0)], CUTTING)
        view.line(canvas, [(on.length, 0), (cut, 0)], HEAVY)
    return view(cut, 0.0)
