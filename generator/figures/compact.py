"""A figure laid out anew for a small place: less of it, at a size at which lines and lettering hold.

The picture that a kind paints is taken apart. Bands of its scene and one enlarged detail at most stand side by
side, as large as the place lets them be; names and values follow, the most telling first, as many as the place
may hold; what finds no room is dropped, for the words beside the figure say every number.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import LineString

from generator.figures.anatomy import Anatomy, Name, Piece, columns_of, middle, take_apart
from generator.figures.arrange import Placed, Studio, places, sizes, tangents
from generator.figures.canvas import Canvas, Point
from generator.figures.field import CELL, Field
from generator.figures.furnish import Room, set_name, set_sign, set_value, shifted
from generator.figures.labels import write_label
from generator.figures.model import Picture, Slot
from generator.figures.pens import NEW, THIN

SHARES = (1.0, 0.9, 0.8, 0.71, 0.63, 0.56)
"""Shares of the greatest size that are tried, to make room for names."""
SIZE, NAME, VALUE, SIGN = 32.0, 10.0, 7.0, 6.0
"""What it is worth to be as large as can be (with the logarithm of the share), to have a name, a value, a sign."""
ENOUGH = 2.0
"""A layout that is no more than this below the best that could be is taken."""
LEAST, SMALLEST = 0.42, 8.0
"""Scale of a scene, radius of a detail (mm), below which another choice is tried.""" 
RING = 1.5
"""Radius of the ring round the place of a detail at least, mm."""


@dataclass
class _Try:
    """One layout and how good it is."""

    placed: Sequence[Placed]
    room: Room
    score: float


def compose(picture: Picture, slot: Slot, choice: Sequence[str]) -> Canvas:
    """The picture in a small place. ``choice`` tells what may be shown: each entry names pieces side by side.

    A name is ``scene`` (all bands as they stand), a band's number (``1``) or a column in it (``1a``), a
    detail's letter, or ``detail`` for the first. The first entry that is large enough to be read is taken,
    otherwise the last.
    """
    anatomy = take_apart(picture)
    best: _Try | None = None
    for entry in choice:
        pieces = [piece for name in entry.split() if (piece := _chosen(anatomy, name)) is not None]
        found = _best(pieces, slot) if pieces else None
        if found is not None:
            best = found
            if all(_readable(one) for one in found.placed):
                break
    assert best is not None
    return _drawn(anatomy, best, slot)


def _readable(one: Placed) -> bool:
    """Whether a piece is not smaller than can be read."""
    if one.piece.circle is not None:
        return middle(one.piece)[1] * one.move.scale >= SMALLEST
    return one.move.scale >= LEAST


def _chosen(anatomy: Anatomy, name: str) -> Piece | None:
    if name == "scene":
        return _merged(anatomy.bands)
    if name == "detail":
        return next(iter(anatomy.details), None)
    columns = (column for band in anatomy.bands for column in columns_of(band))
    every = (*anatomy.bands, *anatomy.details, *columns)
    return next((piece for piece in every if piece.name == name), None)


def _merged(bands: Sequence[Piece]) -> Piece:
    whole = Piece("scene")
    for band in bands:
        whole.things += band.things
        whole.values += band.values
        whole.names += band.names
        whole.badges += band.badges
    return whole


def _best(pieces: Sequence[Piece], slot: Slot) -> _Try | None:
    studio, best = Studio(), None
    names = _names(pieces, slot)
    most = min(slot.most_labels or 0, len(names)), min(_most_values(slot), sum(len(p.values) for p in pieces))
    ideal = NAME * most[0] - most[0] * (most[0] - 1) / 2 + VALUE * most[1]
    ideal += SIGN * sum(len(piece.badges) for piece in pieces) - ENOUGH
    for share in SHARES:
        if best is not None and best.score >= ideal + SIZE * math.log(share):
            break
        found = sizes(pieces, slot, share, studio)
        if found is None:
            break
        for placed in places(pieces, found, slot):
            tried = _tried(placed, slot, names)
            tried.score += SIZE * math.log(share)
            if best is None or tried.score > best.score + 1e-9:
                best = tried
            if tried.score >= ideal + SIZE * math.log(share):
                break
    return best


def _most_values(slot: Slot) -> int:
    return {3: 2, 2: 1, 0: 0}.get(slot.most_labels or 0, 9)


def _names(pieces: Sequence[Piece], slot: Slot) -> list[tuple[Name, int]]:
    """Names with the number of their piece, in the order in which they are wanted, each text once."""
    found = [(name, k) for k, piece in enumerate(pieces) for name in piece.names]

    def weight(entry: tuple[Name, int]) -> float:
        name, _ = entry
        new = {"new": 0.0, "removed": 0.0, "action": 0.5}.get(name.of or "", 1.0)
        long = 2.0 if len(name.label.text) > slot.letters else 0.0
        return name.label.rank + new + long

    texts: set[str] = set()
    kept = []
    for name, k in sorted(found, key=weight):
        if name.label.text not in texts and len(name.label.text) <= 1.45 * slot.letters:
            texts.add(name.label.text)
            kept.append((name, k))
    return kept


def _tried(placed: Sequence[Placed], slot: Slot, names: Sequence[tuple[Name, int]]) -> _Try:
    """Everything set round the pieces where they stand; the score counts what found room."""
    room = Room(slot.width, slot.max_height, Field(slot.width, slot.max_height))
    for one in placed:
        x, y = (
            round(v / CELL) for v in (one.drawn.field.left + one.move.dx, one.drawn.field.top + one.move.dy)
        )
        room.field.paste(one.drawn.field, x, y)
    for line in _links(placed)[1]:
        room.field.fill(line.buffer(0.35))
    score, count = 0.0, 0
    for one in placed:
        for tries in one.drawn.values:
            if count < _most_values(slot) and set_value(room, tries, one.move.dx, one.move.dy):
                count += 1
                score += VALUE
    for one in placed:
        if one.circle is not None:
            room.field.fill(one.circle, "zone")
            room.field.draw([one.circle.boundary], "hard")
        for badge in one.piece.badges:
            score += SIGN if set_sign(room, badge, one.move) else -SIGN
    set_ = 0
    for name, k in names:
        if set_ >= (slot.most_labels or 0):
            break
        cost = set_name(room, name, placed[k].move, of_detail=placed[k].piece.circle is not None)
        if cost is not None:
            score += NAME - 1.0 * set_ - cost / 8
            set_ += 1
    return _Try(placed, room, score)


def _links(placed: Sequence[Placed]) -> tuple[list[tuple[Point, float]], list[LineString]]:
    """Rings round the places of details in the scene, and the lines from them to the details."""
    scene = next((one for one in placed if one.piece.circle is None), None)
    rings: list[tuple[Point, float]] = []
    lines: list[LineString] = []
    for one in placed:
        if scene is not None and one.piece.circle is not None and one.piece.place is not None:
            place, radius = one.piece.place
            at, around = scene.move(place), max(RING, radius * scene.move.scale)
            centre, size = middle(one.piece)
            rings.append((at, around))
            lines += tangents(at, around, one.move(centre), size * one.move.scale)
    return rings, lines


def _drawn(anatomy: Anatomy, found: _Try, slot: Slot) -> Canvas:
    canvas = Canvas(slot.width, slot.max_height, view=anatomy.view)
    scene = next((one.move for one in found.placed if one.piece.circle is None), None)
    if anatomy.scale is not None and scene is not None:
        canvas.scale = anatomy.scale * scene.scale
    for one in found.placed:
        canvas.items += [shifted(item, one.move.dx, one.move.dy) for item in one.drawn.canvas.items]
    rings, lines = _links(found.placed)
    with canvas.group("detail", "detail-place"):
        for at, radius in rings:
            canvas.circle(at, radius, None, NEW)
    with canvas.group("detail", "detail-link"):
        for line in lines:
            canvas.line(line, THIN)
    room = found.room
    canvas.items += room.values
    for sign, dx, dy in room.signs:
        canvas.items += [shifted(item, dx, dy) for item in sign.items]
    canvas.items += room.fixed
    for label, at, leader, anchor in room.names:
        write_label(canvas, label, at, leader, anchor)
    return canvas
