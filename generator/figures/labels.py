"""Labels are placed after the drawing, by measured width: near what they name, off lines and labels."""

from __future__ import annotations

import math
from dataclasses import dataclass

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


def place(canvas: Canvas, labels: list[Label], margin: float = 0.3) -> list[str]:
    """Set all labels; returns the texts of those that were dropped because no free place was left."""
    inks = [mark for mark in canvas.marks() if mark.group.role != "label"]
    lines = [_edges(mark) for mark in inks]
    tree = STRtree(lines)
    # What may never be covered: letters, dimensions, arrows, hands and tools, insets' rims, reserved places.
    hard: list[BaseGeometry] = [*(text.box for text in canvas.texts()), *canvas.blocked]
    hard += [mark.shape for mark in inks if mark.group.role in ("action", "dimension")]
    hard += [mark.shape for mark in inks if mark.group.part.startswith(("hand", "tool"))]
    leaders: list[LineString] = []
    dropped: list[str] = []
    spots = {index: _anchor(canvas, label) for index, label in enumerate(labels)}
    order = sorted(range(len(labels)), key=lambda i: (labels[i].rank, -text_width(labels[i].text, EM)))
    for index in order:
        label, (anchor, region) = labels[index], spots[index]
        width = text_width(label.text, EM)
        if not label.leader and label.at is not None:
            # A name that stands on its thing: as near to the wished place as is free.
            region = box(margin, margin, canvas.width - margin, canvas.height - margin)
        if (label.inside or not label.leader) and region is not None:
            at = _inside(region, anchor, width, tree, lines, hard)
            if at is not None:
                _set(canvas, label, at, None, anchor, hard, leaders, region is not None)
                continue
        best: tuple[float, Point, LineString] | None = None
        for length in (3.0, 4.5, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 30.0):
            if best is not None and length > best[0]:
                break
            for k in range(24):
                angle = math.radians(15 * k)
                end = (anchor[0] + length * math.cos(angle), anchor[1] - length * math.sin(angle))
                at = _beside(end, angle, width)
                place_box = _box(at, width)
                inside = margin <= place_box.bounds[0] and place_box.bounds[2] <= canvas.width - margin
                if not (
                    inside and margin <= place_box.bounds[1] and place_box.bounds[3] <= canvas.height - margin
                ):
                    continue
                if any(place_box.distance(thing) < 0.5 for thing in hard):
                    continue
                leader = LineString([anchor, end])
                cost = _cost(
                    label, length, math.degrees(angle), place_box, leader, tree, lines, hard, leaders
                )
                if best is None or cost < best[0]:
                    best = (cost, at, leader)
        if best is None or best[0] > _CEILING:
            dropped.append(label.text)
            continue
        _set(
            canvas,
            label,
            best[1],
            best[2] if label.leader else None,
            anchor,
            hard,
            leaders,
            region is not None,
        )
    return dropped


def _edges(mark: Mark) -> BaseGeometry:
    return (
        mark.shape.boundary
        if isinstance(only_areas(mark.shape), Polygon) and mark.fill
        else only_lines(mark.shape)
    )


def _anchor(canvas: Canvas, label: Label) -> tuple[Point, BaseGeometry | None]:
    if label.at is not None:
        return label.at, None
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


def _beside(end: Point, angle: float, width: float) -> Point:
    """Base line start of a label whose nearer side's middle meets the leader's end."""
    c, s = math.cos(angle), math.sin(angle)
    middle = end[1] + (ASCENT - DESCENT) / 2 * EM
    if c > 0.3:
        return end[0] + 0.7, middle
    if c < -0.3:
        return end[0] - width - 0.7, middle
    return end[0] - width / 2, (end[1] - DESCENT * EM - 0.3) if s > 0 else (end[1] + ASCENT * EM + 0.3)


def _inside(
    region: BaseGeometry,
    anchor: Point,
    width: float,
    tree: STRtree,
    lines: list[BaseGeometry],
    hard: list[BaseGeometry],
) -> Point | None:
    """A free place inside the part's own area, nearest to its pole."""
    best: tuple[float, Point] | None = None
    for dx in range(-12, 13, 2):
        for dy in range(-8, 9):
            at = (anchor[0] - width / 2 + dx, anchor[1] + (ASCENT - DESCENT) / 2 * EM + dy)
            room = _box(at, width).buffer(CLEAR)
            if not region.contains(room) or any(room.intersects(thing) for thing in hard):
                continue
            if any(lines[i].intersects(room) for i in tree.query(room)):
                continue
            away = math.hypot(dx, dy)
            if best is None or away < best[0]:
                best = (away, at)
    return best[1] if best else None


def _cost(
    label: Label,
    length: float,
    angle: float,
    place_box: Polygon,
    leader: LineString,
    tree: STRtree,
    lines: list[BaseGeometry],
    hard: list[BaseGeometry],
    leaders: list[LineString],
) -> float:
    cost = length
    near = place_box.buffer(0.5)
    for i in tree.query(near):
        if lines[i].intersects(near):
            cost += 6 + 3 * lines[i].intersection(place_box).length
    crossed = sum(1 for i in tree.query(leader) if lines[i].crosses(leader))
    cost += 1.2 * crossed
    tail = LineString(
        [leader.interpolate(min(1.0, leader.length / 3)), leader.interpolate(1, normalized=True)]
    )
    cost += sum(40 for thing in hard if thing.intersects(tail))
    cost += sum(60 for other in leaders if other.distance(leader) < 0.8)
    cost += sum(60 for other in leaders if other.distance(place_box) < 0.6)
    if label.wish is not None:
        off = abs((angle - label.wish + 180) % 360 - 180)
        cost += 6 * off / 90
    return cost


def _set(
    canvas: Canvas,
    label: Label,
    at: Point,
    leader: LineString | None,
    anchor: Point,
    hard: list[BaseGeometry],
    leaders: list[LineString],
    area: bool,
) -> None:
    width = text_width(label.text, EM)
    place_box = _box(at, width)
    over = any(
        mark.shape.intersects(place_box.buffer(0.4))
        if mark.fill is None
        else mark.pen is not None and mark.shape.boundary.intersects(place_box.buffer(0.4))
        for mark in canvas.marks()
    )
    with canvas.group("label", f"label-{label.part or 'place'}"):
        if leader is not None:
            canvas.line(leader, THIN)
            canvas.area(Dot(anchor).buffer(_DOT), INK)
            leaders.append(leader)
        letters: Letters = canvas.letters(at, label.text, halo=over)
    hard.append(letters.box)
