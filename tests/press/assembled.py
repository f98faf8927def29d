"""The tiles of a pattern as one picture, crosses laid on crosses, for eyes and for tests.

python -m tests.press.assembled NAME FILE.png
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from functools import cache

import pypdfium2
from PIL import Image, ImageChops

from tests.press.drawn import Point
from tests.press.test_full_scale import joined, printed

DPI = 80
PX = DPI / 25.4
"""Dots to a millimetre."""
LAP = 1.0
"""So much of a tile is shown beyond its joining lines, mm."""
LEAST = 14.0
"""Room round all tiles, mm."""


@cache
def painted(name: str) -> dict[str, Image.Image]:
    """Each tile's page, grey."""
    document = pypdfium2.PdfDocument(printed(name))
    names = joined(name).names
    return {
        tile: document[index].render(scale=DPI / 72).to_pil().convert("L")
        for index, tile in enumerate(names, 1)
    }


def spot(name: str, at: Point) -> tuple[int, int]:
    """Where a place of the joined tiles, mm, is in their picture."""
    left = min(cell.bounds[0] for cell in joined(name).cells.values()) - LEAST
    top = min(cell.bounds[1] for cell in joined(name).cells.values()) - LEAST
    return round((at[0] - left) * PX), round((at[1] - top) * PX)


def assembled(name: str, moved: str | None = None, by: Point = (0.0, 0.0)) -> Image.Image:
    """All tiles, each as far as its joining lines; one may be ``moved`` by some mm, as by a careless hand."""
    laid = joined(name)
    right = max(cell.bounds[2] for cell in laid.cells.values()) + LEAST
    foot = max(cell.bounds[3] for cell in laid.cells.values()) + LEAST
    picture = Image.new("L", spot(name, (right, foot)), 255)
    for tile, page in painted(name).items():
        shift, cell = laid.shifts[tile], laid.cells[tile].bounds
        # Where there is no neighbour the drawing may run on, as far as the paper does.
        tabs = [
            LAP if _has_neighbour(laid.cells, tile, way) else LEAST - 4.0
            for way in ((-1, 0), (0, -1), (1, 0), (0, 1))
        ]
        shown = (cell[0] - tabs[0], cell[1] - tabs[1], cell[2] + tabs[2], cell[3] + tabs[3])
        crop = page.crop(
            tuple(round((side - shift[k % 2]) * PX) for k, side in enumerate(shown))  # type: ignore[arg-type]
        )
        off = by if tile == moved else (0.0, 0.0)
        at = spot(name, (shown[0] + off[0], shown[1] + off[1]))
        under = picture.crop((*at, at[0] + crop.width, at[1] + crop.height))
        picture.paste(ImageChops.darker(under, crop), at)
    return picture


def _has_neighbour(cells: Mapping[str, object], tile: str, way: tuple[int, int]) -> bool:
    row, column = tile[0], int(tile[1:])
    return f"{chr(ord(row) + way[1])}{column + way[0]}" in cells


if __name__ == "__main__":
    assembled(sys.argv[1]).save(sys.argv[2])
