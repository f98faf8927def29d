"""Bind the fitter end: the wide side is slit at each strut, then goes over the wire on both sides of it."""

from __future__ import annotations

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.hatch import braid
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown
from generator.figures.pens import CLOTH_BACK, CUTTING, EM, LINER, NEW, TOOL, WHITE
from generator.figures.plane import add, between, wave
from generator.figures.rim_inside import Rim, rim, ring_bar, strut_bar, strut_run, wall
from generator.figures.tools import tool
from generator.figures.turning import mark_shade

GUTTER = 3.0
TOP = 19.0
"""Room above the rim for the wide side that stands up, and for the scissors, mm on paper."""
STRUT = 0.72
DEPTH = 15.0
"""How much of the wall is shown below the rim, mm on paper."""
SPREAD = 2.2
"""How far the turned-in binding stands off the strut on either side, at its lower edge, real mm."""


def draw(job: Job) -> Picture:
    """The far rim seen from inside, at one strut. a: the slit is cut. b: turned in beside the strut."""
    left = job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8)
    cell = (job.slot.width - GUTTER) / 2
    order = (1, 0) if left else (0, 1)
    views = [_rim(job, index * (cell + GUTTER), cell, left) for index in order]
    spots = _slit(canvas, job, views[0], left)
    over = _turned(canvas, job, views[1], left)
    # The turn mark has the corner above the second picture: then the letters stand below.
    corner = (17.4 if left else canvas.width - 35.4, 0.4)
    marked = mark_shade(canvas, job, corner, wide=18.0, high=10.6, mirror=left) is not None
    base = views[0].at(0.0, -views[0].depth)[1] + 5.6 if marked else 0.74 * EM + 0.6
    for name, index in zip("ab", order, strict=True):
        with canvas.group("label", f"order-{name}"):
            canvas.letters((index * (cell + GUTTER) + 0.6, base), name, weight=700)
    labels = [
        Label(say(job, "wide-side"), at=spots[0], wish=90),
        Label(say(job, "slit"), at=spots[1], wish=270, rank=1),
        Label(say(job, "strut"), at=over[0], wish=200 if left else -20, rank=1),
        Label(say(job, "turned-in"), at=over[1], wish=90),
    ]
    return Picture(canvas, labels)


def _rim(job: Job, x0: float, cell: float, left: bool) -> Rim:
    """A piece of rim in one half of the paper, a strut in its middle."""
    inside = shown(job, "binding_inside")
    scale = min(1.6, 14.0 / (0.55 * inside))
    half = (cell - 4.4) / 2 / 0.966 / scale
    return rim(
        job.shade,
        job.size.tape.thickness,
        left=left,
        scale=scale,
        middle=(x0 + cell / 2, TOP + 6.0),
        first=-half,
        last=half,
        depth=DEPTH / scale,
        end=job.shade.fitter_end,
    )


def _strut(canvas: Canvas, job: Job, view: Rim) -> list[Point]:
    run = strut_run(job.shade, mirrored=job.shade.fitter_end == "bottom")
    bar, line = strut_bar(view, 0.0, run, STRUT * job.shade.wire, long=20.0, aside=9.0)
    with canvas.group("context", "strut"):
        canvas.area(bar, WHITE, TOOL)
    return line


def _slit(canvas: Canvas, job: Job, view: Rim, left: bool) -> tuple[Point, Point]:
    """The wide side stands up from the rim, behind ring and strut; the blades come down it to the wire."""
    inside, a, b = shown(job, "binding_inside"), view.first, view.last
    wall(canvas, view, a, b, waves=(True, True))
    edges = [wave(view.at(x, 0.0), view.at(x, inside), 0.5, 1.0) for x in (a, b)]
    standing = Polygon([*edges[0], *reversed(edges[1])])
    with canvas.group("new", "wide-side"):
        canvas.area(standing, CLOTH_BACK, NEW)
    ring_bar(canvas, view, a, b)
    _strut(canvas, job, view)
    # As much as lies over panel and wire stays whole; the rest, which will lie beside the strut, is slit.
    whole = job.shade.thickness + view.thick
    top, foot = view.at(0.0, inside), view.at(0.0, whole)
    reached = between(top, foot, 0.45)
    with canvas.group("new", "slit"):
        canvas.line([top, reached], NEW)
    with canvas.group("action", "cut-line"):
        canvas.line([reached, foot], CUTTING)
    tool(canvas, "scissors", reached, -112.0 if left else -68.0, scale=0.95)
    out = -1.0 if left else 1.0
    start = add(top, (out * 4.6, -6.0))
    action(canvas, [start, add(start, (0.0, 9.6))])
    return view.at(0.72 * (a if left else b) * (-1 if left else 1), 0.5 * inside), between(top, reached, 0.9)


def _turned(canvas: Canvas, job: Job, view: Rim, left: bool) -> tuple[Point, Point]:
    """Both sides of the strut turned in over the wire; on one side the binding still comes over."""
    shade, a, b = job.shade, view.first, view.last
    hang = max(shown(job, "binding_inside") - shade.thickness - view.thick, 2.0) + view.thick / 2
    wall(canvas, view, a, b, waves=(True, True))
    ring_bar(canvas, view, a, b)
    y = -view.thick - 0.3
    for low, high in ((a, 0.0), (0.0, b)):
        near = 0.5 * STRUT * shade.wire
        inner = [view.at(0.0, 0.3, y), *_beside(view, near if high > 0 else -near, hang, y)]
        far = low if low else high
        outer = wave(view.at(far, 0.3, y), view.at(far, -hang, y), 0.4, 1.0)
        front = Polygon([*inner, *reversed(outer)])
        over = Polygon([view.at(0.0, 0.3), view.at(far, 0.3), view.at(far, 0.3, y), view.at(0.0, 0.3, y)])
        for piece in (over, front):
            _braid(canvas, piece)
    line = _strut(canvas, job, view)
    x = 0.62 * (a if left else b) * (-1 if left else 1)
    path = [view.at(x, z, at) for z, at in _round(view, y, hang)]
    action(canvas, path, part="turn")
    return line[1], view.at(0.55 * a, 0.3, y / 2)


def _beside(view: Rim, near: float, hang: float, y: float) -> list[Point]:
    """The edge of the slit: along the strut, then spreading a little towards its lower end."""
    out = 1.0 if near > 0 else -1.0
    return [view.at(near, -view.thick / 2, y), view.at(near + out * SPREAD, -hang, y)]


def _round(view: Rim, y: float, hang: float) -> list[Point]:
    """From behind the rim over it and down inside: height and depth."""
    return [(7.5, 1.0), (7.0, -1.0), (5.6, -3.2), (3.2, y - 2.0), (0.0, y - 2.6), (-hang + 0.8, y - 2.6)]


def _braid(canvas: Canvas, shape: BaseGeometry) -> None:
    with canvas.group("new", "binding"):
        canvas.area(shape, LINER)
        braid(canvas, shape)
        canvas.area(shape, None, NEW)
