"""The far rim seen from inside, close to, in the bench view: for notching, snipping, tucking."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point, Role
from generator.figures.cloth import sprig
from generator.figures.pens import INK, MOTIF, NEW, PVC_INSIDE, RING_TAPE, SOFT, THIN, Pen
from generator.figures.plane import wave
from generator.figures.view import Frame, Point3, bench
from generator.recipe.models import SizeRecipe
from generator.shape.development import End
from generator.shape.shade import Shade, Strut

STEEPEST = math.radians(20)
"""A wall that leans further is drawn no steeper, so that what is done at its rim is seen."""


@dataclass(frozen=True)
class Rim:
    """The rim of the far wall: x along it, mm, y away, z up from the rim's edge."""

    frame: Frame
    first: float
    last: float
    """The ends of what is shown, x in mm."""
    depth: float
    """How far down the wall is shown, mm."""
    thick: float
    """The taped wire, mm."""
    slope: float = 0.0
    """How far the wall goes away from us with each mm of height: a taper's wide end up leans away."""

    def at(self, x: float, z: float, y: float = 0.0) -> Point:
        """A place on paper, y counted from the wall."""
        return self.frame((x, y + self.slope * z, z))

    def upright(self, x: float, z: float, y: float = 0.0) -> Point:
        """A place on paper, y counted from the rim's own upright plane."""
        return self.frame((x, y, z))

    def strip(self, x0: float, x1: float, z0: float, z1: float, y: float = 0.0) -> Polygon:
        """An upright strip between two x and two z."""
        return Polygon([self.at(x0, z0, y), self.at(x1, z0, y), self.at(x1, z1, y), self.at(x0, z1, y)])


@dataclass(frozen=True)
class Turned:
    """A margin turned in: the part that lies over the ring, and the part that hangs inside."""

    over: Polygon
    hangs: Polygon
    y: float
    """How far towards us it hangs, mm (negative)."""
    top: float
    """Its height above the rim's edge, mm."""


def rim(
    shade: Shade,
    tape: float,
    *,
    left: bool,
    scale: float,
    middle: Point,
    first: float,
    last: float,
    depth: float,
    end: End,
) -> Rim:
    """A rim whose edge at x = 0 stands at ``middle`` on paper; ``tape`` is the ring tape's thickness, mm.

    ``end`` is the end that is up.
    """
    flat = Frame(bench(left), scale, middle[0], middle[1])
    slope = math.tan(leaning(shade, end))
    # What leans away shows longer on paper, what leans towards us shorter: both keep the depth.
    depth *= 0.866 / (0.866 + 0.483 * slope)
    return Rim(flat, first, last, depth, shade.wire + 2 * tape, slope)


def skew(shade: Shade, end: End, high: float) -> float:
    """How far what is ``high`` above or below the rim stands aside on paper because the wall leans."""
    return 0.2588 * math.tan(abs(leaning(shade, end))) * high


def leaning(shade: Shade, end: End) -> float:
    """How far the wall leans outwards at an end that is up, radians, no more than is drawn."""
    if shade.development is None:
        return 0.0
    low, high = shade.standing(0.0, 0.0), shade.standing(0.0, shade.slant)
    out = math.atan2(low[1] - high[1], high[2] - low[2])
    return min(max(out if end == "top" else -out, -STEEPEST), STEEPEST)


def wall(
    canvas: Canvas, view: Rim, x0: float, x1: float, *, waves: tuple[bool, bool], part: str = "panel"
) -> None:
    """The inside of the PVC below the rim; broken off with a wave at either end where ``waves`` says so."""
    left_edge = [view.at(x0, 0.0), view.at(x0, -view.depth)]
    right_edge = [view.at(x1, 0.0), view.at(x1, -view.depth)]
    if waves[0]:
        left_edge = wave(left_edge[0], left_edge[1], depth=0.7)
    if waves[1]:
        right_edge = wave(right_edge[0], right_edge[1], depth=0.7)
    with canvas.group("context", part):
        canvas.area([*left_edge, *reversed(right_edge)], PVC_INSIDE)
        for edge in (left_edge, right_edge):
            canvas.line(edge, THIN)
        canvas.line([view.at(x0, 0.0), view.at(x1, 0.0)], THIN)


def ring_bar(canvas: Canvas, view: Rim, x0: float, x1: float, *, role: Role = "context") -> None:
    """The taped wire along the rim, inside the PVC, its upper side level with the rim's edge."""
    y = -view.thick / 2
    bar = view.strip(x0, x1, -view.thick, 0.0, y)
    with canvas.group(role, "ring"):
        canvas.area(bar, RING_TAPE, Pen(0.35, INK))
        shade = [view.at(x0, -0.72 * view.thick, y), view.at(x1, -0.72 * view.thick, y)]
        canvas.line(shade, THIN.tinted(SOFT))


def sheet(
    canvas: Canvas,
    outline: Sequence[Point] | BaseGeometry,
    fill: str,
    *,
    part: str,
    role: Role = "context",
    pen: Pen = THIN,
) -> None:
    """A piece of cloth."""
    with canvas.group(role, part):
        canvas.area(outline, fill, pen)


def flap(
    view: Rim, x0: float, x1: float, hang: float, *, waves: tuple[bool, bool] = (False, False)
) -> Turned:
    """The margin turned in between two x: over the ring, then hanging ``hang`` mm below the rim."""
    y = -view.thick - 0.3
    top = 0.3
    back = [view.at(x0, top), view.at(x1, top)]
    front = [view.at(x1, top, y), view.at(x0, top, y)]
    first = [view.at(x0, top, y), view.at(x0, -hang, y)]
    last = [view.at(x1, top, y), view.at(x1, -hang, y)]
    if waves[0]:
        first = wave(first[0], first[1], depth=0.5)
    if waves[1]:
        last = wave(last[0], last[1], depth=0.5)
    return Turned(Polygon([*back, *front]), Polygon([*first, *reversed(last)]), y, top)


def turned_print(
    canvas: Canvas, view: Rim, size: SizeRecipe, turned: Turned, x0: float, x1: float, hang: float, up: bool
) -> None:
    """The right side of the margin: close to, a few fronds, stripes or threads.

    Over the rim the print runs down where the top of the print is ``up``, and up at the other end.
    """
    inside = turned.hangs.buffer(-0.5)

    def to_paper(p: Point) -> Point:
        z = turned.top - p[1] if up else p[1] - hang
        return view.at(x0 + p[0], z, turned.y)

    lines: list[list[Point]] = []
    repeat = size.covering.repeat
    if size.covering.direction == "one-way":
        for k in range(1, int((x1 - x0) / 7.0) + 1):
            lines += sprig(7.0 * k - 1.5, 0.55 * hang, 4.2, 0.6 * hang)
    elif repeat and repeat.around:
        wide = min(repeat.around, 8.0)
        for k in range(int((x1 - x0) / wide) + 2):
            lines += [
                [(k * wide, 0.0), (k * wide, 60.0)],
                [((k + 0.3) * wide, 0.0), ((k + 0.3) * wide, 60.0)],
            ]
    else:
        for i in range(int((x1 - x0) / 4.2) + 1):
            for j in range(3):
                x, y = 4.2 * (i + (0.5 if j % 2 else 0.0)) + 1.2, hang * (0.22 + 0.29 * j)
                lines.append([(x - 0.7, y), (x + 0.7, y)] if (i + j) % 2 else [(x, y - 0.7), (x, y + 0.7)])
    with canvas.group("context", "print"), canvas.clip(inside):
        for line in lines:
            canvas.line([to_paper(p) for p in line], MOTIF)


def strut_bar(
    view: Rim, x: float, run: Point3, wide: float, *, long: float = 24.0, aside: float = 15.0
) -> tuple[BaseGeometry, list[Point]]:
    """A strut from the wire towards the hub along the unit direction ``run``: outline and middle line.

    It is drawn ``long`` paper mm of its true length, less where it would go further than ``aside`` to a side.
    """
    y, z = -view.thick / 2, -view.thick / 2
    scale = view.frame.scale
    sideways = abs(view.frame.view.project(run)[0])
    length = min(long, aside / max(sideways, 1e-6)) / scale
    root = view.slope * z
    ends = [view.upright(x + run[0] * k, z + run[2] * k, y + root + run[1] * k) for k in (0.0, length)]
    return LineString(ends).buffer(wide * scale / 2, quad_segs=8), ends


def strut_run(shade: Shade, mirrored: bool, widest: float = 89.0) -> Point3:
    """Direction of a strut from the wire of the far wall to the hub: along the wall, towards us, down.

    Of all struts the one that comes most nearly straight down on paper, so that it leaves most room; where
    even that one goes further aside than ``widest``, degrees on paper, it is drawn no further.
    """
    runs = [_run(shade, strut, mirrored) for strut in shade.struts]
    x, y, z = min(runs, key=lambda run: round(_aside(run), 6))
    while _aside((x, y, z)) > math.tan(math.radians(widest)) and abs(x) > 0.01:
        x *= 0.95
    return x, y, z


def _aside(run: Point3) -> float:
    """How far a direction goes aside on paper for each mm that it comes down."""
    right, up = bench().project(run)
    return abs(right) / abs(up)


def _run(shade: Shade, strut: Strut, mirrored: bool) -> Point3:
    x, y = strut.point
    d = math.hypot(x, y)
    along = (math.cos(strut.psi), math.sin(strut.psi))
    inward = (-along[1], along[0])
    reach = max(d - 20.0, 1.0)
    a, b = -(x * along[0] + y * along[1]) / d, -(x * inward[0] + y * inward[1]) / d
    whole = math.hypot(reach, shade.recess)
    return (-a if mirrored else a) * reach / whole, -abs(b) * reach / whole, -shade.recess / whole


__all__ = [
    "NEW",
    "Rim",
    "Turned",
    "flap",
    "leaning",
    "rim",
    "ring_bar",
    "sheet",
    "skew",
    "strut_bar",
    "strut_run",
    "turned_print",
    "wall",
]
