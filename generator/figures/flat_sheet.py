"""A tapered panel lying flat: its curved edges, its kiss cuts, its ends, turned as it lies on the cloth."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shapely import LineString, Polygon, get_exterior_ring
from shapely.affinity import affine_transform

from generator.figures.canvas import Point
from generator.measures.blank import cloth_lie
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_loop
from generator.shape.development import Development, End
from generator.shape.shade import Shade

STEP = 4.0
"""A curved edge is drawn in pieces of about this length, real mm."""
FINE = 0.02
"""An outline of close points is drawn with fewer, never further than this from it, real mm."""
NEAR = 0.05
"""The direction of an edge is taken over this length to either side, real mm."""


@dataclass(frozen=True)
class FlatSheet:
    """The flat sheet, PVC up, turned by ``turn`` about its own origin and then moved by ``move``, mm.

    Panel coordinates as everywhere: x from the start end, h up the slope from the lower rim.
    """

    shade: Shade
    turn: float = 0.0
    move: Point = (0.0, 0.0)
    grain: float = 0.0
    """Panel coordinate of the one line across along which the cloth's threads run."""
    before: FlatSheet | None = None
    """How it lay while the cloth was square to the bench; None: it still does."""

    @property
    def development(self) -> Development:
        """The side of the shade. Raises ValueError for a straight one."""
        if self.shade.development is None:
            raise ValueError("a straight shade has no curved panel")
        return self.shade.development

    @property
    def edge(self) -> float:
        """How far the PVC goes beyond the rims: its margin strips, if it has kiss cuts."""
        return self.shade.margin if self.shade.kiss_cut else 0.0

    def place(self, p: Point) -> Point:
        """A point of the flat sheet where it lies."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        return p[0] * c - p[1] * s + self.move[0], p[0] * s + p[1] * c + self.move[1]

    def point(self, x: float, h: float) -> Point:
        """A place of the panel where it lies."""
        return self.place(self.shade.flat(x, h))

    def heading(self, x: float) -> float:
        """The direction in which the sheet goes on at x, radians."""
        return self.turn + self.development.generator(min(x, self.shade.wrapped_length)).tau

    def at_rim(self, end: End, x: float, out: float = 0.0) -> Point:
        """The place ``out`` mm outside a rim at x, at a right angle to the rim."""
        h, sign = (0.0, -1.0) if end == "bottom" else (self.shade.slant, 1.0)
        low, high = max(0.0, x - NEAR), min(self.shade.strip_length + self.shade.hem, x + NEAR)
        (ax, ay), (bx, by), (px, py) = (self.point(t, h) for t in (low, high, x))
        run = math.hypot(bx - ax, by - ay)
        along = ((bx - ax) / run, (by - ay) / run) if run > 1e-9 else _unit(self.heading(x))
        return px - sign * out * along[1], py + sign * out * along[0]

    def line(self, end: End, out: float, start: float = 0.0, stop: float | None = None) -> list[Point]:
        """The curve ``out`` mm outside a rim between two panel coordinates; to the outside end without."""
        last = self.shade.strip_length if stop is None else stop
        steps = max(1, math.ceil(abs(last - start) / STEP))
        xs = [start + (last - start) * k / steps for k in range(steps + 1)]
        return [self.at_rim(end, x, out) for x in xs]

    def across(self, x: float, out: float = 0.0) -> tuple[Point, Point]:
        """The straight line across the panel at x, ``out`` mm beyond both rims, lower end first."""
        return self.at_rim("bottom", x, out), self.at_rim("top", x, out)

    def between(self, start: float, stop: float, out: float) -> list[Point]:
        """The corners of the part between two panel coordinates, ``out`` mm beyond both rims."""
        upper = self.line("top", out, start, stop)
        return [*self.line("bottom", out, start, stop), *reversed(upper)]

    def loop(self, out: float, past: float = 0.0) -> list[Point]:
        """The outline of the whole, ``out`` mm beyond both rims and ``past`` mm beyond the outside end."""
        loop = blank_loop(self.development, out, self.shade.overlap + past)
        # Close points that rounding has put in the wrong order would make the outline cross itself.
        whole = Polygon([self.place(p) for p in loop]).buffer(0)
        outline = LineString(get_exterior_ring(whole)).simplify(FINE)
        return [(x, y) for x, y in outline.coords][:-1]

    def bounds(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y of what is cut from the cloth: with margins and any hem tab."""
        xs, ys = zip(*self.loop(self.shade.margin, self.shade.hem), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def moved(self, dx: float, dy: float) -> FlatSheet:
        """The same, moved on."""
        return replace(self, move=(self.move[0] + dx, self.move[1] + dy))

    def carried(self, cloth: Polygon) -> Polygon:
        """The cloth that lay under the sheet before it was turned on the bench, moved with it."""
        first = self.before or self
        c, s = math.cos(self.turn - first.turn), math.sin(self.turn - first.turn)
        (ax, ay), (bx, by) = first.move, self.move
        return affine_transform(cloth, [c, -s, s, c, bx - c * ax + s * ay, by - s * ax - c * ay])

    def turned_so(self, x: float, at: Point = (0.0, 0.0)) -> FlatSheet:
        """Turned so that the line across at x runs straight away from the maker, its lower end at ``at``."""
        upright = FlatSheet(self.shade, grain=self.grain, before=self)
        (ax, ay), (bx, by) = upright.across(x)
        upright = replace(upright, turn=math.pi / 2 - math.atan2(by - ay, bx - ax))
        px, py = upright.at_rim("bottom", x)
        return upright.moved(at[0] - px, at[1] - py)

    def joined(self, x: float, on: float, gap: float) -> FlatSheet:
        """Turned and moved so that the line across at ``on`` follows ``gap`` mm after that at x."""
        lines = [self.across(at) for at in (x, on)]
        turns = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in lines]
        turned = replace(self, turn=self.turn + turns[0] - turns[1], before=self.before or self)
        (px, py), (ux, uy) = turned.across(on)[0], _unit(turns[0] - math.pi / 2)
        (ax, ay) = lines[0][0]
        return turned.moved(ax + gap * ux - px, ay + gap * uy - py)


def _unit(angle: float) -> Point:
    return math.cos(angle), math.sin(angle)


def flat_sheet(size: SizeRecipe, shade: Shade) -> FlatSheet:
    """The panel as it lies on its piece of cloth, the least x and y of what will be cut out at 0."""
    development = shade.development
    assert development is not None
    lie = cloth_lie(size, shade)
    upright = -development.generator(development.length / 2).tau
    # Its rectangle lies along the bench, the print as near to upright as may be.
    turn = min((k * math.pi - lie.box.angle for k in range(-2, 3)), key=lambda t: abs(t - upright))
    sheet = FlatSheet(shade, turn, grain=lie.grain)
    x0, y0, _, _ = sheet.bounds()
    return sheet.moved(-x0, -y0)
