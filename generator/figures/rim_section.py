"""The rim cut through: wire, tape, panel, and the cloth margin at its true length.

x to the outside of the shade, z up, real mm. The PVC's inner face stands at x = 0, its edge at z = 0; the
taped wire touches both. The margin is the cloth's middle line from the PVC's edge to the raw edge. Round the
wire it lies at the radius of wire, tape and half its own thickness: an angle a takes a times that radius (arc
length; half a turn of cloth t over bare wire w takes pi (w + t) / 2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from shapely import LineString
from shapely.ops import substring

from generator.figures.canvas import Point
from generator.figures.sections import wrap_angle
from generator.recipe.models import Tape
from generator.shape.shade import Shade

STEPS = 48
CLEAR = 0.12
"""Between the pushed cloth and the panel, real mm."""
UPTURN = 0.4
"""How much of the raw edge already points up while it is being pushed, real mm."""


@dataclass(frozen=True)
class RimSection:
    """Sizes as drawn: what is too thin to be seen is spread, and the cloth is laid round what is drawn."""

    wire: float
    tape: float
    panel: float
    cloth: float
    margin: float
    wrap: float
    """Angle of the wire that the tape covers, degrees, middle to the outside."""

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
        """On its way: down from the wire, half a circle towards the panel, the raw edge pointing up.

        Where that would stand beside the wire there is no room for it: then the loop is narrower. A margin
        too short for any loop clings to the wire for longer and ends in a straight tail.
        """
        line = [*self._over(), *self._round(90, 180)]
        (x, z), (cx, cz) = line[-1], self.centre()
        rest = self.margin - LineString(line).length
        widest = -self.cloth / 2 - CLEAR
        for k in range(STEPS):
            end_x = widest + (x + 0.9 * self.radius - widest) * k / STEPS
            loop = (end_x - x) / 2
            low = z - (rest - math.pi * loop - UPTURN)
            mouth = cz - math.sqrt(max(self.radius**2 - (end_x - cx) ** 2, 0.0))
            if low + UPTURN <= mouth:
                break
        else:
            return self._tail(widest)
        turn = [
            (x + loop - loop * math.cos(a), low - loop * math.sin(a))
            for a in (math.pi * k / STEPS for k in range(STEPS + 1))
        ]
        return self._cut([*line, *turn, (x + 2 * loop, low + self.margin)])

    def _tail(self, end_x: float) -> list[Point]:
        """Round the wire as far as it must go for its straight end to stay on this side of ``end_x``.

        If the cloth is used up before it gets so far, it leaves the wire earlier and hangs more steeply.
        """
        line: list[Point] = []
        for degrees in (*range(228, 360, 2), *range(226, 178, -2)):
            line = [*self._over(), *self._round(90, degrees)]
            x, z = line[-1]
            heading, far = math.radians(degrees), self.margin
            line = self._cut([*line, (x - far * math.sin(heading), z + far * math.cos(heading))])
            if line[-1][0] <= end_x:
                break
        return line

    def tucked(self) -> list[Point]:
        """Round the wire and up between wire and panel; a long margin leaves a looser loop under the wire."""
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


def rim_section(
    shade: Shade, tape: Tape, scale: float, cloth: float = 0.4, thin: float = 0.8, thin_cloth: float = 1.3
) -> RimSection:
    """The section of a rim as it can be seen at a scale: layers under ``thin`` on paper are spread to it.

    ``cloth`` is the cloth's thickness, which no recipe states: a plain furnishing linen, from memory.
    """
    least = thin / scale
    return RimSection(
        wire=shade.wire,
        tape=max(tape.thickness, least),
        panel=max(shade.thickness, least),
        cloth=max(cloth, thin_cloth / scale),
        margin=shade.margin,
        wrap=wrap_angle(tape.width, shade.wire, tape.thickness),
    )
