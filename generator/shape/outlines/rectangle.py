"""Rectangle with rounded corners, by its length and width outside the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.base.outline_keys import OutlineKeys
from generator.shape.facts import MENSURATION, OutlineFacts
from generator.shape.outline import ArcPath
from generator.shape.say import plain

KEYS = OutlineKeys(lengths=("length", "width"), optional=("corner_radius",))


def make(dimensions: Mapping[str, float]) -> ArcPath:
    """Outline of a recipe's dimensions (mm); the front is a long side. P = 2(L + W) - (8 - 2 pi) r."""
    length, width = dimensions["length"], dimensions["width"]
    radius = dimensions.get("corner_radius", 0.0)
    long_side, short_side = max(length - 2 * radius, 0.0), max(width - 2 * radius, 0.0)
    return ArcPath((long_side, short_side) * 2, (math.pi / 2,) * 4, radius, width / 2)


def facts(dimensions: Mapping[str, float]) -> OutlineFacts:
    """Its formulas in words."""
    length, width = plain(dimensions["length"]), plain(dimensions["width"])
    radius = plain(dimensions.get("corner_radius", 0.0))
    return OutlineFacts(
        f"2 × (length {length} + width {width}) − (8 − 2π) × corner radius {radius}",
        MENSURATION,
        dimensions["length"] / 2,
        "the neighbouring short side",
        f"half the length {length} of the side that carries the seam",
    )
