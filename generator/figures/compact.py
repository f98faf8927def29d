"""A figure laid out anew for a small place: less of it, at a size at which lines and lettering hold.

The picture that a kind paints is taken apart. Bands of its scene and one enlarged detail at most stand side by
side, as large as the place lets them be; names and values follow, the most telling first, as many as the place
may hold; what finds no room is dropped, for the words beside the figure say every number.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.figures.anatomy import Anatomy, Name, Piece, columns_of, middle, take_apart, upper
from generator.figures.arrange import Placed, Studio, places, sizes
from generator.figures.canvas import Canvas
from generator.figures.field import CELL, Field
from generator.figures.furnish import Room, set_name, set_sign, set_value, shifted
from generator.figures.labels import write_label
from generator.figures.model import Picture, Slot
from generator.figures.tie import Tie, tie

SHARES = (1.0, 0.88, 0.77, 0.68, 0.6)
"""Shares of the greatest size that are tried, to make room for names."""
SIZE, NAME, VALUE, SIGN = 38.0, 10.0, 7.0, 6.0
"""What it is worth to be as large as can be (with the logarithm of the share), to have a name, a value, a sign."""
ENOUGH = 3.5
"""A layout that is no more than this below the best that could be is taken."""
LEAST, SMALLEST = 0.42, 8.0
"""Scale of a scene, radius of a detail (mm), below which another choice is tried."""
LETTERS = 1.5
"""What a letter costs that ties a detail to its place: lines are plainer."""


@dataclass
class _Try:
    """One layout and how good it is."""

    placed: Sequence[Placed]
    room: Room
    score: float
    ties: Sequence[Tie]


def compose(picture: Picture, slot: Slot, choice: Sequence[str]) -> Canvas:
    """The picture in a small place. ``choice`` tells what may be shown: each entry names pieces side by side.

    A name is ``scene`` (all bands as they stand), a band's number (``1``) or a column in it (``1a``), a
    detail's letter, or ``detail`` for the first; ``scene:0.8`` is its upper part, cut off. The first entry that is large enough to be read is taken,
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
    name, _, share = name.partition(":")
    if share:
        whole = _chosen(anatomy, name)
        return upper(whole, float(share)) if whole else None
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
        signs, values = len(whole.badges), len(whole.values)
        whole.bound |= {signs + k: values + j for k, j in band.bound.items()}
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
    score, count = 0.0, 0
    for one in placed:
        if one.circle is not None:
            room.field.fill(one.circle, "zone")
    ties = tie(room, placed)
    room.field.draw([one.circle.boundary for one in placed if one.circle is not None], "hard")
    score -= LETTERS * sum(len(each.letters) for each in ties)
    for one in placed:
        shown = set()
        for k, tries in enumerate(one.drawn.values):
            if count < _most_values(slot) and set_value(room, tries, one.move.dx, one.move.dy):
                shown.add(k)
                count += 1
        score += VALUE * len(shown)
        for k, sign in enumerate(one.piece.badges):
            told = one.piece.bound.get(k, -1) in shown or k not in one.piece.bound
            held = told and set_sign(room, sign, one.move, of_detail=one.circle is not None)
            score += SIGN if held else -SIGN
    set_ = 0
    for name, k in names:
        if set_ >= (slot.most_labels or 0):
            break
        cost = set_name(room, name, placed[k].move, of_detail=placed[k].circle is not None)
        if cost is not None:
            score += NAME - 1.0 * set_ - cost / 8
            set_ += 1
    return _Try(placed, room, score, ties)


def _drawn(anatomy: Anatomy, found: _Try, slot: Slot) -> Canvas:
    canvas = Canvas(slot.width, slot.max_height, view=anatomy.view)
    scene = next((one.move for one in found.placed if one.piece.circle is None), None)
    if anatomy.scale is not None and scene is not None:
        canvas.scale = anatomy.scale * scene.scale
    for one in found.placed:
        canvas.items += [shifted(item, one.move.dx, one.move.dy) for item in one.drawn.canvas.items]
    for each in found.ties:
        each.draw(canvas)
    room = found.room
    canvas.items += room.values
    for sign, dx, dy in room.signs:
        canvas.items += [shifted(item, dx, dy) for item in sign.items]
    canvas.items += room.fixed
    for label, at, leader, anchor in room.names:
        write_label(canvas, label, at, leader, anchor)
    return canvas
