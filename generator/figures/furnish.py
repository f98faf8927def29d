"""Names, values and signs find their places round a scene that has been laid out small.

Everything is asked of the field of cells, so that many layouts can be tried; what costs least is taken. The
costs are those of ``labels``: a label's distance, ink below it, lines that its leader crosses, another side
than the wished one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import shapely
from shapely import LineString

from generator.figures.anatomy import Name, Thing
from generator.figures.canvas import Letters, Mark, Point
from generator.figures.carry import Move, anchored
from generator.figures.field import CELL, Field, boxes
from generator.figures.labels import CLEAR, Label
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.pens import EM

MARGIN = 0.35
"""Words stay so far off the edge of the place, mm."""
OFF = 0.5
"""Words stay so far off other words, arrows and hands, mm."""
CEILING = 30.0
"""A name that costs more is left out."""
LENGTHS = (2.5, 3.5, 4.5, 6.0, 7.5, 9.0, 11.0, 13.0, 16.0)
ANGLES = np.radians(15.0 * np.arange(24))
FEW = 24
"""So many places are asked at a time."""
RADIUS = 2.8
"""Of a number's disc with its halo, mm."""
DISC = 2 * RADIUS + 0.6
"""Room for a number before its name, mm."""
LETTER_REACH = 4.0
"""Nor the letter of a picture in a row, mm."""
REACH = 6.0
"""A sign stands no farther off its wished place, mm."""


@dataclass
class Room:
    """What is there and what has been set, in a place ``width`` × ``height`` mm."""

    width: float
    height: float
    field: Field
    names: list[tuple[Label, Point, LineString | None, Point]] = field(default_factory=list)
    """Label, start of its base line, leader, anchor."""
    fixed: list[Letters] = field(default_factory=list)
    signs: list[tuple[Thing, float, float]] = field(default_factory=list)
    values: list[Mark | Letters] = field(default_factory=list)
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


@dataclass(frozen=True)
class Attempt:
    """A value drawn in one way, relative to its piece: what it consists of, its words, its lines as points."""

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
            room.field.blocks.append(tuple(box))
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


def shifted(item: Mark | Letters, dx: float, dy: float) -> Mark | Letters:
    """The same, elsewhere."""
    if isinstance(item, Letters):
        return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    return replace(item, shape=shapely.affinity.translate(item.shape, dx, dy))


_STEPS = 0.75 * np.arange(-int(REACH / 0.75), int(REACH / 0.75) + 1)
_NEARBY = np.array(
    sorted(((x, y) for x in _STEPS for y in _STEPS), key=lambda p: (round(math.hypot(*p), 6), p))
)


_FAR = _NEARBY * 4.0


def set_sign(room: Room, sign: Thing, move: Move, *, of_detail: bool, at: Point | None = None) -> bool:
    """A sign of fixed size near its place, off words, arrows and hands, off lines if it can be.

    A ruled box may stand anywhere. ``at`` is another place than the sign's own, in the figure's mm.
    """
    start = sign.stamp.given["centre"] if sign.stamp is not None else sign.centre
    wished, bounds = move(at or start), np.array(sign.bounds)
    # Only a disc has a ground of its own.
    bare = all(isinstance(item, Letters) for item in sign.items)
    nearby = _NEARBY if bare or sign.stamp is not None else _FAR
    shifts = np.array([wished[0] - start[0], wished[1] - start[1]]) + nearby
    places = bounds + np.concatenate([shifts, shifts], axis=1)
    free = room.free(places, 0.3, zone=not of_detail)
    if bare:
        free &= np.hypot(nearby[:, 0], nearby[:, 1]) <= LETTER_REACH
    ink = room.field.count("ink", places)
    if bare:
        free &= ink == 0
    cost = np.hypot(nearby[:, 0], nearby[:, 1]) + 0.05 * ink
    cost = np.where(free, np.round(cost, 6), np.inf)
    best = int(cost.argmin())
    if not free[best]:
        return False
    dx, dy = shifts[best].tolist()
    room.signs.append((sign, dx, dy))
    room.field.blocks.append(tuple(places[best].tolist()))
    return True


def set_name(room: Room, name: Name, move: Move, *, of_detail: bool) -> float | None:
    """Set a name; what it costs, or None if there is no room for it."""
    if name.how == "fixed":
        return _fixed(room, name, move)
    if name.how == "beside":
        return _beside_arrow(room, name, move)
    if name.how == "caption":
        return _caption(room, name, move)
    label = name.label
    assert label.at is not None
    before = DISC if name.sign is not None else 0.0
    anchor, width = move(label.at), text_width(label.text, EM) + before
    if label.inside and label.region is not None:
        at = _in_thing(room, label, anchor, width, move)
        if at is not None:
            _note(room, label, at, None, anchor, width)
            return 0.0
    found = _around(room, label, anchor, width, zone=not of_detail, signed=name.sign is not None)
    if found is None:
        return None
    cost, at, leader = found
    _note(room, label, at, leader if label.leader else None, anchor, width)
    if name.sign is not None:
        room.names[-1] = label, (at[0] + before, at[1]), leader, anchor
        x, y = name.sign.centre
        room.signs.append((name.sign, at[0] + RADIUS - x, at[1] - 0.33 * EM - y))
    return cost


def _note(
    room: Room, label: Label, at: Point, leader: LineString | None, anchor: Point, width: float
) -> None:
    room.names.append((label, at, leader, anchor))
    room.field.blocks.append((at[0], at[1] - ASCENT * EM, at[0] + width, at[1] + DESCENT * EM))
    if leader is not None:
        room.field.draw([leader], "led")


def _word_boxes(x: Any, y: Any, width: float, *, signed: bool = False) -> Any:
    """Boxes of a name whose base line starts at x, y; with a number before it they are higher."""
    rise, fall = (0.33 * EM + RADIUS, RADIUS - 0.33 * EM) if signed else (ASCENT * EM, DESCENT * EM)
    return np.stack([x, y - rise, x + width, y + fall], axis=1)


_INNER = np.array(
    sorted(((dx, dy) for dx in range(-12, 13) for dy in range(-8, 9)), key=lambda p: (math.hypot(*p), p)),
    dtype=float,
)


def _in_thing(room: Room, label: Label, anchor: Point, width: float, move: Move) -> Point | None:
    """A free place in the thing's own area, nearest to its middle."""
    x = anchor[0] - width / 2 + _INNER[:, 0]
    y = anchor[1] + (ASCENT - DESCENT) / 2 * EM + _INNER[:, 1]
    places = _word_boxes(x, y, width)
    grown = places + np.array([-CLEAR, -CLEAR, CLEAR, CLEAR])
    free = room.free(places, CLEAR) & (room.field.count("ink", grown) == 0)
    # Asked in the figure's own mm, in which the area is.
    back = (grown - np.array([move.dx, move.dy, move.dx, move.dy])) / move.scale
    for k in np.flatnonzero(free)[:40]:
        if shapely.contains(label.region, shapely.box(*back[k])):
            return float(x[k]), float(y[k])
    return None


def _around(
    room: Room, label: Label, anchor: Point, width: float, *, zone: bool, signed: bool
) -> tuple[float, Point, LineString] | None:
    """The cheapest place at the end of a leader."""
    c, s = np.cos(ANGLES), np.sin(ANGLES)
    lengths = np.repeat(np.array(LENGTHS), len(ANGLES))
    c, s = np.tile(c, len(LENGTHS)), np.tile(s, len(LENGTHS))
    ex, ey = anchor[0] + lengths * c, anchor[1] - lengths * s
    middle = ey + (ASCENT - DESCENT) / 2 * EM
    x = np.where(c > 0.3, ex + 0.7, np.where(c < -0.3, ex - width - 0.7, ex - width / 2))
    level = np.abs(c) > 0.3
    y = np.where(level, middle, np.where(s > 0, ey - DESCENT * EM - 0.3, ey + ASCENT * EM + 0.3))
    places = _word_boxes(x, y, width, signed=signed)
    kept = np.flatnonzero(room.free(places, OFF, zone=zone))
    if not len(kept):
        return None
    places = places[kept]
    cost = lengths[kept].copy()
    ink = room.field.count("ink", places + np.array([-0.4, -0.4, 0.4, 0.4]))
    cost += np.where(ink > 0, 6.0 + 3.0 * CELL * ink, 0.0)
    if label.wish is not None:
        away = np.abs((15.0 * (kept % len(ANGLES)) - label.wish + 180.0) % 360.0 - 180.0)
        cost += 4.0 * away / 90.0
    # A leader only adds to the cost: the cheapest places are asked first.
    order = np.argsort(np.round(cost, 6), kind="stable")
    best, chosen = CEILING, -1
    for start in range(0, len(order), FEW):
        few = order[start : start + FEW]
        if cost[few[0]] >= best:
            break
        ends = np.stack([ex[kept[few]], ey[kept[few]]], axis=1)
        whole = np.round(cost[few] + _leader_costs(room, np.array(anchor), ends, places[few]), 6)
        k = int(whole.argmin())
        if whole[k] < best:
            best, chosen = float(whole[k]), int(kept[few[k]])
    if chosen < 0:
        return None
    leader = LineString([anchor, (float(ex[chosen]), float(ey[chosen]))])
    return best, (float(x[chosen]), float(y[chosen])), leader


def _leader_costs(room: Room, anchor: Any, ends: Any, places: Any) -> Any:
    """What is bad about the way from the anchor to each place."""
    along = _ALONG[None, :, None]
    points = anchor[None, None, :] + along * (ends[:, None, :] - anchor[None, None, :])
    inked = room.field.at("ink", points)
    cost = 1.2 * (inked[:, 1:] & ~inked[:, :-1]).sum(axis=1)
    cost += 40.0 * room.field.stopped(points[:, 32:]).any(axis=1)
    if "led" in room.field.used:
        cost += 60.0 * room.field.at("led", points[:, 12:]).any(axis=1)
        cost += 60.0 * (room.field.count("led", places + np.array([-0.6, -0.6, 0.6, 0.6])) > 0)
    return cost


_ALONG = np.linspace(0.0, 1.0, 64)


def _fixed(room: Room, name: Name, move: Move) -> float | None:
    """Where the kind set it, a little higher or lower if need be."""
    letters = name.letters
    assert letters is not None
    was = anchored(letters)
    at = move(was)
    rises = np.array([0.0, -0.75, 0.75, -1.5, 1.5])
    box = np.array(letters.box.bounds)
    shift = np.stack([np.full(5, at[0] - was[0]), at[1] - was[1] + rises], axis=1)
    places = box + np.concatenate([shift, shift], axis=1)
    free = room.free(places, 0.3) & (room.field.count("ink", places) == 0)
    if not free.any():
        return None
    best = int(free.argmax())
    moved = shifted(letters, *shift[best].tolist())
    assert isinstance(moved, Letters)
    room.fixed.append(moved)
    room.field.blocks.append(tuple(places[best].tolist()))
    return float(abs(rises[best]))


def _beside_arrow(room: Room, name: Name, move: Move) -> float | None:
    """Beside the open arrow that it tells of: left or right of it, above or below."""
    label = name.label
    assert label.at is not None
    (ax, ay), width = move(label.at), text_width(label.text, EM)
    half = max(name.spread * move.scale, 3.2)
    base = (ASCENT - DESCENT) / 2 * EM
    rows = np.array([0.0, -0.4 * half, 0.4 * half, -0.8 * half, 0.8 * half])
    x = np.concatenate([np.full(5, ax + 2.9), np.full(5, ax - 2.9 - width), np.full(2, ax - width / 2)])
    ends = np.array([ay - half - 0.6 - DESCENT * EM, ay + half + 0.6 + ASCENT * EM])
    y = np.concatenate([ay + rows + base, ay + rows + base, ends])
    places = _word_boxes(x, y, width)
    cost = np.concatenate([np.abs(rows), 0.3 + np.abs(rows), np.full(2, 2.0)])
    ink = room.field.count("ink", places + np.array([-0.4, -0.4, 0.4, 0.4]))
    cost = cost + np.where(ink > 0, 6.0 + 3.0 * CELL * ink, 0.0)
    cost = np.round(np.where(room.free(places, 0.3, zone=True), cost, np.inf), 6)
    best = int(cost.argmin())
    if cost[best] > CEILING / 2:
        return None
    _note(room, label, (float(x[best]), float(y[best])), None, (ax, ay), width)
    return float(cost[best])


def _caption(room: Room, name: Name, move: Move) -> float | None:
    """Under or above what it tells of."""
    label = name.label
    assert label.at is not None
    (ax, ay), width = move(label.at), text_width(label.text, EM)
    dx, dy = (g.ravel() for g in np.meshgrid(np.arange(-8.0, 8.5), np.arange(-5.0, 5.5, 0.5)))
    x, y = ax - width / 2 + dx, ay + dy
    places = _word_boxes(x, y, width)
    free = room.free(places, OFF, zone=True)
    free &= room.field.count("ink", places + np.array([-0.4, -0.4, 0.4, 0.4])) == 0
    cost = np.round(np.where(free, np.hypot(dx, dy), np.inf), 6)
    best = int(cost.argmin())
    if not free[best]:
        return None
    _note(room, label, (float(x[best]), float(y[best])), None, (ax, ay), width)
    return float(cost[best])
