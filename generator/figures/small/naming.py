"""To which piece words and values belong, and what they name."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Letters, Mark, Point, Role, only_areas, only_lines
from generator.figures.labels import Label, anchor_of
from generator.figures.small.pieces import Name, Piece, Thing, middle

BESIDE = 7.5
"""A caption so near the rim of a detail belongs to it, mm."""
TOUCHING = 2.0
"""Words so near a detail are its own, mm."""
AT_ARROW, AT_SIGN = 4.0, 2.2
"""Words so near an open arrow tell of it, so near a number are counted by it, mm."""
AT_PLACE = 0.7
"""What is no farther from the end of a leader is what it names, mm."""
VALUES = frozenset(("dimension", "arc_dimension"))


def around(at: Point, details: Sequence[Piece], beyond: float) -> Piece | None:
    """The detail nearest to a place that lies in it, or no farther off its rim than ``beyond``."""
    best: tuple[float, Piece] | None = None
    for detail in details:
        centre, radius = middle(detail)
        off = math.dist(centre, at) - radius
        if off <= beyond and (best is None or off < best[0]):
            best = off, detail
    return best[1] if best else None


@dataclass
class Namer:
    """Gives the pieces of one picture their names, values and signs."""

    canvas: Canvas
    bands: list[Piece]
    details: list[Piece]

    def assign(self, thing: Thing) -> None:
        """Words, a value or a sign, to the piece to which it belongs."""
        given = thing.stamp.given if thing.stamp else {}
        if thing.name in VALUES:
            self._home(given["start"] if "start" in given else given["path"][0]).values.append(thing)
        elif thing.name == "numbered":
            self._home(given["centre"]).badges.append(thing)
        elif thing.name == "callout":
            spot, at = given["spot"], given["at"]
            turn = math.degrees(math.atan2(spot[1] - at[1], at[0] - spot[0]))
            label = Label(given["text"], at=spot, wish=turn, leader=given["dot"])
            self._home(spot).names.append(Name(label, self._role_at(spot)))
        elif thing.name == "word":
            at = given["centre"]
            label = Label(given["text"], at=at, region=self._ground(at), rank=1)
            self._home(at).names.append(Name(label, self._role_at(at)))
        elif thing.name == "caption":
            at = given["at"]
            home = around(at, self.details, BESIDE) or self._home(at)
            home.names.append(Name(Label(given["text"], at=at, rank=3), None, "caption"))
        else:
            self._bare(thing)

    def label(self, label: Label) -> None:
        """A label that the kind left to be set."""
        at, region = anchor_of(self.canvas, label)
        if not label.leader and label.at is not None:
            # It stands on its thing; where that has no room for it, a leader must run there.
            label, region = replace(label, leader=True), self._ground(at)
        role = self._role_of(label.part) if label.part else self._role_at(at)
        self._home(at).names.append(Name(replace(label, at=at, part="", region=region), role))

    def _home(self, at: Point) -> Piece:
        """The piece that a place belongs to."""
        detail = around(at, self.details, 0.3)
        if detail is not None:
            return detail

        def off(band: Piece) -> float:
            left, top, right, bottom = band.bounds
            return math.hypot(
                max(left - at[0], at[0] - right, 0.0), 2 * max(top - at[1], at[1] - bottom, 0.0)
            )

        return min(self.bands, key=off)

    def _beside(self, place: BaseGeometry) -> Piece | None:
        """The detail that something touches, or nearly."""
        near = [one for one in self.details if one.circle and one.circle.distance(place) < TOUCHING]
        at = _centre(place)
        return min(near, key=lambda detail: math.dist(middle(detail)[0], at), default=None)

    def _bare(self, thing: Thing) -> None:
        """Words or values that a kind set by itself."""
        letters = [item for item in thing.items if isinstance(item, Letters)]
        marks = [item for item in thing.items if isinstance(item, Mark)]
        at = _centre(letters[0].box) if letters else thing.centre
        home = self._beside(letters[0].box if letters else Dot(at)) or self._home(at)
        if thing.role == "dimension":
            # Lines without a value only lead to another dimension, which draws its own.
            home.values += [thing] if letters else []
        elif not letters or thing.role != "label":
            home.things.append(thing)
        elif thing.part.startswith("order-") or any(m.fill and m.shape.contains(Dot(at)) for m in marks):
            home.badges.append(thing)
        else:
            self._words(letters, marks, home)

    def _words(self, letters: Sequence[Letters], marks: Sequence[Mark], home: Piece) -> None:
        dots = [mark.shape.centroid for mark in marks if mark.fill is not None]
        lines = [mark.shape for mark in marks if mark.fill is None]
        if lines and not dots:
            home.things.append(Thing(tuple(marks)))
        led = _led_to(letters, lines, dots)
        for k, text in enumerate(letters):
            spot = led.get(k)
            at = spot or _centre(text.box)
            where = self._beside(Dot(spot) if spot else text.box) or self._home(at)
            sign = _sign_at(text, where)
            if not marks and sign is not None:
                where.badges[sign] = replace(where.badges[sign], items=(*where.badges[sign].items, text))
            elif spot is not None:
                where.names.append(Name(Label(text.text, at=at), self._role_at(at), letters=text))
            else:
                where.names.append(self._unled(text, at, where, lined=bool(lines) and not dots))

    def _unled(self, text: Letters, at: Point, home: Piece, *, lined: bool) -> Name:
        """Words without a leader: beside a line, in a detail, at an open arrow, or on what they name."""
        of = self._role_at(at)
        fixed = Name(Label(text.text, at=at, rank=1), of, "fixed", letters=text)
        if lined or home.circle is not None:
            return fixed
        for arrow in (thing for thing in home.things if thing.name == "open_arrow"):
            if text.box.distance(shapely.box(*arrow.bounds)) < AT_ARROW:
                half = (arrow.bounds[3] - arrow.bounds[1]) / 2
                return Name(Label(text.text, at=arrow.centre), of, "beside", spread=half)
        if of is None:
            return fixed
        return Name(Label(text.text, at=at, region=self._ground(at), rank=1), of)

    def _ground(self, at: Point) -> BaseGeometry | None:
        """The area on which a place lies."""
        dot = Dot(at)
        for mark in reversed(list(self.canvas.marks())):
            if mark.fill is not None and mark.group.role != "label" and mark.shape.contains(dot):
                areas = only_areas(mark.shape)
                return next((part for part in getattr(areas, "geoms", [areas]) if part.contains(dot)), None)
        return None

    def _role_of(self, part: str) -> Role | None:
        marks = reversed(list(self.canvas.marks()))
        return next((m.group.role for m in marks if m.group.part == part and m.group.role != "label"), None)

    def _role_at(self, at: Point) -> Role | None:
        """The role of what lies uppermost at a place."""
        dot = Dot(at)
        for mark in reversed(list(self.canvas.marks())):
            if mark.group.role not in ("label", "dimension"):
                shape = mark.shape if mark.fill is not None else only_lines(mark.shape)
                if shape.distance(dot) < AT_PLACE:
                    return mark.group.role
        return None


def count_names(piece: Piece) -> None:
    """Give names that have a number before them their number."""
    for k, name in enumerate(piece.names):
        if name.how == "led" and name.letters is not None:
            sign = _sign_at(name.letters, piece)
            if sign is not None:
                piece.names[k] = replace(name, sign=piece.badges.pop(sign))


def _sign_at(text: Letters, home: Piece) -> int | None:
    """The number at which a word stands."""
    for k, badge in enumerate(home.badges):
        if badge.name == "numbered" and shapely.box(*badge.bounds).distance(text.box) < AT_SIGN:
            return k
    return None


def _led_to(
    letters: Sequence[Letters], lines: Sequence[BaseGeometry], dots: Sequence[Dot]
) -> dict[int, Point]:
    """For each word to which a leader runs, the dot at the leader's other end."""
    found: dict[int, Point] = {}
    for dot in dots:
        line = min(lines, key=lambda each: each.distance(dot), default=None)
        if line is None:
            continue
        far = max((Dot(*end) for end in (line.coords[0], line.coords[-1])), key=lambda end: end.distance(dot))
        nearest = min(range(len(letters)), key=lambda k: letters[k].box.distance(far))
        found[nearest] = dot.x, dot.y
    return found


def _centre(shape: BaseGeometry) -> Point:
    middle_ = shape.centroid
    return middle_.x, middle_.y
