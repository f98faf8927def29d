"""Cloth and panel on the bench while they are bonded: a panel that lifts off the cloth along a bond line."""

from __future__ import annotations

import math
from collections.abc import Callable

from shapely import LineString, Polygon

from generator.figures.bench_edge import torn
from generator.figures.canvas import Canvas, Point
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.lay import Lay, spread
from generator.figures.model import Job
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_CUT,
    INK,
    KISS_CUT,
    LINER,
    NEW,
    PVC,
    RULE,
    THIN,
    WHITE,
    Pen,
)
from generator.figures.plane import wave
from generator.figures.view import Frame, Point3

LARGE_LENGTH, LARGE_SIZE = 1300.0, 400.0
"""A panel or a ring above this wants a second person at the bench (common practice, no source)."""
LAST_TURN = 1.5
"""How far the panel of a section is drawn round, radians: out of the detail."""
Profile = Callable[[float], tuple[float, float]]
"""From the length along the panel, from the cloth's start end, to (x, z): where a point of it hangs."""


def helped(job: Job) -> bool:
    """Whether a second person lends a hand: the recipe has two, or the work is large."""
    large = job.shade.panel_length > LARGE_LENGTH or job.shade.outline.width > LARGE_SIZE
    return large or job.size.makers.people > 1


def lifted(bond: float, radius: float) -> Profile:
    """Flat up to the bond line, then a circular arc upwards; length is kept."""

    def place(s: float) -> tuple[float, float]:
        if s <= bond:
            return s, 0.0
        turn = (s - bond) / radius
        return bond + radius * math.sin(turn), radius * (1 - math.cos(turn))

    return place


def propped(bond: float, ramp: float, crest: float, high: float) -> Profile:
    """Flat up to the bond line, up over the folded liner, down to half of that where the liner is single."""

    def ease(t: float) -> float:
        t = min(max(t, 0.0), 1.0)
        return t * t * (3 - 2 * t)

    def place(s: float) -> tuple[float, float]:
        up = ease((s - bond) / ramp)
        down = ease((s - bond - crest) / ramp)
        return s, high * (up - 0.5 * down)

    return place


def edge(frame: Frame, profile: Profile, s0: float, s1: float, y: float, steps: int = 48) -> list[Point]:
    """Paper line along the panel at one distance from the maker."""
    points: list[Point3] = []
    for k in range(steps + 1):
        x, z = profile(s0 + (s1 - s0) * k / steps)
        points.append((x, y, z))
    return frame.path(points)


def cloth_on_bench(canvas: Canvas, frame: Frame, on: Lay, stop: float) -> None:
    """The cloth, wrong side up, up to ``stop`` where it is broken off, or to its own end before that."""
    end = min(stop, on.length)
    near, far = (
        [frame((0.0, 0.0, 0.0)), frame((end, 0.0, 0.0))],
        [frame((end, on.width, 0.0)), frame((0.0, on.width, 0.0))],
    )
    broken = torn(frame, (end, 0.0), (end, on.width)) if end < on.length else [near[1], far[0]]
    with canvas.group("context", "cloth"):
        canvas.area([near[0], *broken, far[1]], CLOTH_BACK)
        canvas.line([far[0], far[1], near[0], near[1]], THIN)
        canvas.line(broken, THIN)


def panel_on_bench(
    canvas: Canvas,
    frame: Frame,
    on: Lay,
    profile: Profile,
    stop: float,
    *,
    pen: Pen = NEW,
    part: str = "panel",
) -> None:
    """The panel from its start end to ``stop`` along itself, where it is broken off, or to its own end."""
    end = min(stop, on.end)
    near = edge(frame, profile, on.start, end, on.near)
    far = edge(frame, profile, on.start, end, on.far)
    broken = wave(near[-1], far[-1], 0.8, 2.0) if end < on.end else [near[-1], far[-1]]
    with canvas.group("new", part):
        canvas.area([*near, *broken[1:-1], *reversed(far)], PVC)
        canvas.line([*reversed(near), *far], pen)
        canvas.line(broken, THIN if end < on.end else pen)
    if on.margin:
        inset = spread(on.margin, frame.scale * 0.483)
        with canvas.group("context", "kiss-cut"):
            for y in (on.near + inset, on.far - inset):
                canvas.line(edge(frame, profile, on.start, end, y), KISS_CUT)


def strip(frame: Frame, on: Lay, x0: float, x1: float) -> Polygon:
    """Paper area of a strip of the bonded panel across its whole height."""
    ends = [(x0, on.near), (x1, on.near), (x1, on.far), (x0, on.far)]
    return Polygon([frame((x, y, 0.0)) for x, y in ends])


def block(canvas: Canvas, frame: Frame, low: Point, high: Point, tall: float) -> None:
    """A weight: a block on the bench between two corners of its foot."""
    (x0, y0), (x1, y1) = low, high
    top = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    side = [(x0, y0, 0.0), (x0, y1, 0.0), (x0, y1, tall), (x0, y0, tall)]
    front = [(x0, y0, 0.0), (x1, y0, 0.0), (x1, y0, tall), (x0, y0, tall)]
    with canvas.group("context", "weight"):
        canvas.area(frame.path(side), RULE, THIN)
        canvas.area(frame.path(front), CLOTH_CUT, THIN)
        canvas.area([frame((x, y, tall)) for x, y in top], WHITE, THIN)


def bond_section(
    canvas: Canvas, region: Polygon, bond: Point, radius: float, side: float
) -> tuple[Point, Point]:
    """Cut along the length: the panel lifts from the cloth, its liner turns back and lies on the cloth.

    ``bond`` is the bond line on the cloth's upper face, ``radius`` the panel's there, in mm on paper; the
    panel rises to the right, or to the left with ``side`` -1. Thicknesses are spread so that layers read.
    Returns the turn of the liner and a place in the cloth.
    """
    cloth, sheet, paper = 1.5, 1.6, 1.0
    gap = 0.9

    def at(x: float, up: float) -> Point:
        return bond[0] + side * x, bond[1] - up

    far = 40.0
    layer = Polygon([at(-far, 0), at(far, 0), at(far, -cloth), at(-far, -cloth)])
    with canvas.group("context", "cloth"):
        canvas.area(layer, CLOTH_CUT, THIN)

    def under(turn: float, out: float) -> Point:
        return at((radius + out) * math.sin(turn), radius - (radius + out) * math.cos(turn))

    turns = [LAST_TURN * k / 40 for k in range(41)]
    lower = [at(-far, 0.0), *(under(t, 0.0) for t in turns)]
    upper = [at(-far, sheet), *(under(t, -sheet) for t in turns)]
    body = Polygon([*lower, *reversed(upper)])
    with canvas.group("context", "panel"):
        canvas.area(body, PVC, THIN)
        hatch(canvas, body.intersection(region), *PVC_HATCH)
    # The liner's middle line: along the panel's under face, round, and back on the cloth.
    low, reach = paper / 2 + 0.15, paper / 2 + 0.1
    high = low + paper + gap
    first = math.acos(min(1.0, (radius - high) / (radius + reach)))
    turn_x = (radius + reach) * math.sin(first)
    bend = (high - low) / 2
    nose = [
        at(turn_x - bend * math.sin(math.radians(a)), low + bend + bend * math.cos(math.radians(a)))
        for a in range(0, 181, 15)
    ]
    line = [under(LAST_TURN - (LAST_TURN - first) * k / 30, reach) for k in range(31)] + nose + [at(far, low)]
    with canvas.group("new", "liner"):
        canvas.area(
            LineString(line).buffer(paper / 2, cap_style="flat", join_style="round"), LINER, Pen(0.5, INK)
        )
    return nose[6], at(-3.0, -cloth / 2)
