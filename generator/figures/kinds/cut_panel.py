"""Cut the panel: the rotary cutter follows the line round the pattern on the sheet, a weight on it."""

from __future__ import annotations

import math

from shapely import LineString, Point, box
from shapely.ops import substring

from generator.figures.arrows import action
from generator.figures.canvas import Canvas
from generator.figures.flat_sheet import FlatSheet, flat_sheet
from generator.figures.hands import hand
from generator.figures.hatch import LIGHT_HATCH, WASTE_HATCH, hatch
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import BROKEN_OFF, CUFF, CUTTING, HEAVY, LINER, PVC, RULE, THIN, TOOL
from generator.figures.plan_board import board
from generator.figures.plane import add, direction
from generator.figures.tools import tool
from generator.figures.view import Box

TOP, LOW = 6.0, 40.0
BORDER = 4.0
"""The sheet beyond the panel, mm on paper."""
REACHED = 0.3
"""How far round the cutter has come, as a share of the long curve."""


def draw(job: Job) -> Picture:
    """From above, PVC up. The sheet is turned with the curve; the weight stays on the pattern."""
    left, shade = job.size.makers.hand == "left", job.shade
    canvas = Canvas(job.slot.width, job.slot.height + 12, view="plan")
    sheet = _placed(job)
    xs, ys = zip(*sheet.loop(sheet.edge), strict=True)
    view = board(left, Box(8.0, TOP + BORDER, job.slot.width - 8.0, LOW), max(xs), max(ys), 0.0)
    canvas.scale = view.scale
    loop = [view(*p) for p in sheet.loop(sheet.edge)]
    around = LineString(loop).envelope.buffer(BORDER, join_style="mitre")
    with canvas.group("context", "sheet"):
        canvas.area(around, PVC, THIN)
    with canvas.group("new", "panel"):
        canvas.area(loop, LINER)
    curve = LineString([view(*p) for p in sheet.line("bottom", sheet.edge)])
    run = REACHED * curve.length
    tip, past = curve.interpolate(run), curve.interpolate(run + 1.0)
    along = direction((tip.x, tip.y), (past.x, past.y))
    whole = LineString([*loop, loop[0]])
    cut = substring(curve, 0.0, run)
    waste = cut.buffer(6.0, cap_style="flat").intersection(around).difference(LineString(loop).convex_hull)
    with canvas.group("removed", "waste"):
        hatch(canvas, waste, *WASTE_HATCH, LIGHT_HATCH)
    with canvas.group("new", "cut-line"):
        canvas.line(whole.difference(cut.buffer(0.05)), CUTTING)
        canvas.line(cut, HEAVY)
    with canvas.group("detail", "grain-line"):
        canvas.line([view(*p) for p in sheet.across(sheet.grain, sheet.edge)], BROKEN_OFF)
    x, y = view(*sheet.point(0.6 * shade.panel_length, shade.slant / 2))
    with canvas.group("context", "weight"):
        canvas.area(box(x - 4.2, y - 2.8, x + 4.2, y + 2.8), RULE, TOOL)
        canvas.area(Point(x, y).buffer(1.5), CUFF, TOOL)
    degrees = math.degrees(math.atan2(-along[1], along[0]))
    tool(canvas, "rotary-cutter", (tip.x, tip.y), degrees, scale=0.8, flip=not left)
    # The hand holds the handle, which trails outside the curve.
    outside = (-along[1], along[0]) if not left else (along[1], -along[0])
    grip = add(add((tip.x, tip.y), along, -7.4), outside, 4.6)
    lean = math.degrees(math.atan2(-(tip.y - grip[1]), tip.x - grip[0]))
    hand(canvas, "hold", grip, lean, scale=0.7, flip=left)
    path = substring(curve, run + 3.5, run + 15.0).coords
    action(canvas, [(px - outside[0] * 2.6, py - outside[1] * 2.6) for px, py in path])
    far = view(*sheet.at_rim("top", 0.3 * shade.panel_length, sheet.edge))
    low, high = (view(*p) for p in sheet.across(sheet.grain, sheet.edge))
    return Picture(
        canvas,
        [
            Label(say(job, "cut-line"), at=far, wish=90),
            Label(say(job, "weight"), at=(x + (3.4 if not left else -3.4), y), wish=60),
            Label(
                say(job, "grain-line"),
                at=((low[0] + high[0]) / 2, low[1] * 0.2 + high[1] * 0.8),
                rank=1,
                wish=90,
            ),
        ],
    )


def _placed(job: Job) -> FlatSheet:
    """As it lies on its cloth, its own least x and y at 0."""
    sheet = flat_sheet(job.size, job.shade)
    xs, ys = zip(*sheet.loop(sheet.edge), strict=True)
    return sheet.moved(-min(xs), -min(ys))
