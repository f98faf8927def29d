"""A binding, cut through at a rim: outside up to its fold, over panel and wire, down inside.

x to the outside of the shade, z up from the rim, real mm, as in ``rim_section``. The binding is its middle
line; its width is that line's length, whatever shape it has. Outside lies as much as the measure says.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely.ops import substring

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CLOTH_CUT, LINER, NEW, THIN
from generator.figures.rim_section import RimSection
from generator.figures.section_draw import Cut, wall_and_wire

THICKNESS = 0.8
"""Thickness of a woven braid, which no recipe states, mm (an estimate)."""
LEAST = 1.3
"""A binding is drawn at least this thick, mm on paper."""
STEPS = 24


@dataclass(frozen=True)
class Bound:
    """A binding at a rim."""

    rim: RimSection
    width: float
    fold: float
    thick: float

    @property
    def _face(self) -> float:
        """x of its middle line outside."""
        return self.rim.panel + self.rim.cloth + self.thick / 2

    def opened(self, lean: float) -> list[Point]:
        """The narrow side on the cloth, the wide side leaning inwards by ``lean`` degrees from upright."""
        turn, rest = math.radians(lean), self.width - self.fold
        return [
            (self._face, -self.fold),
            (self._face, 0.0),
            (self._face - rest * math.sin(turn), rest * math.cos(turn)),
        ]

    def _over(self, stop: float) -> list[Point]:
        """Up outside, over panel and wire, and round the wire to ``stop`` degrees."""
        half, edge = self.thick / 2, self.rim.panel + self.rim.cloth
        bend = [
            (edge + half * math.cos(a), half * math.sin(a)) for a in (math.pi / 2 * k / 8 for k in range(9))
        ]
        cx, cz = self.rim.centre()
        radius = self.rim.taped + half
        turns = [math.radians(90 + (stop - 90) * k / STEPS) for k in range(STEPS + 1)]
        wire = [(cx + radius * math.cos(a), cz + radius * math.sin(a)) for a in turns]
        return [(self._face, -self.fold), *bend, *wire]

    def turning(self, stop: float = 150.0) -> list[Point]:
        """On its way over the wire: it has left the wire and stands off inside."""
        line = self._over(stop)
        (x, z), turn = line[-1], math.radians(stop)
        return self._cut([*line, (x - self.width * math.sin(turn), z + self.width * math.cos(turn))])

    def pressed(self) -> list[Point]:
        """Pressed down: round the wire, then along under it to the panel, and down that if any is left."""
        line = self._over(270.0)
        z = line[-1][1]
        return self._cut([*line, (-self.thick / 2, z), (-self.thick / 2, z - self.width)])

    def _cut(self, line: Sequence[Point]) -> list[Point]:
        return [(x, z) for x, z in substring(LineString(line), 0.0, self.width).coords]


def bound(rim: RimSection, width: float, fold: float, scale: float) -> Bound:
    """A binding of this width, ``fold`` of it outside, as it can be seen at a scale."""
    return Bound(rim, width, fold, max(THICKNESS, LEAST / scale))


def raw_rim(canvas: Canvas, cut: Cut, *, low: float) -> None:
    """The trimmed edge before it is bound: PVC, cloth level with it, taped wire."""
    s = cut.section
    wall_and_wire(canvas, cut, low=low)
    with canvas.group("context", "cloth"):
        face = [(s.panel, 0.0), (s.panel + s.cloth, 0.0), (s.panel + s.cloth, low), (s.panel, low)]
        canvas.area(Polygon(cut.path(face)), CLOTH_CUT, THIN)


def strip(canvas: Canvas, cut: Cut, binding: Bound, line: Sequence[Point]) -> None:
    """The binding along its middle line."""
    shape = LineString(cut.path(line)).buffer(
        binding.thick / 2 * cut.scale, cap_style="flat", join_style="round"
    )
    with canvas.group("new", "binding"):
        canvas.area(shape, LINER, NEW)
