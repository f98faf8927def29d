"""Things carried to another place and scale: shapes shrink, pens, arrows and hands keep their size."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely import MultiPolygon, STRtree
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action, small_action
from generator.figures.canvas import Anchor, Canvas, Letters, Mark, Point
from generator.figures.lettering import text_width
from generator.figures.pens import INK, SEA, SOFT, THIN, TOOL, Pen
from generator.figures.plane import add, direction
from generator.figures.small.pieces import Thing

SMALLEST_HAND = 0.46
"""Hands and tools are no smaller than this share of their size."""
NO_HANDS = 0.33
"""In scenes that are smaller there are none."""
DOT = 0.35
"""Areas smaller than this are dots, mm²."""
DOTS_APART, MOTIFS_APART = 1.5, 1.7
"""Dots of a table, motifs of a print stand no nearer than this, mm."""
SHORTEST, SHORTER = 5.5, 4.2
"""Length of an action arrow at least, and of one with a small head, mm."""
OPEN = 6.4
"""Length of an open arrow at least, mm."""
LARGE, SMALL = 0.62, 0.45
"""From the first scale on arrows and wires are as heavy as ever; below the second, hands have fine lines."""
NARROW = 1.25
"""A layer that becomes narrower than this has fine outlines and no hatching, mm."""
LIGHTER_WIRE = 0.7
"""The share of its width that a wire's cased line has in a scene that is smaller than ``LARGE``."""


@dataclass(frozen=True)
class Move:
    """To ``scale`` times the size, then by ``dx`` and ``dy`` mm."""

    scale: float
    dx: float = 0.0
    dy: float = 0.0

    def __call__(self, point: Point) -> Point:
        """Where a place goes."""
        return point[0] * self.scale + self.dx, point[1] * self.scale + self.dy

    def shape(self, shape: BaseGeometry) -> BaseGeometry:
        """What a shape becomes."""
        return affine_transform(shape, [self.scale, 0.0, 0.0, self.scale, self.dx, self.dy])

    def path(self, points: Sequence[Point]) -> list[Point]:
        """Where a line goes."""
        return [self(point) for point in points]

    def then(self, dx: float, dy: float) -> Move:
        """The same, shifted."""
        return Move(self.scale, self.dx + dx, self.dy + dy)


def carry(canvas: Canvas, things: Sequence[Thing], move: Move, *, enlarged: bool = False) -> None:
    """Draw things anew on another canvas."""
    shrunk = move.scale < 0.95
    kept = [
        tuple(_sparse(thing, move)) if shrunk and thing.part in ("print", "motif") else thing.items
        for thing in things
        if thing.stamp is None
    ]
    moved = iter(_moved([item.shape for items in kept for item in items if isinstance(item, Mark)], move))
    plain = iter(kept)
    for thing in things:
        if thing.stamp is not None:
            _again(canvas, thing, move, enlarged)
            continue
        for item in next(plain):
            group = item.group
            if enlarged and not group.enlarged:
                group = replace(group, enlarged=True)
            if isinstance(item, Letters):
                canvas.items.append(set_letters(replace(item, group=group), move))
                continue
            shape = next(moved)
            if shrunk and _dotted(item):
                shape = _dots(item.shape, move)
            canvas.items.append(Mark(group, shape, _pen(item, move.scale), item.fill))


def _moved(shapes: Sequence[BaseGeometry], move: Move) -> Sequence[BaseGeometry]:
    """All shapes in one go, which is far quicker than one by one."""
    if not shapes:
        return []
    shift = np.array([move.dx, move.dy])
    found: Any = shapely.transform(np.array(shapes, dtype=object), lambda points: points * move.scale + shift)
    return list(found)


def _pen(mark: Mark, scale: float) -> Pen | None:
    pen = pen_at(mark.pen, scale)
    if pen is None or pen.width <= THIN.width or mark.group.role in ("new", "removed"):
        return pen
    # Two heavy outlines would meet in the middle of a narrow layer; what is new stays heavy all the same.
    return replace(pen, width=THIN.width) if scale < 0.8 and _thickness(mark) * scale < NARROW else pen


def _thickness(mark: Mark) -> float:
    """Of a long area across it, mm; of a line without end."""
    if mark.fill is None or mark.shape.length == 0:
        return math.inf
    return 2.0 * mark.shape.area / mark.shape.length


def set_letters(letters: Letters, move: Move) -> Letters:
    """Words at their own size, where the place at which they were set has gone."""
    return replace(letters, at=_start(move(anchored(letters)), letters))


_SHARE: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


def anchored(letters: Letters) -> Point:
    """The place at which words were set."""
    return _along(letters, 1.0)


def _start(at: Point, letters: Letters) -> Point:
    return _along(replace(letters, at=at), -1.0)


def _along(letters: Letters, sign: float) -> Point:
    shift = sign * _SHARE[letters.anchor] * text_width(letters.text, letters.size, letters.weight)
    turn = math.radians(letters.angle)
    return letters.at[0] + shift * math.cos(turn), letters.at[1] - shift * math.sin(turn)


def pen_at(pen: Pen | None, scale: float) -> Pen | None:
    """Lines keep their width; only a wire's cased line, wider than any of the set, becomes lighter."""
    if pen is None or scale >= LARGE:
        return pen
    core = pen.colour not in (INK, SEA, SOFT) and pen.width >= 0.39
    if not core and pen.width <= 0.75:
        return pen
    return replace(pen, width=round(LIGHTER_WIRE * pen.width, 2))


def _dotted(mark: Mark) -> bool:
    """Whether an area is nothing but dots."""
    shape = mark.shape
    return (
        mark.fill is not None and isinstance(shape, MultiPolygon) and all(p.area < DOT for p in shape.geoms)
    )


def _dots(shape: BaseGeometry, move: Move) -> BaseGeometry:
    """Dots of their own size, as far apart as they should be."""
    kept: list[BaseGeometry] = []
    places: list[Point] = []
    for dot in getattr(shape, "geoms", [shape]):
        middle = dot.centroid
        at = move((middle.x, middle.y))
        if all(math.dist(at, other) >= DOTS_APART for other in places):
            places.append(at)
            kept.append(affine_transform(dot, [1.0, 0.0, 0.0, 1.0, at[0] - middle.x, at[1] - middle.y]))
    return shapely.union_all(kept)


def _sparse(thing: Thing, move: Move) -> Iterator[Mark | Letters]:
    """A print with fewer motifs, none cut in two."""
    items = list(thing.items)
    shapes = [item.shape if isinstance(item, Mark) else item.box for item in items]
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=0.05)
    chief = list(range(len(items)))

    def root(k: int) -> int:
        while chief[k] != k:
            k = chief[k]
        return k

    for a, b in near.T.tolist():
        chief[root(a)] = root(b)
    motifs: dict[int, list[int]] = {}
    for k in range(len(items)):
        motifs.setdefault(root(k), []).append(k)
    kept: list[BaseGeometry] = []
    for members in motifs.values():
        motif = shapely.union_all([shapes[k] for k in members])
        if all(motif.distance(other) * move.scale >= MOTIFS_APART for other in kept):
            kept.append(motif)
            yield from (items[k] for k in members)


def _again(canvas: Canvas, thing: Thing, move: Move, enlarged: bool) -> None:
    stamp = thing.stamp
    assert stamp is not None
    if stamp.name == "hand" and move.scale < NO_HANDS:
        return
    given = dict(stamp.given)
    draw = stamp.draw
    if stamp.name in ("action", "small_action"):
        if move.scale < LARGE:
            draw = small_action
        elif stamp.name == "action":
            draw = action
        least = 0.0 if move.scale >= 1.0 else SHORTEST if draw is action else SHORTER
        given["points"] = _long_enough(move.path(given["points"]), least)
    elif stamp.name == "press":
        given.update(tip=move(given["tip"]), size=given["size"] * min(1.0, max(0.62, 1.15 * move.scale)))
    elif stamp.name == "open_arrow":
        given["tail"], given["tip"] = _stretched(move(given["tail"]), move(given["tip"]), move.scale)
    elif stamp.name in ("hand", "tool"):
        given.update(tip=move(given["tip"]), scale=given["scale"] * hand_scale(move.scale))
    elif stamp.name == "hatch":
        region = given["region"]
        if region.length and 2.0 * region.area / region.length * move.scale < 0.6 * NARROW:
            return
        given["region"] = move.shape(region)
    elif stamp.name == "mark":
        given.update(at=move(given["at"]), radius=given["radius"] * max(0.75, min(1.0, move.scale)))
    first = len(canvas.items)
    clip = move.shape(stamp.clip) if stamp.clip is not None else None
    if clip is None:
        _named(canvas, thing, draw, given, enlarged)
    else:
        with canvas.clip(clip):
            _named(canvas, thing, draw, given, enlarged)
    if stamp.name in ("hand", "tool") and move.scale < SMALL:
        canvas.items[first:] = [
            replace(item, pen=THIN)
            if isinstance(item, Mark) and item.pen and item.pen.width == TOOL.width
            else item
            for item in canvas.items[first:]
        ]


def _named(canvas: Canvas, thing: Thing, draw: object, given: dict[str, object], enlarged: bool) -> None:
    """Draw within the thing's own group, and mark as enlarged what stands in a detail."""
    assert callable(draw)
    group = thing.items[0].group
    first = len(canvas.items)
    with canvas.group(group.role, group.part, group.measure, group.value):
        draw(canvas, **given)
    if enlarged:
        canvas.items[first:] = [
            replace(item, group=replace(item.group, enlarged=True)) for item in canvas.items[first:]
        ]


def hand_scale(scale: float) -> float:
    """How large hands and tools are in a scene at this scale: a little larger than it, to be read."""
    return min(1.0, max(SMALLEST_HAND, 1.12 * scale))


def _long_enough(points: list[Point], least: float) -> list[Point]:
    """A path that is at least so long, made longer at its tail."""
    short = least - math.fsum(math.dist(a, b) for a, b in pairwise(points))
    if short <= 0:
        return points
    back = direction(points[min(1, len(points) - 1)], points[0])
    return [add(points[0], back, short), *points]


def _stretched(tail: Point, tip: Point, scale: float) -> tuple[Point, Point]:
    short = OPEN - math.dist(tail, tip)
    if short <= 0 or scale >= 1.0:
        return tail, tip
    along = direction(tail, tip)
    return add(tail, along, -short / 2), add(tip, along, short / 2)
