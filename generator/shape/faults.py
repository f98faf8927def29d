"""What keeps a recipe's dimensions from being a shape at all, told to the person who wrote them."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.base.errors import Fault
from generator.base.message import message
from generator.base.units import round_down
from generator.recipe.models import SizeRecipe
from generator.shape.outline import Outline
from generator.shape.say import dimension, mm, plain

FEWEST_SIDES, MOST_SIDES = 3, 24
"""Beyond 24 sides a ring is a circle to the hand (a threshold of the house)."""

_OTHERS = {"sides", "corner_radius"}
"""Dimensions with rules of their own below."""
_NOISE = 1e-6


def dimension_faults(size: SizeRecipe) -> list[Fault]:
    """Faults of the outlines' own dimensions and of the height; empty if they make a shape."""
    upright = {"height": size.height} if size.ends is None or size.ends.slant is None else {}
    if size.ends is not None and size.ends.slant is not None:
        upright = {"slant": size.ends.slant}
    faults = _no_size(size, upright, "")
    if size.ends is None:
        own = [("", size.dimensions)]
    else:
        own = [("bottom.", size.ends.bottom.dimensions), ("top.", size.ends.top.dimensions)]
    for place, dimensions in own:
        faults.extend(_outline_faults(size, dimensions, place))
    return faults


def _no_size(size: SizeRecipe, dimensions: Mapping[str, float], place: str) -> list[Fault]:
    return [
        Fault(
            size.span(place + key),
            message("a {name} of {value} makes no shade", name=dimension(key), value=mm(value)),
            message("more than 0"),
            message("measure the ring and write what it is"),
        )
        for key, value in dimensions.items()
        if key not in _OTHERS and not value > 0
    ]


def _outline_faults(size: SizeRecipe, dimensions: Mapping[str, float], place: str) -> list[Fault]:
    return _no_size(size, dimensions, place) or [
        *_order_faults(size, dimensions, place),
        *_sides_faults(size, dimensions, place),
        *_radius_faults(size, dimensions, place),
    ]


def front_step(bottom: Outline, top: Outline, shift: float) -> float:
    """How far the top ring's front stands behind the bottom ring's, mm; ``shift`` backwards."""
    return top.point(0.0)[1] + shift - bottom.point(0.0)[1]


def taper_faults(size: SizeRecipe, bottom: Outline, top: Outline) -> list[Fault]:
    """Faults of height or slant: they leave no surface between the rings."""
    assert size.ends is not None
    slant = size.ends.slant
    step = math.hypot(front_step(bottom, top, size.ends.shift[1]), size.ends.shift[0])
    if slant is not None and slant <= step + _NOISE:
        return [
            Fault(
                size.span("slant"),
                message(
                    "a slant of {slant} does not reach from ring to ring: one stands {step} farther in or"
                    " out than the other",
                    slant=mm(slant),
                    step=mm(step),
                ),
                message("more than {step}", step=mm(step)),
                message("measure the slant along the slope, from rim to rim"),
            )
        ]
    return []


def strut_faults(size: SizeRecipe, outline: Outline) -> list[Fault]:
    """Faults of the first strut's place."""
    first = size.ring.first_strut
    if first is None or 0 <= first < outline.length:
        return []
    return [
        Fault(
            size.span("ring.first_strut"),
            message(
                "the first strut is said to stand {first} from the seam, but once round the ring is "
                "only {length}",
                first=mm(first),
                length=mm(outline.length),
            ),
            message("less than {length}, measured along the outside of the wire", length=mm(outline.length)),
            message("measure along the wire from the seam to the nearest strut, or leave the line out"),
        )
    ]


def _order_faults(size: SizeRecipe, dimensions: Mapping[str, float], place: str) -> list[Fault]:
    """Length below width: the front, where the seam stands, is a long side."""
    length, width = dimensions.get("length"), dimensions.get("width")
    if length is None or width is None or length >= width:
        return []
    return [
        Fault(
            size.span(place + "length"),
            message(
                "the length, {length}, is smaller than the width, {width}", length=mm(length), width=mm(width)
            ),
            message("the length to be the larger size of the ring and the width the smaller"),
            message("write {text} and {other}", text=f"length: {mm(width)}", other=f"width: {mm(length)}"),
        )
    ]


def _sides_faults(size: SizeRecipe, dimensions: Mapping[str, float], place: str) -> list[Fault]:
    sides = dimensions.get("sides")
    if sides is None or FEWEST_SIDES <= sides <= MOST_SIDES:
        return []
    fix = message("count the flat sides of the ring")
    if sides > MOST_SIDES:
        fix = message("for a ring with more sides use {text}", text="outline: circle")
    return [
        Fault(
            size.span(place + "sides"),
            message("a ring with {sides} sides cannot be made", sides=plain(sides)),
            message("{fewest} to {most} sides", fewest=FEWEST_SIDES, most=MOST_SIDES),
            fix,
        )
    ]


def _radius_faults(size: SizeRecipe, dimensions: Mapping[str, float], place: str) -> list[Fault]:
    radius = dimensions.get("corner_radius")
    if radius is None:
        return []
    if "across_flats" in dimensions:
        limit, of = dimensions["across_flats"] / 2, message("half the size across flats")
    elif "side" in dimensions:
        limit, of = dimensions["side"] / 2, message("half the side")
    else:
        limit, of = min(dimensions["length"], dimensions["width"]) / 2, message("half the short side")
    if math.isfinite(radius) and -_NOISE <= radius <= limit + _NOISE:
        return []
    wrong = (
        message("a corner radius of {radius} is below 0", radius=mm(radius))
        if radius < 0
        else message(
            "a corner radius of {radius} is more than {of}, {limit}",
            radius=mm(radius),
            of=of,
            limit=mm(limit),
        )
    )
    return [
        Fault(
            size.span(place + "corner_radius"),
            wrong,
            message("0 to {limit}", limit=mm(round_down(limit))),
            message("measure the corner's radius on the outside of the wire"),
        )
    ]
