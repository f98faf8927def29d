"""Lengths with units, and the three ways in which a hand rounds."""

from __future__ import annotations

import math
import re
from fractions import Fraction

MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
}
"""Exact millimetres in each unit that a recipe may use. The inch is 25.4 mm (ISO 80000-3:2019, from memory)."""

_NUMBER = (
    r"(?:(?P<whole>\d{1,9})\s+)?(?P<top>\d{1,9})\s*/\s*(?P<bottom>\d{1,9})|(?P<decimal>\d{1,9}(?:\.\d{1,9})?)"
)
_LENGTH = re.compile(rf"(?:{_NUMBER})\s*(?P<unit>[A-Za-z\"″′']*)")
# Rounding up or down must not turn 250.0000000001, which is floating-point noise, into 251.
_NOISE = 1e-6


def parse_length(text: str) -> float:
    """Millimetres of ``250 mm``, ``35 cm``, ``1.5 m``, ``10 in`` or ``11 3/4 in``.

    Raises ValueError, whose message is ``unit`` if the unit is missing, else ``length``.
    """
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        raise ValueError("length")
    unit = match["unit"]
    if not unit:
        raise ValueError("unit")
    if unit not in MM_PER_UNIT:
        raise ValueError("length")
    if match["decimal"] is not None:
        value = Fraction(match["decimal"])
    else:
        if int(match["bottom"]) == 0:
            raise ValueError("length")
        value = int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    return float(value * MM_PER_UNIT[unit])


def round_up(value: float, step: float = 1.0) -> float:
    """The least multiple of ``step`` that is not below ``value``: for what may be trimmed."""
    return math.ceil(value / step - _NOISE) * step


def round_down(value: float, step: float = 1.0) -> float:
    """The greatest multiple of ``step`` that is not above ``value``: for what must fit."""
    return math.floor(value / step + _NOISE) * step


def round_nearest(value: float, step: float = 1.0) -> float:
    """The nearest multiple of ``step``, halves away from zero: for a mark."""
    return math.copysign(math.floor(abs(value) / step + 0.5 + _NOISE), value) * step
