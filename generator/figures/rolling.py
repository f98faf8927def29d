"""Shared by the figures of rolling: the panel flat on the bench, the curl, the rings, marks, the motion."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import LineString, MultiPoint, Polygon, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point, Role
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_FACE,
    HEAVY,
    INK,
    NEW,
    PVC,
    PVC_INSIDE,
    SEAM_TAPE,
    THIN,
    WHITE,
)
from generator.figures.plane import cut_short, wave
from generator.figures.rings import ring
from generator.figures.view import Frame, Point3
from generator.figures.wall import paint, print_on, ring_motion, rolled
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

SPREAD = 0.85
"""Parallel lines nearer than this on paper are drawn this far apart, mm."""


def spread(real: float, scale: float) -> float:
    """A real length, or the length that just shows on paper; what is not there stays nothing."""
    return max(real, SPREAD / scale) if real > 0 else 0.0


def flat_panel(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    start: float,
    stop: float,
    *,
    wave_at_stop: bool,
    seam_tape: float = 0.0,
    role: Role = "context",
) -> None:
    """The panel on the bench, PVC up, any cloth margins beyond its long edges, from ``start`` to ``stop``.

    With ``wave_at_stop`` it is broken off there, else that is its outside end, with a seam tape this wide.
    """
    m, high = spread(shade.margin, frame.scale), shade.height
    near, far = frame((stop, -m, 0.0)), frame((stop, high + m, 0.0))
    end = wave(near, far, depth=0.7) if wave_at_stop else [near, far]
    whole = Polygon([frame((start, -m, 0.0)), *end, frame((start, high + m, 0.0))])
    if not whole.is_valid:
        # So little is left ahead of the rings that the wave reaches back over them.
        whole = whole.buffer(0)
    reach = stop + 60.0
    band = Polygon(frame.path([(start, 0.0, 0.0), (reach, 0.0, 0.0), (reach, high, 0.0), (start, high, 0.0)]))
    pvc = whole.intersection(band) if wave_at_stop else _quad(frame, start, stop, 0.0, high)
    if m:
        with canvas.group(role, "cloth-margin"):
            canvas.area(whole, CLOTH_BACK, THIN)
    with canvas.group(role, "panel"):
        canvas.area(pvc, PVC, THIN)
    if seam_tape and not wave_at_stop:
        wide, short = spread(seam_tape, frame.scale), spread(2.0, frame.scale)
        with canvas.group(role, "seam-tape"):
            canvas.area(_quad(frame, stop - wide, stop, short, high - short), SEAM_TAPE)


def _quad(frame: Frame, x0: float, x1: float, y0: float, y1: float) -> Polygon:
    return Polygon(frame.path([(x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)]))


def rings_and_curl(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    size: SizeRecipe,
    c: float,
    *,
    new_rings: bool = False,
    thin: bool = False,
) -> BaseGeometry:
    """Both taped rings at rest at panel coordinate c, the panel rolled up so far; returns what that hides."""
    m, high = spread(shade.margin, frame.scale), shade.height
    wall = rolled(shade, c, c) if c > 0 else None
    if wall is not None:
        margins = ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK)) if m else ()
        for low, top, fill in (*margins, (0.0, high, PVC_INSIDE)):
            paint(canvas, frame, wall, low, top, front=False, fill=fill, pen=THIN, part="inside", role="new")
    embed = ring_motion(shade, c)
    far_is_fitter = shade.fitter_end == "top"
    role: Role = "new" if new_rings else "context"
    for h, fitter, inward in ((high, far_is_fitter, -1.0), (0.0, not far_is_fitter, 1.0)):
        ring(
            canvas,
            frame,
            shade,
            embed,
            h,
            part="fitter-ring" if fitter else "plain-ring",
            fitter=fitter,
            inward=inward,
            taped=True,
            new=new_rings,
            role=role,
            thin=thin,
        )
    if wall is None:
        return Polygon()
    paint(canvas, frame, wall, -m, high + m, front=True, fill=CLOTH_FACE, part="rolled", role="new")
    print_on(canvas, frame, wall, size, -m, high + m)
    paint(canvas, frame, wall, -m, high + m, front=True, fill="none", pen=NEW, part="rolled", role="new")
    hides = [wall.patch(frame, a, b, -m, high + m) for front, a, b in wall.runs(frame) if front]
    return unary_union(hides) if hides else Polygon()


def start_edge(frame: Frame, shade: Shade, c: float) -> tuple[Point, Point]:
    """The start edge of the PVC on paper, near end first: where both seam marks are."""
    wall = rolled(shade, c, max(c, 1.0))
    return frame(wall.point(0.0, 0.0)), frame(wall.point(0.0, shade.height))


def seam_marks(
    canvas: Canvas, frame: Frame, shade: Shade, c: float, hidden: BaseGeometry
) -> tuple[Point, Point]:
    """Dots at both seam marks and the start edge between them, as far as the curl does not hide them."""
    near, far = start_edge(frame, shade, c)
    inside = hidden.buffer(-0.3)
    with canvas.group("new", "start-edge"):
        line = LineString([near, far])
        shown = line.difference(inside) if c > 0 else line
        if not shown.is_empty:
            canvas.line(shown, HEAVY)
    for spot in (near, far):
        if not inside.contains(Dot(spot)):
            mark(canvas, spot)
    return near, far


def mark(canvas: Canvas, at: Point, radius: float = 0.85, part: str = "seam-mark") -> None:
    """A seam mark: a dot with a white halo."""
    with canvas.group("new", part):
        canvas.circle(at, radius + 0.45, WHITE)
        canvas.circle(at, radius, INK)


def rolling_path(
    frame: Frame, shade: Shade, c: float, *, clear: float = 2.0, length: float = 12.5
) -> list[Point]:
    """Where a place just off the near ring's upper front goes while the ring rolls on, on paper.

    ``clear`` is how far off the ring it starts, ``length`` how long the path becomes at most, mm on paper.
    """
    outline = shade.outline
    wish = outline.psi(c * outline.length / shade.wrapped_length) + math.radians(146)
    low, high = 0.0, 2 * outline.length
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if outline.psi(middle) < wish else (low, middle)
    x, y = outline.point(low)
    turn = outline.psi(low) - math.pi / 2
    away = clear / frame.scale
    start = (x + away * math.cos(turn), y + away * math.sin(turn))
    path: list[Point] = []
    step, gone = shade.wrapped_length / 720, 0.0
    for k in range(360):
        x3, _, z3 = ring_motion(shade, c + k * step)(start, 0.0)
        spot = frame((x3, 0.0, z3))
        if path:
            moved = math.dist(path[-1], spot)
            if moved < 0.02:
                continue
            gone += moved
        path.append(spot)
        if gone > length + 6.0 or z3 < 0.12 * outline.depth:
            break
    shape = MultiPoint(frame.path(ring_extent(shade, c))).convex_hull.buffer(1.3)
    free = LineString(path).difference(shape)
    outside = max(getattr(free, "geoms", [free]), key=lambda part: part.length)
    kept = LineString(path) if outside.length < 5.0 else outside
    return cut_short([(x, y) for x, y in kept.coords], 0.0, max(0.0, kept.length - length))


def ring_extent(shade: Shade, c: float) -> list[Point3]:
    """Points of both rings and their curl at rest at c, for fitting a place on paper."""
    embed = ring_motion(shade, c)
    m = shade.margin
    n = 48
    return [
        embed(shade.sheet.point(shade.sheet.length * k / n), h)
        for k in range(n)
        for h in (-m, shade.height + m)
    ]


def broken_scale(points: Sequence[Point]) -> list[list[Point]]:
    """Two short strokes across a line's beginning: it goes on beyond."""
    a, b = points[0], points[1]
    d = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / d, (b[1] - a[1]) / d
    return [
        [
            (a[0] + k * ux - uy * 1.0 + 0.3 * ux, a[1] + k * uy + ux * 1.0 + 0.3 * uy),
            (a[0] + k * ux + uy * 1.0 - 0.3 * ux, a[1] + k * uy - ux * 1.0 - 0.3 * uy),
        ]
        for k in (0.0, 0.9)
    ]
