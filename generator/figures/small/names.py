"""Names find their places round a scene that has been laid out small.

Everything is asked of the field of cells, so that many layouts can be tried; what costs least is taken. The
costs are those of ``labels``: a label's distance, ink below it, lines that its leader crosses, another side
than the wished one.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import shapely
from shapely import LineString

from generator.figures.canvas import Letters, Point
from generator.figures.labels import CLEAR, Label
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.pens import EM
from generator.figures.small.carry import Move, anchored
from generator.figures.small.field import CELL
from generator.figures.small.pieces import Name
from generator.figures.small.room import Room, shifted

OFF = 0.5
"""Words stay so far off other words, arrows and hands, mm."""
APART = 2.4
"""Nearer to a word on the same line than this, mm, two names read as one."""
AS_ONE = 8.0
"""What that costs."""
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
    room.field.word((at[0], at[1] - ASCENT * EM, at[0] + width, at[1] + DESCENT * EM))
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
    if "led" in room.field.used:
        free &= room.field.count("led", grown) == 0
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
    cost += np.where(room.field.reads_on(places, APART), AS_ONE, 0.0)
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
    cost += 60.0 * room.field.worded(points).any(axis=1)
    if "led" in room.field.used:
        cost += 60.0 * room.field.at("led", points[:, 4:]).any(axis=1)
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
    room.field.word(tuple(places[best].tolist()))
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
