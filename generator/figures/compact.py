"""A figure laid out anew for a small place: less of it, at a size at which lines and lettering hold.

The picture that a kind paints is taken apart. Bands of its scene and one enlarged detail at most stand side by
side, as large as the place lets them be; names and values follow, the most telling first, as many as the place
may hold; what finds no room is dropped, for the words beside the figure say every number.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

import shapely
from shapely import LineString, Polygon, box
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from generator.figures.anatomy import Anatomy, Name, Piece, Thing, middle, take_apart
from generator.figures.canvas import Canvas, Letters, Mark, Point, circle
from generator.figures.carry import Move, carry, pen_at, set_letters
from generator.figures.labels import Ground, set_label
from generator.figures.model import Picture, Slot
from generator.figures.pens import NEW, THIN

EDGE = 0.5
"""Kept free all round, mm."""
APART = 2.2
"""Between pieces side by side, mm."""
CEILING = 30.0
"""A label that costs more is dropped."""
SHRINK = (1.0, 0.9, 0.8, 0.7, 0.6)
"""Shares of the greatest size that are tried, to make room for names."""
DETAIL = 0.74
"""Diameter of a detail as a share of the place's height."""
WORST = 1e9


@dataclass
class _Layout:
    """One try: what it became, and how good it is."""

    canvas: Canvas
    score: float
    complete: bool


@dataclass(frozen=True)
class _Set:
    """A piece with its place."""

    piece: Piece
    move: Move


def compose(picture: Picture, slot: Slot, choice: Sequence[str]) -> Canvas:
    """The picture in a small place. ``choice`` tells what to show: each entry names pieces side by side.

    A name is ``scene`` (all bands as they stand), a band's number, a detail's letter, or ``detail`` for the
    first. The first entry whose names all find room is taken, otherwise the best.
    """
    anatomy = take_apart(picture)
    best: _Layout | None = None
    for entry in choice:
        pieces = [piece for name in entry.split() if (piece := _chosen(anatomy, name)) is not None]
        if not pieces:
            continue
        found = _laid_out(anatomy, pieces, slot)
        if found is not None and (best is None or found.score > best.score):
            best = found
        if best is not None and best.complete:
            break
    assert best is not None
    return best.canvas


def _chosen(anatomy: Anatomy, name: str) -> Piece | None:
    if name == "scene":
        return _merged(anatomy.bands)
    if name == "detail":
        return next(iter(anatomy.details), None)
    return next((piece for piece in (*anatomy.bands, *anatomy.details) if piece.name == name), None)


def _merged(bands: Sequence[Piece]) -> Piece:
    whole = Piece("scene")
    for band in bands:
        whole.things += band.things
        whole.values += band.values
        whole.names += band.names
        whole.badges += band.badges
    return whole


def _laid_out(anatomy: Anatomy, pieces: Sequence[Piece], slot: Slot) -> _Layout | None:
    best: _Layout | None = None
    drawn = _Drawn()
    for share in SHRINK:
        for across, down in ((0.5, 0.5), (0.0, 0.5), (1.0, 0.5), (0.5, 0.0), (0.5, 1.0)):
            sets = _arranged(pieces, slot, share, across, down, drawn)
            if sets is None:
                continue
            found = _tried(anatomy, sets, slot, drawn)
            found.score += 12.0 * share
            if best is None or found.score > best.score:
                best = found
            if found.complete:
                return best
    return best


@dataclass
class _Drawn:
    """Pieces drawn at a scale, each once, at the origin."""

    found: dict[tuple[str, float], tuple[Canvas, tuple[float, float, float, float]]] = field(
        default_factory=dict
    )

    def at(self, piece: Piece, scale: float) -> tuple[Canvas, tuple[float, float, float, float]]:
        """The piece's things, and the box of their ink."""
        key = piece.name, round(scale, 4)
        if key not in self.found:
            canvas = Canvas(0.0, 0.0)
            carry(canvas, piece.things, Move(key[1]), enlarged=piece.circle is not None)
            left, top, right, bottom = shapely.total_bounds(
                [item.shape if isinstance(item, Mark) else item.box for item in canvas.items]
            )
            self.found[key] = canvas, (left, top, right, bottom)
        return self.found[key]


def _arranged(
    pieces: Sequence[Piece], slot: Slot, share: float, across: float, down: float, drawn: _Drawn
) -> list[_Set] | None:
    """The pieces side by side, ``share`` of the greatest size at which they fit."""
    wide, high = slot.width - 2 * EDGE, slot.max_height - 2 * EDGE
    details = [piece for piece in pieces if piece.circle is not None]
    scenes = [piece for piece in pieces if piece.circle is None]
    scales: dict[str, float] = {}
    for detail in details:
        _, radius = middle(detail)
        largest = (DETAIL if scenes else 0.98 * share) * high
        scales[detail.name] = min(1.15, largest / (2 * radius), 0.98 * wide / (2 * radius))
    room = wide - APART * (len(pieces) - 1)
    room -= sum(
        drawn.at(piece, scales[piece.name])[1][2] - drawn.at(piece, scales[piece.name])[1][0]
        for piece in details
    )
    if scenes:
        scale = _scene_scale(scenes, room, high, drawn) * share
        if scale * 40 < 8:
            return None
        scales |= {piece.name: scale for piece in scenes}
    boxes = [drawn.at(piece, scales[piece.name])[1] for piece in pieces]
    spare = wide - APART * (len(pieces) - 1) - sum(b[2] - b[0] for b in boxes)
    gap = APART + (min(spare * 0.3, 6.0) if len(pieces) > 1 else 0.0)
    used = sum(b[2] - b[0] for b in boxes) + gap * (len(pieces) - 1)
    x = EDGE + (wide - used) * across
    sets = []
    for piece, (left, top, right, bottom) in zip(pieces, boxes, strict=True):
        y = EDGE + (high - (bottom - top)) * (down if piece.circle is None else 0.5)
        sets.append(_Set(piece, Move(scales[piece.name], x - left, y - top)))
        x += right - left + gap
    return sets


def _scene_scale(scenes: Sequence[Piece], wide: float, high: float, drawn: _Drawn) -> float:
    """The scale at which scenes fit side by side; hands and arrows do not shrink with it, so it is felt for."""
    boxes = [piece.bounds for piece in scenes]
    scale = min(wide / sum(b[2] - b[0] for b in boxes), high / max(b[3] - b[1] for b in boxes), 1.0)
    for _ in range(2):
        boxes = [drawn.at(piece, scale)[1] for piece in scenes]
        fit = min(wide / sum(b[2] - b[0] for b in boxes), high / max(b[3] - b[1] for b in boxes))
        if 0.985 <= fit:
            break
        scale *= fit
    return scale


def _tried(anatomy: Anatomy, sets: Sequence[_Set], slot: Slot, drawn: _Drawn) -> _Layout:
    """Everything set in its place: the score counts what found room."""
    canvas = Canvas(slot.width, slot.max_height, view=anatomy.view)
    for one in sets:
        _stamp_down(canvas, drawn.at(one.piece, one.move.scale)[0], one.move)
    scene = [one for one in sets if one.piece.circle is None]
    if scene and anatomy.scale is not None:
        canvas.scale = anatomy.scale * scene[0].move.scale
    for one in sets:
        if one.piece.circle is not None:
            canvas.blocked.append(_circle_of(one).buffer(0.4))
            if scene and one.piece.place is not None:
                _tie(canvas, one, scene[0].move)
    score, complete = 0.0, True
    for one in sets:
        for badge in one.piece.badges:
            held = _badge(canvas, badge, one.move)
            score += 6.0 if held else -4.0
            complete &= held
    values = [(value, one.move, one.piece) for one in sets for value in one.piece.values]
    most = _most_values(slot)
    count = 0
    for value, move, piece in values:
        if count >= most:
            break
        if _value(canvas, value, move, piece):
            count += 1
            score += 5.0
    complete &= count == min(most, len(values))
    ground = Ground(canvas)
    names = _names(sets, slot)
    most_labels = slot.most_labels or 0
    placed = 0
    for rank, (name, move) in enumerate(names):
        if placed >= most_labels:
            break
        label = name.label
        assert label.at is not None
        region = move.shape(label.region) if label.region is not None else None
        at = move(label.at)
        if set_label(canvas, replace(label, at=at), (at, region), ground, ceiling=CEILING):
            placed += 1
            score += 10.0 - 1.5 * rank
    complete &= placed == min(most_labels, len(names))
    return _Layout(canvas, score, complete)


def _circle_of(one: _Set) -> Polygon:
    """A detail's circle in its place."""
    (x, y), radius = middle(one.piece)
    return circle(one.move((x, y)), radius * one.move.scale)


def _stamp_down(canvas: Canvas, source: Canvas, move: Move) -> None:
    for item in source.items:
        if isinstance(item, Mark):
            canvas.items.append(replace(item, shape=translate(item.shape, move.dx, move.dy)))
        else:
            canvas.items.append(replace(item, at=(item.at[0] + move.dx, item.at[1] + move.dy)))
    canvas.blocked += [translate(place, move.dx, move.dy) for place in source.blocked]


def _most_values(slot: Slot) -> int:
    return {3: 2, 2: 1, 0: 0}.get(slot.most_labels or 0, 9)


def _names(sets: Sequence[_Set], slot: Slot) -> list[tuple[Name, Move]]:
    """Names in the order in which they are wanted, each text once: what is new first, short ones first."""
    found = [(name, one.move) for one in sets for name in one.piece.names]

    def weight(entry: tuple[Name, Move]) -> tuple[int, int, int]:
        name = entry[0]
        long = len(name.label.text) > slot.letters
        new = name.of in ("new", "removed")
        return (2 * long + name.label.rank + (0 if new else 1), 0, 0)

    texts: set[str] = set()
    kept = []
    for name, move in sorted(found, key=weight):
        if name.label.text not in texts and len(name.label.text) <= 1.5 * slot.letters:
            texts.add(name.label.text)
            kept.append((name, move))
    return kept


def _tie(canvas: Canvas, one: _Set, scene: Move) -> None:
    """The place of a detail in the scene, tied to it by both tangents, or by a letter where they would cross."""
    assert one.piece.place is not None
    place, ring = one.piece.place
    at, radius = scene(place), max(1.5, ring * scene.scale)
    (x, y), size = middle(one.piece)
    centre, big = one.move((x, y)), size * one.move.scale
    with canvas.group("detail", "detail-place"):
        canvas.circle(at, radius, None, NEW)
    with canvas.group("detail", "detail-link"):
        for line in _tangents(at, radius, centre, big):
            canvas.line(line, THIN)
            canvas.blocked.append(line.buffer(0.4))


def _tangents(a: Point, ra: float, b: Point, rb: float) -> Iterator[LineString]:
    """Both outer tangents of two circles, between the points where they touch."""
    d = math.dist(a, b)
    along = math.atan2(b[1] - a[1], b[0] - a[0])
    turn = math.acos(max(-1.0, min(1.0, (ra - rb) / d)))
    for sign in (1.0, -1.0):
        way = along + sign * turn
        c, s = math.cos(way), math.sin(way)
        yield LineString([(a[0] + ra * c, a[1] + ra * s), (b[0] + rb * c, b[1] + rb * s)])


def _badge(canvas: Canvas, badge: Thing, move: Move) -> bool:
    """A sign of fixed size near its place, off words, arrows and hands."""
    if badge.stamp is not None:
        start = badge.stamp.given["centre"]
    else:
        start = badge.centre
    wished, (left, top, right, bottom) = move(start), badge.bounds
    ground = Ground(canvas)
    for dx, dy in _nearby(6.0):
        x, y = wished[0] + dx - start[0], wished[1] + dy - start[1]
        room = box(left + x, top + y, right + x, bottom + y)
        if not _on_paper(canvas, room) or ground.covered(room, 0.35):
            continue
        _shifted(canvas, badge, x, y)
        canvas.blocked.append(room)
        return True
    return False


def _nearby(reach: float) -> list[Point]:
    steps = [k * 0.75 for k in range(-int(reach / 0.75), int(reach / 0.75) + 1)]
    return sorted(product(steps, steps), key=lambda p: (round(math.hypot(*p), 6), p))


def _on_paper(canvas: Canvas, room: BaseGeometry) -> bool:
    left, top, right, bottom = room.bounds
    return left >= 0.3 and top >= 0.3 and right <= canvas.width - 0.3 and bottom <= canvas.height - 0.3


def _shifted(canvas: Canvas, thing: Thing, x: float, y: float) -> None:
    for item in thing.items:
        if isinstance(item, Mark):
            canvas.items.append(replace(item, shape=translate(item.shape, x, y)))
        else:
            canvas.items.append(replace(item, at=(item.at[0] + x, item.at[1] + y)))


def _value(canvas: Canvas, value: Thing, move: Move, piece: Piece) -> bool:
    """A dimension with its value at full size, if it collides with nothing."""
    ground = Ground(canvas)
    if value.stamp is None:
        return _bare_value(canvas, value, move, ground)
    given = dict(value.stamp.given)
    if value.name == "arc_dimension":
        given["path"] = move.path(given["path"])
        tries = [given]
    else:
        given.update(start=move(given["start"]), end=move(given["end"]))
        sign, far = (1.0 if given["offset"] >= 0 else -1.0), abs(given["offset"])
        near = far * move.scale
        tries = [{**given, "offset": sign * (near + k)} for k in (0.0, 1.0, 2.0, 3.0, 4.5, 6.0)]
    for attempt in tries:
        trial = Canvas(canvas.width, canvas.height)
        with trial.enlarged() if piece.circle is not None else trial.clip(box(-999, -999, 999, 999)):
            value.stamp.draw(trial, **attempt)
        if _free(canvas, trial.items, ground):
            canvas.items += trial.items
            return True
    return False


def _bare_value(canvas: Canvas, value: Thing, move: Move, ground: Ground) -> bool:
    items: list[Mark | Letters] = []
    for item in value.items:
        if isinstance(item, Letters):
            items.append(set_letters(item, move))
        else:
            items.append(replace(item, shape=move.shape(item.shape), pen=pen_at(item.pen, move.scale)))
    for dx, dy in _nearby(3.0) if len(items) == 1 else [(0.0, 0.0)]:
        moved = [
            replace(item, at=(item.at[0] + dx, item.at[1] + dy)) if isinstance(item, Letters) else item
            for item in items
        ]
        if _free(canvas, moved, ground):
            canvas.items += moved
            return True
    return False


def _free(canvas: Canvas, items: Sequence[Mark | Letters], ground: Ground) -> bool:
    """Whether words stand on nothing, and lines on no word, arrow or hand."""
    for item in items:
        if isinstance(item, Letters):
            if not _on_paper(canvas, item.box) or ground.covered(item.box, 0.4) or ground.inked(item.box):
                return False
        elif not _on_paper(canvas, item.shape.buffer(0.01)) or ground.covered(item.shape, 0.1):
            return False
    return True
