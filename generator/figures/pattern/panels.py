"""Marks of a shade of several panels on the pattern of one, which serves for all of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.shape.shade import Shade

SAME = 0.3
"""Millimetres within which marks of two panels are one mark of the pattern."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place of the pattern, as panel coordinate from its start end, and the panels that have it."""

    x: float
    panels: tuple[int, ...] = ()
    """Counted from 1 in the order of rolling; none: all of them."""


def on_one(shade: Shade, places: Iterable[float]) -> Iterator[Mark]:
    """Places of all panels joined on the pattern of one of them, in order, each once."""
    share = shade.wrapped_length / shade.panels
    found: list[tuple[float, list[int]]] = []
    for place in sorted(places, key=lambda x: x % share):
        panel = min(math.floor(place / share), shade.panels - 1)
        x = place - panel * share
        if found and abs(found[-1][0] - x) < SAME and panel + 1 not in found[-1][1]:
            found[-1][1].append(panel + 1)
        else:
            found.append((x, [panel + 1]))
    for x, panels in found:
        yield Mark(x, () if len(panels) == shade.panels else tuple(sorted(panels)))
