"""The pieces into which a picture is taken apart: bands of its scene, details, their names and values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Letters, Mark, Point, Role, Stamp, only_areas, only_lines
from generator.figures.labels import Label

How = Literal["led", "beside", "fixed", "caption"]
"""A name stands in its thing or at the end of a leader; beside the open arrow that it tells of; where the
kind set it, to the left or right of a line; or below a detail."""
TOGETHER = 1.0
"""What lies nearer than this belongs to one thing, mm."""
AT_VALUE = 3.0
"""A number so near a value counts it, mm."""


@dataclass(frozen=True)
class Thing:
    """What was drawn in one go: marks that are carried point by point, or one thing with a stamp."""

    items: tuple[Mark | Letters, ...]
    stamp: Stamp | None = None

    @property
    def role(self) -> Role:
        """What its group is in the step."""
        return self.items[0].group.role

    @property
    def part(self) -> str:
        """Its group's part."""
        return self.items[0].group.part

    @property
    def name(self) -> str:
        """Name of its stamp, if it has one."""
        return self.stamp.name if self.stamp else ""

    @property
    def shapes(self) -> list[BaseGeometry]:
        """What it covers."""
        return [item.shape if isinstance(item, Mark) else item.box for item in self.items]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom, mm."""
        left, top, right, bottom = shapely.total_bounds(self.shapes)
        return left, top, right, bottom

    @property
    def centre(self) -> Point:
        """Middle of its box."""
        left, top, right, bottom = self.bounds
        return (left + right) / 2, (top + bottom) / 2


@dataclass(frozen=True)
class Name:
    """A noun, where it belongs in the picture, and how much it matters."""

    label: Label
    """Its ``at`` is set, its ``region`` if it may stand inside its thing."""
    of: Role | None
    """Role of what it names."""
    how: How = "led"
    spread: float = 0.0
    """``beside``: half the height of the arrow that it tells of, mm."""
    letters: Letters | None = None
    """As the kind set it, if it did so itself."""
    sign: Thing | None = None
    """The number that stands before it."""


@dataclass
class Piece:
    """A part of a picture that can stand alone: a band of the scene, or an enlarged detail."""

    name: str
    """``1``, ``2`` for bands from above; the detail's letter."""
    things: list[Thing] = field(default_factory=list)
    values: list[Thing] = field(default_factory=list)
    names: list[Name] = field(default_factory=list)
    bound: dict[int, int] = field(default_factory=dict)
    """Which sign stands at which value, by their places in the lists: it means nothing without it."""
    badges: list[Thing] = field(default_factory=list)
    """Signs that keep their size and must stand near their place: numbers, letters of a sequence."""
    circle: Polygon | None = None
    """Of a detail: what it is cut off to."""
    place: tuple[Point, float] | None = None
    """Of a detail: where it is in the scene, and the radius of the ring round that place, 0 without one."""
    ringed: list[tuple[Point, float]] = field(default_factory=list)
    """Of a scene: the places of the details that stand beside it."""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of what is drawn, mm."""
        left, top, right, bottom = shapely.total_bounds([s for thing in self.things for s in thing.shapes])
        return left, top, right, bottom


@dataclass(frozen=True)
class Anatomy:
    """All pieces of a picture."""

    view: str
    scale: float | None
    bands: tuple[Piece, ...]
    details: tuple[Piece, ...]


def middle(piece: Piece) -> tuple[Point, float]:
    """Centre and radius of a detail."""
    assert piece.circle is not None
    left, top, right, bottom = piece.circle.bounds
    return ((left + right) / 2, (top + bottom) / 2), (right - left) / 2


def bound_of(piece: Piece) -> dict[int, int]:
    """The signs that stand at a value."""
    found: dict[int, int] = {}
    for k, sign in enumerate(piece.badges):
        disc = shapely.box(*sign.bounds)
        for j, value in enumerate(piece.values):
            texts = [item.box for item in value.items if isinstance(item, Letters)]
            if sign.name == "numbered" and any(text.distance(disc) < AT_VALUE for text in texts):
                found.setdefault(k, j)
    return found


def columns_of(band: Piece) -> list[Piece]:
    """What stands apart from all else at its left and right, from the left: ``1a``, ``1b``."""
    merged: list[list[float]] = []
    for left, right in sorted((thing.bounds[0], thing.bounds[2]) for thing in band.things):
        if merged and left <= merged[-1][1] + TOGETHER:
            merged[-1][1] = max(merged[-1][1], right)
        else:
            merged.append([left, right])
    if len(merged) < 2:
        return []
    columns = [Piece(f"{band.name}{chr(ord('a') + k)}") for k in range(len(merged))]

    def column(x: float) -> Piece:
        off = [max(left - x, x - right, 0.0) for left, right in merged]
        return columns[off.index(min(off))]

    for thing in band.things:
        column(thing.centre[0]).things.append(thing)
    for value in band.values:
        column(value.centre[0]).values.append(value)
    for badge in band.badges:
        column(badge.centre[0]).badges.append(badge)
    for name in band.names:
        assert name.label.at is not None
        column(name.label.at[0]).names.append(name)
    for each in columns:
        each.bound = bound_of(each)
    return columns


def main_column(band: Piece) -> Piece:
    """The column of a band that takes most room."""

    def room(piece: Piece) -> float:
        left, top, right, bottom = piece.bounds
        return round((right - left) * (bottom - top), 3)

    return max(columns_of(band), key=room, default=band)


def upper(piece: Piece, share: float) -> Piece:
    """The upper part of a piece, cut off: long walls that only go on below."""
    left, top, right, bottom = piece.bounds
    line = top + share * (bottom - top)
    region = shapely.box(left - 5.0, top - 5.0, right + 5.0, line)
    kept = Piece(f"{piece.name}:{share:g}", circle=piece.circle, place=piece.place)
    kept.values, kept.badges, kept.bound = piece.values, piece.badges, piece.bound
    kept.names = [name for name in piece.names if name.label.at is None or name.label.at[1] < line]
    for thing in piece.things:
        if thing.bounds[3] <= line or (thing.stamp is not None and thing.name != "hatch"):
            if thing.centre[1] < line:
                kept.things.append(thing)
            continue
        if thing.stamp is not None:
            given = {**thing.stamp.given, "region": thing.stamp.given["region"].intersection(region)}
            thing = replace(thing, stamp=replace(thing.stamp, given=given))
            kept.things.append(thing)
            continue
        items = tuple(part for item in thing.items for part in _cut(item, region))
        if items:
            kept.things.append(Thing(items))
    return kept


def _cut(item: Mark | Letters, region: Polygon) -> Iterator[Mark | Letters]:
    """What of an item lies in a region, without an outline along the cut."""
    if isinstance(item, Letters):
        if region.contains(item.box):
            yield item
        return
    if item.fill is not None:
        area = only_areas(item.shape.intersection(region))
        if not area.is_empty:
            yield replace(item, shape=area, pen=None)
    if item.pen is not None:
        edge = item.shape.boundary if item.shape.geom_type.endswith("Polygon") else item.shape
        lines = only_lines(edge.intersection(region))
        if not lines.is_empty:
            yield replace(item, shape=lines, fill=None)
