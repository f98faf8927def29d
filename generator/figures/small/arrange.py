"""Pieces of a picture side by side in a small place, each drawn once for every scale at which it is tried."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import shapely
from shapely.geometry import Polygon

from generator.figures.canvas import Canvas, Letters, Mark, circle
from generator.figures.model import Slot
from generator.figures.small.carry import Move, carry, pen_at, set_letters
from generator.figures.small.field import CELL, Field, field_of
from generator.figures.small.pieces import Piece, Thing, middle
from generator.figures.small.values import Attempt, Lazy, attempt

EDGE = 0.7
"""Kept free all round, mm."""
APART = 2.0
"""Between pieces side by side at least, mm."""
WIDER = 7.0
"""So much more may be left between them, mm."""
DETAIL, LESS = 0.76, 0.66
"""Diameter of a detail beside a scene, as a share of the place's height; where names need room."""
RING = 1.5
"""Radius of that ring at least, mm."""
OFFSETS = (0.0, 1.0, 2.0, 3.2, 4.6, 6.0)
"""So much farther off its part a dimension line is tried, mm."""
NEARBY = (
    (0.0, 0.0),
    (0.0, 1.0),
    (0.0, -1.0),
    (1.5, 0.0),
    (-1.5, 0.0),
    (0.0, 2.0),
    (0.0, -2.0),
    (2.5, 1.0),
    (-2.5, 1.0),
)


@dataclass
class Drawn:
    """A piece at one scale, at the origin. What is asked of it only sometimes is worked out when asked."""

    piece: Piece
    scale: float
    canvas: Canvas
    bounds: tuple[float, float, float, float]
    _bare: dict[int, Lazy] = field(default_factory=dict)

    @property
    def width(self) -> float:
        """mm."""
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        """mm."""
        return self.bounds[3] - self.bounds[1]

    @cached_property
    def field(self) -> Field:
        """Its cells; of a detail also its rim, and where it is."""
        found = field_of(self.canvas)
        if self.piece.circle is not None:
            ring = Move(self.scale).shape(self.piece.circle)
            found.fill(ring, "zone")
            found.draw([ring.boundary], "rim")
        return found

    @cached_property
    def values(self) -> tuple[Lazy, ...]:
        """Ways of drawing each of its values."""
        return tuple(Lazy(_attempts(value, Move(self.scale), self.piece)) for value in self.piece.values)

    def bare(self, value: int) -> Lazy:
        """Ways of drawing only the line of a value, which its sign then tells."""
        if value not in self._bare:
            source = _attempts(self.piece.values[value], Move(self.scale), self.piece, bare=True)
            self._bare[value] = Lazy(source)
        return self._bare[value]


@dataclass(frozen=True)
class Placed:
    """A piece, drawn, and where it stands."""

    piece: Piece
    drawn: Drawn
    move: Move

    @property
    def circle(self) -> Polygon | None:
        """Of a detail: its circle where it stands."""
        if self.piece.circle is None:
            return None
        centre, radius = middle(self.piece)
        return circle(self.move(centre), radius * self.move.scale)


@dataclass
class Studio:
    """Keeps what is drawn."""

    kept: dict[tuple[str, float], Drawn] = field(default_factory=dict)

    def draw(self, piece: Piece, scale: float) -> Drawn:
        """The piece at a scale."""
        key = piece.name, round(scale, 3)
        if key not in self.kept:
            canvas, move = Canvas(0.0, 0.0), Move(key[1])
            carry(canvas, piece.things, move, enlarged=piece.circle is not None)
            left, top, right, bottom = shapely.total_bounds(
                [item.shape if isinstance(item, Mark) else item.box for item in canvas.items]
            )
            for (x, y), radius in ((move(place), ring_at(radius, key[1])) for place, radius in piece.ringed):
                left, top = min(left, x - radius), min(top, y - radius)
                right, bottom = max(right, x + radius), max(bottom, y + radius)
            self.kept[key] = Drawn(piece, key[1], canvas, (left, top, right, bottom))
        return self.kept[key]


def ring_at(radius: float, scale: float) -> float:
    """Radius of the ring round the place of a detail in a scene at a scale, mm."""
    return max(RING, radius * scale)


def _attempts(value: Thing, move: Move, piece: Piece, *, bare: bool = False) -> Iterator[Attempt]:
    """Ways of drawing a value, the nearest to its part first; ``bare`` only its line."""
    stamp = value.stamp
    if stamp is None:
        items = [
            set_letters(item, move)
            if isinstance(item, Letters)
            else replace(item, shape=move.shape(item.shape), pen=pen_at(item.pen, move.scale))
            for item in value.items
        ]
        for dx, dy in NEARBY if len(items) == 1 else NEARBY[:1]:
            yield attempt(
                [replace(i, at=(i.at[0] + dx, i.at[1] + dy)) if isinstance(i, Letters) else i for i in items]
            )
        return
    given = {**stamp.given, "text": "" if bare else stamp.given["text"]}
    if "path" in given:
        ways = [{**given, "path": move.path(given["path"])}]
    else:
        given.update(start=move(given["start"]), end=move(given["end"]))
        sign, near = (1.0 if given["offset"] >= 0 else -1.0), abs(given["offset"]) * move.scale
        ways = [{**given, "offset": sign * (near + more)} for more in OFFSETS]
    for way in ways:
        canvas = Canvas(0.0, 0.0)
        stamp.draw(canvas, **way)
        inside = piece.circle is not None
        drawn = (item for item in canvas.items if isinstance(item, Mark) or item.text)
        yield attempt([replace(item, group=replace(item.group, enlarged=inside)) for item in drawn])


def sizes(pieces: Sequence[Piece], slot: Slot, share: float, studio: Studio) -> list[Drawn] | None:
    """The pieces at ``share`` of the greatest size at which they fit side by side."""
    wide, high = slot.width - 2 * EDGE, slot.max_height - 2 * EDGE
    details = [piece for piece in pieces if piece.circle is not None]
    scenes = [piece for piece in pieces if piece.circle is None]
    scales: dict[str, float] = {}
    for detail in details:
        radius = middle(detail)[1]
        most = (DETAIL if share > 0.8 else LESS) if scenes else 0.99 * share
        scales[detail.name] = min(1.15, most * high / (2 * radius), 0.98 * wide / (2 * radius))
    room = wide - APART * (len(pieces) - 1)
    room -= math.fsum(studio.draw(piece, scales[piece.name]).width for piece in details)
    if scenes:
        if room < 8.0:
            return None
        scale = _scene_scale(scenes, room, high, studio) * share
        scales |= {piece.name: scale for piece in scenes}
    return [studio.draw(piece, scales[piece.name]) for piece in pieces]


def _scene_scale(scenes: Sequence[Piece], wide: float, high: float, studio: Studio) -> float:
    """The scale at which scenes fit side by side; hands do not shrink as much as it, so it is felt for."""
    boxes = [piece.bounds for piece in scenes]
    scale = min(wide / sum(b[2] - b[0] for b in boxes), high / max(b[3] - b[1] for b in boxes), 1.0)
    for _ in range(6):
        found = [studio.draw(piece, scale) for piece in scenes]
        fit = min(wide / sum(one.width for one in found), high / max(one.height for one in found))
        if fit >= 0.985:
            break
        scale *= 0.995 * fit
    return scale


def places(pieces: Sequence[Piece], found: Sequence[Drawn], slot: Slot) -> Iterator[list[Placed]]:
    """Where the pieces may stand: in the middle of what is free, at its beginning, at its end."""
    wide, high = slot.width - 2 * EDGE, slot.max_height - 2 * EDGE
    spare = wide - APART * (len(found) - 1) - sum(one.width for one in found)
    gap = APART + (min(0.4 * spare / (len(found) - 1), WIDER) if len(found) > 1 else 0.0)
    rest = wide - gap * (len(found) - 1) - sum(one.width for one in found)
    tall = max(one.height for one in found)
    for across, down in ((0.5, 0.5), (0.0, 0.5), (1.0, 0.5), (0.5, 0.0), (0.5, 1.0), (0.0, 1.0), (1.0, 0.0)):
        if (across != 0.5 and rest < 2.0) or (down != 0.5 and high - tall < 1.5):
            continue
        x = EDGE + rest * across
        placed = []
        for piece, one in zip(pieces, found, strict=True):
            y = EDGE + (high - one.height) * (down if piece.circle is None else 0.5)
            dx, dy = (round(v / CELL) * CELL for v in (x - one.bounds[0], y - one.bounds[1]))
            placed.append(Placed(piece, one, Move(one.scale, dx, dy)))
            x += one.width + gap
        yield placed
