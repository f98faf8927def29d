"""A figure laid out anew for a small place: less of it, at a size at which lines and lettering hold.

The picture that a kind paints is taken apart. Bands of its scene and one enlarged detail at most stand side
by side, as large as the place lets them be; names and values follow, the most telling first, as many as the
place may hold; what finds no room is dropped, for the words beside the figure say every number.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.figures.canvas import Canvas, Point
from generator.figures.labels import write_label
from generator.figures.model import Slot
from generator.figures.small.arrange import Placed, Studio, places, sizes
from generator.figures.small.field import CELL, Field
from generator.figures.small.names import set_name
from generator.figures.small.pieces import (
    Anatomy,
    Name,
    Piece,
    Thing,
    columns_of,
    main_column,
    middle,
    upper,
)
from generator.figures.small.room import Room, shifted
from generator.figures.small.signs import set_sign
from generator.figures.small.tie import Tie, tie
from generator.figures.small.values import set_value

SHARES = (1.0, 0.86, 0.74, 0.64)
"""Shares of the greatest size that are tried, to make room for names."""
SIZE, NAME, LESS, VALUE, SIGN = 38.0, 14.0, 2.5, 10.0, 10.0
"""What it is worth to be large (times the logarithm of the share), to have the name that is wanted most, the
next one so much less, to have a value, to have a sign."""
LONGEST = 1.45
"""A name that is longer than so many times the place's letters is left out."""
FIRST = 10.0
"""What it is worth to have any name at all."""
ENOUGH = 3.5
"""A layout that is no more than this below the best that could be is taken."""
LEAST, SMALLEST = 0.4, 8.0
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


def compose(anatomy: Anatomy, slot: Slot, choice: Sequence[str]) -> Canvas:
    """A picture in a small place. ``choice`` tells what may be shown: each entry names pieces side by side.

    A name is ``scene`` (all bands as they stand), a band's number (``1``) or a column in it (``1a``),
    ``main`` for the largest column of the first band, a detail's letter, or ``detail`` for the first;
    ``scene:0.8`` is its upper part, cut off. The first entry that is large enough to be read is taken,
    otherwise the last.
    """
    best: _Try | None = None
    for entry in choice:
        pieces = [piece for name in entry.split() if (piece := _chosen(anatomy, name)) is not None]
        pieces = [replace(piece, ringed=_ringed(pieces)) if not piece.circle else piece for piece in pieces]
        found = _best(pieces, slot) if pieces else None
        if found is not None:
            best = found
            if all(_readable(one) for one in found.placed):
                break
    assert best is not None
    return _drawn(anatomy, best, slot)


def _ringed(pieces: Sequence[Piece]) -> list[tuple[Point, float]]:
    return [piece.place for piece in pieces if piece.place is not None and piece.place[1]]


def compose_whole(anatomy: Anatomy, slot: Slot) -> Canvas | None:
    """The whole scene with all its details side by side in a small place; None where that cannot be read."""
    pieces = [_merged(anatomy.bands), *anatomy.details]
    pieces = [replace(piece, ringed=_ringed(pieces)) if not piece.circle else piece for piece in pieces]
    found = _best(pieces, slot)
    if found is None or not all(_readable(one) for one in found.placed):
        return None
    return _drawn(anatomy, found, slot)


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
    if name == "main":
        return main_column(anatomy.bands[0])
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
    studio = Studio()
    names = _names(pieces, slot)
    most = min(slot.most_labels or 0, len(names)), min(slot.most_values, sum(len(p.values) for p in pieces))
    ideal = sum(_worth(k) for k in range(most[0])) + (FIRST if most[0] else 0.0) + VALUE * most[1]
    ideal += SIGN * sum(len(piece.badges) for piece in pieces) - ENOUGH

    def tried(share: float, others: bool) -> Iterator[_Try]:
        found = sizes(pieces, slot, share, studio)
        if found is None:
            return
        for placed in list(places(pieces, found, slot))[1 if others else 0 : None if others else 1]:
            each = _tried(placed, slot, names)
            each.score += SIZE * math.log(share)
            yield each

    # First every size, in the middle of the place; then, at the best size and the one above, elsewhere.
    best: _Try | None = None
    at = 0
    for k, share in enumerate(SHARES):
        if best is not None and best.score >= ideal + SIZE * math.log(share):
            break
        for each in tried(share, others=False):
            if best is None or each.score > best.score + 1e-9:
                best, at = each, k
    for share in SHARES[max(at - 1, 0) : at + 2]:
        for each in tried(share, others=True):
            if best is None or best.score >= ideal + SIZE * math.log(share):
                break
            if each.score > best.score + 1e-9:
                best = each
    return best


def _wordless(sign: Thing) -> Thing:
    """A number without the word that stands at it."""
    if sign.name != "numbered":
        return sign
    return replace(sign, items=tuple(i for i in sign.items if i.group.part.startswith("number-")))


def _worth(rank: int) -> float:
    return max(NAME - LESS * rank, LESS)


def _names(pieces: Sequence[Piece], slot: Slot) -> list[tuple[Name, int]]:
    """Names with the number of their piece, in the order in which they are wanted, each text once."""
    found = [(name, k) for k, piece in enumerate(pieces) for name in piece.names]

    def weight(entry: tuple[Name, int]) -> float:
        name, _ = entry
        new = {"new": 0.0, "removed": 0.0, "action": 0.5}.get(name.of or "", 1.0)
        long = 0.35 * max(0, len(name.label.text) - slot.letters)
        return name.label.rank + new + long

    texts: set[str] = set()
    kept = []
    for name, k in sorted(found, key=weight):
        if name.label.text not in texts and (_short(name, slot) or name.sign is not None):
            texts.add(name.label.text)
            kept.append((name, k))
    return kept


def _short(name: Name, slot: Slot) -> bool:
    return len(name.label.text) <= LONGEST * slot.letters


def _tried(placed: Sequence[Placed], slot: Slot, names: Sequence[tuple[Name, int]]) -> _Try:
    """Everything set round the pieces where they stand; the score counts what found room."""
    room = Room(slot.width, slot.max_height, Field(slot.width, slot.max_height))
    for one in placed:
        cells = one.drawn.field
        room.field.paste(
            cells, *(round(v / CELL) for v in (cells.left + one.move.dx, cells.top + one.move.dy))
        )
    ties = tie(room, placed)
    score = -LETTERS * sum(len(each.letters) for each in ties)
    for one in placed:
        shown, worth = _values(room, one, slot)
        score += worth + _signs(room, one, shown, slot)
    score += _labels(room, placed, names, slot)
    if not slot.most_labels:
        _all_or_none(room, placed)
    return _Try(placed, room, score, ties)


def _values(room: Room, one: Placed, slot: Slot) -> tuple[set[int], float]:
    """Set a piece's values; which are there, and their worth. One that a sign counts may be a bare line."""
    shown, worth = set(), 0.0
    for k, tries in enumerate(one.drawn.values):
        if room.count < slot.most_values and set_value(room, tries, one.move.dx, one.move.dy):
            shown.add(k)
            room.count += 1
            worth += VALUE
        elif k in one.piece.bound.values() and set_value(room, one.drawn.bare(k), one.move.dx, one.move.dy):
            shown.add(k)
            worth += VALUE / 4
    return shown, worth


def _signs(room: Room, one: Placed, shown: set[int], slot: Slot) -> float:
    """Set a piece's numbers and letters: those of values only with their value."""
    worth = 0.0
    for k, sign in enumerate(one.piece.badges):
        plain = _wordless(sign)
        if not slot.most_labels:
            sign = plain
        told = k not in one.piece.bound or one.piece.bound[k] in shown
        held = told and set_sign(room, sign, one.move, of_detail=one.circle is not None)
        worth += SIGN if held else -2 * SIGN
        room.worded += held and len(plain.items) < len(sign.items)
    return worth


def _labels(room: Room, placed: Sequence[Placed], names: Sequence[tuple[Name, int]], slot: Slot) -> float:
    """Set as many names as the place may hold; the number of a name that is left out stands alone."""
    worth = 0.0
    for rank, (name, k) in enumerate(names):
        of_detail, cost = placed[k].circle is not None, None
        if room.worded < (slot.most_labels or 0) and _short(name, slot):
            cost = set_name(room, name, placed[k].move, of_detail=of_detail)
        if cost is not None:
            worth += _worth(rank) - cost / 8 + (0.0 if room.worded else FIRST)
            room.worded += 1
        elif name.sign is not None:
            held = set_sign(room, name.sign, placed[k].move, of_detail=of_detail, at=name.label.at)
            worth -= 0.0 if held else 2 * SIGN
    return worth


def _all_or_none(room: Room, placed: Sequence[Placed]) -> None:
    """Some of the numbers alone would count something else."""
    signs = [sign for one in placed for sign in one.piece.badges]
    signs += [name.sign for one in placed for name in one.piece.names if name.sign is not None]
    held = sum(sign.name == "numbered" for sign, _, _ in room.signs)
    if held < sum(sign.name == "numbered" for sign in signs):
        room.signs = [each for each in room.signs if each[0].name != "numbered"]


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
