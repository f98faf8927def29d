"""The rim cut through: wire, tape, panel, and the cloth margin at its true length, hanging, pushed and tucked.

x to the outside of the shade, z up, real mm. The PVC's inner face stands at x = 0, its edge at z = 0; the taped
wire touches both. The margin is the cloth's middle line from the PVC's edge to the raw edge. Round the wire it lies
at the radius of wire, tape and half its own thickness, so an angle a takes a times that radius (arc length;
half a turn of cloth t over bare wire w takes pi (w + t) / 2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from shapely import LineString
from shapely.ops import substring

from generator.figures.canvas import Point
from generator.shape.shade import Shade

STEPS = 48


@dataclass(frozen=True)
class RimSection:
    """Sizes as drawn: what is too thin to be seen is spread, and the cloth is laid round what is drawn."""

    wire: float
    tape: float
    panel: float
    cloth: float
    margin: float

    @cached_property
    def taped(self) -> float:
        """Radius of wire and tape."""
        return self.wire / 2 + self.tape

    @cached_property
    def radius(self) -> float:
        """Radius of the cloth's middle line round the taped wire."""
        return self.taped + self.cloth / 2

    def centre(self, gap: float = 0.0) -> Point:
        """Middle of the wire, ``gap`` off the PVC."""
        return -self.taped - gap, -self.taped

    def _over(self, gap: float = 0.0) -> list[Point]:
        """From the PVC's edge over it to the top of the wire."""
        t = self.cloth / 2
        bend = [
            (self.panel + t * math.cos(a), t * math.sin(a)) for a in (math.pi / 2 * k / 8 for k in range(9))
        ]
        return [*bend, (self.centre(gap)[0], t)]

    def _round(self, start: float, stop: float, gap: float = 0.0, drop: float = 0.0) -> list[Point]:
        """Round the wire, degrees counter-clockwise from the outside; ``drop`` lets it hang lower."""
        cx, cz = self.centre(gap)
        return [
            (
                cx + self.radius * math.cos(math.radians(start + (stop - start) * k / STEPS)),
                cz - drop + self.radius * math.sin(math.radians(start + (stop - start) * k / STEPS)),
            )
            for k in range(STEPS + 1)
        ]

    def hanging(self) -> list[Point]:
        """The margin turned in: over the wire, and down from its inner side."""
        line = [*self._over(), *self._round(90, 180)]
        rest = self.margin - LineString(line).length
        x, z = line[-1]
        return self._cut([*line, (x, z - max(rest, 0.0))])

    @property
    def hang(self) -> float:
        """How far the raw edge hangs below the rim once the margin is turned in."""
        return -self.hanging()[-1][1]

    def pushed(self) -> list[Point]:
        """On its way: down from the wire, half a circle over to the panel, the raw edge pointing up.

        A margin too short for that leaves the wire later, and points at the panel.
        """
        line = [*self._over(), *self._round(90, 180)]
        x, z = line[-1]
        rest = self.margin - LineString(line).length
        loop = (-self.cloth / 2 - 0.12 - x) / 2
        down = rest - math.pi * loop - 0.4
        if down < 0.0:
            line = [*self._over(), *self._round(90, 228)]
            heading = math.radians(228)
            x, z = line[-1]
            far = self.margin
            return self._cut([*line, (x - far * math.sin(heading), z + far * math.cos(heading))])
        low = z - down
        turn = [
            (x + loop - loop * math.cos(a), low - loop * math.sin(a))
            for a in (math.pi * k / STEPS for k in range(STEPS + 1))
        ]
        return self._cut([*line, *turn, (x + 2 * loop, low + self.margin)])

    def tucked(self) -> list[Point]:
        """Round the wire and up between wire and panel; a long margin leaves the loop under the wire looser."""
        gap = self.cloth
        start = self._over(gap)
        top = self.taped - self.cloth * 0.9
        whole = [*start, *self._round(90, 360, gap)]
        spare = self.margin - LineString(whole).length - top
        drop = max(spare, 0.0) / 2
        line = [*start, *self._round(90, 180, gap), *self._round(180, 360, gap, drop)]
        x, z = line[-1]
        return self._cut([*line, (x, z + 4 * self.margin)])

    def gap(self) -> float:
        """How far the tucked cloth keeps the wire off the panel."""
        return self.cloth

    def _cut(self, line: list[Point]) -> list[Point]:
        """The line's first margin's length."""
        cut = substring(LineString(line), 0.0, self.margin)
        return [(x, z) for x, z in cut.coords]


def rim_section(shade: Shade, tape: float, scale: float, cloth: float = 0.4, thin: float = 0.8, thin_cloth: float = 1.3) -> RimSection:
    """The section of a rim as it can be seen at a scale: layers under ``thin`` on paper are spread to it.

    ``cloth`` is the cloth's thickness, which no recipe states: a plain furnishing linen, from memory.
    """
    least = thin / scale
    return RimSection(
        wire=shade.wire,
        tape=max(tape, least),
        panel=max(shade.thickness, least),
        cloth=max(cloth, thin_cloth / scale),
        margin=shade.margin,
    )
