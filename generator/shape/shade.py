"""A straight shade: two equal rings, the sheet rolled round them, struts and seam on the outline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from generator.shape.outline import Outline, Point

TURN = 2 * math.pi


@dataclass(frozen=True, slots=True)
class Strut:
    """Where a strut meets the fitter ring."""

    s: float
    """Arc length from the seam along the outside of the wire, mm."""
    psi: float
    """Angle through which the outline has turned there, radians."""
    point: Point
    panel: float
    """The same place along the panel's mid-sheet line, from the start end, mm."""


@dataclass(frozen=True)
class Shade:
    """Geometry of one size. Lengths in mm.

    ``outline`` is the outside of the wire; ``sheet`` is the mid-sheet line, the outline offset by the tape's
    thickness plus half the panel's. The seam (start end of the panel) stands at arc length 0 of both.
    The sheet's own arc length is the panel's length coordinate: panel point x stands at ``sheet.point(x)``.
    """

    kind: str
    outline: Outline
    sheet: Outline
    height: float
    margin: float
    overlap: float
    hem: float
    """Width of the cloth tab folded over at the outside end; 0 for a raw end."""
    thickness: float
    """Panel thickness."""
    wire: float
    """Wire diameter."""
    struts: tuple[Strut, ...]
    fitter_end: Literal["top", "bottom"]
    recess: float
    """How far the hub is set back from the fitter ring's plane, towards the inside of the shade."""
    hole: float | None
    kiss_cut: bool
    """The panel carries margin strips; without, it is cut to the finished height."""
    panels: int = 1
    """How many equal panels are joined to go round."""

    @property
    def wrapped_length(self) -> float:
        """Once round on the mid-sheet line."""
        return self.sheet.length

    @property
    def panel_length(self) -> float:
        """Length of one panel: its share of the way round, and its overlap."""
        return self.wrapped_length / self.panels + self.overlap

    @property
    def strip_length(self) -> float:
        """All panels joined, as they are rolled: once round and the seam overlap. One panel: its length."""
        return self.wrapped_length + self.overlap

    @property
    def joints(self) -> tuple[float, ...]:
        """Panel coordinates of the joints apart from the seam: where the start edge of the next panel lies.

        As at the seam the panel before laps over it, on the outside, by the overlap.
        """
        return tuple(self.wrapped_length * k / self.panels for k in range(1, self.panels))

    @property
    def panel_height(self) -> float:
        """Height of the PVC as it is bought or cut: with its margins if it has kiss cuts."""
        return self.height + 2 * self.margin if self.kiss_cut else self.height

    @property
    def smallest_inside(self) -> float:
        """Twice the distance from the centre to the nearest wire: what a lamp in the middle has to itself.

        The front side is a nearest one on every outline; with an odd number of sides no other faces it.
        """
        return 2 * abs(self.outline.point(0.0)[1]) - 2 * self.wire

    @property
    def pauses(self) -> tuple[float, float, float]:
        """Where the roll may pause: a quarter, half and three quarters round, as panel coordinates.

        On a corner it would not rest: there the pause moves on to the middle of the side that follows.
        """
        quarter, half, late = (self._resting(self.wrapped_length * k / 4) for k in (1, 2, 3))
        return quarter, half, late

    def _resting(self, x: float) -> float:
        stations = self.sheet.stations()
        sides = [station.s for station in stations if station.kind == "side"]
        # Tangent points come in pairs, the beginning and the end of each bend.
        tangents = [station.s for station in stations if station.kind == "tangent"]
        bends = zip(tangents[::2], tangents[1::2], strict=False)
        on_bend = any(start - 1.0 <= x <= end + 1.0 for start, end in bends)
        if not (on_bend and len(sides) > 4):
            return x
        return min(side for side in [*sides, self.wrapped_length] if side > x)

    def on_outline(self, x: float) -> float:
        """Station of the outline at panel coordinate x, by halving: ``on_panel`` grows with s, mm."""
        low, high = 0.0, self.outline.length
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.on_panel(middle) < x else (low, middle)
        return (low + high) / 2

    def on_panel(self, s: float) -> float:
        """Panel coordinate of a station s of the outline: s + d psi, d the offset of the mid-sheet line."""
        return s + (self.sheet.length - self.outline.length) * self.outline.psi(s) / TURN
