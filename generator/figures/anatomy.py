"""A finished picture taken apart: its bands one below the other, its enlarged details, its names and values.

A small place holds only some of these. What is taken apart can be set anew: drawn lines at another scale, what
carries a stamp at its own size, names wherever there is room.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Literal

import shapely
from shapely import Point as Dot
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Letters, Mark, Point, Role, Stamp, only_areas, only_lines
from generator.figures.labels import Label, anchor_of
from generator.figures.model import Picture
from generator.figures.pens import WHITE

How = Literal["led", "beside", "fixed", "caption"]
"""A name stands in its thing or at the end of a leader; beside the open arrow that it tells of; where the kind
set it, to the left or right of a line; or below a detail."""
TOGETHER = 1.0
"""What lies nearer than this belongs to one thing, mm."""
BESIDE = 7.5
"""A word so near the rim of a detail belongs to it, mm."""
AT_VALUE = 3.0
"""A number so near a value counts it, mm."""
VALUES = frozenset(("dimension", "arc_dimension"))
WORDS = frozenset(("callout", "word", "caption", "numbered"))
SIGNS = frozenset(("link", "letter"))
"""What ties a detail to its place: drawn anew wherever the detail goes."""


@dataclass(frozen=True)
class Thing:
    """What was drawn in one go: marks that are carried point by point, or one thing with a stamp."""

    items: tuple[Mark | Letters, ...]
    stamp: Stamp | None = None

    @property
    def role(self) -> Role:
        """What its group is in the step."""
        return self.items[0].group.role

    @property
    def part(self) -> str:
        """Its group's part."""
        return self.items[0].group.part

    @property
    def name(self) -> str:
        """Name of its stamp, if it has one."""
        return self.stamp.name if self.stamp else ""

    @property
    def shapes(self) -> list[BaseGeometry]:
        """What it covers."""
        return [item.shape if isinstance(item, Mark) else item.box for item in self.items]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom, mm."""
        left, top, right, bottom = shapely.total_bounds(self.shapes)
        return left, top, right, bottom

    @property
    def centre(self) -> Point:
        """Middle of its box."""
        left, top, right, bottom = self.bounds
        return (left + right) / 2, (top + bottom) / 2


@dataclass(frozen=True)
class Name:
    """A noun, where it belongs in the picture, and how much it matters."""

    label: Label
    """Its ``at`` is set, its ``region`` if it may stand inside its thing."""
    of: Role | None
    """Role of what it names."""
    how: How = "led"
    spread: float = 0.0
    """``beside``: half the height of the arrow that it tells of, mm."""
    letters: Letters | None = None
    """As the kind set it, if it did so itself."""
    sign: Thing | None = None
    """The number that stands before it."""


@dataclass
class Piece:
    """A part of a picture that can stand alone: a band of the scene, or an enlarged detail."""

    name: str
    """``1``, ``2`` for bands from above; the detail's letter."""
    things: list[Thing] = field(default_factory=list)
    values: list[Thing] = field(default_factory=list)
    names: list[Name] = field(default_factory=list)
    bound: dict[int, int] = field(default_factory=dict)
    """Which sign stands at which value, by their places in the lists: it means nothing without it."""
    badges: list[Thing] = field(default_factory=list)
    """Signs that keep their size and must stand near their place: numbers, letters of a sequence."""
    circle: Polygon | None = None
    """Of a detail: what it is cut off to."""
    place: tuple[Point, float] | None = None
    """Of a detail: where it is in the scene, and the radius of the ring round that place; without a ring: 0."""
    ringed: list[tuple[Point, float]] = field(default_factory=list)
    """Of a scene: the places of the details that stand beside it."""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of what is drawn, mm."""
        left, top, right, bottom = shapely.total_bounds([s for thing in self.things for s in thing.shapes])
        return left, top, right, bottom


@dataclass(frozen=True)
class Anatomy:
    """All pieces of a picture."""

    view: str
    scale: float | None
    bands: tuple[Piece, ...]
    details: tuple[Piece, ...]


def take_apart(picture: Picture) -> Anatomy:
    """The pieces of a picture. Nothing is lost but the signs that tie details to places."""
    canvas = picture.canvas
    scene, details, loose, links = _sorted(canvas)
    _tie(details, links)
    for number, detail in enumerate(details):
        detail.name = detail.name or f"detail-{number + 1}"
    bands = _bands(scene)
    pieces = [*bands, *details]
    for thing in loose:
        _assign(thing, bands, details, canvas)
    for label in picture.labels:
        at, region = anchor_of(canvas, label)
        home = _home(at, bands, details)
        home.names.append(
            Name(replace(label, at=at, part="", region=region), _role_at(canvas, at, label.part))
        )
    for piece in pieces:
        _count(piece)
        piece.bound = _bound(piece)
    return Anatomy(canvas.view, canvas.scale, tuple(bands), tuple(p for p in pieces if p.circle is not None))


def _runs(items: Sequence[Mark | Letters]) -> Iterator[Thing]:
    """Things in drawing order: what carries one stamp, and what stands in one group."""
    for _, run in groupby(items, key=lambda item: (id(item.stamp) if item.stamp else 0, id(item.group))):
        found = tuple(run)
        yield Thing(found, found[0].stamp)


def _joined(things: Iterable[Thing]) -> Iterator[Thing]:
    """A stamp's runs in one: a stamped function may open several groups."""
    for stamp, run in groupby(things, key=lambda thing: thing.stamp):
        if stamp is None:
            yield from run
        else:
            yield Thing(tuple(item for thing in run for item in thing.items), stamp)


def _sorted(canvas: Canvas) -> tuple[list[Thing], list[Piece], list[Thing], list[Stamp]]:
    """The scene's things, the details, words and values that are still to be assigned, the links."""
    scene: list[Thing] = []
    details: list[Piece] = []
    loose: list[Thing] = []
    links: list[Stamp] = []
    for thing in _joined(_runs(canvas.items)):
        first = thing.items[0]
        if thing.stamp is not None and thing.name in SIGNS:
            links.append(thing.stamp)
        elif thing.name in VALUES or thing.name in WORDS or _is_text(thing):
            loose.append(thing)
        elif first.group.enlarged:
            if thing.part == "detail" and isinstance(first, Mark) and first.fill == WHITE:
                details.append(Piece("", circle=_polygon(first.shape)))
            # What is drawn as large as a detail but stands beside it belongs to the scene.
            circle = details[-1].circle if details else None
            held = circle is not None and circle.intersects(Dot(thing.centre))
            (details[-1].things if held else scene).append(thing)
        elif thing.part == "detail-place":
            continue
        elif thing.role == "action" and (detail := _around(thing.centre, details, 0.0)):
            detail.things.append(thing)
        else:
            scene.append(thing)
    return scene, details, loose, links


def _is_text(thing: Thing) -> bool:
    """Whether it is words or a bare value, and not a part on which a word stands."""
    if thing.stamp:
        return False
    return any(isinstance(item, Letters) for item in thing.items) or thing.role in ("label", "dimension")


def _polygon(shape: BaseGeometry) -> Polygon:
    assert isinstance(shape, Polygon)
    return shape


def middle(piece: Piece) -> tuple[Point, float]:
    """Centre and radius of a detail."""
    assert piece.circle is not None
    left, top, right, bottom = piece.circle.bounds
    return ((left + right) / 2, (top + bottom) / 2), (right - left) / 2


def _around(at: Point, details: Sequence[Piece], beyond: float) -> Piece | None:
    """The detail nearest to a place that lies in it, or no farther off its rim than ``beyond``."""
    best: tuple[float, Piece] | None = None
    for detail in details:
        centre, radius = middle(detail)
        off = math.dist(centre, at) - radius
        if off <= beyond and (best is None or off < best[0]):
            best = off, detail
    return best[1] if best else None


def _tie(details: Sequence[Piece], links: Sequence[Stamp]) -> None:
    """Give each detail its letter and its place, from a link or from two letters that are the same."""
    for given in (stamp.given for stamp in links):
        if "place" in given and (detail := _around(given["centre"], details, 0.0)):
            detail.name, detail.place = given["text"], (given["place"], given["place_radius"])
    alone = [stamp.given for stamp in links if "place" not in stamp.given]
    for given in alone:
        detail = _around(given["centre"], details, 3.0)
        if detail is not None and not detail.name:
            detail.name = given["text"]
            others = [
                other["centre"] for other in alone if other is not given and other["text"] == detail.name
            ]
            detail.place = (others[0], 0.0) if others else None


def _bands(scene: Sequence[Thing]) -> list[Piece]:
    """What stands apart from all else above and below, from above; a lone arrow goes with its neighbours."""
    spans = sorted(
        ((thing.bounds[1] - TOGETHER / 2, thing.bounds[3] + TOGETHER / 2) for thing in scene),
    )
    merged: list[list[float]] = []
    for top, bottom in spans:
        if merged and top <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], bottom)
        else:
            merged.append([top, bottom])
    bands = [Piece("") for _ in merged]
    for thing in scene:
        y = thing.centre[1]
        index = next(k for k, (top, bottom) in enumerate(merged) if top <= y <= bottom)
        bands[index].things.append(thing)
    kept: list[Piece] = []
    for band in bands:
        if (
            all(thing.role == "action" or thing.part == "turn-mark" for thing in band.things)
            and len(bands) > 1
        ):
            near = min(
                (other for other in bands if other is not band),
                key=lambda other: max(
                    other.bounds[1] - band.bounds[3], band.bounds[1] - other.bounds[3], 0.0
                ),
            )
            near.things = [thing for thing in scene if thing in near.things or thing in band.things]
        else:
            kept.append(band)
    for number, band in enumerate(kept):
        band.name = str(number + 1)
    return kept


def columns_of(band: Piece) -> list[Piece]:
    """What stands apart from all else at its left and right, from the left: ``1a``, ``1b``."""
    merged: list[list[float]] = []
    for left, right in sorted((thing.bounds[0], thing.bounds[2]) for thing in band.things):
        if merged and left <= merged[-1][1] + TOGETHER:
            merged[-1][1] = max(merged[-1][1], right)
        else:
            merged.append([left, right])
    if len(merged) < 2:
        return []
    columns = [Piece(f"{band.name}{chr(ord('a') + k)}") for k in range(len(merged))]

    def column(x: float) -> Piece:
        off = [max(left - x, x - right, 0.0) for left, right in merged]
        return columns[off.index(min(off))]

    for thing in band.things:
        column(thing.centre[0]).things.append(thing)
    for value in band.values:
        column(value.centre[0]).values.append(value)
    for badge in band.badges:
        column(badge.centre[0]).badges.append(badge)
    for name in band.names:
        assert name.label.at is not None
        column(name.label.at[0]).names.append(name)
    for each in columns:
        each.bound = _bound(each)
    return columns


def main_column(band: Piece) -> Piece:
    """The column of a band that takes most room."""

    def room(piece: Piece) -> float:
        left, top, right, bottom = piece.bounds
        return round((right - left) * (bottom - top), 3)

    return max(columns_of(band), key=room, default=band)


def upper(piece: Piece, share: float) -> Piece:
    """The upper part of a piece, cut off: long walls that only go on below."""
    left, top, right, bottom = piece.bounds
    line = top + share * (bottom - top)
    region = shapely.box(left - 5.0, top - 5.0, right + 5.0, line)
    kept = Piece(f"{piece.name}:{share:g}", circle=piece.circle, place=piece.place)
    kept.values, kept.badges, kept.bound = piece.values, piece.badges, piece.bound
    kept.names = [name for name in piece.names if name.label.at is None or name.label.at[1] < line]
    for thing in piece.things:
        if thing.bounds[3] <= line or (thing.stamp is not None and thing.name != "hatch"):
            if thing.centre[1] < line:
                kept.things.append(thing)
            continue
        if thing.stamp is not None:
            given = {**thing.stamp.given, "region": thing.stamp.given["region"].intersection(region)}
            thing = replace(thing, stamp=replace(thing.stamp, given=given))
            kept.things.append(thing)
            continue
        items = tuple(part for item in thing.items for part in _cut(item, region))
        if items:
            kept.things.append(Thing(items))
    return kept


def _cut(item: Mark | Letters, region: Polygon) -> Iterator[Mark | Letters]:
    """What of an item lies in a region, without an outline along the cut."""
    if isinstance(item, Letters):
        if region.contains(item.box):
            yield item
        return
    if item.fill is not None:
        area = only_areas(item.shape.intersection(region))
        if not area.is_empty:
            yield replace(item, shape=area, pen=None)
    if item.pen is not None:
        edge = item.shape.boundary if item.shape.geom_type.endswith("Polygon") else item.shape
        lines = only_lines(edge.intersection(region))
        if not lines.is_empty:
            yield replace(item, shape=lines, fill=None)


def _home(at: Point, bands: Sequence[Piece], details: Sequence[Piece]) -> Piece:
    """The piece that a place belongs to."""
    detail = _around(at, details, 0.3)
    if detail is not None:
        return detail

    def off(band: Piece) -> float:
        left, top, right, bottom = band.bounds
        return math.hypot(max(left - at[0], at[0] - right, 0.0), 2 * max(top - at[1], at[1] - bottom, 0.0))

    return min(bands, key=off)


def _assign(thing: Thing, bands: list[Piece], details: list[Piece], canvas: Canvas) -> None:
    given = thing.stamp.given if thing.stamp else {}
    if thing.name in VALUES:
        at = given["start"] if "start" in given else given["path"][0]
        _home(at, bands, details).values.append(thing)
    elif thing.name == "numbered":
        _home(given["centre"], bands, details).badges.append(thing)
    elif thing.name == "callout":
        turn = math.degrees(math.atan2(given["spot"][1] - given["at"][1], given["at"][0] - given["spot"][0]))
        label = Label(given["text"], at=given["spot"], wish=turn, leader=given["dot"])
        _home(given["spot"], bands, details).names.append(Name(label, _role_at(canvas, given["spot"])))
    elif thing.name == "word":
        at = given["centre"]
        label = Label(given["text"], at=at, region=_ground(canvas, at), rank=1)
        _home(at, bands, details).names.append(Name(label, _role_at(canvas, at)))
    elif thing.name == "caption":
        at = given["at"]
        home = _around(at, details, BESIDE) or _home(at, bands, details)
        home.names.append(Name(Label(given["text"], at=at, rank=3), None, "caption"))
    else:
        _bare(thing, bands, details, canvas)


def _bare(thing: Thing, bands: list[Piece], details: list[Piece], canvas: Canvas) -> None:
    """Words or values that a kind set by itself."""
    letters = [item for item in thing.items if isinstance(item, Letters)]
    marks = [item for item in thing.items if isinstance(item, Mark)]
    at = letters[0].box.centroid.coords[0] if letters else thing.centre
    home = _beside(letters[0].box if letters else Dot(at), details) or _home(at, bands, details)
    if thing.role == "dimension":
        if letters:
            home.values.append(thing)
    elif not letters or thing.role != "label":
        home.things.append(thing)
    elif thing.part.startswith("order-") or any(m.fill and m.shape.contains(Dot(at)) for m in marks):
        home.badges.append(thing)
    else:
        dots = [mark.shape.centroid for mark in marks if mark.fill is not None]
        lines = [mark.shape for mark in marks if mark.fill is None]
        if lines and not dots:
            home.things.append(Thing(tuple(marks)))
        led = _led_to(letters, lines, dots)
        for k, text in enumerate(letters):
            spot = led.get(k)
            at = spot or text.box.centroid.coords[0]
            where = _beside(Dot(spot) if spot else text.box, details) or _home(at, bands, details)
            sign = _near_sign(text, where)
            if not marks and sign is not None:
                where.badges[sign] = replace(where.badges[sign], items=(*where.badges[sign].items, text))
                continue
            lined = bool(lines) and not dots
            name = _bare_name(canvas, text, at, where, lined, spot is not None)
            where.names.append(name)


def _led_to(
    letters: Sequence[Letters], lines: Sequence[BaseGeometry], dots: Sequence[Dot]
) -> dict[int, Point]:
    """For each word to which a leader runs, the dot at the leader's other end."""
    found: dict[int, Point] = {}
    for dot in dots:
        line = min(lines, key=lambda each: each.distance(dot), default=None)
        if line is None or not letters:
            continue
        far = max((Dot(*end) for end in (line.coords[0], line.coords[-1])), key=lambda end: end.distance(dot))
        nearest = min(range(len(letters)), key=lambda k: letters[k].box.distance(far))
        found[nearest] = dot.x, dot.y
    return found


def _bare_name(canvas: Canvas, text: Letters, spot: Point, home: Piece, lined: bool, dotted: bool) -> Name:
    of = _role_at(canvas, spot)
    if dotted:
        return Name(Label(text.text, at=spot), of, letters=text)
    if lined or home.circle is not None:
        return Name(Label(text.text, at=spot, rank=1), of, "fixed", letters=text)
    arrows = [thing for thing in home.things if thing.name == "open_arrow"]
    for arrow in arrows:
        if text.box.distance(shapely.box(*arrow.bounds)) < 4.0:
            label = Label(text.text, at=arrow.centre, rank=0)
            return Name(label, of, "beside", spread=(arrow.bounds[3] - arrow.bounds[1]) / 2)
    if of is None:
        return Name(Label(text.text, at=spot, rank=1), of, "fixed", letters=text)
    return Name(Label(text.text, at=spot, region=_ground(canvas, spot), rank=1), of)


def _beside(place: BaseGeometry, details: Sequence[Piece]) -> Piece | None:
    """The detail that something touches, or nearly."""
    near = [detail for detail in details if detail.circle is not None and detail.circle.distance(place) < 2.0]
    return min(near, key=lambda detail: math.dist(middle(detail)[0], place.centroid.coords[0]), default=None)


def _count(piece: Piece) -> None:
    """Give names that have a number before them their number."""
    for k, name in enumerate(piece.names):
        if name.how == "led" and name.letters is not None:
            sign = _near_sign(name.letters, piece)
            if sign is not None:
                piece.names[k] = replace(name, sign=piece.badges.pop(sign))


def _bound(piece: Piece) -> dict[int, int]:
    """The signs that stand at a value."""
    found: dict[int, int] = {}
    for k, sign in enumerate(piece.badges):
        disc = shapely.box(*sign.bounds)
        for j, value in enumerate(piece.values):
            texts = [item.box for item in value.items if isinstance(item, Letters)]
            if sign.name == "numbered" and any(text.distance(disc) < AT_VALUE for text in texts):
                found.setdefault(k, j)
    return found


def _near_sign(text: Letters, home: Piece) -> int | None:
    """The number that a word stands at."""
    for k, badge in enumerate(home.badges):
        if badge.name == "numbered" and shapely.box(*badge.bounds).distance(text.box) < 2.2:
            return k
    return None


def _ground(canvas: Canvas, at: Point) -> BaseGeometry | None:
    """The area on which a place lies."""
    dot = Dot(at)
    for mark in reversed(list(canvas.marks())):
        if mark.fill is not None and mark.group.role != "label" and mark.shape.contains(dot):
            areas = only_areas(mark.shape)
            return next((part for part in getattr(areas, "geoms", [areas]) if part.contains(dot)), None)
    return None


def _role_at(canvas: Canvas, at: Point, part: str = "") -> Role | None:
    """The role of what is named: of the part, or of what lies at the place."""
    marks = [mark for mark in canvas.marks() if mark.group.role not in ("label", "dimension")]
    if part:
        return next((mark.group.role for mark in reversed(marks) if mark.group.part == part), None)
    dot = Dot(at)
    for mark in reversed(marks):
        shape = mark.shape if mark.fill is not None else only_lines(mark.shape)
        if shape.distance(dot) < 0.7:
            return mark.group.role
    return None
