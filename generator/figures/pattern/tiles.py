"""A drawing cut into tiles of paper that are joined again at their crosses."""

from __future__ import annotations

import math
import string
from dataclasses import dataclass

import shapely
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from generator.base.edition import Paper
from generator.base.errors import FigureError
from generator.base.message import message
from generator.figures.pattern.model import BAND, Drawing, Page, Point, page_of
from generator.shape.enclosing import smallest_rectangle

LEAD = 4.0
"""What a tile shows beyond the joining line of the tile before it; it is cut off, mm."""
TAB = 10.0
"""What a tile shows beyond the joining line of the tile after it; glue goes there, mm."""
EDGE = 2.0
"""Least paper between the drawing and the edge of the tiles, mm."""
LEAST = 1.0
"""A tile with less of the drawing than this is left out, mm²: nothing but its outermost edge."""
SHIFTS = (0.3, -0.3, 0.9, -0.9)
"""Shares of the spare paper by which a drawing may lie off the middle. Never 0: the middle line of the
drawing would then lie on a joining line."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One tile of a grid; rows are counted from above, columns from the left, both from 0."""

    row: int
    column: int
    name: str
    window: tuple[float, float, float, float]
    """Left, bottom, right and top of what it shows, in the drawing's mm."""
    cell: tuple[float, float, float, float]
    """The same without what lies beyond its joining lines."""
    joins: frozenset[str]
    """Sides at which another tile is joined: left, right, above, below."""


@dataclass(frozen=True, slots=True)
class Grid:
    """All tiles of a drawing, as it lies on them."""

    drawing: Drawing
    page: Page
    rows: int
    columns: int
    origin: Point
    """The drawing's place of the lower left joining corner."""
    tiles: tuple[Tile, ...]

    @property
    def cell(self) -> Point:
        """Width and height from one joining line to the next."""
        width, height = self.page.frame
        return width - LEAD - TAB, height - LEAD - TAB


def laid_out(
    drawing: Drawing, paper: Paper, first_row: int = 0, *, turn: bool = True, band: float = BAND
) -> Grid:
    """The drawing on the fewest tiles: paper upright or on its side, the drawing turned or not.

    ``first_row`` is the letter with which its rows begin, counted from 0. Raises FigureError for a drawing
    with more rows than the alphabet has letters.
    """
    turns = [0.0]
    if turn:
        # As it lies if that is no worse, then with the smallest turn, so that TOP stays above.
        lean = (-smallest_rectangle(drawing.loop).angle + math.pi / 4) % (math.pi / 2) - math.pi / 4
        turns += [lean, math.pi / 2, lean + math.pi / 2]
    grids = [
        _grid(turned, area, page, first_row, across, up)
        for turned, area in ((one, Polygon(one.loop).simplify(0.2)) for one in map(drawing.turned, turns))
        for page in (page_of(paper, landscape=lies, band=band) for lies in (True, False))
        for across in SHIFTS
        for up in SHIFTS
    ]
    return min(grids, key=lambda grid: len(grid.tiles))


def _grid(drawing: Drawing, area: BaseGeometry, page: Page, first_row: int, across: float, up: float) -> Grid:
    left, bottom, right, top = drawing.box
    width, height = page.frame
    cell = (width - LEAD - TAB, height - LEAD - TAB)
    count = [
        max(1, math.ceil((size + 2 * EDGE - LEAD - TAB) / step - 1e-9))
        for size, step in zip((right - left, top - bottom), cell, strict=True)
    ]
    columns, rows = count
    if first_row + rows > len(string.ascii_uppercase):
        raise FigureError(
            message("the pattern has more rows of tiles than there are letters"),
            message("choose larger paper"),
        )
    # In the middle of all that the tiles show, from the first lead to the last tab, then aside by a share of
    # what is left.
    spare = [
        max(0.0, number * step + LEAD + TAB - size - 2 * EDGE) / 2
        for number, step, size in zip(count, cell, (right - left, top - bottom), strict=True)
    ]
    x0 = (left + right) / 2 - (columns * cell[0] + TAB - LEAD) / 2 + across * spare[0]
    y0 = (bottom + top) / 2 - (rows * cell[1] + LEAD - TAB) / 2 + up * spare[1]
    cells: dict[tuple[int, int], tuple[float, float, float, float]] = {}
    places = []
    for row in range(rows):
        for column in range(columns):
            a, d = x0 + column * cell[0], y0 + (rows - row) * cell[1]
            cells[row, column] = (a, d - cell[1], a + cell[0], d)
            places.append(
                box(
                    a - (LEAD if column == 0 else 0.0),
                    d - cell[1] - (TAB if row == rows - 1 else 0.0),
                    a + cell[0] + (TAB if column == columns - 1 else 0.0),
                    d + (LEAD if row == 0 else 0.0),
                )
            )
    held = shapely.area(shapely.intersection(places, area)) > LEAST
    found = {spot: cell for (spot, cell), holds in zip(cells.items(), held, strict=True) if holds}
    tiles = []
    for (row, column), (a, b, c, d) in found.items():
        sides = {
            "left": (row, column - 1), "right": (row, column + 1),
            "above": (row - 1, column), "below": (row + 1, column),
        }  # fmt: skip
        tiles.append(
            Tile(
                row,
                column,
                f"{string.ascii_uppercase[first_row + row]}{column + 1}",
                (a - LEAD, b - TAB, c + TAB, d + LEAD),
                (a, b, c, d),
                frozenset(side for side, spot in sides.items() if spot in found),
            )
        )
    return Grid(drawing, page, rows, columns, (x0, y0), tuple(tiles))


def neighbour(grid: Grid, tile: Tile, side: str) -> Tile:
    """The tile at a side. Raises KeyError if none is joined there."""
    step = {"left": (0, -1), "right": (0, 1), "above": (-1, 0), "below": (1, 0)}[side]
    wanted = (tile.row + step[0], tile.column + step[1])
    for other in grid.tiles:
        if (other.row, other.column) == wanted:
            return other
    raise KeyError(side)
