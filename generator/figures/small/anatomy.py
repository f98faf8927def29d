"""A finished picture taken apart: its bands one below the other, its enlarged details, its names and values.

A small place holds only some of these. What is taken apart can be set anew: drawn lines at another scale,
what carries a stamp at its own size, names wherever there is room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from shapely import Point as Dot
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Letters, Mark, Stamp
from generator.figures.model import Picture
from generator.figures.pens import WHITE
from generator.figures.small.naming import VALUES, Namer, around, count_names
from generator.figures.small.pieces import TOGETHER, Anatomy, Piece, Thing, bound_of

WORDS = frozenset(("callout", "word", "caption", "numbered"))
SIGNS = frozenset(("link", "letter"))
"""What ties a detail to its place: drawn anew wherever the detail goes."""
LEFT_OUT = frozenset(("legend",))
"""Rows that explain a picture's numbers: torn from one another they would say what is wrong."""
BETWEEN = frozenset(("sides",))
"""Lines between two words: where a word that is said twice is left out they would stand alone."""


def take_apart(picture: Picture) -> Anatomy:
    """The pieces of a picture. Nothing is lost but legends, and the signs that tie details to places."""
    scene, details, loose, links = _sorted(picture.canvas)
    _tie(details, links)
    for number, detail in enumerate(details):
        detail.name = detail.name or f"detail-{number + 1}"
    bands = _bands(scene)
    namer = Namer(picture.canvas, bands, details)
    for thing in loose:
        namer.assign(thing)
    for label in picture.labels:
        namer.label(label)
    for piece in (*bands, *details):
        count_names(piece)
        piece.bound = bound_of(piece)
    return Anatomy(picture.canvas.view, picture.canvas.scale, tuple(bands), tuple(details))


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
        if thing.name in LEFT_OUT or (thing.role == "label" and thing.part in BETWEEN):
            continue
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
        elif thing.role == "action" and (detail := around(thing.centre, details, 0.0)):
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


def _tie(details: Sequence[Piece], links: Sequence[Stamp]) -> None:
    """Give each detail its letter and its place, from a link or from two letters that are the same."""
    for given in (stamp.given for stamp in links):
        if "place" in given and (detail := around(given["centre"], details, 0.0)):
            detail.name, detail.place = given["text"], (given["place"], given["place_radius"])
    alone = [stamp.given for stamp in links if "place" not in stamp.given]
    for given in alone:
        detail = around(given["centre"], details, 3.0)
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
