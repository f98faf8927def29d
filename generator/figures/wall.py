"""The sheet as a wall: standing, or rolled part of the way, cut into strips between neighbouring generators.

Hidden lines need no solver because the outlines are convex: strips whose outside faces the viewer are painted
after those whose inside is seen.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely import MultiPolygon, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.cloth import motif, pieces
from generator.figures.pens import CLOTH_FACE, MOTIF, Pen
from generator.figures.view import Frame, Point3
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

STRIPS = 160


@dataclass(frozen=True)
class Wall:
    """A developable strip: ``section(x)`` is panel point x along the generators, ``embed`` sets it in space.

    ``start`` and ``stop`` are panel coordinates, mm from the start end; the outside is right of travel.
    """

    start: float
    stop: float
    section: Callable[[float], Point]
    embed: Callable[[Point, float], Point3]
    clockwise: bool = False
    breaks: tuple[float, ...] = ()

    @cached_property
    def stations(self) -> tuple[float, ...]:
        """Panel coordinates of the generators."""
        n = STRIPS
        even = [self.start + (self.stop - self.start) * k / n for k in range(n + 1)]
        found = sorted({*even, *(b for b in self.breaks if self.start < b < self.stop)})
        # Two generators in one place have no normal between them, and would look like a silhouette.
        return tuple(x for k, x in enumerate(found) if k == 0 or x - found[k - 1] > 1e-6)

    @cached_property
    def _seen(self) -> dict[float, Point]:
        return {}

    @cached_property
    def _runs(self) -> dict[Frame, list[tuple[bool, float, float]]]:
        return {}

    def across(self, x: float) -> Point:
        """``section(x)``, computed once: an ellipse finds its points by iteration."""
        if x not in self._seen:
            self._seen[x] = self.section(x)
        return self._seen[x]

    def point(self, x: float, h: float) -> Point3:
        """World point of panel coordinate x at height h above the lower edge of the PVC."""
        return self.embed(self.across(x), h)

    def outward(self, x0: float, x1: float) -> Point3:
        """Outward normal of the strip between two generators."""
        a, b = self.across(x0), self.across(x1)
        nx, ny = b[1] - a[1], -(b[0] - a[0])
        if self.clockwise:
            nx, ny = -nx, -ny
        o, p = self.embed((0.0, 0.0), 0.0), self.embed((nx, ny), 0.0)
        return p[0] - o[0], p[1] - o[1], p[2] - o[2]

    def runs(self, frame: Frame) -> list[tuple[bool, float, float]]:
        """Maximal runs of strips that show their outside (True) or their inside, as panel coordinates."""
        if frame in self._runs:
            return self._runs[frame]
        found = self._runs.setdefault(frame, [])
        for x0, x1 in zip(self.stations, self.stations[1:], strict=False):
            front = frame.view.faces(self.outward(x0, x1))
            if found and found[-1][0] == front:
                found[-1] = (front, found[-1][1], x1)
            else:
                found.append((front, x0, x1))
        return found

    def patch(self, frame: Frame, x0: float, x1: float, low: float, high: float) -> BaseGeometry:
        """Paper area of the wall between two generators and two heights."""
        xs = [x0, *(x for x in self.stations if x0 < x < x1), x1]
        whole = Polygon(
            [*(frame(self.point(x, low)) for x in xs), *(frame(self.point(x, high)) for x in reversed(xs))]
        )
        if whole.is_valid:
            return whole
        if len(xs) < 2:
            return MultiPolygon()
        foot, head = ([frame(self.point(x, h)) for x in xs] for h in (low, high))
        quads = shapely.polygons(
            [(a, b, c, d) for (a, b), (d, c) in zip(pairwise(foot), pairwise(head), strict=True)]
        )
        return unary_union(shapely.buffer(quads[shapely.area(quads) > 1e-9], 0.01, quad_segs=1))

    def edge(self, frame: Frame, x0: float, x1: float, h: float) -> list[Point]:
        """Paper line along the wall at one height."""
        xs = [x0, *(x for x in self.stations if x0 < x < x1), x1]
        return [frame(self.point(x, h)) for x in xs]


def standing(shade: Shade, base: float = 0.0, turn: float = 0.0, upside_down: bool = False) -> Wall:
    """The finished wall on its lower rim, the seam in front, turned by ``turn`` radians.

    The panel is rolled with its top edge away from the maker, so from above its stations run clockwise;
    seen from its open lower end (``upside_down``) they run counter-clockwise.
    """
    c, s = math.cos(turn), math.sin(turn)
    mirror = 1.0 if upside_down else -1.0

    def section(x: float) -> Point:
        px, py = shade.sheet.point(x % shade.sheet.length)
        px *= mirror
        return px * c - py * s, px * s + py * c

    corners = tuple(station.s for station in shade.sheet.stations())
    return Wall(
        0.0,
        shade.sheet.length - 1e-6,
        section,
        lambda p, h: (p[0], p[1], base + h),
        clockwise=not upside_down,
        breaks=corners,
    )


def rolled(shade: Shade, rolled_length: float, stop: float | None = None) -> Wall:
    """The panel on the bench, PVC up, rolled over its first ``rolled_length`` mm, then flat to ``stop``.

    Generators run away from the maker (y); the lower long edge of the PVC is at y = 0.
    """
    c = rolled_length
    place = _roll_motion(shade, c)

    def section(x: float) -> Point:
        return (x, 0.0) if x >= c else place(shade.sheet.point(x))

    corners = tuple(station.s for station in shade.sheet.stations())
    return Wall(
        0.0,
        stop if stop is not None else shade.strip_length,
        section,
        lambda p, h: (p[0], h, p[1]),
        breaks=(*corners, c),
    )


def _roll_motion(shade: Shade, c: float) -> Callable[[Point], Point]:
    """The rigid motion that rests the outline's point c on the bench at x = c."""
    turn = -shade.sheet.psi(c)
    cos, sin = math.cos(turn), math.sin(turn)
    px, py = shade.sheet.point(c)

    def place(p: Point) -> Point:
        x, y = p[0] - px, p[1] - py
        return x * cos - y * sin + c, x * sin + y * cos

    return place


def ring_motion(shade: Shade, rolled_length: float) -> Callable[[Point, float], Point3]:
    """Sets a point of a ring's own plane, at distance h from the lower edge, where the rolled ring stands."""
    place = _roll_motion(shade, rolled_length)

    def embed(p: Point, h: float) -> Point3:
        x, z = place(p)
        return x, h, z

    return embed


def print_on(
    canvas: Canvas,
    frame: Frame,
    wall: Wall,
    size: SizeRecipe,
    low: float,
    high: float,
    pen: Pen = MOTIF,
) -> None:
    """The print on those strips of the wall that show their outside."""
    runs = [(a, b) for front, a, b in wall.runs(frame) if front]
    with canvas.group("context", "print"):
        for line in motif(size, wall.stop, high - low, frame.scale, wall.start):
            run: list[Point] = []
            for piece in pieces(line):
                x0, y0 = piece[0]
                x1, y1 = piece[-1]
                shown = (
                    any(a <= min(x0, x1) and max(x0, x1) <= b for a, b in runs)
                    and min(y0, y1) >= 0
                    and max(y0, y1) <= high - low
                )
                if shown:
                    points = [frame(wall.point(x, low + y)) for x, y in piece]
                    run = [*run, *points[1:]] if run else points
                elif run:
                    canvas.line(run, pen)
                    run = []
            if len(run) > 1:
                canvas.line(run, pen)


def paint(
    canvas: Canvas,
    frame: Frame,
    wall: Wall,
    low: float,
    high: float,
    *,
    front: bool,
    fill: str = CLOTH_FACE,
    pen: Pen | None = None,
    part: str = "panel",
    role: str = "context",
) -> None:
    """Fill, then outline, all runs that show their outside (``front``) or their inside."""
    with canvas.group(role, part):  # type: ignore[arg-type]
        for is_front, x0, x1 in wall.runs(frame):
            if is_front == front:
                canvas.area(wall.patch(frame, x0, x1, low, high), fill, pen)
