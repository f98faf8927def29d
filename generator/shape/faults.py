"""What keeps a recipe's dimensions from being a shape at all, told to the person who wrote them."""

from __future__ import annotations

import math

from generator.base.errors import Fault
from generator.base.units import round_down
from generator.recipe.models import SizeRecipe
from generator.shape.outline import Outline
from generator.shape.say import mm, plain

FEWEST_SIDES, MOST_SIDES = 3, 24
"""Beyond 24 sides a ring is a circle to the hand (a threshold of the house)."""

_OTHERS = {"sides", "corner_radius"}
"""Dimensions with rules of their own below."""
_NOISE = 1e-6


def dimension_faults(size: SizeRecipe) -> list[Fault]:
    """Faults of the outline's own dimensions and of the height; empty if they make a shape."""
    faults = [
        Fault(
            size.span(key),
            f"a {key.replace('_', ' ')} of {mm(value)} makes no shade",
            "more than 0",
            "measure the ring and write what it is",
        )
        for key, value in (*size.dimensions.items(), ("height", size.height))
        if key not in _OTHERS and not value > 0
    ]
    return faults or [*_order_faults(size), *_sides_faults(size), *_radius_faults(size)]


def strut_faults(size: SizeRecipe, outline: Outline) -> list[Fault]:
    """Faults of the first strut's place."""
    first = size.ring.first_strut
    if first is None or 0 <= first < outline.length:
        return []
    return [
        Fault(
            size.span("ring.first_strut"),
            f"the first strut is said to stand {mm(first)} from the seam, but once round the ring is only "
            f"{mm(outline.length)}",
            f"less than {mm(outline.length)}, measured along the outside of the wire",
            "measure along the wire from the seam to the nearest strut, or leave the line out",
        )
    ]


def _order_faults(size: SizeRecipe) -> list[Fault]:
    """Length below width: the front, where the seam stands, is a long side."""
    length, width = size.dimensions.get("length"), size.dimensions.get("width")
    if length is None or width is None or length >= width:
        return []
    return [
        Fault(
            size.span("length"),
            f"the length, {mm(length)}, is smaller than the width, {mm(width)}",
            "the length to be the larger size of the ring and the width the smaller",
            f"write length: {mm(width)} and width: {mm(length)}",
        )
    ]


def _sides_faults(size: SizeRecipe) -> list[Fault]:
    sides = size.dimensions.get("sides")
    if sides is None or FEWEST_SIDES <= sides <= MOST_SIDES:
        return []
    fix = "count the flat sides of the ring"
    if sides > MOST_SIDES:
        fix = "for a ring with more sides use outline: circle"
    return [
        Fault(
            size.span("sides"),
            f"a ring with {plain(sides)} sides cannot be made",
            f"{FEWEST_SIDES} to {MOST_SIDES} sides",
            fix,
        )
    ]


def _radius_faults(size: SizeRecipe) -> list[Fault]:
    radius = size.dimensions.get("corner_radius")
    if radius is None:
        return []
    if "across_flats" in size.dimensions:
        limit, of = size.dimensions["across_flats"] / 2, "half the size across flats"
    elif "side" in size.dimensions:
        limit, of = size.dimensions["side"] / 2, "half the side"
    else:
        limit, of = min(size.dimensions["length"], size.dimensions["width"]) / 2, "half the short side"
    if math.isfinite(radius) and -_NOISE <= radius <= limit + _NOISE:
        return []
    wrong = (
        f"a corner radius of {mm(radius)} is below 0"
        if radius < 0
        else f"a corner radius of {mm(radius)} is more than {of}, {mm(limit)}"
    )
    return [
        Fault(
            size.span("corner_radius"),
            wrong,
            f"0 to {mm(round_down(limit))}",
            "measure the corner's radius on the outside of the wire",
        )
    ]
