"""Burnish: the laminated panel, turned face up, is rolled from its middle outwards."""

from __future__ import annotations

import math

from shapely import box

from generator.figures.arrows import action, small_action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.lay import Lay, corners, lay
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import CLOTH_FACE, EM, NEW, THIN
from generator.figures.plan_board import Board, board, breaks
from generator.figures.plan_panel import face, word
from generator.figures.plane import add, direction
from generator.figures.tools import tool
from generator.figures.turning import mark_flat
from generator.figures.view import Box

HIGH = 17.0
"""Least height of the cloth on paper, mm."""
ROOMY = 50.0
"""A panel at least this long on paper has room for the hand beside the arrows, mm."""


def draw(job: Job) -> Picture:
    """From above. The work was turned over sideways, so the start end now lies at the other side."""
    on, left = lay(job), job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8, view="plan")
    place = Box(3.0, 13.5, job.slot.width - 3.0, 13.5 + 34.0)
    view = board(not left, place, on.length, on.width, 0.0 if on.sheet else HIGH, 0.85)
    canvas.scale = view.scale
    side = -1.0 if left else 1.0
    cloth = view.rectangle(0.0, 0.0, on.length, on.width)
    x0, _, x1, _ = cloth.bounds
    mark_flat(canvas, job, (x1 - 21.0 if left else x0 + 4.0, 1.0))
    with canvas.group("new", "face"):
        view.area(canvas, corners(0.0, 0.0, on.length, on.width), CLOTH_FACE)
    if on.sheet:
        return Picture(canvas, _curved(canvas, job, view, on))
    px0, py0, px1, py1 = view.rectangle(on.start, on.near, on.end, on.far).bounds
    centre = ((px0 + px1) / 2, (py0 + py1) / 2)
    words = say(job, "face")
    spot = (centre[0] - side * 0.55 * (centre[0] - px0), (py0 + centre[1]) / 2 + 0.4)
    half = text_width(words, EM) / 2 + 0.9
    roomy = px1 - px0 > ROOMY and centre[1] - py0 > 6.4
    clear = box(spot[0] - half, spot[1] - 2.4, spot[0] + half, spot[1] + 2.4)
    face(canvas, job, view, cloth.difference(clear) if roomy else cloth)
    with canvas.group("context", "panel-edge"):
        view.area(canvas, corners(on.start, on.near, on.end, on.far), None, THIN)
    with canvas.group("new", "face"):
        view.area(canvas, corners(0.0, 0.0, on.length, on.width), None, NEW)
    breaks(canvas, view)
    if roomy:
        word(canvas, spot, words, "face", "middle")
    ahead = (side, 0.0) if px1 - px0 > ROOMY else (0.0, -1.0)
    reach = (px1 - px0) / 2 if ahead[0] else (py1 - py0) / 2
    _outwards(canvas, centre, (px1 - px0) / 2, (py1 - py0) / 2, ahead)
    tip = add(centre, ahead, min(0.66 * reach, reach - 8.5) if ahead[0] else 0.4 * reach)
    tool(canvas, "roller", tip, 90 if not ahead[0] else 180 if left else 0, scale=0.85, flip=left)
    if ahead[0]:
        hand(canvas, "hold", add(tip, ahead, -9.2), 180 if left else 0, scale=0.7, flip=left)
    labels = [
        Label(say(job, "roller"), at=add(tip, ahead, -1.1), wish=90 - side * 10),
        Label(say(job, "panel-edge"), at=(centre[0] - side * 0.5 * (px1 - centre[0]), py1), wish=270, rank=1),
    ]
    if not roomy:
        labels.append(Label(words, part="face", rank=1))
    return Picture(canvas, labels)


def _curved(canvas: Canvas, job: Job, view: Board, on: Lay) -> list[Label]:
    """A tapered panel under the cloth: the roller goes along the curve and across it."""
    left, sheet = job.size.makers.hand == "left", on.sheet
    assert sheet is not None
    whole, h = sheet.shade.panel_length, sheet.shade.slant
    cloth = view.rectangle(0.0, 0.0, on.length, on.width)
    face(canvas, job, view, cloth)
    with canvas.group("context", "panel-edge"):
        view.area(canvas, on.outline(), None, THIN)
    with canvas.group("new", "face"):
        view.area(canvas, corners(0.0, 0.0, on.length, on.width), None, NEW)

    def curve(start: float, stop: float) -> list[Point]:
        return [view(*sheet.point(whole * (start + (stop - start) * k / 40), h / 2)) for k in range(41)]

    # The start end lies on the right of a right-handed maker now: the roller goes towards it.
    small_action(canvas, curve(0.53, 0.97))
    action(canvas, curve(0.47, 0.03))
    for end in (-sheet.edge + 0.04 * h, h + sheet.edge - 0.04 * h):
        middle = h / 2 + (0.06 * h if end > 0 else -0.06 * h)
        small_action(canvas, [view(*sheet.point(whole / 2, y)) for y in (middle, end)])
    tip, ahead = view(*sheet.point(0.17 * whole, h / 2)), view(*sheet.point(0.15 * whole, h / 2))
    along = direction(tip, ahead)
    angle = math.degrees(math.atan2(-along[1], along[0]))
    tool(canvas, "roller", tip, angle, scale=0.85, flip=left)
    hand(canvas, "hold", add(tip, along, -9.2), angle, scale=0.7, flip=left)
    edge = view(*sheet.at_rim("bottom", 0.66 * whole, sheet.edge))
    callout(canvas, edge, (edge[0], view.bottom + 4.4), say(job, "panel-edge"), side=0)
    x0, y0, x1, _ = cloth.bounds
    high = (x0 + (0.58 if left else 0.42) * (x1 - x0), y0 + 1.6)
    return [
        Label(say(job, "roller"), at=add(tip, along, -1.1), wish=90),
        Label(say(job, "face"), at=high, wish=90, rank=1),
    ]


def _outwards(canvas: Canvas, centre: Point, half_x: float, half_y: float, ahead: Point) -> None:
    """Four arrows from the middle to the edges; the one that the roller is on is the heavier."""
    for way in ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)):
        reach = (half_x if way[0] else half_y) - 1.2
        path = [add(centre, way, 1.6), add(centre, way, reach)]
        if way == ahead:
            action(canvas, path)
        else:
            small_action(canvas, path)
