"""Lengths of cloth that no plan can beat."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.cutting.tree import Option


def area_bound(options: Sequence[Sequence[Option]], counts: Sequence[int], width: int) -> int:
    """All pieces together, spread over the whole width, in whole units."""
    area = sum(
        count * min(way.across * way.along for way in ways)
        for ways, count in zip(options, counts, strict=True)
    )
    return math.ceil(area / width)


def alone_bound(options: Sequence[Sequence[Option]], counts: Sequence[int], width: int) -> int:
    """Pieces that are wider than half the cloth however they lie can only follow one another."""
    return sum(
        count * min(way.along for way in ways)
        for ways, count in zip(options, counts, strict=True)
        if all(2 * way.across > width for way in ways)
    )


def length_bound(options: Sequence[Sequence[Option]], counts: Sequence[int], width: int) -> int:
    """The greatest of the bounds; ``options`` are those that fit into the width."""
    longest = max(min(way.along for way in ways) for ways in options)
    return max(area_bound(options, counts, width), alone_bound(options, counts, width), longest)
