"""The blank: the flat sheet with its margins and its seam overlap, and the rectangles that hold it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from generator.base.units import round_nearest, round_up
from generator.measures.measure import Measure
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_area, blank_box, blank_loop
from generator.shape.development import Development
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
class Lie:
    """How a blank lies in its rectangle of cloth. The cloth's threads run along both sides of it."""

    across: float
    """Extent across the way up, mm."""
    up: float
    """Extent along the way up, mm."""
    grain: float
    """Panel coordinate of the straight line of the surface that runs along the threads."""
    upright: bool
    """The way up is that of the middle line, opposite the seam."""


def cloth_lie(size: SizeRecipe, shade: Shade) -> Lie:
    """How the blank of a tapered shade lies in the cloth, its hem with it.

    A print with one direction, or one with a repeat, stands upright at the middle line. Cloth without lies so
    too, unless the smallest rectangle saves ``TURN_SAVES``.
    """
    assert shade.development is not None
    held = size.covering.direction == "one-way" or size.covering.repeat is not None
    return _lie(shade.development, shade.margin, shade.overlap + shade.hem, held)


@lru_cache(maxsize=64)
def _lie(development: Development, margin: float, tab: float, held: bool) -> Lie:
    """``tab`` is what lies beyond the last line of the surface, mm; ``held``: the cloth may not be turned."""
    middle = development.length / 2
    across, up = _extents(development, margin, tab, development.generator(middle).tau)
    upright = Lie(across, up, middle, upright=True)
    if held:
        return upright
    box = blank_box(development, margin, tab)
    if box.length * box.width > (1 - TURN_SAVES) * across * up:
        return upright
    return Lie(box.length, box.width, _along(development, box.angle), upright=False)


def _extents(development: Development, margin: float, tab: float, tau: float) -> tuple[float, float]:
    """Extents of the blank along the direction tau, and across it."""
    c, s = math.cos(tau), math.sin(tau)
    loop = blank_loop(development, margin, tab)
    along = [x * c + y * s for x, y in loop]
    across = [y * c - x * s for x, y in loop]
    return max(along) - min(along), max(across) - min(across)


def _along(development: Development, angle: float) -> float:
    """Panel coordinate of the straight line of the surface that is most nearly parallel to a rectangle's
    sides, the middle one of equals."""

    def lean(x: float) -> float:
        line = development.generator(x)
        (ax, ay), (bx, by) = line.flat_low, line.flat_high
        off = math.atan2(by - ay, bx - ax) - angle
        return abs((off + math.pi / 4) % (math.pi / 2) - math.pi / 4)

    count = 720
    places = [development.length * k / count for k in range(count + 1)]
    return min(places, key=lambda x: (round(lean(x), 4), abs(x - development.length / 2)))


def blank_measures(shade: Shade) -> Iterator[Measure]:
    """Smallest rectangle, area with margins and overlap, area of the finished side."""
    development = shade.development
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
        box = blank_box(development, margin, overlap)
        length, width = box.length, box.width
        area, lateral = blank_area(development, margin, overlap), development.area
        box_formula, box_source = f"smallest rectangle round the flat sheet with {parts}", SMALLEST
        area_formula = f"side {plain(lateral)} with {parts}"
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
        )


def _rims(shade: Shade) -> str:
    return f"{plain(shade.rim_length('bottom'))} and {plain(shade.rim_length('top'))}"
