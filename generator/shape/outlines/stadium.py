"""Stadium (straight-sided oval), by its length and width outside the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.base.outline_keys import OutlineKeys
from generator.shape.facts import MENSURATION, OutlineFacts
from generator.shape.outline import ArcPath
from generator.shape.say import plain

KEYS = OutlineKeys(lengths=("length", "width"))


def make(dimensions: Mapping[str, float]) -> ArcPath:
    """Outline of a recipe's dimensions (mm): two straight sides and two half circles. P = 2(L - W) + pi W."""
    length, width = dimensions["length"], dimensions["width"]
    straight = max(length - width, 0.0)
    return ArcPath((straight, straight), (math.pi, math.pi), width / 2, width / 2)


def facts(dimensions: Mapping[str, float]) -> OutlineFacts:
    """Its formulas in words."""
    length, width = plain(dimensions["length"]), plain(dimensions["width"])
    return OutlineFacts(
        f"2 × (length {length} − width {width}) + π × width {width}",
        MENSURATION,
        dimensions["length"] / 2,
        "the outermost point of the neighbouring bend, straight along the flat",
        f"half the length {length}",
    )
