"""Turn and snip: the margin hangs inside the far rim; a slit at each strut stops short of the rim's edge."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WIRE_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_FACE,
    EM,
    HIDDEN,
    NEW,
    PVC_INSIDE,
    SEA,
    THIN,
    TOOL,
    WHITE,
    Pen,
)
from generator.figures.plane import add, direction
from generator.figures.rim_inside import (
    Rim,
    Turned,
    flap,
    rim,
    ring_bar,
    skew,
    strut_bar,
    strut_run,
    turned_print,
    wall,
)
from generator.figures.rim_section import rim_section
from generator.figures.tools import tool
from generator.figures.view import Point3

COLUMN = 28.0
RADIUS = 13.2
BREAK = 2.2
"""Gap on paper between the two struts: the rim between them is left out."""
STRUT = 0.72
"""Drawn thickness of a strut, of the wire's; no number is printed from it."""
EASE = 7.0
"""Half the width over which the margin rises to the strut that it lies on, real mm."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Two struts of the far rim, the slit done at one and begun at the other; A, the slit from inside."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 62.0)
    scale = min(15.5 / shade.margin, 1.25)
    section = rim_section(shade, job.size.tape, scale, thin=0.1, thin_cloth=0.1)
    x0, x1 = (COLUMN + 2.0, canvas.width - 1.6) if left else (1.6, canvas.width - COLUMN - 2.0)
    aside = skew(shade, shade.fitter_end, 19.0)
    x0, x1 = x0 + aside, x1 - aside
    half = ((x1 - x0) - BREAK) / 2 / 0.966 / scale
    step = half + BREAK / 0.966 / scale
    view = rim(
        shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=((x0 + x1) / 2, 22.0),
        first=-half,
        last=half,
        depth=19.0 / scale,
        end=shade.fitter_end,
    )
    done = (-half - BREAK / 2 / 0.966 / scale, -BREAK / 2 / 0.966 / scale)
    todo = (done[0] + step, done[1] + step)
    up = shade.fitter_end == "top"
    run = strut_run(shade, mirrored=not up)
    hang = section.hang
    # The letter stands on the side that the strut does not lean to.
    aside = view.frame.view.project(run)[0]
    slit = _done(canvas, job, view, done, run, hang, up)
    spots = _to_do(canvas, job, view, todo, run, hang, section.margin, up)
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, 38.0)
    _detail(canvas, job, centre, left)
    link(
        canvas,
        slit,
        3.0,
        centre,
        RADIUS,
        "A",
        at_place=20 if aside < 0 else 200,
        at_detail=140 if not left else 40,
    )
    canvas.blocked.append(circle(centre, RADIUS + 0.5))
    say = job.words.say
    labels = [
        Label(say("label.margin-turned-in"), part="margin", wish=90),
        Label(say("label.strut"), at=spots[0], wish=180 if left else 0),
        Label(say("label.cut-line"), at=spots[1], wish=90),
    ]
    return Picture(canvas, labels)


def _done(
    canvas: Canvas, job: Job, view: Rim, ends: tuple[float, float], run: Point3, hang: float, up: bool
) -> Point:
    """The strut whose slit is cut: the margin hangs on both sides of it. Returns the slit's upper end."""
    a, b = ends
    x = (a + b) / 2
    wall(canvas, view, a, b, waves=(True, True))
    ring_bar(canvas, view, a, b)
    turned = flap(view, a, b, hang, waves=(True, True))
    _cloth(canvas, turned)
    turned_print(canvas, view, job.size, turned, a, b, hang, up)
    stop = job.measures.shown("slit_stop")
    tip = view.at(x, -stop, turned.y)
    wide = 0.55 * STRUT * job.shade.wire
    slit = Polygon([tip, view.at(x - wide, -hang - 0.4, turned.y), view.at(x + wide, -hang - 0.4, turned.y)])
    with canvas.group("new", "slit"):
        canvas.area(slit, PVC_INSIDE)
        canvas.line([view.at(x - wide, -hang, turned.y), tip, view.at(x + wide, -hang, turned.y)], NEW)
    if "relief_cuts" in job.measures:
        # The detail's letter stands on the other side.
        share = 0.8 if view.frame.view.project(run)[0] * (-1 if view.frame.view.mirror else 1) > 0 else 0.2
        _relief(canvas, job, view, (a + share * (b - a), turned.y), hang)
    root = view.at(x, 0.0)[0]
    edge = min(root, job.slot.width - root) - 3.0
    bar, _ = strut_bar(view, x, run, STRUT * job.shade.wire, aside=edge)
    with canvas.group("context", "strut"):
        canvas.area(bar, WHITE, TOOL)
    return view.at(x, -stop - 1.2, turned.y)


def _relief(canvas: Canvas, job: Job, view: Rim, place: tuple[float, float], hang: float) -> None:
    """A relief cut of a taper beside the strut: spread at the narrow rim, lapping at the wide one."""
    (x, y), stop, shade = place, job.measures.shown("slit_stop"), job.shade
    tip, open_ = view.at(x, -stop, y), 2.2
    with canvas.group("context", "relief"):
        if shade.fitter_end == shade.narrow_end:
            sides = [view.at(x + side * open_ / 2, -hang - 0.3, y) for side in (-1.0, 1.0)]
            canvas.area([sides[0], tip, sides[1]], PVC_INSIDE)
            canvas.line([sides[0], tip, sides[1]], THIN)
        else:
            canvas.line([tip, view.at(x + open_ / 2, -hang, y)], THIN)


def _cloth(canvas: Canvas, turned: Turned) -> None:
    with canvas.group("new", "margin"):
        canvas.area(turned.over, CLOTH_FACE, THIN)
        canvas.area(turned.hangs, CLOTH_FACE, NEW)


def _to_do(
    canvas: Canvas,
    job: Job,
    view: Rim,
    ends: tuple[float, float],
    run: Point3,
    hang: float,
    margin: float,
    up: bool,
) -> tuple[Point, Point]:
    """The strut that still lifts the margin: the cut line over it, the scissors at the raw edge."""
    a, b = ends
    x = (a + b) / 2
    wall(canvas, view, a, b, waves=(True, True))
    bar, line = strut_bar(view, x, run, STRUT * job.shade.wire)
    with canvas.group("context", "strut"):
        canvas.area(bar, WHITE, TOOL)
    turned = flap(view, a, b, hang)
    # Over the strut the margin cannot hang: it lies along it, and falls to both sides.
    free = margin - view.thick * 0.8
    crest = (x + run[0] * free, 0.3 + run[2] * free, -view.thick / 2 + run[1] * free)
    raw: list[Point] = []
    for k in range(61):
        at = a + (b - a) * k / 60
        share = max(0.0, 1.0 - abs(at - x) / EASE)
        lift = share * share * (3 - 2 * share)
        raw.append(
            view.at(
                at + lift * (crest[0] - x),
                -hang + lift * (crest[1] + hang),
                turned.y + lift * (crest[2] - turned.y),
            )
        )
    rim_line = [view.at(b, turned.top, turned.y), view.at(a, turned.top, turned.y)]
    hangs = Polygon([*raw, *rim_line])
    _cloth(canvas, Turned(turned.over, hangs, turned.y, turned.top))
    turned_print(canvas, view, job.size, Turned(turned.over, hangs, turned.y, turned.top), a, b, hang, up)
    top = view.at(x, turned.top, turned.y)
    end = view.at(crest[0], crest[1], crest[2])
    with canvas.group("context", "fold"):
        for side in (-1.0, 1.0):
            foot = view.at(x + side * EASE * 0.75, -0.8 * hang, turned.y)
            canvas.line([add(top, (side * 0.6, 0.6)), foot], THIN)
    stop = job.measures.shown("slit_stop") * view.frame.scale
    along = direction(end, top)
    with canvas.group("action", "cut-line"):
        canvas.line([end, add(top, along, -max(stop, 0.7))], Pen(0.7, SEA, (1.6, 1.0), "butt"))
    degrees = math.degrees(math.atan2(-along[1], along[0]))
    tip = add(end, along, 1.2)
    lean = 26.0 if along[0] < 0 else -26.0
    tool(canvas, "scissors", tip, degrees - lean, scale=0.85)
    # Two fingers in the bows, the arm from below.
    grip = add(tip, (math.cos(math.radians(degrees - lean)), -math.sin(math.radians(degrees - lean))), -9.6)
    hand(canvas, "pinch", grip, degrees - lean, scale=0.72, flip=lean > 0, part="hand-cutting")
    shift = (-10.5 if along[0] < 0 else 10.5, 0.0)
    action(canvas, [add(add(end, along, -8.5), shift), add(add(end, along, 0.5), shift)])
    return line[1], add(top, along, -2.2)


def _detail(canvas: Canvas, job: Job, centre: Point, left: bool) -> None:
    """A: the slit from inside, to scale; its tip is measured from the rim's edge, the strut is below it."""
    shade = job.shade
    cx, cy = centre
    scale = 2.4
    rim_y = cy - 4.6
    stop = job.measures.shown("slit_stop")

    def at(x: float, z: float) -> Point:
        return cx + x * scale, rim_y - z * scale

    radius = STRUT * shade.wire / 2
    middle = at(0.0, -stop - radius)
    low = -12.0
    with inset(canvas, centre, RADIUS):
        with canvas.group("new", "margin-detail"):
            canvas.area([at(-9, 0), at(9, 0), at(9, low), at(-9, low)], CLOTH_FACE)
            canvas.line([at(-9, 0), at(9, 0)], NEW)
        with canvas.group("context", "wire-hidden"):
            canvas.line([at(-9, -shade.wire), at(9, -shade.wire)], HIDDEN)
        lip = [at(0, -stop), at(-radius * 0.95, -stop - radius), at(-radius * 1.05, low)]
        other = [(2 * cx - px, py) for px, py in lip]
        with canvas.group("new", "slit-detail"):
            canvas.area([*lip, *reversed(other)], PVC_INSIDE)
            canvas.line([*reversed(lip), *other[1:]], NEW)
        with canvas.group("context", "strut-section"):
            disc = circle(middle, radius * scale)
            canvas.area(disc, WHITE, TOOL)
            hatch(canvas, disc, *WIRE_HATCH)
        tip, edge = at(0.0, -stop), at(0.0, 0.0)
        dimension(
            canvas,
            tip,
            edge,
            job.words.number(stop),
            measure="slit_stop",
            value=stop,
            offset=-4.6,
            outside="end",
        )
    low_y = cy + RADIUS + 0.9 + 0.74 * EM
    inner = 1.0 if left else -1.0
    spot = add(middle, (inner * 0.5 * radius * scale, 0.4 * radius * scale))
    callout(canvas, spot, (cx + inner * 1.5, low_y), job.words.say("label.strut-section"), side=inner)
