"""Regular polygon with rounded corners, by its number of sides and its size across flats outside the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.base.outline_keys import OutlineKeys
from generator.shape.facts import MINKOWSKI, OutlineFacts
from generator.shape.outline import ArcPath
from generator.shape.say import plain

KEYS = OutlineKeys(lengths=("across_flats",), counts=("sides",), optional=("corner_radius",))


def make(dimensions: Mapping[str, float]) -> ArcPath:
    """Outline of a recipe's dimensions (mm), centred on its middle. P = 2 n (F/2 - r) tan(pi/n) + 2 pi r.

    With an odd number of sides no two flats face each other: across flats then means twice the inradius.
    """
    count = int(dimensions["sides"])
    inradius = dimensions["across_flats"] / 2
    radius = dimensions.get("corner_radius", 0.0)
    side = 2 * max(inradius - radius, 0.0) * math.tan(math.pi / count)
    return ArcPath((side,) * count, (2 * math.pi / count,) * count, radius, inradius)


def facts(dimensions: Mapping[str, float]) -> OutlineFacts:
    """Its formulas in words."""
    count, across = int(dimensions["sides"]), plain(dimensions["across_flats"])
    radius = plain(dimensions.get("corner_radius", 0.0))
    perimeter = make(dimensions).length
    return OutlineFacts(
        f"2 × {count} sides × (half of across flats {across} − corner radius {radius}) × tan(180° / {count}) "
        f"+ 2π × corner radius {radius}",
        MINKOWSKI,
        perimeter / (2 * count),
        "the middle of the neighbouring corner, along the wire",
        f"once round {plain(perimeter)} / (2 × {count} sides)",
    )
