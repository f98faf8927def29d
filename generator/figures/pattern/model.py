"""What a full-scale drawing is made of, and what comes out. All lengths mm, y up, the print towards you."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from generator.base.edition import Paper, PrintSize
from generator.figures.model import Figure
from generator.figures.pens import INK, Pen

Point = tuple[float, float]
Layer = Literal["cut", "kiss-cut", "fold", "mark", "text"]
LAYERS: tuple[Layer, ...] = ("cut", "kiss-cut", "fold", "mark", "text")
"""Layers of the drawing, in the order in which they are painted."""

PENS: dict[Layer, Pen] = {
    "cut": Pen(0.5, INK, (), "butt"),
    "kiss-cut": Pen(0.35, INK, (4.0, 1.6), "butt"),
    "fold": Pen(0.35, INK, (6.0, 1.4, 0.9, 1.4), "butt"),
    "mark": Pen(0.25, INK, (), "butt"),
}
"""How each layer's lines look: by width and dash, since nothing is told by colour."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the drawing."""

    layer: Layer
    part: str
    """What it is: ``outline``, ``rim``, ``bend``."""
    points: tuple[Point, ...]
    noun: str = ""
    """Wording key of the name that stands along it, without ``pattern.name.``; empty: none."""
    closed: bool = False
    panels: tuple[int, ...] = ()
    """Of a shade of several panels: the ones that have it, if not all have; they are told with the name."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A name beside one place."""

    noun: str
    at: Point
    aside: Point = (0.0, 1.0)
    """Direction in which the name best stands."""
    along: Point = (1.0, 0.0)
    """Direction of its line of writing, or the opposite: a name never stands on its head."""
    needed: bool = False
    """The sheet is useless without it: no room is a fault."""
    anywhere: bool = False
    """One of the places with this name is enough."""
    size: float | None = None
    """Height of the letters in mm to the em; None: as the text of the drawing."""
    text: str = ""
    """Takes the place of the wording: a number as it is written."""
    panels: tuple[int, ...] = ()
    """As of a line."""


@dataclass(frozen=True)
class Drawing:
    """A thing drawn full size."""

    name: str
    lines: tuple[Line, ...]
    spots: tuple[Spot, ...]
    loop: tuple[Point, ...]
    """Its outer edge: a tile that has no part of what is inside is left out."""

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of all lines."""
        points = [point for line in self.lines for point in line.points]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def turned(self, angle: float) -> Drawing:
        """The same, turned counter-clockwise about the origin."""
        c, s = math.cos(angle), math.sin(angle)
        return self.moved_by(lambda p: (p[0] * c - p[1] * s, p[0] * s + p[1] * c))

    def moved(self, dx: float, dy: float) -> Drawing:
        """The same, shifted."""
        return self.moved_by(lambda p: (p[0] + dx, p[1] + dy))

    def moved_by(self, motion: Callable[[Point], Point]) -> Drawing:
        """The same after a motion of the plane."""
        zero = motion((0.0, 0.0))

        def turned(p: Point) -> Point:
            x, y = motion(p)
            return x - zero[0], y - zero[1]

        def all_of(points: Iterable[Point]) -> tuple[Point, ...]:
            return tuple(motion(point) for point in points)

        return Drawing(
            self.name,
            tuple(replace(line, points=all_of(line.points)) for line in self.lines),
            tuple(
                replace(spot, at=motion(spot.at), aside=turned(spot.aside), along=turned(spot.along))
                for spot in self.spots
            ),
            all_of(self.loop),
        )


SIDE, HEAD, FOOT, BAND = 10.0, 8.0, 14.0, 13.0
"""Paper left free at the sides, above and below, and the band with the bar under a tile, mm."""


@dataclass(frozen=True, slots=True)
class Lettering:
    """How large the words of a pattern are, and what must be larger with them. The shade's lengths stay."""

    least: float = 0.0
    """No letter of a name is smaller, mm to the em; 0: each as it is wished."""
    band: float = BAND
    """The band with the bar, mm."""
    strip: float = 20.0
    """Width of the strip that proves a ring, mm."""
    times: float = 1.0
    """Cards that carry words are so many times as wide."""

    @property
    def large(self) -> bool:
        """Whether it is for large print: numbers of a scale then stand on end, since ten millimetres are not
        enough for them side by side, and names may lie farther from their places."""
        return self.least > 0.0


LETTERINGS: Mapping[PrintSize, Lettering] = {
    "normal": Lettering(),
    "large": Lettering(least=6.35, band=31.0, strip=34.0, times=1.5),
    "larger": Lettering(least=8.47, band=43.0, strip=42.0, times=2.0),
}
"""18 and 24 points, in mm."""


@dataclass(frozen=True, slots=True)
class Page:
    """A printed page as a place for a drawing."""

    width: float
    height: float
    band: float = BAND

    @property
    def frame(self) -> Point:
        """Width and height of the place for the drawing, mm."""
        return self.width - 2 * SIDE, self.height - HEAD - FOOT - self.band


def page_of(paper: Paper, *, landscape: bool, band: float = BAND) -> Page:
    """A paper upright or on its side, with a band of a height, mm."""
    return Page(paper.height, paper.width, band) if landscape else Page(paper.width, paper.height, band)


@dataclass(frozen=True, slots=True)
class Leaf:
    """One page of the tiled pattern: its name (``B3``; empty: a page of small pieces) and its drawing."""

    name: str
    title: str
    """Wording key of what is on it."""
    page: Page
    figure: Figure


@dataclass(frozen=True, slots=True)
class Pattern:
    """Everything that the pattern's documents show."""

    paper: Paper
    leaves: tuple[Leaf, ...]
    map: Figure
    bar: Figure
    samples: tuple[tuple[str, Figure], ...]
    """A short piece of each kind of line, by the wording key that tells what to do with it."""
    whole: Figure
    svg: str
    """The drawing for a cutter."""
    small: frozenset[str]
    """Names of the strips and small pieces."""
    panels: int = 1
    """How many panels the pattern serves for."""
    band: float = BAND
    """Height of the band with the bar, mm."""
    inch_bar: float | None = None
    """Length of the bar for a rule in inches, mm; None: there is none."""

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All that its pages show."""
        shown = (self.map, self.bar, self.whole, *(figure for _, figure in self.samples))
        return (*shown, *(leaf.figure for leaf in self.leaves))

    @property
    def names(self) -> frozenset[str]:
        """Names of tiles: letters for rows, numbers for columns; and the panels, which are counted."""
        tiles = frozenset(leaf.name for leaf in self.leaves if leaf.name)
        return tiles | {str(number) for number in range(1, self.panels + 1) if self.panels > 1}
