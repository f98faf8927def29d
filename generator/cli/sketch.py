"""A shade in characters: from the side and from above, at one scale, true in proportion.

Where the terminal has braille, each character is two by four dots, all of them square; elsewhere each is one
cell that is twice as high as wide.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from generator.shape.shade import Shade

Point = tuple[float, float]
"""mm, y up."""

_BRAILLE = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bits of a braille character's dots, row by row (The Unicode Standard, Braille Patterns, from memory)."""
_FIRST = 0x2800
_STEPS = 180
"""Points once round a ring."""
_HUB = 30.0
"""Drawn breadth of a hub whose hole nobody has stated, mm."""
_APART = 3
"""Columns between the two drawings."""


@dataclass(frozen=True, slots=True)
class Grid:
    """How fine characters draw: dots in a character, and the breadth and height of one, in breadths of a
    character; a character is twice as high as wide."""

    across: int
    down: int
    wide: float
    high: float

    @property
    def braille(self) -> bool:
        """Whether a character holds several dots."""
        return self.across > 1


FINE, COARSE = Grid(2, 4, 0.5, 0.5), Grid(1, 1, 1.0, 2.0)


@dataclass
class Canvas:
    """Dots that are set, by column and row, and the scale of the drawing."""

    grid: Grid
    scale: float
    """Breadths of a character in a mm."""
    dots: set[tuple[int, int]] = field(default_factory=set)

    def line(self, points: Sequence[Point]) -> None:
        """A line through points."""
        step = min(self.grid.wide, self.grid.high) / self.scale / 3
        for (x1, y1), (x2, y2) in pairwise(points):
            count = max(1, math.ceil(math.hypot(x2 - x1, y2 - y1) / step))
            for k in range(count + 1):
                self.dot((x1 + (x2 - x1) * k / count, y1 + (y2 - y1) * k / count))

    def dot(self, at: Point) -> None:
        """One dot."""
        column = math.floor(at[0] * self.scale / self.grid.wide + 0.5)
        row = math.floor(-at[1] * self.scale / self.grid.high + 0.5)
        self.dots.add((column, row))

    def rows(self) -> list[str]:
        """The drawing in characters, all rows equally long."""
        left, top = min(c for c, _ in self.dots), min(r for _, r in self.dots)
        cells: dict[tuple[int, int], int] = {}
        for column, row in self.dots:
            x, in_x = divmod(column - left, self.grid.across)
            y, in_y = divmod(row - top, self.grid.down)
            cells[x, y] = cells.get((x, y), 0) | _BRAILLE[in_y][in_x]
        wide, high = max(x for x, _ in cells) + 1, max(y for _, y in cells) + 1
        return ["".join(self._sign(cells.get((x, y), 0)) for x in range(wide)) for y in range(high)]

    def _sign(self, bits: int) -> str:
        if not bits:
            return " "
        return chr(_FIRST + bits) if self.grid.braille else "#"


def side(shade: Shade) -> list[list[Point]]:
    """Lines of the shade from the side: the wall, its hub at the recess, and a flex or the top of a base."""
    low, high = shade.rim("bottom").width / 2, shade.rim("top").width / 2
    shift = -shade.ring_centre("top")[0]
    height = shade.height
    ends = {"bottom": (0.0, low, 0.0), "top": (shift, high, height)}
    middle, half, level = ends[shade.fitter_end]
    inward = 1 if shade.fitter_end == "bottom" else -1
    hub = level + inward * shade.recess
    radius = min(_hub(shade), half / 2)
    beyond = -0.25 * height if shade.fitter_end == "bottom" else height + 0.25 * height
    return [
        [(-low, 0.0), (low, 0.0), (shift + high, height), (shift - high, height), (-low, 0.0)],
        [(middle - half, level), (middle - radius, hub), (middle + radius, hub), (middle + half, level)],
        [(middle, hub), (middle, beyond)],
        *([[(-0.3 * low, beyond), (0.3 * low, beyond)]] if shade.fitter_end == "bottom" else []),
    ]


def above(shade: Shade) -> list[list[Point]]:
    """Lines of the fitter ring from above, its struts and hub, the seam mark at the lower edge."""
    outline = shade.rim(shade.fitter_end)
    # Stations too, so that a sharp corner is not cut off.
    places = [outline.length * k / _STEPS for k in range(_STEPS)] + [s.s for s in outline.stations()]
    ring = [outline.point(s % outline.length) for s in (*sorted(places), 0.0)]
    radius = min(_hub(shade), outline.depth / 5)
    hub = [(radius * math.cos(math.tau * k / 24), radius * math.sin(math.tau * k / 24)) for k in range(25)]
    struts = []
    for strut in shade.struts:
        x, y = strut.point
        reach = math.hypot(x, y) or 1.0
        struts.append([(x / reach * radius, y / reach * radius), (x, y)])
    _, front = outline.point(0.0)
    seam = [(0.0, front), (0.0, front - 0.1 * outline.depth)]
    return [ring, hub, *struts, seam]


def sketch(shade: Shade, columns: int, rows: int, grid: Grid = FINE, names: Sequence[str] = ()) -> list[str]:
    """Both drawings beside one another, at most so many ``columns`` wide and ``rows`` high, names below."""
    pictures = [side(shade), above(shade)]
    boxes = [_box(lines) for lines in pictures]
    wide = sum(right - left for left, _, right, _ in boxes)
    high = max(top - bottom for _, bottom, _, top in boxes)
    # A drawing has up to two dots more than its length has, and across, where there are two, each may leave a
    # character in part.
    spare = 2 * (grid.across + 1) * grid.wide
    scale = min((columns - _APART - spare) / wide, (2 * rows - 2 * grid.high) / high)
    drawn = []
    for lines in pictures:
        canvas = Canvas(grid, scale)
        for line in lines:
            canvas.line(line)
        drawn.append(canvas.rows())
    height = max(map(len, drawn))
    full = [[*picture, *[" " * len(picture[0])] * (height - len(picture))] for picture in drawn]
    for picture, name in zip(full, names, strict=False):
        picture.append(f"{name:^{len(picture[0])}}")
    return [(" " * _APART).join(row).rstrip() for row in zip(*full, strict=True)]


def _hub(shade: Shade) -> float:
    return (shade.hole or _HUB) / 2


def _box(lines: Iterable[Sequence[Point]]) -> tuple[float, float, float, float]:
    points = [point for line in lines for point in line]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)
