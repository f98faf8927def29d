"""A finished picture taken apart: its bands one below the other, its enlarged details, its names and values.

A small place holds only some of these. What is taken apart can be set anew: drawn lines at another scale, what
carries a stamp at its own size, names wherever there is room.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

import shapely
from shapely import Polygon, STRtree
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Letters, Mark, Point, Role, Stamp, only_areas
from generator.figures.labels import Label, anchor_of
from generator.figures.model import Picture
from generator.figures.pens import WHITE

TOGETHER = 1.0
"""What lies nearer than this belongs to one thing, mm."""
BESIDE = 7.5
"""A word so near the rim of a detail belongs to it, mm."""
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
    caption: bool = False


@dataclass
class Piece:
    """A part of a picture that can stand alone: a band of the scene, or an enlarged detail."""

    name: str
    """``1``, ``2`` for bands from above; the detail's letter."""
    things: list[Thing] = field(default_factory=list)
    values: list[Thing] = field(default_factory=list)
    names: list[Name] = field(default_factory=list)
    badges: list[Thing] = field(default_factory=list)
    """Signs that keep their size and must stand near their place: numbers, letters of a sequence."""
    circle: Polygon | None = None
    """Of a detail: what it is cut off to."""
    place: tuple[Point, float] | None = None
    """Of a detail: where it is in the scene, and the radius of the ring round that place."""

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
    for stamp in links:
        _tie(details, stamp)
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
        if thing.name in SIGNS:
            if thing.name == "link" and thing.stamp:
                links.append(thing.stamp)
        elif thing.name in VALUES or thing.name in WORDS or _is_text(thing):
            loose.append(thing)
        elif first.group.enlarged:
            if thing.part == "detail" and isinstance(first, Mark) and first.fill == WHITE:
                details.append(Piece("", circle=_polygon(first.shape)))
            details[-1].things.append(thing)
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


def _tie(details: Sequence[Piece], stamp: Stamp) -> None:
    given = stamp.given
    detail = _around(given["centre"], details, 0.0)
    if detail is not None:
        detail.name = given["text"]
        detail.place = given["place"], given["place_radius"]


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
        home.names.append(Name(Label(given["text"], at=at, leader=False, rank=3), None, caption=True))
    else:
        _bare(thing, bands, details, canvas)


def _bare(thing: Thing, bands: list[Piece], details: list[Piece], canvas: Canvas) -> None:
    """Words or values that a kind set by itself."""
    letters = [item for item in thing.items if isinstance(item, Letters)]
    marks = [item for item in thing.items if isinstance(item, Mark)]
    at = letters[0].box.centroid.coords[0] if letters else thing.centre
    home = _around(at, details, 1.5) or _home(at, bands, details)
    if thing.role == "dimension":
        home.values.append(thing)
    elif not letters or thing.role != "label":
        home.things.append(thing)
    elif thing.part.startswith("order-"):
        home.badges.append(thing)
    elif any(mark.fill is not None and mark.shape.contains(Dot(at)) for mark in marks):
        home.badges.append(thing)
    else:
        dots = [mark for mark in marks if mark.fill is not None]
        if marks and not dots:
            home.things.append(Thing(tuple(marks)))
        for text in letters:
            spot: Point = dots[0].shape.centroid.coords[0] if dots else text.box.centroid.coords[0]
            rank = 0 if dots else 2
            label = Label(text.text, at=spot, leader=bool(dots), rank=rank)
            where = _around(spot, details, 1.5) or _home(spot, bands, details)
            where.names.append(Name(label, _role_at(canvas, spot)))


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
    tree = STRtree([mark.shape for mark in marks])
    near = sorted(int(k) for k in tree.query(Dot(at), predicate="dwithin", distance=0.7))
    return marks[near[-1]].group.role if near else None
