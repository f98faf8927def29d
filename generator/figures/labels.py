"""Labels are placed after the drawing, by measured width: near what they name, off lines and labels."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Polygon, STRtree, box
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from generator.figures.canvas import Canvas, Letters, Mark, Point, only_areas, only_lines
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.pens import EM, INK, THIN

CLEAR = 0.6
"""A label inside an area keeps this far from its edge, mm."""
_DOT = 0.55
_CEILING = 400.0


@dataclass(frozen=True)
class Label:
    """A noun and what it names: a part that is drawn (``part``) or a place on the paper (``at``).

    ``wish`` is the direction, in degrees on paper, in which the label would best stand; ``rank`` decides
    which label is dropped first where there is no room (0 never).
    """

    text: str
    part: str = ""
    at: Point | None = None
    wish: float | None = None
    rank: int = 0
    inside: bool = True
    leader: bool = True
    region: BaseGeometry | None = None
    """With ``at``: the area of its thing, in which it may stand."""


def place(canvas: Canvas, labels: list[Label], margin: float = 0.3) -> list[str]:
    """Set all labels; returns the texts of those that were dropped because no free place was left."""
    ground = _Ground(canvas)
    dropped: list[str] = []
    spots = {index: anchor_of(canvas, label) for index, label in enumerate(labels)}
    order = sorted(range(len(labels)), key=lambda i: (labels[i].rank, -text_width(labels[i].text, EM)))
    for index in order:
        label, (anchor, region) = labels[index], spots[index]
        width = text_width(label.text, EM)
        if not label.leader and label.at is not None:
            # A name that stands on its thing: as near to the wished place as is free.
            region = box(margin, margin, canvas.width - margin, canvas.height - margin)
        if (label.inside or not label.leader) and region is not None:
            at = _inside(region, anchor, width, ground)
            if at is not None:
                _set(canvas, label, at, None, anchor, ground)
                continue
        best: tuple[float, Point, LineString] | None = None
        for length in (3.0, 4.5, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 30.0):
            if best is not None and length > best[0]:
                break
            for found in _around(canvas, label, length, anchor, width, margin, ground):
                if best is None or found[0] < best[0]:
                    best = found
        if best is None or best[0] > _CEILING:
            dropped.append(label.text)
            continue
        _set(canvas, label, best[1], best[2] if label.leader else None, anchor, ground)
    return dropped


class _Ground:
    """What is drawn already, asked for many places at once: one call for all of them is far quicker."""

    def __init__(self, canvas: Canvas) -> None:
        inks = [mark for mark in canvas.marks() if mark.group.role != "label"]
        self.lines: Any = np.array([_edges(mark) for mark in inks], dtype=object)
        self.tree = STRtree(self.lines)
        # Never to be covered: letters, dimensions, arrows, hands and tools, insets' rims, reserved places.
        self._hard: list[BaseGeometry] = [*(text.box for text in canvas.texts()), *canvas.blocked]
        self._hard += [mark.shape for mark in inks if mark.group.role in ("action", "dimension")]
        self._hard += [mark.shape for mark in inks if mark.group.part.startswith(("hand", "tool"))]
        self.hard = STRtree(self._hard)
        self.leaders: list[LineString] = []

    def block(self, place: BaseGeometry) -> None:
        """Nothing else may stand here."""
        self._hard.append(place)
        self.hard = STRtree(self._hard)


def _edges(mark: Mark) -> BaseGeometry:
    return (
        mark.shape.boundary
        if isinstance(only_areas(mark.shape), Polygon) and mark.fill
        else only_lines(mark.shape)
    )


def anchor_of(canvas: Canvas, label: Label) -> tuple[Point, BaseGeometry | None]:
    """The place that a label's leader goes to, and the area in which the label may stand."""
    if label.at is not None:
        return label.at, label.region
    seen = canvas.visible(label.part)
    areas = only_areas(seen)
    if not areas.is_empty:
        largest = max(getattr(areas, "geoms", [areas]), key=lambda part: part.area)
        inner = largest.buffer(-0.3)
        target = inner if isinstance(inner, Polygon) and not inner.is_empty else largest
        pole = polylabel(target, 0.3)
        return (pole.x, pole.y), largest
    runs = only_lines(seen)
    if runs.is_empty:
        return (canvas.width / 2, canvas.height / 2), None
    longest = max(runs.geoms, key=lambda run: run.length) if isinstance(runs, MultiLineString) else runs
    middle = longest.interpolate(0.5, normalized=True)
    return (middle.x, middle.y), None


def _box(at: Point, width: float) -> Polygon:
    return box(at[0], at[1] - ASCENT * EM, at[0] + width, at[1] + DESCENT * EM)


def _boxes(places: list[Point], width: float) -> Any:
    """Boxes of the ink of one label at many places."""
    x, y = np.array(places).T
    return shapely.box(x, y - ASCENT * EM, x + width, y + DESCENT * EM)


def _beside(end: Point, angle: float, width: float) -> Point:
    """Base line start of a label whose nearer side's middle meets the leader's end."""
    c, s = math.cos(angle), math.sin(angle)
    middle = end[1] + (ASCENT - DESCENT) / 2 * EM
    if c > 0.3:
        return end[0] + 0.7, middle
    if c < -0.3:
        return end[0] - width - 0.7, middle
    return end[0] - width / 2, (end[1] - DESCENT * EM - 0.3) if s > 0 else (end[1] + ASCENT * EM + 0.3)


def _inside(region: BaseGeometry, anchor: Point, width: float, ground: _Ground) -> Point | None:
    """A free place inside the part's own area, nearest to its pole."""
    shifts = [(dx, dy) for dx in range(-12, 13, 2) for dy in range(-8, 9)]
    # The first of the nearest is taken, and only few have to be asked for.
    shifts.sort(key=lambda shift: math.hypot(*shift))
    shapely.prepare(region)
    for start in range(0, len(shifts), 32):
        places = [
            (anchor[0] - width / 2 + dx, anchor[1] + (ASCENT - DESCENT) / 2 * EM + dy)
            for dx, dy in shifts[start : start + 32]
        ]
        rooms = shapely.buffer(_boxes(places, width), CLEAR)
        free = shapely.contains(region, rooms)
        free[ground.hard.query(rooms, predicate="intersects")[0]] = False
        free[ground.tree.query(rooms, predicate="intersects")[0]] = False
        if free.any():
            return places[int(free.argmax())]
    return None


def _around(
    canvas: Canvas,
    label: Label,
    length: float,
    anchor: Point,
    width: float,
    margin: float,
    ground: _Ground,
) -> Iterator[tuple[float, Point, LineString]]:
    """Places all round the anchor that cover nothing, each with its cost and the leader that goes there."""
    angles = [math.radians(15 * k) for k in range(24)]
    ends = [(anchor[0] + length * math.cos(a), anchor[1] - length * math.sin(a)) for a in angles]
    places = [_beside(end, angle, width) for end, angle in zip(ends, angles, strict=True)]
    boxes = _boxes(places, width)
    left, top, right, bottom = shapely.bounds(boxes).T
    free = (margin <= left) & (right <= canvas.width - margin)
    free &= (margin <= top) & (bottom <= canvas.height - margin)
    free[ground.hard.query(boxes, predicate="dwithin", distance=0.5)[0]] = False
    kept = np.flatnonzero(free)
    if not len(kept):
        return
    leaders = shapely.linestrings([[anchor, ends[k]] for k in kept])
    costs = _costs(label, length, [math.degrees(angles[k]) for k in kept], boxes[kept], leaders, ground)
    for cost, k, leader in zip(costs, kept, leaders, strict=True):
        yield cost, places[k], leader


def _costs(
    label: Label, length: float, angles: list[float], boxes: Any, leaders: Any, ground: _Ground
) -> list[float]:
    """What is bad about each place: distance, ink below it, lines crossed on the way, another direction."""
    costs = np.full(len(boxes), length)
    near, ink = ground.tree.query(shapely.buffer(boxes, 0.5), predicate="intersects")
    under = shapely.length(shapely.intersection(ground.lines[ink], boxes[near]))
    np.add.at(costs, near, 6 + 3 * under)
    np.add.at(costs, ground.tree.query(leaders, predicate="crosses")[0], 1.2)
    starts = shapely.line_interpolate_point(leaders, np.minimum(1.0, shapely.length(leaders) / 3))
    stops = shapely.get_point(leaders, -1)
    tails = shapely.linestrings(
        np.stack([shapely.get_coordinates(starts), shapely.get_coordinates(stops)], axis=1)
    )
    np.add.at(costs, ground.hard.query(tails, predicate="intersects")[0], 40)
    for other in ground.leaders:
        costs += np.where(shapely.distance(leaders, other) < 0.8, 60, 0)
        costs += np.where(shapely.distance(boxes, other) < 0.6, 60, 0)
    if label.wish is not None:
        costs += [6 * abs((angle - label.wish + 180) % 360 - 180) / 90 for angle in angles]
    # Equal costs are equal on every machine: the first place wins, not the last bit of a sum.
    return [round(float(cost), 9) for cost in costs]


def _set(
    canvas: Canvas, label: Label, at: Point, leader: LineString | None, anchor: Point, ground: _Ground
) -> None:
    letters = write_label(canvas, label, at, leader, anchor)
    if leader is not None:
        ground.leaders.append(leader)
    ground.block(letters.box)


def write_label(canvas: Canvas, label: Label, at: Point, leader: LineString | None, anchor: Point) -> Letters:
    """Draw a label whose base line starts at ``at``, with its leader and the dot at ``anchor``."""
    near = _box(at, text_width(label.text, EM)).buffer(0.4)
    shapely.prepare(near)
    over = any(
        near.intersects(mark.shape)
        if mark.fill is None
        else mark.pen is not None and near.intersects(mark.shape) and near.intersects(mark.shape.boundary)
        for mark in canvas.marks()
    )
    with canvas.group("label", f"label-{label.part or 'place'}"):
        if leader is not None:
            canvas.line(leader, THIN)
            canvas.area(Dot(anchor).buffer(_DOT), INK)
        return canvas.letters(at, label.text, halo=over)
