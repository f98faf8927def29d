"""The tiles of a pattern looked at as pictures: once joined, their cut lines leave no gap."""

from __future__ import annotations

import pytest
from PIL import Image, ImageDraw
from shapely import Point as Dot
from shapely import Polygon, unary_union

from tests.press.assembled import assembled, spot
from tests.press.drawn import Point
from tests.press.test_full_scale import SAMPLES, joined

INK, POURED = 140, 77
"""Darker than this is a line; and the grey that is poured in from outside."""


def inside(name: str) -> Point:
    """A place well inside the panel, clear of every cut line."""
    lines = unary_union([line.buffer(0.3) for line in joined(name).cuts.values()])
    rings = [Polygon(ring) for part in getattr(lines, "geoms", [lines]) for ring in part.interiors]
    panel = max(rings, key=lambda ring: ring.area)
    middle = panel.representative_point()
    assert panel.exterior.distance(middle) > 20
    return middle.x, middle.y


def leaks(picture: Image.Image, place: tuple[int, int]) -> bool:
    """Whether what is poured in at a corner of the picture reaches a place in it."""
    lines = picture.point(lambda value: 0 if value < INK else 255)
    ImageDraw.floodfill(lines, (0, 0), POURED)
    around = [lines.getpixel((place[0] + dx, place[1] + dy)) for dx in range(-9, 10) for dy in range(-9, 10)]
    return POURED in around


@pytest.mark.parametrize("name", SAMPLES)
def test_the_joined_outline_is_closed_to_the_eye(name: str) -> None:
    assert not leaks(assembled(name), spot(name, inside(name)))


def test_a_tile_that_is_glued_four_millimetres_off_leaves_a_gap() -> None:
    name = "fog-cone"
    panel = inside(name)
    tile = next(tile for tile, cell in joined(name).cells.items() if not cell.contains(Dot(panel)))
    assert leaks(assembled(name, tile, (-4.0, -4.0)), spot(name, panel))
