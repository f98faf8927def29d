"""Dimensions in a small place: of several ways of drawing one, the first that collides with nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from generator.figures.canvas import Letters, Mark
from generator.figures.small.field import CELL, boxes
from generator.figures.small.room import Room, shifted


@dataclass(frozen=True)
class Attempt:
    """A value drawn in one way, at its piece's origin: its items, its words' boxes, its lines as points."""

    items: tuple[Mark | Letters, ...]
    words: Any
    points: Any


class Lazy:
    """Attempts that are drawn when they are asked for: the first is mostly good."""

    def __init__(self, source: Iterator[Attempt]) -> None:
        self._source, self._known = source, list[Attempt]()

    def __iter__(self) -> Iterator[Attempt]:
        yield from self._known
        for each in self._source:
            self._known.append(each)
            yield each


def attempt(items: Sequence[Mark | Letters]) -> Attempt:
    """A value as it is drawn."""
    words = boxes([item.box.bounds for item in items if isinstance(item, Letters)])
    shapes = [item.shape for item in items if isinstance(item, Mark)]
    lines = np.array(
        [shape.boundary if shape.geom_type == "Polygon" else shape for shape in shapes], dtype=object
    )
    points = shapely.get_coordinates(shapely.segmentize(lines, CELL)) if len(shapes) else np.empty((0, 2))
    return Attempt(tuple(items), words, points)


def set_value(room: Room, tries: Iterable[Attempt], dx: float, dy: float) -> bool:
    """The first way of drawing a value in which it collides with nothing."""
    shift = np.array([dx, dy])
    for each in tries:
        words = each.words + np.array([dx, dy, dx, dy])
        points = each.points + shift
        if not room.free(words, 0.4).all() or room.field.count("ink", words).any():
            continue
        if room.field.stopped(points).any() or not _inside(room, points):
            continue
        for item in each.items:
            room.values.append(shifted(item, dx, dy))
        for box in words.tolist():
            room.field.word(tuple(box))
        room.field.mark("ink", points)
        # A leader across a dimension line would be read as part of it.
        room.field.mark("led", points)
        return True
    return False


def _inside(room: Room, points: Any) -> bool:
    if not len(points):
        return True
    low, high = points.min(axis=0), points.max(axis=0)
    return bool((low >= 0.2).all() and high[0] <= room.width - 0.2 and high[1] <= room.height - 0.2)
