"""Cloth turned round the wire, and the margin that it needs."""

from __future__ import annotations

import math

LAP = 3.0
"""Lap of the margin that the tuck must at least hold, mm. Common practice, no source."""


def wrap_used(turn: float, wire_radius: float, cloth_thickness: float = 0.0) -> float:
    """Cloth used by turning it through ``turn`` radians round a wire, measured in mid-cloth, mm.

    Arc of the radius wire + half the cloth; own derivation.
    """
    return turn * (wire_radius + cloth_thickness / 2)


def least_margin(wire: float) -> float:
    """The narrowest margin that can be tucked: half a turn round the wire, the wire itself and a lap, mm."""
    return wrap_used(math.pi, wire / 2) + wire + LAP
