"""One row of a cutting plan drawn to scale: pieces and their names, cuts in order, offcuts hatched."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from shapely import LineString, box, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.cutting.model import Area, Cut, Layout, Placed
from generator.cutting.rows import Stretch
from generator.figures.canvas import Canvas, Point
from generator.figures.hatch import hatch
from generator.figures.lettering import ASCENT, text_width
from generator.figures.pens import BROKEN_OFF, CUTTING, EM, INK, THIN, WHITE, Pen

WASTE = (70.0, 1.8)
"""Angle and spacing of an offcut's hatch."""
BADGE, PAD = 2.5, 0.5
"""Radius of a cut's number, and paper that it keeps free, mm."""
LEAD = 5.2
"""How far a number stands beside a cut that is too short to carry it, mm."""
NAME = 4.6
"""Size of a piece's name, mm to the em."""


@dataclass(frozen=True)
class Sides:
    """Both sides of a piece as they are written in the drawing."""

    text: str
    measures: tuple[str, str]


@dataclass
class RowPainter:
    """Paints rows of one layout on to a canvas at one scale."""

    canvas: Canvas
    layout: Layout
    scale: float
    """Real mm to one mm on paper."""
    tones: Mapping[str, str]
    """What fills the pieces of each name."""
    sides: Mapping[str, Sides]
    """Sides to write into the first piece of each name."""
    numbered: bool = True
    """Cuts carry their numbers."""
    said: set[str] = field(default_factory=set)
    """Names whose sides are written already."""
    taken: list[BaseGeometry] = field(default_factory=list)
    """Lettering so far."""
    shown: list[str] = field(default_factory=list)
    """Measures written so far."""

    def paint(self, row: Stretch, at: Point) -> BaseGeometry:
        """Paint one row with its upper left corner at ``at``; returns its outline on paper."""
        frame = self._rect(Area(row.start, 0.0, row.length, self.layout.width), row, at)
        with self.canvas.group("context", "cloth"):
            self.canvas.area(frame, WHITE, THIN)
        for number, offcut in enumerate(self.layout.offcuts, 1):
            shape = self._rect(offcut, row, at).intersection(frame)
            if not shape.is_empty and shape.area > 0:
                with self.canvas.group("removed", f"offcut-{number}"):
                    hatch(self.canvas, shape, *WASTE)
        pieces = [placed for placed in self.layout.placed if _touches(placed.area, row)]
        for number, placed in enumerate(pieces, 1):
            with self.canvas.group("new", f"piece-{placed.name}-{number}"):
                shape = self._rect(placed.area, row, at)
                self.canvas.area(shape.intersection(frame), self.tones[placed.name], THIN)
        cuts = list(self._cuts(row, at, frame))
        with self.canvas.group("action", "cut-lines"):
            for _, line in cuts:
                self.canvas.line(line, CUTTING)
        for placed in pieces:
            self._name(placed, self._rect(placed.area, row, at), frame)
        if self.numbered:
            for cut, line in sorted(cuts, key=lambda pair: pair[1].length):
                self._number(cut, line, [other for _, other in cuts if other is not line], frame)
        return frame

    def _rect(self, area: Area, row: Stretch, at: Point) -> BaseGeometry:
        x0, y0 = self._paper((area.x, area.y), row, at)
        x1, y1 = self._paper((area.x + area.along, area.y + area.across), row, at)
        return box(x0, y1, x1, y0)

    def _paper(self, place: Point, row: Stretch, at: Point) -> Point:
        """As it lies before whoever cuts: the first end at the left, the edge y = 0 near, which is below."""
        up = self.layout.width - place[1]
        return at[0] + (place[0] - row.start) / self.scale, at[1] + up / self.scale

    def _cuts(self, row: Stretch, at: Point, frame: BaseGeometry) -> Iterator[tuple[Cut, LineString]]:
        """Each cut as far as it lies in the row; that at its right end belongs to it."""
        for cut in self.layout.cuts:
            if not cut.runs_along and not row.start < cut.start[0] <= row.stop:
                continue
            line = LineString([self._paper(cut.start, row, at), self._paper(cut.end, row, at)])
            part = line.intersection(frame)
            if isinstance(part, LineString) and part.length > 0.05:
                yield cut, part

    def _name(self, placed: Placed, rect: BaseGeometry, frame: BaseGeometry) -> None:
        """The name in the middle; in the first piece of a name also its sides, along the longer side.

        Of a piece that is parted by the end of a row both parts carry the name, and where it goes on a line
        of dashes and dots.
        """
        left, top, right, bottom = rect.intersection(frame).bounds
        wide, high = right - left, bottom - top
        x, y = (left + right) / 2, (top + bottom) / 2
        parted = wide < rect.bounds[2] - rect.bounds[0] - 0.01
        if parted:
            edge = right if abs(right - frame.bounds[2]) < 0.01 else left
            with self.canvas.group("context", "goes-on"):
                self.canvas.line([(edge, top), (edge, bottom)], Pen(0.7, WHITE, (), "butt"))
                self.canvas.line([(edge, top), (edge, bottom)], BROKEN_OFF)
        sides = self.sides.get(placed.name)
        if sides is None or parted or placed.name in self.said:
            self._letters((x, y), placed.name, wide, high, NAME, 700)
            return
        long = max(wide, high)
        length = text_width(sides.text, EM) + text_width(placed.name, NAME, 700) + 3.0
        # Cuts that end at the piece carry their numbers there.
        room = 2 * (2 * BADGE + 1.0) if self.numbered else 2.0
        if length > long - room or min(wide, high) < NAME:
            self._letters((x, y), placed.name, wide, high, NAME, 700)
            return
        self.said.add(placed.name)
        half = length / 2
        first, rest = text_width(placed.name, NAME, 700), text_width(sides.text, EM)
        flat = wide >= high
        for offset, text, size, weight in (
            (first / 2 - half, placed.name, NAME, 700),
            (half - rest / 2, sides.text, EM, 400),
        ):
            place = (x + offset, y) if flat else (x, y - offset)
            self._text(place, text, size, weight, 0.0 if flat else 90.0)
        self.shown += sides.measures

    def _letters(self, at: Point, text: str, wide: float, high: float, size: float, weight: int) -> None:
        """A text in the middle of a piece: upright, or turned where only that fits."""
        width = text_width(text, size, weight)
        upright = width <= wide - 3.0 or wide >= high
        if min(wide, high) < 0.8 * size or width > max(wide, high) - 1.2:
            return
        self._text(at, text, size, weight, 0.0 if upright else 90.0)

    def _text(self, middle: Point, text: str, size: float, weight: int, angle: float) -> None:
        drop = 0.33 * size
        base = (middle[0], middle[1] + drop) if angle == 0 else (middle[0] + drop, middle[1])
        with self.canvas.group("label", "names"):
            letters = self.canvas.letters(base, text, size=size, weight=weight, angle=angle, anchor="middle")
        self.taken.append(letters.box.buffer(PAD))

    def _number(self, cut: Cut, line: LineString, others: Sequence[LineString], frame: BaseGeometry) -> None:
        """The number in a circle on its cut, near the beginning, where it covers no other; else beside it."""
        text = str(cut.number)
        radius = max(BADGE, text_width(text, EM, 700) / 2 + 0.6)
        near = [other for other in others if not _one(other, line)]
        for strict in (True, False):
            spot = self._on(line, radius, near if strict else (), frame if strict else None)
            if spot is not None:
                self._badge(spot, text, radius)
                return
            found = self._beside(line, radius, [*others, line] if strict else [line])
            if found is not None:
                with self.canvas.group("label", f"cut-{text}"):
                    self.canvas.line(found, THIN)
                self._badge(found[1], text, radius)
                return
        self._badge(_middle(line), text, radius)

    def _on(
        self, line: LineString, radius: float, near: Sequence[LineString], frame: BaseGeometry | None
    ) -> Point | None:
        """The first place on a cut that covers no lettering and none of the lines ``near``."""
        whole = frame.buffer(radius) if frame is not None else None
        for spot in _along(line, radius):
            disc = Dot(spot).buffer(radius + PAD)
            covered = any(disc.intersects(each) for each in [*self.taken, *near])
            if not covered and (whole is None or whole.contains(disc)):
                return spot
        return None

    def _beside(
        self, line: LineString, radius: float, near: Sequence[LineString]
    ) -> tuple[Point, Point] | None:
        """A free place beside the cut: where a short line from it ends on the cut, and the place."""
        (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
        length = max(line.length, 1e-6)
        nx, ny = (y1 - y0) / length, (x0 - x1) / length
        taken = unary_union(self.taken)
        for away in (LEAD, 1.6 * LEAD, 2.4 * LEAD):
            for share in (0.2, 0.35, 0.5, 0.65, 0.8, 0.08, 0.92):
                for side in (away, -away):
                    foot = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
                    spot = (foot[0] + nx * side, foot[1] + ny * side)
                    disc = Dot(spot).buffer(radius + PAD)
                    if disc.intersects(taken) or any(disc.intersects(each) for each in near):
                        continue
                    if not LineString([foot, spot]).buffer(0.2).intersects(taken):
                        return foot, spot
        return None

    def _badge(self, at: Point, text: str, radius: float) -> None:
        with self.canvas.group("label", f"cut-{text}"):
            self.canvas.circle(at, radius, WHITE, Pen(0.35, INK))
            self.canvas.letters((at[0], at[1] + ASCENT / 2 * EM * 0.88), text, weight=700, anchor="middle")
        self.taken.append(Dot(at).buffer(radius + PAD))


def _touches(area: Area, row: Stretch) -> bool:
    return area.x < row.stop - 0.01 and area.x + area.along > row.start + 0.01


def _one(first: LineString, second: LineString) -> bool:
    """Whether two cuts are so close that they are one line on paper."""
    return bool(first.hausdorff_distance(second) < 0.9)


def _along(line: LineString, radius: float) -> Iterator[Point]:
    """Places on a cut from its beginning."""
    at = radius + 1.4
    while at <= line.length - radius - 0.4:
        point = line.interpolate(at)
        yield point.x, point.y
        at += 1.0


def _middle(line: LineString) -> Point:
    point = line.interpolate(0.5, normalized=True)
    return point.x, point.y
