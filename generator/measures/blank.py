"""The blank: the flat sheet with its margins and its seam overlap, and the rectangles that hold it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from generator.base.units import round_nearest, round_up
from generator.measures.laying import cut_of, laid, rooms
from generator.measures.measure import Measure
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_area
from generator.shape.blank_hull import blank_box, blank_hull
from generator.shape.development import Development
from generator.shape.enclosing import turned_round
from generator.shape.say import plain
from generator.shape.shade import Shade

MENSURATION = "elementary mensuration"
DEVELOPED = "area swept by the straight lines of the surface (own derivation, checked against shapely)"
STRIPS = "Steiner's formula for parallel curves (do Carmo, from memory)"
SMALLEST = (
    "one side of the smallest rectangle lies along the convex hull (Freeman and Shapira 1975, from memory)"
)
TURN_SAVES = 0.05
"""Cloth that may lie any way is turned under the blank only if that saves so much of it (a threshold of the
house): otherwise its threads run up the middle of the shade, and lean alike on both sides of the seam."""


@dataclass(frozen=True, slots=True)
class Box:
    """The rectangle that holds a blank, as the cloth's threads run: mm, and the direction of ``across``."""

    across: float
    """Extent across the way up, mm."""
    up: float
    """Extent along the way up, mm."""
    angle: float
    """Direction of ``across`` on the flat sheet, radians."""
    how: Literal["upright", "smallest", "turned"]
    """Upright: the way up is that of the middle line, opposite the seam; turned: as the cloth has room."""


@dataclass(frozen=True, slots=True)
class Lie:
    """How a blank lies in its rectangle of cloth. The cloth's threads run along both sides of it."""

    box: Box
    grain: float
    """Panel coordinate of the straight line of the surface that runs along the threads."""

    @property
    def across(self) -> float:
        """Extent across the way up, mm."""
        return self.box.across

    @property
    def up(self) -> float:
        """Extent along the way up, mm."""
        return self.box.up

    @property
    def upright(self) -> bool:
        """The way up is that of the middle line, opposite the seam."""
        return self.box.how == "upright"


def held(size: SizeRecipe) -> bool:
    """Whether the cloth may not be turned under its blank: it has one direction; on a taper also a repeat."""
    return size.covering.direction == "one-way" or (size.tapered and size.covering.repeat is not None)


def cloth_lie(size: SizeRecipe, shade: Shade) -> Lie:
    """How the blank of a tapered shade lies in the cloth, and where its threads run up the shade."""
    development = shade.one_panel.development
    assert development is not None
    box = cloth_box(size, shade)
    return Lie(box, _along(development, box))


def cloth_box(size: SizeRecipe, shade: Shade) -> Box:
    """How the blank of a tapered shade lies in the cloth, its hem with it; of several panels each of them.

    A print with one direction, or one with a repeat, stands upright at the middle line. Cloth without lies so
    too, unless the smallest rectangle saves ``TURN_SAVES``. If that does not come out of the cloth the blank
    is turned in any other way that does.
    """
    development = shade.one_panel.development
    assert development is not None
    margin, tab = shade.margin, shade.overlap + shade.hem
    upright = _upright(development, margin, tab)
    if held(size):
        return upright
    smallest = _smallest(development, margin, tab)
    saves = smallest.across * smallest.up <= (1 - TURN_SAVES) * upright.across * upright.up
    first, second = (smallest, upright) if saves else (upright, smallest)
    for box in (first, second):
        if _comes_out(size, shade, box):
            return box
    hull = blank_hull(development, margin, tab)
    for around, up in rooms(size.covering, shade.pieces):
        turned = turned_round(hull, around, up)
        box = Box(turned.along, turned.across, turned.angle, "turned")
        if _comes_out(size, shade, box):
            return box
    return first if size.covering.length is None else cloth_box(endless(size), shade)


def endless(size: SizeRecipe) -> SizeRecipe:
    """The size on cloth that is as long as it needs."""
    return size.model_copy(update={"covering": size.covering.model_copy(update={"length": None})})


def _comes_out(size: SizeRecipe, shade: Shade, box: Box) -> bool:
    return laid(size.covering, cut_of(size.covering, box.across, box.up), shade.pieces) is not None


@lru_cache(maxsize=64)
def _upright(development: Development, margin: float, tab: float) -> Box:
    """``tab`` is what lies beyond the last line of the surface, mm."""
    tau = development.generator(development.length / 2).tau
    return Box(*_extents(development, margin, tab, tau), tau, "upright")


@lru_cache(maxsize=64)
def _smallest(development: Development, margin: float, tab: float) -> Box:
    box = blank_box(development, margin, tab)
    return Box(box.length, box.width, box.angle, "smallest")


def _extents(development: Development, margin: float, tab: float, tau: float) -> tuple[float, float]:
    """Extents of the blank along the direction tau, and across it."""
    c, s = math.cos(tau), math.sin(tau)
    loop = blank_hull(development, margin, tab)
    along = [x * c + y * s for x, y in loop]
    across = [y * c - x * s for x, y in loop]
    return max(along) - min(along), max(across) - min(across)


@lru_cache(maxsize=64)
def _along(development: Development, box: Box) -> float:
    """Panel coordinate of the straight line of the surface that is most nearly parallel to a rectangle's
    sides, the middle one of equals; that of an upright rectangle is the middle itself."""
    if box.how == "upright":
        return development.length / 2

    def lean(x: float) -> float:
        line = development.generator(x)
        (ax, ay), (bx, by) = line.flat_low, line.flat_high
        off = math.atan2(by - ay, bx - ax) - box.angle
        return abs((off + math.pi / 4) % (math.pi / 2) - math.pi / 4)

    count = 720
    places = [development.length * k / count for k in range(count + 1)]
    return min(places, key=lambda x: (round(lean(x), 4), abs(x - development.length / 2)))


def blank_measures(shade: Shade) -> Iterator[Measure]:
    """Smallest rectangle, area with margins and overlap, both of each panel; area of the finished side."""
    development, panel = shade.development, shade.one_panel.development
    margin, overlap = shade.margin, shade.overlap
    parts = f"margins {plain(margin)} and overlap {plain(overlap)}" if margin else f"overlap {plain(overlap)}"
    # Without kiss cuts the margins are cloth alone, and belong to what is cut out of the cloth.
    whole = " with its margins" if margin else ""
    if development is None:
        length, width = shade.panel_length, shade.height + 2 * margin
        area, lateral = length * width, shade.wrapped_length * shade.height
        box_formula, box_source = f"the flat sheet with {parts}: a rectangle", MENSURATION
        area_formula = f"{plain(length)} × {plain(width)}"
        area_source = lateral_source = MENSURATION
        lateral_formula = f"once round {plain(shade.wrapped_length)} × height {plain(shade.height)}"
    else:
        assert panel is not None
        box = blank_box(panel, margin, overlap)
        length, width = box.length, box.width
        area, lateral = blank_area(panel, margin, overlap), development.area
        box_formula, box_source = f"smallest rectangle round the flat sheet with {parts}", SMALLEST
        share = f" / {shade.panels} panels" if shade.panels > 1 else ""
        area_formula = f"side {plain(lateral)}{share} with {parts}"
        area_source, lateral_source = STRIPS, DEVELOPED
        lateral_formula = f"middle of the sheet between rims of {_rims(shade)}"
    for id_, label, value, formula, source, shown in (
        (
            "blank_length",
            f"Smallest rectangle round the panel{whole}, length",
            length,
            box_formula,
            box_source,
            round_up(length),
        ),
        (
            "blank_width",
            f"Smallest rectangle round the panel{whole}, width",
            width,
            box_formula,
            box_source,
            round_up(width),
        ),
        (
            "blank_area",
            f"Area of the panel{whole}",
            area,
            area_formula,
            area_source,
            round_nearest(area),
        ),
        (
            "lateral_area",
            "Area of the finished side",
            lateral,
            lateral_formula,
            lateral_source,
            round_nearest(lateral),
        ),
    ):
        yield Measure(
            id=id_,
            label=label,
            exact=value,
            shown=shown,
            unit="mm" if id_ in ("blank_length", "blank_width") else "mm²",
            formula=formula,
            source=source,
            inputs=("wrapped_length", "overlap", *(("margin",) if margin else ())),
            rounding="up" if id_ in ("blank_length", "blank_width") else "nearest",
        )


def _rims(shade: Shade) -> str:
    return f"{plain(shade.rim_length('bottom'))} and {plain(shade.rim_length('top'))}"
