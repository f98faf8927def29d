"""The room in a small place: what is drawn there, what has been set, and what is still free."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely import LineString
from shapely.affinity import translate

from generator.figures.canvas import Letters, Mark, Point
from generator.figures.labels import Label
from generator.figures.small.field import Field
from generator.figures.small.pieces import Thing

MARGIN = 0.35
"""Words stay so far off the edge of the place, mm."""


@dataclass
class Room:
    """What is there and what has been set, in a place ``width`` × ``height`` mm."""

    width: float
    height: float
    field: Field
    names: list[tuple[Label, Point, LineString | None, Point]] = dataclasses.field(default_factory=list)
    """Label, start of its base line, leader, anchor."""
    fixed: list[Letters] = dataclasses.field(default_factory=list)
    signs: list[tuple[Thing, float, float]] = dataclasses.field(default_factory=list)
    values: list[Mark | Letters] = dataclasses.field(default_factory=list)
    count: int = 0
    """Values with their number."""
    worded: int = 0
    """Names."""

    def on_paper(self, places: Any) -> Any:
        """Which boxes lie within the place."""
        return (
            (places[:, 0] >= MARGIN)
            & (places[:, 1] >= MARGIN)
            & (places[:, 2] <= self.width - MARGIN)
            & (places[:, 3] <= self.height - MARGIN)
        )

    def free(self, places: Any, off: float, *, zone: bool = False) -> Any:
        """Which boxes lie within the place and touch nothing that must not be covered."""
        grown = places + np.array([-off, -off, off, off])
        found = self.on_paper(places) & ~self.field.covered(grown)
        return found & (self.field.count("zone", grown) == 0) if zone else found


def shifted(item: Mark | Letters, dx: float, dy: float) -> Mark | Letters:
    """The same, elsewhere."""
    if isinstance(item, Letters):
        return dataclasses.replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    return dataclasses.replace(item, shape=translate(item.shape, dx, dy))
