"""Finished figures read back from their SVG: groups with their names, texts with their boxes, line widths."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from xml.etree import ElementTree

from shapely import Polygon, box
from shapely.affinity import rotate

from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.model import Figure

SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = r"-?\d+(?:\.\d+)?"


@dataclass(frozen=True)
class Part:
    """One group of the drawing."""

    role: str
    name: str
    measure: str | None
    value: float | None
    texts: tuple[str, ...]
    points: tuple[tuple[float, float], ...]
    """Corners of all its paths."""


@dataclass(frozen=True)
class Words:
    """A line of text and the box of its ink."""

    text: str
    box: Polygon


@lru_cache(maxsize=64)
def root(figure: Figure) -> ElementTree.Element:
    """The drawing's own element."""
    return ElementTree.fromstring(figure.svg)


def parts(figure: Figure) -> list[Part]:
    """All groups in drawing order."""
    found = []
    for group in root(figure).iter(f"{SVG}g"):
        value = group.get("data-value")
        found.append(
            Part(
                group.get("data-role", ""),
                group.get("data-part", ""),
                group.get("data-measure"),
                float(value) if value is not None else None,
                tuple(text.text or "" for text in group.iter(f"{SVG}text")),
                tuple(
                    (float(x), float(y))
                    for path in group.iter(f"{SVG}path")
                    for x, y in re.findall(rf"({_NUMBER}) ({_NUMBER})", path.get("d", ""))
                ),
            )
        )
    return found


def words(figure: Figure) -> Iterator[Words]:
    """All lines of text."""
    for text in root(figure).iter(f"{SVG}text"):
        x, y, size = float(text.get("x", "")), float(text.get("y", "")), float(text.get("font-size", ""))
        width = text_width(text.text or "", size, int(text.get("font-weight", "400")))
        flat = box(x, y - ASCENT * size, x + width, y + DESCENT * size)
        turn = re.match(rf"rotate\(({_NUMBER})", text.get("transform", ""))
        yield Words(text.text or "", rotate(flat, float(turn[1]), origin=(x, y)) if turn else flat)


def line_widths(figure: Figure) -> set[float]:
    """Widths of all strokes that are not a white halo."""
    return {
        float(path.get("stroke-width", "1"))
        for path in root(figure).iter(f"{SVG}path")
        if path.get("stroke") not in (None, "none", "#FFFFFF")
    }


def paper(figure: Figure) -> Polygon:
    """The drawing's sheet, mm."""
    x, y, width, height = (float(number) for number in root(figure).get("viewBox", "").split())
    return box(x, y, x + width, y + height)


def extent(points: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Width and height of a part's paths, mm."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def check_texts_stand_apart(drawn: Figure) -> None:
    """Every text is wholly on the paper, and none lies on another."""
    sheet = paper(drawn)
    for word in words(drawn):
        assert sheet.contains(word.box), word.text
    for a, b in combinations(words(drawn), 2):
        assert not a.box.buffer(-0.05).intersects(b.box.buffer(-0.05)), (a.text, b.text)
