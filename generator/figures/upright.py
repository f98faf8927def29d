"""The finished shade as it will be used, upright in the bench view: body, rims, fitter, base or flex."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from shapely import LineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point, Role
from generator.figures.joints import joint_lines
from generator.figures.pens import CUFF, DIMENSION, HIDDEN, INK, LINER, NEW, PVC_INSIDE, THIN, WHITE, Pen
from generator.figures.plaited import LEAST_BAND, plaited
from generator.figures.rings import cased, hub_radius, ring, ring_points, wire_line
from generator.figures.view import Box, Frame, Point3, View, fit
from generator.figures.wall import Wall, paint, print_on, standing
from generator.measures.braid import binding_fold
from generator.recipe.models import SizeRecipe
from generator.shape.development import End
from generator.shape.outline import Outline
from generator.shape.shade import Shade

BASE_THICKNESS = 14.0
"""Drawn thickness of a lamp base, real mm; never printed."""
_CLEAN = Pen(1.3, WHITE, (), "butt")
"""White beneath a dashed line that crosses the print."""


@dataclass(frozen=True)
class Upright:
    """One shade on its lower rim (z = 0), its seam in front, fitted to a place on the paper.

    Heights are counted from the rim that is lower in use. ``over``: turned over for work, on its other rim.
    """

    size: SizeRecipe
    shade: Shade
    frame: Frame
    over: bool = False

    @cached_property
    def wall(self) -> Wall:
        """The closed wall; the seam that shows is the outside edge, an overlap past the start edge."""
        return _lapped(self.shade, self.over)

    @property
    def fitter_above(self) -> bool:
        """Whether the fitter ring is the upper one."""
        return (self.shade.fitter_end == "top") != self.over

    @property
    def hub_height(self) -> float:
        """Height of the hub above the lower rim, real mm: set back to the inside by the recess."""
        return self.shade.height - self.shade.recess if self.fitter_above else self.shade.recess

    @property
    def hub(self) -> Point3:
        """Middle of the hub."""
        x, y, _ = self.embed((0.0, 0.0), self.shade.height if self.shade.fitter_end == "top" else 0.0)
        return x, y, self.hub_height

    @property
    def top(self) -> float:
        """Height of the rim that is above now."""
        return 0.0 if self.over else self.shade.height

    @property
    def top_end(self) -> End:
        """The end that is above now."""
        return "bottom" if self.over else "top"

    def embed(self, p: Point, h: float) -> Point3:
        """A point of a ring's own plane at a height; stations run as in the wall, clockwise from above."""
        x, y, _ = self.shade.ring_centre("top")
        lean = h / self.shade.height
        px, py = p[0] + x * lean, p[1] + y * lean
        return (px, py, self.shade.height - h) if self.over else (-px, py, h)

    def rim(self, end: End) -> list[Point]:
        """The wall's outside at one end, once round, on paper."""
        return self.edge(self.shade.slant if end == "top" else 0.0)

    def edge(self, h: float) -> list[Point]:
        """The wall's outside h mm up the slope from the lower rim, once round, on paper."""
        if h not in self._edges:
            self._edges[h] = self.wall.edge(self.frame, self.wall.start, self.wall.stop, h)
        return list(self._edges[h])

    @cached_property
    def _edges(self) -> dict[float, list[Point]]:
        return {}

    def side(self, right: bool) -> tuple[Point, Point]:
        """Lower and upper end of the silhouette at the right or the left on paper."""
        low, high = self.rim("bottom"), self.rim("top")
        pick = max if right else min
        index = pick(range(len(low)), key=lambda i: low[i][0])
        return low[index], high[index]

    def reach(self, right: bool) -> float:
        """How far the shade goes to the right or the left on paper, mm."""
        return (max if right else min)(p[0] for p in self.side(right))

    @property
    def width(self) -> float:
        """Breadth of the lower rim on paper, mm."""
        return self.side(True)[0][0] - self.side(False)[0][0]

    @cached_property
    def face(self) -> BaseGeometry:
        """Paper area of the outside that is seen."""
        runs = [(a, b) for front, a, b in self.wall.runs(self.frame) if front]
        return unary_union([self.wall.patch(self.frame, a, b, 0.0, self.shade.slant) for a, b in runs])

    @cached_property
    def body(self) -> BaseGeometry:
        """Paper area of the whole shade."""
        return unary_union([self.face, Polygon(self.rim("top")), Polygon(self.rim("bottom"))])

    @property
    def bound(self) -> float:
        """How far a binding comes from each rim outside, real mm; 0 where the edges are not bound."""
        braid = self.size.braid
        return 0.0 if self.shade.margin or braid is None else binding_fold(self.size, self.shade, braid.width)

    def draw(
        self,
        canvas: Canvas,
        *,
        printed: bool = True,
        role: Role = "new",
        trimmed: bool = True,
        clear: BaseGeometry | None = None,
    ) -> None:
        """Inside, rings, outside, print, rim; what lies nearer covers what lies farther.

        ``trimmed``: with its bindings, if the edges are bound, or with the braid along its rims. ``clear``:
        a place without print.
        """
        shade, frame, high = self.shade, self.frame, self.shade.slant
        paint(canvas, frame, self.wall, 0.0, high, front=False, fill=PVC_INSIDE, pen=THIN, part="inside")
        joint_lines(canvas, frame, self.wall, shade, 0.0, high, front=False)
        rims = ((0.0, 1.0), (shade.height, -1.0))
        for h, inward in reversed(rims) if self.over else rims:
            fitter = (h > 0) == (shade.fitter_end == "top")
            name = "fitter-ring" if fitter else "plain-ring"
            ring(canvas, frame, shade, self.embed, h, part=name, fitter=fitter, inward=inward)
        paint(canvas, frame, self.wall, 0.0, high, front=True, part="shade", role=role)
        if printed:
            with canvas.clip(self.face if clear is None else self.face.difference(clear)):
                print_on(canvas, frame, self.wall, self.size, 0.0, high)
        joint_lines(canvas, frame, self.wall, shade, 0.0, high, front=True)
        pen = NEW if role == "new" else THIN
        paint(canvas, frame, self.wall, 0.0, high, front=True, fill="none", pen=pen, part="shade", role=role)
        # The print is to be seen: no name stands on it.
        canvas.blocked.append(self.face)
        if trimmed and self.size.braid:
            self._bands(canvas, role, self.bound or self.size.braid.width)
            return
        with canvas.group(role, "upper-rim"):
            loop = ring_points(shade, self.embed, self.top, end=self.top_end)
            cased(canvas, frame.path(loop), new=role == "new")

    def _bands(self, canvas: Canvas, role: Role, wide: float) -> None:
        """A plaited band along both rims, ``wide`` real mm; of bound edges over the upper rim too."""
        wall, frame, high = self.wall, self.frame, self.shade.slant
        wide, part = max(wide, LEAST_BAND / (0.866 * frame.scale)), "binding" if self.bound else "braid"
        for low, top in ((0.0, wide), (high - wide, high)):
            for front, a, b in wall.runs(frame):
                if front:
                    plaited(canvas, wall.patch(frame, a, b, low, top), role, part)
        with canvas.group(role, "binding" if self.bound else "upper-rim"):
            loop = ring_points(self.shade, self.embed, self.top, end=self.top_end)
            cased(canvas, frame.path(loop), new=role == "new")

    def hidden_fitter(self, canvas: Canvas) -> None:
        """Ring, struts and hub of a low fitter, dashed where the wall hides them."""
        for line in self._fitter_lines():
            hidden = line.intersection(self.face.buffer(-0.6))
            with canvas.group("context", "hidden-fitter"):
                canvas.line(hidden, _CLEAN)
        for line in self._fitter_lines():
            with canvas.group("context", "hidden-fitter"):
                canvas.line(line.intersection(self.face.buffer(-0.6)), HIDDEN)

    def _fitter_lines(self) -> list[LineString]:
        shade, frame = self.shade, self.frame
        line, radius, h = wire_line(shade, "bottom"), hub_radius(shade), self.hub_height
        scale = line.length / shade.rim("bottom").length
        lines = []
        for strut in shade.struts:
            x, y = line.point(strut.s * scale)
            d = math.hypot(x, y)
            inner = (x / d * radius, y / d * radius)
            lines.append(LineString([frame(self.embed((x, y), 0.0)), frame(self.embed(inner, h))]))
        lines.append(LineString(self.circle(radius, h)))
        loop = ring_points(shade, self.embed, 0.0, end="bottom")
        lines.append(LineString(frame.path(self._far_half(loop))))
        return lines

    def _far_half(self, loop: list[Point3]) -> list[Point3]:
        """The part of a closed line that lies behind its leftmost and rightmost points on paper."""
        points = loop[:-1]
        paper = [self.frame(p) for p in points]
        left = min(range(len(points)), key=lambda i: paper[i][0])
        right = max(range(len(points)), key=lambda i: paper[i][0])
        first, last = sorted((left, right))
        one, other = points[first : last + 1], [*points[last:], *points[: first + 1]]
        return min(one, other, key=lambda run: sum(self.frame(p)[1] for p in run) / len(run))

    def circle(self, radius: float, h: float, steps: int = 72) -> list[Point]:
        """A level circle about the shade's middle, on paper, closed."""
        turns = (2 * math.pi * k / steps for k in range(steps + 1))
        return [self.frame((radius * math.cos(a), radius * math.sin(a), h)) for a in turns]

    def base(self, canvas: Canvas, drop: float, radius: float) -> BaseGeometry:
        """A lamp base, its top ``drop`` real mm under the lower rim, and its stem; draw it first.

        Returns its area on paper.
        """
        frame, foot = self.frame, -drop - BASE_THICKNESS
        lower, upper = Polygon(self.circle(radius, foot)), Polygon(self.circle(radius, -drop))
        width = max(0.9, 0.5 * hub_radius(self.shade) * frame.scale)
        with canvas.group("context", "base"):
            canvas.area(unary_union([lower, upper]).convex_hull, LINER, THIN)
            canvas.area(upper, LINER, THIN)
            x, y = frame((0.0, 0.0, -drop))
            top = frame((0.0, 0.0, self.hub_height))[1]
            canvas.area([(x - width, y), (x - width, top), (x + width, top), (x + width, y)], LINER, THIN)
        return unary_union([lower, upper]).convex_hull

    def flex(self, canvas: Canvas, rise: float) -> BaseGeometry:
        """The holder on the hub, and its flex up to ``rise`` real mm above the upper rim; draw it last.

        Returns the flex's line on paper.
        """
        frame, (px, py, hub) = self.frame, self.hub
        x, y = frame((px, py, hub))
        top = frame((px, py, self.shade.height + rise))[1]
        wide = max(1.0, 0.62 * hub_radius(self.shade) * frame.scale)
        tall = min(max(4.2, 3.2 * wide), 6.5)
        with canvas.group("context", "flex"):
            canvas.line([(x, y - tall), (x, top)], Pen(1.15, INK, (), "butt"))
            canvas.line([(x, y - tall), (x, top)], Pen(0.55, WHITE, (), "butt"))
        with canvas.group("context", "holder"):
            body = Polygon([(x - wide, y), (x - wide, y - tall), (x + wide, y - tall), (x + wide, y)])
            foot = [(x + wide * math.cos(a), y + 0.5 * wide * math.sin(a)) for a in _half_turn()]
            canvas.area(unary_union([body, Polygon(foot).buffer(0.01)]), CUFF, Pen(0.35, INK))
        return LineString([(x, y - tall), (x, top)])

    def extremes(self, along_x: bool, outwards: float, end: End = "bottom") -> tuple[Point, Point]:
        """The outermost points of an end's outline in one axis (own plane), low then high.

        Of a straight side: its end in the direction ``outwards`` (±1) of the other axis.
        """
        outline = self.shade.rim(end) if self.shade.tapered else self.shade.sheet
        return _extremes(outline, along_x, outwards)


@lru_cache(maxsize=16)
def _outside(outline: Outline) -> tuple[Point, ...]:
    """Points once round; kept, since every size that is drawn asks for the outermost ones."""
    # A curve without stations is smooth, and alike on both sides of both axes: outermost at its quarters.
    stations = outline.stations()
    count = 720 if stations else 4
    points = [outline.point(outline.length * k / count) for k in range(count)]
    return (*points, *(outline.point(station.s) for station in stations))


@lru_cache(maxsize=64)
def _extremes(outline: Outline, along_x: bool, outwards: float) -> tuple[Point, Point]:
    axis, other = (0, 1) if along_x else (1, 0)
    found, outside = [], _outside(outline)
    for sign in (-1.0, 1.0):
        reach = max(sign * p[axis] for p in outside)
        flat = [p for p in outside if sign * p[axis] > reach - 1e-6]
        found.append(max(flat, key=lambda p: outwards * p[other]))
    return found[0], found[1]


def _half_turn() -> list[float]:
    return [math.pi * k / 18 for k in range(19)]


def stand(
    size: SizeRecipe,
    shade: Shade,
    view: View,
    place: Box,
    more: Iterable[Point3] = (),
    anchor: str = "middle",
    over: bool = False,
) -> Upright:
    """The shade fitted to a place together with further world points; ``over``: turned over for work."""
    wall = _wall(shade, over)
    points = [wall.point(x, h) for x in wall.stations for h in (0.0, shade.slant)]
    return Upright(size, shade, fit(view, [*points, *more], place, anchor=anchor), over)


@lru_cache(maxsize=4)
def _lapped(shade: Shade, over: bool) -> Wall:
    whole, lap = _wall(shade, over), shade.overlap
    return replace(whole, start=lap, stop=whole.stop + lap)


@lru_cache(maxsize=4)
def _wall(shade: Shade, over: bool) -> Wall:
    # Kept, since a wall knows its places in space, and these stay while a picture finds its room on paper.
    if not over:
        return standing(shade)
    # Half a turn about a level axis: what was counted up now counts down, and the stations run the other way.
    upright = standing(shade)

    def place(x: float, h: float) -> Point3:
        px, py, z = upright.place(x, h)
        return -px, py, shade.height - z

    return replace(upright, place=place)


def level_circle(radius: float, h: float) -> list[Point3]:
    """World points of a circle about the shade's middle, for fitting."""
    return [(radius * math.cos(a), radius * math.sin(a), h) for a in (math.pi * k / 12 for k in range(24))]


def clear_line(canvas: Canvas, points: list[Point], cover: BaseGeometry) -> None:
    """A thin line without the parts that the shade covers."""
    canvas.line(LineString(points).difference(cover.buffer(0.8)), DIMENSION)


def rim_place(rim: list[Point], above: bool, share: float) -> Point:
    """A place on a rim at a share of its breadth: on the far side above, on the near side below."""
    xs = [p[0] for p in rim]
    x = min(xs) + (max(xs) - min(xs)) * share
    near = sorted(rim, key=lambda p: abs(p[0] - x))[:6]
    return min(near, key=lambda p: p[1]) if above else max(near, key=lambda p: p[1])
