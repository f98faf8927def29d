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
    """A developable strip: ``place(x, h)`` sets panel point x at h mm up the sheet in space.

    ``start`` and ``stop`` are panel coordinates, mm from the start end; ``top`` is the upper rim's h.
    ``inverted``: seen through a mirror, so that outside and inside change places.
    """

    start: float
    stop: float
    place: Callable[[float, float], Point3]
    top: float
    inverted: bool = False
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
    def _seen(self) -> dict[tuple[float, float], Point3]:
        return {}

    @cached_property
    def _runs(self) -> dict[Frame, list[tuple[bool, float, float]]]:
        return {}

    def point(self, x: float, h: float) -> Point3:
        """World point of panel coordinate x at h; computed once: an ellipse finds its points by iteration."""
        key = (x, h)
        if key not in self._seen:
            self._seen[key] = self.place(x, h)
        return self._seen[key]

    def outward(self, x0: float, x1: float) -> Point3:
        """Outward normal of the strip between two generators: up the sheet, across its way."""
        foot, head = self.point(x0, 0.0), self.point(x0, self.top)
        # Half-way up, two generators of a taper never meet, even where a rim has a sharp corner.
        a, b = self.point(x0, self.top / 2), self.point(x1, self.top / 2)
        u, v = ([q - p for p, q in zip(*ends, strict=True)] for ends in ((foot, head), (a, b)))
        normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
        return (-normal[0], -normal[1], -normal[2]) if self.inverted else normal

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


def corner_breaks(shade: Shade) -> tuple[float, ...]:
    """Panel coordinates where the sheet stops or begins to bend."""
    if shade.development is not None:
        return shade.development.breaks()
    return tuple(station.s for station in shade.sheet.stations())


def standing(shade: Shade, base: float = 0.0, turn: float = 0.0) -> Wall:
    """The finished wall on its lower rim, the seam in front, turned by ``turn`` radians.

    The panel is rolled with its top edge away from the maker, so from above its stations run clockwise.
    """
    c, s = math.cos(turn), math.sin(turn)

    def place(x: float, h: float) -> Point3:
        px, py, z = shade.standing(x, h)
        return -px * c - py * s, -px * s + py * c, base + z

    return Wall(0.0, shade.wrapped_length - 1e-6, place, shade.slant, breaks=corner_breaks(shade))


def rolled(shade: Shade, rolled_length: float, stop: float | None = None, turn: float = 0.0) -> Wall:
    """The panel on the bench, PVC up, rolled over its first ``rolled_length`` mm, then flat to ``stop``.

    The lower end of the seam is in (0, 0), the top of the print away from the maker; ``turn`` turns all of it
    about that place.
    """
    c = rolled_length
    pose = shade.pose(c, turn)
    cos, sin = math.cos(turn), math.sin(turn)

    def place(x: float, h: float) -> Point3:
        if x < c:
            return pose(shade.standing(x, h))
        fx, fy = shade.flat(x, h)
        return fx * cos - fy * sin, fx * sin + fy * cos, 0.0

    end = stop if stop is not None else shade.strip_length
    return Wall(0.0, end, place, shade.slant, breaks=(*corner_breaks(shade), c))


def ring_motion(shade: Shade, rolled_length: float, turn: float = 0.0) -> Callable[[Point, float], Point3]:
    """Sets a point of a ring's own plane, at height h above the lower ring, where the rolled ring stands."""
    pose = shade.pose(rolled_length, turn)
    x, y, _ = shade.ring_centre("top")

    def embed(p: Point, h: float) -> Point3:
        lean = h / shade.height
        return pose((p[0] + x * lean, p[1] + y * lean, h))

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
