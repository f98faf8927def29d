"""Square with rounded corners, by its side outside the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.base.outline_keys import OutlineKeys
from generator.shape.facts import MENSURATION, OutlineFacts
from generator.shape.outline import ArcPath
from generator.shape.say import plain

KEYS = OutlineKeys(lengths=("side",), optional=("corner_radius",))


def make(dimensions: Mapping[str, float]) -> ArcPath:
    """Outline of a recipe's dimensions (mm). P = 4 a - (8 - 2 pi) r."""
    side = dimensions["side"]
    radius = dimensions.get("corner_radius", 0.0)
    return ArcPath((max(side - 2 * radius, 0.0),) * 4, (math.pi / 2,) * 4, radius, side / 2)


def facts(dimensions: Mapping[str, float]) -> OutlineFacts:
    """Its formulas in words."""
    side, radius = plain(dimensions["side"]), plain(dimensions.get("corner_radius", 0.0))
    return OutlineFacts(
        f"4 × side {side} − (8 − 2π) × corner radius {radius}",
        MENSURATION,
        dimensions["side"] / 2,
        "the neighbouring side",
        f"half the side {side}",
    )
