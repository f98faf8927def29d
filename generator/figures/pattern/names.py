"""Names on a full-scale drawing: along its lines and beside its places, off every line and other name."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

import shapely
from shapely import LineString, Polygon, box
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.pattern.model import Line, Point, Spot

SIZE = 3.53
"""Letters of a name, mm to the em: 10 pt."""
CLEAR = 0.5
"""Empty paper round a name, mm."""
GAP = 1.2
"""Empty paper between a name and what it names, mm."""
WORTH = 45.0
"""A line shorter than this in a tile has its name only if no longer piece of it is there, mm."""
_SHARES = (0.5, 0.36, 0.64, 0.22, 0.78, 0.1, 0.9, 0.43, 0.57, 0.29, 0.71, 0.16, 0.84)


_SHIFTS = (0.0, 5.0, -5.0, 12.0, -12.0, 20.0, -20.0, 30.0, -30.0)
_FAR = (42.0, -42.0, 55.0, -55.0, 70.0, -70.0)
"""How far a name may lie aside, mm; long names, in large print, farther."""


SMALLER = (6.35, 5.3)
"""What a name of a line may be in large print where it has no room: 18 and 15 points, before the usual."""
MOST_LINES, LEAD = 4, 1.15
"""Lines of a sentence in large print, and from one to the next in letters' heights."""


@dataclass
class Names:
    """Sets names on one canvas. Places are given on paper, y down."""

    canvas: Canvas
    say: Callable[..., str]
    room: BaseGeometry
    """Where names may stand."""
    taken: list[BaseGeometry]
    """Lines and furniture, which a name keeps off."""
    size: float = SIZE
    least: float = 0.0
    """No name is smaller, mm to the em; above 0 names may lie farther from their places."""
    relaxed: frozenset[str] = frozenset()
    """Names of lines that found no room so large on any tile: these are as large as they can be."""
    placed: set[str] = field(default_factory=set)

    def spots(self, spots: Iterable[Spot]) -> list[Spot]:
        """Set the names of places that lie in the room; returns those that found no place."""
        missing = []
        for spot in spots:
            if not self.room.intersects(shapely.Point(spot.at)):
                continue
            if spot.anywhere and spot.noun in self.placed:
                missing.append(spot)  # once is enough
                continue
            size = max(spot.size or self.size, self.least)
            text = spot.text or self.called(spot)
            if self._first(text, size, self._beside(spot, text, size)) or self._in_lines(spot, text, size):
                self.placed.add(spot.noun)
            else:
                missing.append(spot)
        return missing

    def lines(self, lines: Iterable[Line]) -> None:
        """Set a name along each long piece of a line with a name, along the longest one at least."""
        runs: dict[tuple[str, str], list[LineString]] = {}
        for line in lines:
            if line.noun:
                points = [*line.points, line.points[0]] if line.closed else line.points
                run = runs.setdefault((line.noun, self.called(line)), [])
                run.extend(_pieces(LineString(points).intersection(self.room)))
        for (noun, text), pieces in runs.items():
            pieces.sort(key=lambda piece: -round(piece.length, 6))
            for index, piece in enumerate(pieces):
                if (index and piece.length < WORTH) or index > 3:
                    break
                sizes = (*SMALLER, self.size) if noun in self.relaxed else ()
                for size in (self._size, *sizes):
                    if self._first(text, size, self._upon(piece, text, size)):
                        self.placed.add(noun)
                        break

    @property
    def _size(self) -> float:
        """Letters of a name that wishes for no size of its own."""
        return max(self.size, self.least)

    def called(self, thing: Line | Spot) -> str:
        """Its name, with the panels that alone have it."""
        if not thing.panels:
            return self.say(thing.noun)
        return self.say(f"{thing.noun}.of", panels=", ".join(map(str, thing.panels)))

    def within(self, text: str, size: float, angle: float) -> bool:
        """Words somewhere along the middle of a long, narrow room."""
        left, top, right, bottom = self.room.bounds
        across = abs(angle) < 45.0
        spots = (
            (
                left + (right - left) * (share if across else 0.5),
                top + (bottom - top) * (0.5 if across else share),
            )
            for share in _SHARES
        )
        return self._first(text, size, ((spot, angle) for spot in spots))

    def set(self, text: str, middle: Point, angle: float, size: float) -> None:
        """A name about its middle, without asking whether there is room."""
        width = text_width(text, size)
        turned = math.radians(angle)
        drop = (ASCENT - DESCENT) / 2 * size
        x = middle[0] - width / 2 * math.cos(turned) + drop * math.sin(turned)
        y = middle[1] + width / 2 * math.sin(turned) + drop * math.cos(turned)
        with self.canvas.group("label", "text"):
            self.canvas.letters((x, y), text, size=size, angle=angle)
        self.taken.append(_box(middle, width, size, angle))

    def _first(self, text: str, size: float, candidates: Iterator[tuple[Point, float]]) -> bool:
        width = text_width(text, size)
        tree = shapely.STRtree(self.taken)
        for middle, angle in candidates:
            place = _box(middle, width, size, angle).buffer(CLEAR)
            if self.room.contains(place) and not len(tree.query(place, predicate="intersects")):
                self.set(text, middle, angle, size)
                return True
        return False

    def _in_lines(self, spot: Spot, text: str, size: float) -> bool:
        """In large print, a sentence in a few lines below one another."""
        for count in range(2, MOST_LINES + 1) if self.least else ():
            lines = _lines(text, size, count)
            wide, lead = max(text_width(line, size) for line in lines), LEAD * size
            tree = shapely.STRtree(self.taken)
            for (x, y), angle in self._beside(spot, max(lines, key=len), size, (count - 1) * lead / 2):
                place = _box((x, y), wide, size + (count - 1) * lead / (ASCENT + DESCENT), angle).buffer(
                    CLEAR
                )
                if self.room.contains(place) and not len(tree.query(place, predicate="intersects")):
                    down = math.sin(math.radians(angle)), math.cos(math.radians(angle))
                    for number, line in enumerate(lines):
                        off = (number - (count - 1) / 2) * lead
                        self.set(line, (x + off * down[0], y + off * down[1]), angle, size)
                    return True
        return False

    def _beside(self, spot: Spot, text: str, size: float, more: float = 0.0) -> Iterator[tuple[Point, float]]:
        """Places beside a place; ``more``: half of what the words are higher than one line."""
        ax, ay = spot.aside
        angle = upright(spot.along)
        c, s = math.cos(math.radians(angle)), -math.sin(math.radians(angle))
        half, high = text_width(text, size) / 2, (ASCENT + DESCENT) * size / 2 + more
        reach = abs(ax * c + ay * s) * half + abs(-ax * s + ay * c) * high
        for far in (GAP, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0):
            for sign in (1.0, -1.0):
                for shift in (*_SHIFTS, *(_FAR if self.least else ())):
                    by = sign * (reach + far)
                    yield (spot.at[0] + ax * by + ay * shift, spot.at[1] + ay * by - ax * shift), angle

    def _upon(self, piece: LineString, text: str, size: float) -> Iterator[tuple[Point, float]]:
        half = text_width(text, size) / 2
        off = (ASCENT + DESCENT) / 2 * size + GAP
        for share in _SHARES:
            at = piece.length * share
            if at - half < 0 or at + half > piece.length:
                continue
            a, m, b = (piece.interpolate(at + by) for by in (-half, 0.0, half))
            length = math.dist((a.x, a.y), (b.x, b.y))
            if length < 1.98 * half:
                continue  # round a corner
            dx, dy = (b.x - a.x) / length, (b.y - a.y) / length
            angle = upright((dx, dy))
            sag = abs((m.x - a.x) * dy - (m.y - a.y) * dx)
            for side in (1.0, -1.0):
                reach = side * (off + sag)
                yield (m.x - dy * reach, m.y + dx * reach), angle


def _lines(text: str, size: float, count: int) -> list[str]:
    """A sentence in about so many lines of about the same width, in reading order."""
    room = text_width(text, size) / count
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        # A line ends after the word that crosses its share, or before it, whichever is nearer.
        over = text_width(longer, size) - room
        if lines[-1] and len(lines) < count and over > 0 and over > room - text_width(lines[-1], size):
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def upright(along: Point) -> float:
    """Degrees counter-clockwise of a line of writing along a direction on paper, never on its head."""
    angle = math.degrees(math.atan2(-along[1], along[0]))
    angle = (angle + 90.0 - 1e-6) % 180.0 - 90.0 + 1e-6
    return round(angle, 3)


def _box(middle: Point, width: float, size: float, angle: float) -> Polygon:
    high = (ASCENT + DESCENT) * size / 2
    flat = box(middle[0] - width / 2, middle[1] - high, middle[0] + width / 2, middle[1] + high)
    return rotate(flat, -angle, origin=middle) if angle else flat


def _pieces(shape: BaseGeometry) -> Iterator[LineString]:
    """Lines of a geometry, joined where they meet."""
    merged = shapely.line_merge(shape) if shape.geom_type == "MultiLineString" else shape
    for part in shapely.get_parts(merged):
        if part.geom_type in ("LineString", "LinearRing"):
            yield LineString(part.coords)
