"""A size in other proportions of its own: its rings and its height larger or smaller, the rest as it is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from generator.base.units import round_down, round_nearest
from generator.recipe.ends import End, Ends
from generator.recipe.models import SizeRecipe
from generator.shape.build import outline_keys
from generator.shape.supplied import margin_of

NOISE = 1e-6


def leading_size(size: SizeRecipe) -> float:
    """The dimension by which a size is told, mm: the first of its outline's, of a taper the larger ring's."""
    if size.ends is None:
        return size.dimensions[_leading(size.outline)]
    return max(end.dimensions[_leading(end.outline)] for end in _both(size.ends))


def scaled(
    size: SizeRecipe, factor: float, *, whole: bool = True, height: bool = True, first_strut: bool = True
) -> SizeRecipe:
    """Rings and shift in the same proportion, and with ``height`` the height or the slant, too.

    ``whole``: in whole mm, downwards. Without ``first_strut`` the struts are left free, since they play no
    part in the blank.
    """

    def length(value: float) -> float:
        return round_down(value * factor + NOISE) if whole else value * factor

    def ring(outline: str, dimensions: Mapping[str, float]) -> dict[str, float]:
        counts = outline_keys()[outline].counts
        return {key: value if key in counts else length(value) for key, value in dimensions.items()}

    def upright(value: float) -> float:
        return length(value) if height else value

    changed: dict[str, Any] = {
        "dimensions": ring(size.outline, size.dimensions),
        "height": upright(size.height),
    }
    if size.ends is not None:
        bottom, top = (End(end.outline, ring(end.outline, end.dimensions)) for end in _both(size.ends))
        slant = None if size.ends.slant is None else upright(size.ends.slant)
        x, y = (math.copysign(length(abs(way)), way) for way in size.ends.shift)
        changed["ends"] = Ends(bottom, top, slant, (x, y))
    first = size.ring.first_strut if first_strut else None
    if first is not None:
        first = round_nearest(first * factor) if whole else first * factor
    changed["ring"] = size.ring.model_copy(update={"first_strut": first})
    return size.model_copy(update=changed)


def cut_anew(size: SizeRecipe) -> SizeRecipe:
    """The size with a panel that is cut for it, where it has one that comes cut and fits no other size."""
    if size.panel.supplied is None:
        return size
    panel = size.panel.model_copy(update={"supplied": None, "margin": margin_of(size)})
    return size.model_copy(update={"panel": panel})


def lengths_of(size: SizeRecipe) -> tuple[float, ...]:
    """Every length that a scale changes and that may not be too small for a shade, mm."""
    rings = [(size.outline, size.dimensions)]
    if size.ends is not None:
        rings = [(end.outline, end.dimensions) for end in _both(size.ends)]
    found = [dimensions[key] for name, dimensions in rings for key in outline_keys()[name].lengths]
    slant = size.ends.slant if size.ends is not None else None
    return (*found, size.height if slant is None else slant)


def _both(ends: Ends) -> tuple[End, End]:
    return ends.bottom, ends.top


def _leading(outline: str) -> str:
    return outline_keys()[outline].lengths[0]
