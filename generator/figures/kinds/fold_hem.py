"""Fold the hem: the tab of cloth past the outside end is folded over the PVC on to the seam tape."""

from __future__ import annotations

import math

from shapely import Polygon, box, unary_union

from generator.figures.arrows import action
from generator.figures.bench_edge import WAVE_DEPTH, rect, window
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.near_edge import outside_corner
from generator.figures.numbers import say, shown, text
from generator.figures.pens import CLOTH_BACK, CLOTH_CUT, KISS_CUT, NEW, PVC, SEAM_TAPE, THIN, WHITE
from generator.figures.plane import arc, wave
from generator.figures.view import Box, Frame, bench, fit

RAISED = 58.0
"""How far the tab has been folded, degrees; a half turn lays it down."""
LONG, DEEP = 4.3, 4.9
"""How much of the panel is shown from its outside end inwards, and from its near edge away, in hems."""
RADIUS = 14.0


def draw(job: Job) -> Picture:
    """The near corner of the outside end, PVC up: the tab half folded; a section when it is folded."""
    left, hem, m = job.size.makers.hand == "left", job.shade.hem, job.shade.margin
    canvas = Canvas(job.slot.width, job.slot.height + 10)
    long, deep = LONG * hem, DEEP * hem
    extent = [(x, y, z) for x in (-long, 0.3 * hem) for y in (-m, deep) for z in (0.0, 0.85 * hem)]
    sides = (27.0, 1.5) if left else (1.5, 27.0)
    place = Box(sides[0], 1, job.slot.width - sides[1], canvas.height - 2)
    frame = fit(bench(left), extent, place, anchor="top")
    view = window(frame, -long, -m, 0.0, deep, ("left", "far"))
    shape = outside_corner(job.shade, 0.0)
    if m:
        view.sheet(canvas, "cloth-margin", shape.strip(-long - hem, 0.0, -m, deep + hem), CLOTH_BACK)
    view.sheet(canvas, "panel", shape.strip(-long - hem, 0.0, 0.0, deep + hem), PVC)
    inner, rim, wide = shown(job, "tape_inset"), shown(job, "rim_inset"), job.size.tape.width
    view.sheet(canvas, "hem-tape", rect(-inner - wide, rim, -inner, deep + hem), SEAM_TAPE, NEW, "new")
    view.line(canvas, "hem-place", [(-hem, 0.0), (-hem, deep + hem)], KISS_CUT)
    view.tear(canvas)
    _tab(canvas, frame, hem, deep, left)
    centre = (RADIUS + 1.0 if left else job.slot.width - RADIUS - 1.0, canvas.height - RADIUS - 1.0)
    _section(canvas, job, centre)
    spot = frame((-0.1 * hem, 0.16 * deep, 0.0))
    link(canvas, spot, 2.4, centre, RADIUS, "A", at_place=20 if left else 160, at_detail=140)
    labels = [
        Label(say(job, "cloth-tab"), part="cloth-tab", wish=180 if left else 0, inside=False),
        Label(say(job, "seam-tape"), at=frame((-0.5 * hem, 0.8 * deep, 0.0)), wish=100),
        Label(say(job, "hem"), at=frame((-hem, 0.05 * deep, 0.0)), wish=310 if left else 230, rank=1),
    ]
    return Picture(canvas, labels)


def _tab(canvas: Canvas, frame: Frame, hem: float, deep: float, left: bool) -> None:
    """The tab, its wrong side seen, held in the middle; the arrow lays it down."""
    turn = math.radians(RAISED)
    x, z = hem * math.cos(turn), hem * math.sin(turn)
    tab = [frame((0, 0, 0)), frame((x, 0, z)), frame((x, deep, z)), frame((0, deep, 0))]
    end = wave(tab[2], tab[3], WAVE_DEPTH, 1)
    with canvas.group("new", "cloth-tab"):
        canvas.area([*tab[:2], *end], CLOTH_BACK)
        canvas.line([tab[3], *tab[:3]], NEW)
        canvas.line(end, THIN)
    reach, y = 1.22 * hem, 0.36 * deep
    turns = [math.radians(a) for a in range(64, 164, 6)]
    action(canvas, [frame((reach * math.cos(a), y, reach * math.sin(a))) for a in turns], part="fold")
    grip = frame((0.95 * x, 0.68 * deep, 0.95 * z))
    hand(canvas, "pinch", grip, 0 if left else 180, scale=0.85, flip=not left)


def _section(canvas: Canvas, job: Job, centre: Point) -> None:
    """Across the outside end when it is done: cloth under the PVC, round its end, and over the tape."""
    cx, cy = centre
    scale = 15.0 / job.shade.hem
    cloth, pvc, tape = 1.3, 1.6, 1.0
    end, low = cx + 8.0, cy + 5.0
    top = low - cloth - pvc - tape
    inner, wide = shown(job, "tape_inset") * scale, job.size.tape.width * scale
    middle, r = (end, (low + top - cloth) / 2), (low - top + cloth) / 2
    edge = end - job.shade.hem * scale
    turn = Polygon([*arc(middle, r, -90, 90), *arc(middle, r - cloth, 90, -90)])
    flat = box(cx - 20, low - cloth, end, low)
    folded = box(edge, top - cloth, end, top)
    panel = box(cx - 20, low - cloth - pvc, end, low - cloth)
    with inset(canvas, centre, RADIUS) as region:
        with canvas.group("context", "detail-pvc"):
            canvas.area(panel, WHITE, THIN)
            hatch(canvas, panel.intersection(region), *PVC_HATCH)
        with canvas.group("context", "detail-hem-tape"):
            canvas.area(box(end - inner - wide, top, end - inner, top + tape), SEAM_TAPE, THIN)
        with canvas.group("new", "detail-hem"):
            canvas.area(unary_union([flat, turn, folded]), CLOTH_CUT, NEW)
    with canvas.enlarged():
        dimension(
            canvas,
            (edge, top - cloth),
            (end, top - cloth),
            text(job, "hem"),
            measure="hem",
            value=shown(job, "hem"),
            offset=3.6,
        )
    callout(canvas, (cx - 6.0, low - cloth - pvc / 2), (cx - 6.5, low + 5.6), say(job, "pvc"))
