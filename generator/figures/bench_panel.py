"""Cloth and panel on the bench while they are bonded: a panel that lifts off the cloth along a bond line."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

import numpy as np
import shapely
from shapely import LineString, Polygon, box
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.bench_edge import WAVE_DEPTH, WAVE_LENGTH, torn
from generator.figures.bench_edge import on as on_paper
from generator.figures.canvas import Canvas, Point
from generator.figures.flat_sheet import FlatSheet
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.lay import Lay, spread
from generator.figures.model import Job
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_CUT,
    CUFF,
    INK,
    KISS_CUT,
    LINER,
    NEW,
    PVC,
    RULE,
    THIN,
    TOOL,
    WHITE,
    Pen,
)
from generator.figures.plane import wave
from generator.figures.view import Frame, Point3
from generator.shape.development import ENDS

LAST_TURN = 1.5
"""How far the panel of a section is drawn round, radians: out of the detail."""
AROUND = 3.4
"""Cloth that is drawn round a curved panel where both go on, mm on paper."""
BENCH_TAPE = (7.0, 2.4)
"""A strip of low-tack tape, mm on paper before the view shortens it."""
WEIGHT = (7.8, 11.5, 4.2)
"""The weight's length, depth and height, mm on paper before the view shortens them."""
FAR = 5000.0
"""Further away than any work, real mm."""
Profile = Callable[[float], tuple[float, float]]
"""From a place along the bench to (x, z): where what lies there hangs."""


def helped(job: Job) -> bool:
    """Whether a second person lends a hand: the recipe has two, or the step takes more than two hands."""
    return job.step.helper or job.size.makers.people > 1


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


def raised(profile: Profile, points: Iterable[Point]) -> list[Point3]:
    """Places of the work, lifted off the bench."""
    return [(x, y, z) for (x, z), y in ((profile(px), py) for px, py in points)]


def edge(
    frame: Frame, on: Lay, profile: Profile, x0: float, x1: float, share: float, steps: int = 48
) -> list[Point]:
    """Paper line along the panel between two panel coordinates, at a share of the way across."""
    return frame.path(raised(profile, (on.at(x0 + (x1 - x0) * k / steps, share) for k in range(steps + 1))))


def cloth_on_bench(
    canvas: Canvas,
    frame: Frame,
    on: Lay,
    stop: float,
    start: float = 0.0,
    *,
    tacked: bool = False,
) -> None:
    """The cloth, wrong side up, between two panel coordinates, broken off where it goes on.

    ``tacked``: its corners, as far as they are seen, are held by low-tack tape.
    """
    with canvas.group("context", "cloth"):
        if on.sheet:
            region = on.cloth().intersection(_torn_round(on, on.sheet, start, stop, frame.scale))
            for part in getattr(region, "geoms", [region]):
                if isinstance(part, Polygon):
                    canvas.area(flat(frame, part), CLOTH_BACK, THIN)
            return
        whole = on.cloth()
        x0 = on.start + start if start > 0 else whole.bounds[0]
        x1 = min(on.start + stop, whole.bounds[2])
        low, high = whole.bounds[1], whole.bounds[3]
        left = torn(frame, (x0, high), (x0, low)) if start > 0 else on_paper(frame, [(x0, high), (x0, low)])
        broken = x1 < whole.bounds[2]
        right = torn(frame, (x1, low), (x1, high)) if broken else on_paper(frame, [(x1, low), (x1, high)])
        canvas.area([*left, *right], CLOTH_BACK)
        for line in (left, right, [left[0], right[-1]], [left[-1], right[0]]):
            canvas.line(line, THIN)
    if tacked:
        ends = [x for x, torn_off in ((x0, start > 0), (x1, broken)) if not torn_off]
        _corner_tape(canvas, frame, [(x, y) for x in ends for y in (low, high)], whole.centroid)


def _corner_tape(canvas: Canvas, frame: Frame, corners: list[Point], middle: Dot) -> None:
    """A strip across the tip of each corner, lying on the bench."""
    long, wide = (0.5 * side / frame.scale for side in BENCH_TAPE)
    for x, y in corners:
        turn = math.pi / 4 * (1 if (x < middle.x) != (y < middle.y) else -1)
        c, s = math.cos(turn), math.sin(turn)
        strip = [(x + u * c - v * s, y + u * s + v * c, 0.0) for u, v in _rectangle(long, wide)]
        with canvas.group("context", "low-tack-tape"):
            canvas.area(frame.path(strip), WHITE, THIN)


def _rectangle(half_long: float, half_wide: float) -> list[Point]:
    u, v = half_long, half_wide
    return [(-u, -v), (u, -v), (u, v), (-u, v)]


def _torn_round(on: Lay, sheet: FlatSheet, start: float, stop: float, scale: float) -> BaseGeometry:
    """A stretch of a curved panel with some cloth round it, its broken edges waved."""
    wide = AROUND / scale
    depth, length = 0.8 * WAVE_DEPTH / scale, WAVE_LENGTH / scale
    begin = start if start > 0 else -wide
    last = min(stop, on.panel + wide)
    sides: list[list[Point]] = []
    for end in ENDS:
        steps, gone, before = 96, 0.0, sheet.at_rim(end, begin, sheet.edge + wide)
        sides.append([before])
        for k in range(1, steps + 1):
            x = begin + (last - begin) * k / steps
            spot = sheet.at_rim(end, x, sheet.edge + wide)
            gone, before = gone + math.dist(before, spot), spot
            out = sheet.edge + wide + depth * math.sin(math.tau * gone / length)
            sides[-1].append(sheet.at_rim(end, x, out))
    near, far = sides
    return Polygon(
        [*near, *wave(near[-1], far[-1], depth), *reversed(far), *wave(far[0], near[0], depth)]
    ).buffer(0)


def panel_on_bench(
    canvas: Canvas,
    frame: Frame,
    on: Lay,
    profile: Profile,
    stop: float,
    *,
    start: float = 0.0,
    pen: Pen = NEW,
    part: str = "panel",
) -> None:
    """The panel between two panel coordinates, broken off where it goes on."""
    end = min(stop, on.panel)
    near, far = (edge(frame, on, profile, start, end, share) for share in (0.0, 1.0))
    last = wave(near[-1], far[-1], 0.8, 2.0) if end < on.panel else [near[-1], far[-1]]
    first = wave(far[0], near[0], 0.8, 2.0) if start > 0 else [far[0], near[0]]
    with canvas.group("new", part):
        canvas.area([*near, *last[1:-1], *reversed(far), *first[1:-1]], PVC)
        for line in (near, far):
            canvas.line(line, pen)
        canvas.line(last, THIN if end < on.panel else pen)
        canvas.line(first, THIN if start > 0 else pen)
    if on.margin:
        inset = spread(on.margin, frame.scale * 0.483) / (on.far - on.near)
        with canvas.group("context", "kiss-cut"):
            for share in (inset, 1.0 - inset):
                canvas.line(edge(frame, on, profile, start, end, share), KISS_CUT)


def stretch(on: Lay, x0: float, x1: float) -> BaseGeometry:
    """The part of the panel between two places along the bench, near the line that runs straight away."""
    reach = 2.5 * (x1 - x0) + 0.6 * (on.far - on.near)
    middle = (x0 + x1) / 2 - on.start
    part = on.between(max(0.0, middle - reach), min(on.panel, middle + reach))
    return part.intersection(box(x0, -FAR, x1, FAR))


def across(on: Lay, x: float) -> tuple[Point, Point]:
    """The line straight away from the maker across the panel at a place along the bench, near end first."""
    if not on.sheet:
        return (x, on.near), (x, on.far)
    middle, reach = x - on.start, 0.6 * (on.far - on.near)
    part = on.between(max(0.0, middle - reach), min(on.panel, middle + reach))
    line = part.intersection(LineString([(x, -FAR), (x, FAR)]))
    return (x, line.bounds[1]), (x, line.bounds[3])


def flat(frame: Frame, region: BaseGeometry) -> BaseGeometry:
    """An area of the bench on paper."""
    return shapely.transform(region, lambda all_: np.array([frame((x, y, 0.0)) for x, y in all_]))


def weight(canvas: Canvas, frame: Frame, at: Point) -> Point:
    """The weight: a block with a knob, of one size on any paper; the near left corner of its foot is ``at``.

    Returns a place on its top.
    """
    long, deep, high = (value / frame.scale for value in WEIGHT)

    def p(i: float, j: float, k: float) -> Point:
        return frame((at[0] + i * long, at[1] + j * deep, k * high))

    faces = (
        [p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)],
        [p(0, 1, 0), p(0, 0, 0), p(0, 0, 1), p(0, 1, 1)],
        [p(0, 0, 1), p(1, 0, 1), p(1, 1, 1), p(0, 1, 1)],
    )
    with canvas.group("context", "weight"):
        for face, fill in zip(faces, (RULE, RULE, LINER), strict=True):
            canvas.area(face, fill, TOOL)
        knob = LineString([p(0.5, 0.5, 1.0), p(0.5, 0.5, 1.35)])
        canvas.area(knob.buffer(0.7), CUFF)
        canvas.area(Dot(p(0.5, 0.5, 1.45)).buffer(1.5, quad_segs=12), CUFF, Pen(0.35, WHITE))
    return p(0.85, 0.6, 1.0)


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
