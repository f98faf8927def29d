"""The whole pattern of a shade: tiles, pieces, map, bar, one sheet, and the drawing for a cutter."""

from __future__ import annotations

from generator.base.edition import PAPERS, Paper
from generator.base.words import Words
from generator.figures.pattern.aids import USUAL, small, strips, viewfinder
from generator.figures.pattern.cutter import cutter_svg
from generator.figures.pattern.flat import flat_sheet
from generator.figures.pattern.model import Layer, Leaf, Lettering, Pattern, page_of
from generator.figures.pattern.paint import (
    Say,
    bar_figure,
    map_figure,
    refuse_lost,
    sample_figure,
    tile_figure,
    whole_canvas,
    whole_figure,
)
from generator.figures.pattern.pieces import piece_figures
from generator.figures.pattern.tiles import Grid, laid_out
from generator.measures.full_scale import INCH_BAR_MM
from generator.measures.measure import Measures
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

BORDER = 6.0
"""Paper round the pattern in one sheet, mm."""
SAMPLES: tuple[Layer | None, ...] = ("cut", "kiss-cut", "fold", "mark", None)

MAP_WIDTH, MAP_HEIGHT, EDGES, REST = 178.0, 92.0, 28.0, 205.0
"""The map's room on A4; paper beside the column on A5; paper that the rest of the first page takes, mm."""
MAP_LEAST = 70.0
"""Least height for the map, mm."""


def map_room(paper: Paper) -> tuple[float, float]:
    """Width and height of the place for the map on the first page, mm."""
    height = max(MAP_LEAST, min(MAP_HEIGHT, paper.height - REST))
    return min(MAP_WIDTH, paper.width - EDGES), height


def _leaves(grid: Grid, say: Say, least: float) -> list[Leaf]:
    """All tiles of a drawing. In large print, names of lines that had no room on any tile are made smaller.

    Raises FigureError where a name that is needed has no room.
    """
    relaxed: frozenset[str] = frozenset()
    while True:
        named: set[int] = set()
        lined: set[str] = set()
        leaves = []
        for tile in grid.tiles:
            figure = tile_figure(grid, tile, say, named, lined, least, relaxed)
            leaves.append(Leaf(tile.name, f"pattern.leaf.{grid.drawing.name}", grid.page, figure))
        lost = frozenset(line.noun for line in grid.drawing.lines if line.noun) - lined
        if relaxed or not least or not lost:
            refuse_lost(grid.drawing.spots, named)
            return leaves
        relaxed = lost


def draw_pattern(
    size: SizeRecipe,
    shade: Shade,
    measures: Measures,
    words: Words,
    paper: Paper = PAPERS["A4"],
    *,
    inches: bool = False,
    lettering: Lettering = USUAL,
) -> Pattern:
    """Everything full-scale of one size; ``inches``: with a bar for a rule in inches.

    ``lettering``: how large its words are; all else stays full size, and the drawing for a cutter as it is.

    Raises FigureError where a name has no room.
    """

    def say(key: str, **values: object) -> str:
        return words.say(key, title=size.title, size=size.name, **values)

    sheet = flat_sheet(size, shade, measures)
    least, band = lettering.least, lettering.band
    grids = [laid_out(sheet, paper, band=band)]
    grids.append(laid_out(viewfinder(shade), paper, grids[0].rows, band=band))
    leaves: list[Leaf] = []
    for grid in grids:
        leaves += _leaves(grid, say, least)
    page = page_of(paper, landscape=True, band=band)
    pieces = (*strips(shade, measures, lettering), *small(shade, lettering))
    leaves += [
        Leaf("", "pattern.leaf.pieces", page, figure) for figure in piece_figures(pieces, page, say, least)
    ]
    plain = whole_canvas(sheet, say, BORDER)
    whole = whole_canvas(sheet, say, BORDER, least) if lettering.large else plain
    used = {line.layer for drawing in (sheet, *pieces) for line in drawing.lines}
    return Pattern(
        paper=paper,
        leaves=tuple(leaves),
        map=map_figure(grids, say, *map_room(paper), least),
        bar=bar_figure(say, inches=inches),
        samples=tuple(
            (f"pattern.line.{layer or 'join'}", sample_figure(layer, say))
            for layer in SAMPLES
            if layer is None or layer in used
        ),
        whole=whole_figure(whole, say),
        svg=cutter_svg(sheet, plain, BORDER, say),
        small=frozenset(piece.name for piece in pieces),
        panels=shade.panels,
        band=band,
        inch_bar=INCH_BAR_MM if inches else None,
    )
