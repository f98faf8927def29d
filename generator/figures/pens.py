"""Line widths, tones and the one accent, as every figure uses them. Widths are mm on paper, from ISO 128."""

from __future__ import annotations

from dataclasses import dataclass, replace

INK = "#1B1B1B"
SOFT = "#565656"
RULE = "#8A8A8A"
SEA = "#0B5A66"
WHITE = "#FFFFFF"

CLOTH_FACE = WHITE
PRINT = "#555555"
CLOTH_BACK = "#D9D9D9"
PVC = WHITE
PVC_INSIDE = "#E6E6E6"
LINER = "#ECECEC"
RING_TAPE = "#B5B5B5"
SEAM_TAPE = "#757575"
CUFF = "#6A6A6A"
"""Grips and sleeves: 3 to 1 on paper, and ink on it too."""
CLOTH_CUT = "#C9C9C9"
BENCH = "#F3F3F3"


@dataclass(frozen=True, slots=True)
class Pen:
    """A stroke: width in mm after scaling, colour, dash lengths in mm."""

    width: float
    colour: str = INK
    dash: tuple[float, ...] = ()
    cap: str = "round"

    def tinted(self, colour: str) -> Pen:
        """The same stroke in another colour."""
        return replace(self, colour=colour)

    def magnified(self, factor: float) -> Pen:
        """The same stroke so many times as large."""
        return replace(self, width=round(factor * self.width, 4), dash=tuple(factor * d for d in self.dash))


THIN = Pen(0.25)
"""Context outline, dimensions, leaders, hatch."""
TOOL = Pen(0.35)
"""Hands, tools, open arrows, print motif."""
NEW = Pen(0.5)
"""The new or moved part, detail circles."""
HEAVY = Pen(0.7)
"""A line being cut, the seam, the seam mark."""
KISS_CUT = Pen(0.25, INK, (1.4, 0.9), "butt")
HIDDEN = Pen(0.35, INK, (1.6, 1.0), "butt")
BROKEN_OFF = Pen(0.25, INK, (3.0, 0.9, 0.5, 0.9), "butt")
MOTIF = Pen(0.25, PRINT)
CUTTING = Pen(0.7, SEA)
DIMENSION = Pen(0.25, INK, (), "butt")
WIDTHS = (0.25, 0.35, 0.5, 0.7)

WIRE_OUTER, WIRE_CORE = 1.15, 0.6
NEW_WIRE_OUTER, NEW_WIRE_CORE = 1.4, 0.7

EM = 3.81
"""Lettering size in mm: 10.8 pt, whose capitals are 2.5 mm high (ISO 3098-1:2015 series, from memory)."""
