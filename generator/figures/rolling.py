"""Shared by the figures of rolling: the panel flat on the bench, the curl, the rings, marks, the motion."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import LineString, MultiPoint, Polygon, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point, Role
from generator.figures.hands import hand
from generator.figures.joints import joint_lines
from generator.figures.pens import (
    CLOTH_BACK,
    CLOTH_FACE,
    HEAVY,
    HIDDEN,
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
from generator.figures.stamps import stamped
from generator.figures.state import State
from generator.figures.view import Frame, Point3, View, bench, turned
from generator.figures.wall import paint, print_on, ring_motion, rolled
from generator.recipe.models import SizeRecipe
from generator.shape.development import End
from generator.shape.shade import Shade

SPREAD = 0.85
"""Parallel lines nearer than this on paper are drawn this far apart, mm."""


STEEPEST = 56.0
"""A taper on its side is seen from no higher than this, degrees."""


def bench_view(shade: Shade, left: bool, near: End = "bottom") -> View:
    """The bench view of a shade on its side. A taper whose wide ring is near is seen from higher up.

    From the usual height that ring would show nothing but its inside, for the wall behind falls away.
    """
    if not shade.tapered:
        return bench(left)
    rise = math.degrees(lean(shade)) * (1.0 if shade.wide_end == near else 0.4)
    return turned("bench", -15, min(30 + rise, STEEPEST), left)


def lean(shade: Shade) -> float:
    """How far the wall leans at the front, radians off the upright, whichever end is wide; 0 if straight."""
    if shade.development is None:
        return 0.0
    low, high = shade.standing(0.0, 0.0), shade.standing(0.0, shade.slant)
    return abs(math.atan2(high[1] - low[1], high[2] - low[2]))


def facing(shade: Shade, c: float) -> float:
    """How far the bench is turned so that the line of contact at c points straight away from the maker.

    The maker of a taper turns the sheet, or walks round it, as the rings swing round; 0 if straight.
    """
    if shade.development is None:
        return 0.0
    (x0, y0), (x1, y1) = (shade.flat(c, h) for h in (0.0, shade.slant))
    return math.pi / 2 - math.atan2(y1 - y0, x1 - x0)


def spread(real: float, scale: float) -> float:
    """A real length, or the length that just shows on paper; what is not there stays nothing."""
    return max(real, SPREAD / scale) if real > 0 else 0.0


def flat_panel(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    start: float,
    stop: float,
    state: State,
    *,
    wave_at_stop: bool,
    tape: float = 0.0,
    turn: float = 0.0,
) -> None:
    """The panel on the bench, PVC up, any cloth margins beyond its long edges, from ``start`` to ``stop``.

    With ``wave_at_stop`` it is broken off there, else that is its outside end; a seam tape on it is as wide
    as ``tape``. Strips that are still on cover the margins; corners that are bent show as creases.
    """
    m, high = spread(shade.margin, frame.scale), shade.slant
    near, far = (sheet_line(frame, shade, (stop, stop), (h, h), turn)[0] for h in (-m, high + m))
    end = wave(near, far, depth=0.7) if wave_at_stop else [near, far]
    lower = sheet_line(frame, shade, (start, stop), (-m, -m), turn)
    upper = sheet_line(frame, shade, (stop, start), (high + m, high + m), turn)
    whole = _valid(Polygon([*lower[:-1], *end, *upper[1:]]))
    band = _valid(_area(frame, shade, start, stop + 60.0 if wave_at_stop else stop, 0.0, high, turn))
    pvc = whole.intersection(band) if wave_at_stop else band
    if m:
        with canvas.group("context", "margin-strip" if state.strips else "cloth-margin"):
            canvas.area(whole, PVC if state.strips else CLOTH_BACK, THIN)
    with canvas.group("context", "panel"):
        canvas.area(pvc, PVC, None if state.strips else THIN)
    if state.strips:
        with canvas.group("context", "kiss-cut"):
            for h in (0.0, high):
                line = LineString(sheet_line(frame, shade, (start, stop), (h, h), turn))
                canvas.line(line.intersection(whole), state.kiss_cut)
    if state.bent:
        _creases(canvas, frame, shade, (start, stop), whole, turn)
    if state.seam_tape and tape and not wave_at_stop:
        wide, short = spread(tape, frame.scale), spread(2.0, frame.scale)
        with canvas.group("context", "seam-tape"):
            canvas.area(_area(frame, shade, stop - wide, stop, short, high - short, turn), SEAM_TAPE)


def _creases(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    between: tuple[float, float],
    whole: BaseGeometry,
    turn: float,
) -> None:
    """Where the sheet has been bent for a corner: a thin line across it in the middle of each bend."""
    m, high = shade.margin, shade.slant
    corners = [shade.on_panel(station.s) for station in shade.outline.stations() if station.kind == "corner"]
    for x in (place for place in corners if between[0] < place < between[1]):
        with canvas.group("context", "crease"):
            line = LineString(sheet_line(frame, shade, (x, x), (-m, high + m), turn))
            canvas.line(line.intersection(whole), THIN)


def sheet_line(
    frame: Frame, shade: Shade, along: tuple[float, float], up: tuple[float, float], turn: float = 0.0
) -> list[Point]:
    """A line on the flat sheet between two panel coordinates and two heights, on paper."""
    (x0, x1), (h0, h1) = along, up
    steps = 1 if shade.development is None or x0 == x1 else max(8, int(abs(x1 - x0) / 8.0))
    cos, sin = math.cos(turn), math.sin(turn)
    points: list[Point3] = []
    for k in range(steps + 1):
        x, y = shade.flat(x0 + (x1 - x0) * k / steps, h0 + (h1 - h0) * k / steps)
        points.append((x * cos - y * sin, x * sin + y * cos, 0.0))
    return frame.path(points)


def _valid(shape: Polygon) -> BaseGeometry:
    return shape if shape.is_valid else shape.buffer(0)


def _area(frame: Frame, shade: Shade, x0: float, x1: float, h0: float, h1: float, turn: float) -> Polygon:
    low = sheet_line(frame, shade, (x0, x1), (h0, h0), turn)
    return Polygon([*low, *sheet_line(frame, shade, (x1, x0), (h1, h1), turn)])


def rings_and_curl(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    size: SizeRecipe,
    c: float,
    state: State,
    *,
    new_rings: bool = False,
    thin: bool = False,
    turn: float = 0.0,
) -> BaseGeometry:
    """Both rings at rest at panel coordinate c, the panel rolled up so far; returns what that hides."""
    m, high = spread(shade.margin, frame.scale), shade.slant
    wall = rolled(shade, c, c, turn) if c > 0 else None
    if wall is not None:
        margins = ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK)) if m else ()
        for low, top, fill in (*margins, (0.0, high, PVC_INSIDE)):
            paint(canvas, frame, wall, low, top, front=False, fill=fill, pen=NEW, part="rolled", role="new")
        joint_lines(canvas, frame, wall, shade, 0.0, high, front=False)
    embed = ring_motion(shade, c, turn)
    far_is_fitter = shade.fitter_end == "top"
    role: Role = "new" if new_rings else "context"
    for h, fitter, inward in ((shade.height, far_is_fitter, -1.0), (0.0, not far_is_fitter, 1.0)):
        ring(
            canvas,
            frame,
            shade,
            embed,
            h,
            part="fitter-ring" if fitter else "plain-ring",
            fitter=fitter,
            inward=inward,
            taped=state.taped,
            new=new_rings,
            role=role,
            thin=thin,
        )
    if wall is None:
        return Polygon()
    paint(canvas, frame, wall, -m, high + m, front=True, fill=CLOTH_FACE, part="rolled", role="new")
    print_on(canvas, frame, wall, size, -m, high + m)
    joint_lines(canvas, frame, wall, shade, -m, high + m, front=True)
    paint(canvas, frame, wall, -m, high + m, front=True, fill="none", pen=NEW, part="rolled", role="new")
    hides = [wall.patch(frame, a, b, -m, high + m) for front, a, b in wall.runs(frame) if front]
    return unary_union(hides) if hides else Polygon()


def start_edge(frame: Frame, shade: Shade, c: float, turn: float = 0.0) -> tuple[Point, Point]:
    """The start edge of the PVC on paper, near end first: where both seam marks are."""
    wall = rolled(shade, c, max(c, 1.0), turn)
    return frame(wall.point(0.0, 0.0)), frame(wall.point(0.0, shade.slant))


def seam_marks(
    canvas: Canvas, frame: Frame, shade: Shade, c: float, hidden: BaseGeometry, turn: float = 0.0
) -> tuple[Point, Point]:
    """Dots at both seam marks and the start edge between them, as far as the curl does not hide them."""
    near, far = start_edge(frame, shade, c, turn)
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


@stamped
def mark(canvas: Canvas, at: Point, radius: float = 0.85, part: str = "seam-mark") -> None:
    """A seam mark: a dot with a white halo."""
    with canvas.group("new", part):
        canvas.circle(at, radius + 0.45, WHITE)
        canvas.circle(at, radius, INK)


def joint_marks(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    c: float,
    stop: float,
    state: State,
    hidden: BaseGeometry,
    turn: float = 0.0,
) -> list[Point]:
    """Joints still to be met: a dashed line across what lies flat, a small dot at each joint's ring marks.

    Returns the marks that are seen on the far ring, for a label.
    """
    m, inside, seen = spread(shade.margin, frame.scale), hidden.buffer(-0.3), []
    for x in (joint for joint in shade.joints if joint > c - 1.0):
        if x < stop:
            across = sheet_line(frame, shade, (x, x), (-m, shade.slant + m), turn)
            with canvas.group("context", "joint"):
                canvas.line(LineString(across).difference(inside), HIDDEN)
        pose = shade.pose(c, turn)
        for h in (0.0, shade.slant) if state.joint_marks else ():
            spot = frame(pose(shade.standing(x, h)))
            if inside.contains(Dot(spot)):
                continue
            with canvas.group("context", "joint-mark"):
                canvas.circle(spot, 0.95, WHITE)
                canvas.circle(spot, 0.6, INK)
            if h:
                seen.append(spot)
    return seen


def grip(
    canvas: Canvas, loop: Sequence[Point], towards: float, *, lean: float = 0.0, scale: float = 0.7, part: str
) -> None:
    """A hand that holds a ring on paper from outside, at its place furthest in a direction (degrees).

    ``lean`` turns the arm from that direction.
    """
    way = (math.cos(math.radians(towards)), -math.sin(math.radians(towards)))
    spot = max(loop, key=lambda p: way[0] * p[0] + way[1] * p[1])
    angle = towards + 180 + lean
    hand(canvas, "pinch", spot, angle, scale=scale, flip=math.cos(math.radians(angle)) < 0, part=part)


def rolling_path(
    frame: Frame, shade: Shade, c: float, *, clear: float = 2.0, length: float = 12.5, turn: float = 0.0
) -> list[Point]:
    """Where a place just off the near ring's upper front goes while the ring rolls on, on paper.

    Of a taper it is the wide ring, which swings furthest.

    ``clear`` is how far off the ring it starts, ``length`` how long the path becomes at most, mm on paper.
    """
    outline, h = shade.rim(shade.wide_end), shade.ring_centre(shade.wide_end)[2]
    wish = _direction(shade, c) + math.radians(146)
    low, high = 0.0, 2 * outline.length
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if outline.psi(middle) < wish else (low, middle)
    x, y = outline.point(low)
    across = outline.psi(low) - math.pi / 2
    away = clear / frame.scale
    start = (x + away * math.cos(across), y + away * math.sin(across))
    path: list[Point] = []
    step, gone = shade.wrapped_length / 720, 0.0
    for k in range(360):
        if shade.tapered and c + k * step > shade.wrapped_length:
            break
        x3, y3, z3 = ring_motion(shade, c + k * step, turn)(start, h)
        spot = frame((x3, y3, z3))
        if path:
            moved = math.dist(path[-1], spot)
            if moved < 0.02:
                continue
            gone += moved
        path.append(spot)
        if gone > length + 6.0 or z3 < 0.12 * outline.depth:
            break
    shape = MultiPoint(frame.path(ring_extent(shade, c, turn))).convex_hull.buffer(1.3)
    free = LineString(path).difference(shape)
    outside = max(getattr(free, "geoms", [free]), key=lambda part: part.length)
    kept = LineString(path) if outside.length < 5.0 else outside
    return cut_short([(x, y) for x, y in kept.coords], 0.0, max(0.0, kept.length - length))


def _direction(shade: Shade, c: float) -> float:
    """Angle through which the outlines have turned at panel coordinate c."""
    if shade.development is not None:
        return shade.development.generator(c).psi
    return shade.outline.psi(c * shade.outline.length / shade.wrapped_length)


def ring_extent(shade: Shade, c: float, turn: float = 0.0) -> list[Point3]:
    """Points of both rings and their curl at rest at c, for fitting a place on paper."""
    pose, m, n = shade.pose(c, turn), shade.margin, 48
    return [
        pose(shade.standing(shade.wrapped_length * k / n, h)) for k in range(n) for h in (-m, shade.slant + m)
    ]


def flat_extent(shade: Shade, start: float, stop: float, turn: float = 0.0) -> list[Point3]:
    """Corners and edges of the sheet on the bench between two panel coordinates, for fitting."""
    cos, sin, m = math.cos(turn), math.sin(turn), shade.margin
    places = [
        shade.flat(start + (stop - start) * k / 12, h) for k in range(13) for h in (-m, shade.slant + m)
    ]
    return [(x * cos - y * sin, x * sin + y * cos, 0.0) for x, y in places]


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
