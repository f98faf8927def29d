"""A canvas that records what is drawn, in paper mm, y down, and can be asked what is seen of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from shapely import (
    GeometryCollection,
    LineString,
    MultiLineString,
    MultiPolygon,
    Polygon,
    box,
    linestrings,
    polygons,
    unary_union,
)
from shapely.affinity import affine_transform, rotate
from shapely.geometry.base import BaseGeometry

from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.pens import EM, INK, WHITE, Pen

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Role = Literal["context", "new", "removed", "action", "dimension", "label", "detail"]


@dataclass(frozen=True)
class Group:
    """What a run of marks is: its role, its part, the measure that a dimension shows."""

    role: Role
    part: str
    measure: str | None = None
    value: float | None = None
    enlarged: bool = False
    """It stands within an enlarged detail, not in the picture itself."""


@dataclass(frozen=True, eq=False)
class Stamp:
    """How to draw a thing again elsewhere, so that it keeps its size: the function and what it was given."""

    name: str
    draw: Callable[..., Any]
    given: Mapping[str, Any]
    clip: BaseGeometry | None
    """To what it was cut off."""


@dataclass(frozen=True)
class Mark:
    """An area or a line. ``shape`` is what it covers, for asking what is seen and what is free."""

    group: Group
    shape: BaseGeometry
    pen: Pen | None
    fill: str | None
    stamp: Stamp | None = None


@dataclass(frozen=True)
class Letters:
    """A line of text, base line starting at ``at``, turned by ``angle`` degrees counter-clockwise."""

    group: Group
    at: Point
    text: str
    size: float
    weight: int
    fill: str
    angle: float
    halo: bool
    anchor: Anchor = "start"
    """Which of its places was asked for when it was set."""
    stamp: Stamp | None = None

    @property
    def box(self) -> Polygon:
        """The ink's box, turned with the text."""
        x, y = self.at
        flat = box(
            x,
            y - ASCENT * self.size,
            x + text_width(self.text, self.size, self.weight),
            y + DESCENT * self.size,
        )
        return rotate(flat, -self.angle, origin=self.at) if self.angle else flat


@dataclass
class Canvas:
    """Records marks in drawing order; later marks lie over earlier ones."""

    width: float
    height: float
    view: str = "bench"
    top: float = 0.0
    """Upper edge of what is kept, mm."""
    scale: float | None = None
    """Paper mm per work mm, stated for plans and sections drawn true to scale."""
    items: list[Mark | Letters] = field(default_factory=list)
    blocked: list[BaseGeometry] = field(default_factory=list)
    """Places that a label must not take although nothing is drawn there."""
    _group: Group = Group("context", "")
    _clip: BaseGeometry | None = None
    _enlarged: bool = False
    _stamp: Stamp | None = None

    @contextmanager
    def stamped(self, stamp: Stamp) -> Iterator[None]:
        """Everything drawn inside can be drawn again as this says; a stamp within another is none."""
        before, self._stamp = self._stamp, self._stamp or stamp
        try:
            yield
        finally:
            self._stamp = before

    @property
    def clipped(self) -> BaseGeometry | None:
        """To what all that is drawn now is cut off."""
        return self._clip

    @contextmanager
    def group(
        self, role: Role, part: str, measure: str | None = None, value: float | None = None
    ) -> Iterator[None]:
        """Everything drawn inside is this part, in this role."""
        before, self._group = self._group, Group(role, part, measure, value, self._enlarged)
        try:
            yield
        finally:
            self._group = before

    @contextmanager
    def enlarged(self) -> Iterator[None]:
        """Everything drawn inside belongs to an enlarged detail."""
        before, self._enlarged = self._enlarged, True
        try:
            yield
        finally:
            self._enlarged = before

    @contextmanager
    def clip(self, region: BaseGeometry) -> Iterator[None]:
        """Areas and lines drawn inside are cut off at the region's edge."""
        before = self._clip
        self._clip = region if before is None else before.intersection(region)
        try:
            yield
        finally:
            self._clip = before

    def area(self, shape: Sequence[Point] | BaseGeometry, fill: str | None, pen: Pen | None = None) -> None:
        """A closed area; its outline is cut, not closed along the edge, where a clip cuts it."""
        polygon = shape if isinstance(shape, BaseGeometry) else polygons(shape)
        if not polygon.is_valid:
            polygon = polygon.buffer(0)
        if self._clip is None:
            self._add(polygon, pen, fill)
            return
        if fill is not None:
            self._add(only_areas(polygon.intersection(self._clip)), None, fill)
        if pen is not None:
            self._add(only_lines(polygon.boundary.intersection(self._clip)), pen, None)

    def line(self, points: Sequence[Point] | BaseGeometry, pen: Pen) -> None:
        """An open line."""
        shape = points if isinstance(points, BaseGeometry) else linestrings(points)
        if self._clip is not None:
            shape = only_lines(shape.intersection(self._clip))
        self._add(shape, pen, None)

    def circle(self, centre: Point, radius: float, fill: str | None, pen: Pen | None = None) -> None:
        """A circle."""
        self.area(circle(centre, radius), fill, pen)

    def letters(
        self,
        at: Point,
        text: str,
        *,
        size: float = EM,
        weight: int = 400,
        fill: str = INK,
        angle: float = 0.0,
        anchor: Anchor = "start",
        halo: bool = False,
    ) -> Letters:
        """A line of text whose start, middle or end of the base line stands at ``at``."""
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text_width(text, size, weight)
        turned = math.radians(angle)
        start = (at[0] - shift * math.cos(turned), at[1] + shift * math.sin(turned))
        letters = Letters(self._group, start, text, size, weight, fill, angle, halo, anchor, self._stamp)
        self.items.append(letters)
        return letters

    def _add(self, shape: BaseGeometry, pen: Pen | None, fill: str | None) -> None:
        if not shape.is_empty:
            self.items.append(Mark(self._group, shape, pen, fill, self._stamp))

    def magnify(self, factor: float) -> None:
        """Make everything so many times as large: places, lines, lettering."""
        self.width, self.height, self.top = factor * self.width, factor * self.height, factor * self.top
        self.scale = None if self.scale is None else factor * self.scale
        for k, item in enumerate(self.items):
            if isinstance(item, Letters):
                at = (factor * item.at[0], factor * item.at[1])
                self.items[k] = replace(item, at=at, size=factor * item.size)
                continue
            shape = affine_transform(item.shape, [factor, 0.0, 0.0, factor, 0.0, 0.0])
            self.items[k] = replace(item, shape=shape, pen=item.pen and item.pen.magnified(factor))

    def marks(self) -> Iterator[Mark]:
        """Areas and lines, in drawing order."""
        return (item for item in self.items if isinstance(item, Mark))

    def texts(self) -> Iterator[Letters]:
        """Lines of text, in drawing order."""
        return (item for item in self.items if isinstance(item, Letters))

    def visible(self, part: str) -> BaseGeometry:
        """What no later area of another part covers: of a part's areas, or of its lines if it has no area."""
        seen: BaseGeometry = GeometryCollection()
        covers: list[BaseGeometry] = []
        lines: list[BaseGeometry] = []
        for mark in reversed(list(self.marks())):
            if mark.group.part == part:
                left = mark.shape.difference(unary_union(covers)) if covers else mark.shape
                if mark.fill is not None:
                    seen = seen.union(only_areas(left))
                else:
                    lines.append(only_lines(left))
            elif mark.fill is not None:
                covers.append(mark.shape)
        return unary_union(lines) if seen.is_empty else seen


def circle(centre: Point, radius: float) -> Polygon:
    """A circle as a polygon of 72 corners or more; of 24 where it is only a dot."""
    from shapely import Point as Dot

    return Dot(centre).buffer(radius, quad_segs=6 if radius < 0.6 else max(18, min(48, int(radius * 6))))


def only_areas(shape: BaseGeometry) -> BaseGeometry:
    """The areas of a mixed geometry."""
    if isinstance(shape, (Polygon, MultiPolygon)):
        return shape
    if isinstance(shape, GeometryCollection):
        return unary_union([part for part in shape.geoms if isinstance(part, (Polygon, MultiPolygon))])
    return Polygon()


def only_lines(shape: BaseGeometry) -> BaseGeometry:
    """The lines of a mixed geometry, joined where they meet."""
    from shapely import line_merge

    if isinstance(shape, LineString) or shape.geom_type == "LinearRing":
        return shape
    if isinstance(shape, MultiLineString):
        return line_merge(shape)
    if isinstance(shape, GeometryCollection):
        found: list[LineString] = []
        for part in shape.geoms:
            if isinstance(part, LineString):
                found.append(part)
            elif isinstance(part, MultiLineString):
                found.extend(part.geoms)
        return line_merge(MultiLineString(found)) if found else LineString()
    if isinstance(shape, (Polygon, MultiPolygon)):
        return shape.boundary
    return LineString()


__all__ = [
    "INK",
    "WHITE",
    "Anchor",
    "Canvas",
    "Group",
    "Letters",
    "Mark",
    "Point",
    "Role",
    "Stamp",
    "circle",
    "only_areas",
    "only_lines",
]
