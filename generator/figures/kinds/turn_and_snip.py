"""Turn and snip: the margin hangs inside the far rim; a slit at each strut stops short of the rim's edge."""

from __future__ import annotations

import math

from shapely import Polygon

from generator.figures.arrows import action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle, only_lines
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import WIRE_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import CLEAR, Label
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import text
from generator.figures.pens import (
    BENCH,
    CLOTH_BACK,
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
from generator.figures.state import state_before
from generator.figures.tools import tool
from generator.figures.view import Point3

LIES = ("fitter-end-up", "fitter-end-up")
"""The struts are at the fitter end: it is up."""
COLUMN = 27.4
RADIUS = 13.0
BREAK = 2.4
"""Gap on paper between two pictures: the rim between them is left out."""
STRUT = 0.72
"""Drawn thickness of a strut, of the wire's; no number is printed from it."""
EASE = 6.4
"""Half the width over which the margin rises to the strut that it lies on, real mm."""
OPEN = 1.5
"""How far either side of a slit stands off the strut at the raw edge, real mm."""
SHARES = (0.28, 0.43, 0.29)
"""Widths of the three pictures: the second has scissors and hand."""
TOP = 18.6
"""Level of the rim in the middle of the scene, mm."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """One strut of the far rim: a, the margin comes over the ring; b, a slit; c, it hangs on both sides."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, 64.0)
    scale = min(13.6 / shade.margin, 1.25)
    section = rim_section(shade, job.size.tape, scale, thin=0.1, thin_cloth=0.1)
    x0, x1 = (COLUMN + 2.0, canvas.width - 1.6) if left else (1.6, canvas.width - COLUMN - 2.0)
    aside = skew(shade, shade.fitter_end, 14.0)
    x0, x1 = x0 + aside, x1 - aside
    whole, gap = (x1 - x0) / 0.966 / scale, BREAK / 0.966 / scale
    view = rim(
        shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=((x0 + x1) / 2, TOP),
        first=-whole / 2,
        last=whole / 2,
        depth=15.0 / scale,
        end=shade.fitter_end,
    )
    cells: list[tuple[float, float]] = []
    for share in SHARES:
        start = cells[-1][1] + gap if cells else -whole / 2
        cells.append((start, start + share * (whole - 2 * gap)))
    up = shade.fitter_end == "top"
    run = strut_run(shade, mirrored=not up, widest=28.0)
    strut = _coming_over(canvas, job, view, cells[0], run)
    cut = _to_do(canvas, job, view, cells[1], run, section.hang, section.margin, up)
    slit = _done(canvas, job, view, cells[2], run, section.hang, up)
    for name, (a, b) in zip("abc", cells, strict=True):
        corner = min(view.at(a, 0.0)[0], view.at(b, 0.0)[0])
        with canvas.group("label", f"order-{name}"):
            canvas.letters((corner, 0.74 * EM + 0.6), name, weight=700)
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, 27.5)
    outside = _detail(canvas, job, centre)
    link(
        canvas,
        slit,
        2.8,
        centre,
        RADIUS,
        "A",
        at_place=100 if not left else 80,
        at_detail=140 if not left else 40,
    )
    canvas.blocked.append(circle(centre, RADIUS + 0.5))
    say = job.words.say
    labels = [
        Label(say("label.margin-turned-in"), part="margin", wish=90, rank=1),
        Label(say("label.strut"), at=strut, wish=270),
        Label(say("label.cut-line"), at=cut, wish=90),
        *outside,
    ]
    return Picture(canvas, labels)


def _coming_over(canvas: Canvas, job: Job, view: Rim, ends: tuple[float, float], run: Point3) -> Point:
    """The margin stands up behind ring and strut, and comes over them. Returns the strut's end."""
    a, b = ends
    x, m = (a + b) / 2, job.shade.margin
    wall(canvas, view, a, b, waves=(True, True))
    with canvas.group("context", "margin-standing"):
        canvas.area(view.strip(a, b, 0.0, m), CLOTH_BACK, THIN)
    ring_bar(canvas, view, a, b)
    bar, line = strut_bar(view, x, run, STRUT * job.shade.wire, long=17.0)
    with canvas.group("context", "strut"):
        canvas.area(bar, WHITE, TOOL)
    beside = a + 0.24 * (b - a) if view.frame.view.project(run)[0] > 0 else b - 0.24 * (b - a)
    path = [(0.86 * m, -1.0), (0.8 * m, -3.4), (0.6 * m, -6.2), (0.3 * m, -8.0), (-0.3 * m, -8.2)]
    action(canvas, [view.at(beside, z, y) for z, y in path], "turn-in")
    return line[1]


def _done(
    canvas: Canvas, job: Job, view: Rim, ends: tuple[float, float], run: Point3, hang: float, up: bool
) -> Point:
    """The slit is cut: the margin hangs on both sides of the strut. Returns the slit's upper end."""
    a, b = ends
    x = (a + b) / 2
    wall(canvas, view, a, b, waves=(True, True))
    ring_bar(canvas, view, a, b)
    turned = flap(view, a, b, hang, waves=(True, True))
    _cloth(canvas, turned)
    turned_print(canvas, view, job.size, turned, a, b, hang, up)
    stop = job.measures.shown("slit_stop")
    tip = view.at(x, -stop, turned.y)
    wide = 0.5 * STRUT * job.shade.wire + OPEN
    slit = Polygon([tip, view.at(x - wide, -hang - 0.4, turned.y), view.at(x + wide, -hang - 0.4, turned.y)])
    with canvas.group("new", "slit"):
        canvas.area(slit, PVC_INSIDE)
        canvas.line([view.at(x - wide, -hang, turned.y), tip, view.at(x + wide, -hang, turned.y)], NEW)
    if "relief_cuts" in job.measures and state_before(job).relieved:
        # The detail's letter stands on the other side.
        share = 0.8 if view.frame.view.project(run)[0] * (-1 if view.frame.view.mirror else 1) > 0 else 0.2
        _relief(canvas, job, view, (a + share * (b - a), turned.y), hang)
    bar, _ = strut_bar(view, x, run, STRUT * job.shade.wire, long=17.0)
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
) -> Point:
    """The strut still lifts the margin: the cut line over it, the scissors at the raw edge."""
    a, b = ends
    x = (a + b) / 2
    wall(canvas, view, a, b, waves=(True, True))
    bar, _ = strut_bar(view, x, run, STRUT * job.shade.wire, long=17.0)
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
    with canvas.group("context", "strut-below"):
        # Felt through the cloth, not seen: where the slit must go.
        canvas.line(only_lines(bar.boundary.intersection(hangs.buffer(-0.3))), HIDDEN)
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
    hand(canvas, "pinch", grip, degrees - lean, scale=0.66, flip=lean > 0, part="hand-cutting")
    shift = (-7.6 if along[0] < 0 else 7.6, 0.0)
    action(canvas, [add(add(end, along, -9.5), shift), add(add(end, along, -1.0), shift)])
    return add(top, along, -2.2)


def _detail(canvas: Canvas, job: Job, centre: Point) -> list[Label]:
    """A: the slit from inside, to scale; its tip is measured from the rim's edge, the strut is below it.

    Returns a name that has no room in it.
    """
    shade, say = job.shade, job.words.say
    cx, cy = centre
    scale = 2.4
    rim_y = cy - 5.4
    stop = job.measures.shown("slit_stop")

    def at(x: float, z: float) -> Point:
        return cx + x * scale, rim_y - z * scale

    radius = STRUT * shade.wire / 2
    middle = at(0.0, -stop - radius)
    low = -12.0
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "beyond"):
            canvas.area([at(-9, 9), at(9, 9), at(9, low), at(-9, low)], BENCH)
        with canvas.group("new", "margin-detail"):
            canvas.area([at(-9, 0), at(9, 0), at(9, low), at(-9, low)], CLOTH_FACE)
            canvas.line([at(-9, 0), at(9, 0)], NEW)
        with canvas.group("context", "wire-hidden"):
            canvas.line([at(-9, -shade.wire), at(9, -shade.wire)], HIDDEN)
        lip = [at(0, -stop), at(-radius * 0.95, -stop - radius), at(-radius * 1.5, low)]
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
            text(job, "slit_stop"),
            measure="slit_stop",
            value=stop,
            offset=-4.6,
            outside="end",
        )
    beside = -radius * 1.3 * scale - CLEAR
    hidden = _beside_slit(centre, at(0.0, -shade.wire)[1] + 0.9 + ASCENT * EM, say("label.wire"), beside)
    if hidden is not None:
        with canvas.group("label", "label-wire"):
            canvas.letters(hidden, say("label.wire"))
    low_y = cy + RADIUS + 0.9 + 0.74 * EM
    callout(canvas, add(middle, (-0.4, 1.2)), (cx - 2.0, low_y), say("label.strut"), side=-1.0)
    callout(canvas, at(0.0, -6.6), (cx + 2.0, low_y), say("label.slit"), side=1.0)
    return [] if hidden else [Label(say("label.wire"), at=at(-4.2, -shade.wire / 2), wish=100, rank=1)]


def _beside_slit(centre: Point, base: float, text: str, end: float) -> Point | None:
    """Where a word begins that stands left of the slit, within the circle; None if it is too long for that.

    ``end``: how far from the middle it must end.
    """
    high = max(abs(base - ASCENT * EM - centre[1]), abs(base + DESCENT * EM - centre[1]))
    start = -math.sqrt(RADIUS**2 - high**2) + CLEAR
    return (centre[0] + start, base) if start + text_width(text, EM) <= end else None
