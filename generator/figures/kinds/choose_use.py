"""Choose use and layout: the shade in use, fitter end, print up; the lamp holder beside its hole."""

from __future__ import annotations

import math

from shapely import Polygon, unary_union

from generator.figures.callouts import within
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.outer_sizes import print_up
from generator.figures.pens import CUFF, DIMENSION, EM, INK, LINER, NEW, THIN, WHITE, Pen
from generator.figures.plane import add
from generator.figures.rings import hub_radius
from generator.figures.tools import tool
from generator.figures.upright import Upright, level_circle, rim_place, stand
from generator.figures.view import Box, bench

DETAIL, HUB, HOLE = 12.0, 8.2, 6.9
"""Radii of the detail, of the hub and of its hole in it, mm."""
HOLDER, TALL = 12.4, 7.6
"""Width and height of the lamp holder as drawn beside the hole, mm; no number is printed from them."""
BESIDE = 19.0
"""From the middle of the detail to the middle of the lamp holder, mm."""


def draw(job: Job) -> Picture:
    """A pendant shows its fitter in the opening, a table shade dashed through its wall."""
    shade, width = job.shade, job.slot.width
    left, table = job.size.makers.hand == "left", job.size.use == "table"
    canvas = Canvas(width, min(job.slot.height + 14, job.slot.max_height))
    across, deep = max(shade.outline.width, shade.outline.depth), shade.outline.depth
    rise, drop, foot = 0.4 * deep + 0.12 * shade.height, 0.5 * deep + 20, 0.24 * min(across, 2 * deep)
    middle = shade.ring_centre("top")[1]
    more = level_circle(foot, -drop) if table else [(0.0, middle, shade.height + rise)]
    near, far = 11.4, 2 * DETAIL + 1.5
    place = Box(far if left else near, 4.0, width - (near if left else far), canvas.height - 4.0)
    upright = stand(job.size, shade, bench(left), place, more)
    if table:
        upright.base(canvas, drop, foot)
    upright.draw(canvas)
    if table:
        upright.hidden_fitter(canvas)
    else:
        upright.flex(canvas, rise)
    low, high = upright.side(left)
    edge = upright.reach(left) + (1 if left else -1) * 5.0
    print_up(canvas, say(job, "print-up"), edge, low[1], high[1], right=left)
    hub = upright.frame(upright.hub)
    y = DETAIL + 3.2 if table else BESIDE + 11.6
    centre = (DETAIL + 0.6 if left else width - DETAIL - 0.6, y)
    with canvas.enlarged():
        _holder(canvas, job, centre, 1.0 if table else -1.0)
        _hole(canvas, job, centre)
    around = max(2.6, 1.5 * hub_radius(shade) * upright.frame.scale)
    turn = 135.0 if table else 315.0
    link(
        canvas,
        hub,
        around,
        centre,
        DETAIL,
        "A",
        at_place=180 - turn if left else turn,
        at_detail=45.0 if left else 135.0,
    )
    lamp = (-0.8 * foot, 0.0, -drop - 5.0) if table else (*upright.hub[:2], shade.height + rise * 0.94)
    return Picture(canvas, _labels(job, upright, left, table, upright.frame(lamp)))


def _labels(job: Job, upright: Upright, left: bool, table: bool, lamp: Point) -> list[Label]:
    above, below = upright.rim("top"), upright.rim("bottom")

    def name(noun: str, rim_above: bool, share: float, wish: float) -> Label:
        at = rim_place(above if rim_above else below, rim_above, 1 - share if left else share)
        return Label(say(job, noun), at=at, wish=180 - wish if left else wish)

    if table:
        base = Label(say(job, "base"), at=lamp, wish=0.0 if left else 180.0, rank=1)
        return [name("fitter-end", False, 0.16, 215.0), name("plain-end", True, 0.05, 150.0), base]
    flex = Label(say(job, "flex"), at=lamp, wish=20.0 if left else 160.0, rank=1)
    return [name("fitter-end", True, 0.16, 130.0), name("plain-end", False, 0.2, 230.0), flex]


def _hole(canvas: Canvas, job: Job, centre: Point) -> None:
    """The hub from above: its hole between two arrows, with its size if the recipe states one."""
    count = len(job.shade.struts)
    with inset(canvas, centre, DETAIL), canvas.group("detail", "hub"):
        for k in range(count):
            turn = 2 * math.pi * (k + 0.5) / count - math.pi / 2
            end = add(centre, (math.cos(turn), -math.sin(turn)), DETAIL + 1)
            canvas.line([centre, end], Pen(2.0, INK, (), "butt"))
            canvas.line([centre, end], Pen(1.3, WHITE, (), "butt"))
        canvas.area(circle(centre, HUB), LINER, NEW)
        canvas.area(circle(centre, HOLE), WHITE, NEW)
    known = "hole" in job.measures
    words = f"Ø {text(job, 'hole')}" if known else say(job, "hole")
    measure, value = ("hole", shown(job, "hole")) if known else (None, None)
    with canvas.clip(circle(centre, HUB + 0.6)):
        tool(canvas, "rule", add(centre, (-HOLE, 3.1)), 180.0, scale=0.66, flip=True)
    with canvas.group("dimension", "dimension-hole", measure, value):
        _across(canvas, add(centre, (0.0, 0.2)), HOLE)
        canvas.letters(add(centre, (0.0, -0.8)), words, anchor="middle")


def _holder(canvas: Canvas, job: Job, centre: Point, down: float) -> None:
    """The lamp holder from the side, as large beside the hole as it is: on its flex, or on its stem below."""
    x, y = add(centre, (0.0, down * BESIDE))
    half, tall = HOLDER / 2, TALL / 2
    with canvas.group("context", "holder"):
        end = y + down * (tall + 3.0)
        canvas.area([(x - 0.9, y), (x - 0.9, end), (x + 0.9, end), (x + 0.9, y)], LINER, THIN)
        cap = Polygon(
            [(x - half, y - down * tall), (x + half, y - down * tall), (x + half, y), (x - half, y)]
        )
        top = Polygon([(x - 0.7 * half, y + down * tall), (x + 0.7 * half, y + down * tall), (x, y - down)])
        canvas.area(unary_union([cap, top.convex_hull.union(cap).convex_hull]), CUFF, Pen(0.35, INK))
        for k in (0.25, 0.5, 0.75):
            level = y - down * tall * k
            canvas.line([(x - half + 0.5, level), (x + half - 0.5, level)], Pen(0.25, WHITE))
    with canvas.group("dimension", "dimension-holder"):
        level = y - down * (tall + 1.7)
        for side in (-half, half):
            canvas.line([(x + side, y - down * (tall + 0.5)), (x + side, level - down * 0.7)], DIMENSION)
        _across(canvas, (x, level), half)
    with canvas.group("label", "label-holder"):
        base = y + down * (tall + 3.8) + (0.74 * EM if down > 0 else 0.0)
        words = say(job, "lamp-holder")
        wide = text_width(words, EM)
        canvas.letters((within(canvas, x - wide / 2, wide), base), words)


def _across(canvas: Canvas, middle: Point, half: float) -> None:
    """A dimension line across a width: for the maker to measure."""
    ends = add(middle, (-half, 0.0)), add(middle, (half, 0.0))
    canvas.line(ends, DIMENSION)
    for tip, sign in zip(ends, (1.0, -1.0), strict=True):
        foot = add(tip, (sign * 2.2, 0.0))
        canvas.area(Polygon([tip, add(foot, (0.0, 0.42)), add(foot, (0.0, -0.42))]), INK)
