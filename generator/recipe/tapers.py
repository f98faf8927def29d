"""Tapered sizes: what a size says of its shape takes the place of what lies below; its ends, typed."""

from __future__ import annotations

from collections.abc import Mapping as PlainMapping
from typing import Any

from generator.base.outline_keys import OutlineKeys
from generator.recipe.ends import ENDS, End, Ends
from generator.recipe.layers import Layers
from generator.recipe.merge import merge, without
from generator.recipe.models import TAPER_KEYS
from generator.recipe.nodes import Entry, Mapping, Scalar


def laid_over(below: Mapping, layer: Mapping, layers: Layers) -> Mapping:
    """A layer over what lies below it.

    Ends take the place of one outline with its dimensions, and an outline that of ends; a slant takes the
    place of a height, and a height that of a slant. Where one layer says both, both stay: that is a fault.
    """
    replaced: set[str] = set()
    if is_tapered(layer):
        replaced |= {"outline", *layers.dimensions}
    elif layer.get("outline"):
        replaced |= set(TAPER_KEYS)
    said = [key for key in ("height", "slant") if layer.get(key)]
    if len(said) == 1:
        replaced |= {"height", "slant"} - set(said)
    left = without(below, replaced)
    return merge(Mapping(tuple(_without_others(entry, layer, layers) for entry in left), left.span), layer)


def is_tapered(tree: Mapping) -> bool:
    """Whether a layer, or a merged size, gives an end."""
    return any(tree.get(end) for end in ENDS)


def outline_named(tree: Mapping, layers: Layers) -> str | None:
    """Name of the outline that a size or an end gives, if it is a known one."""
    entry = tree.get("outline")
    name = entry.node.text if entry and isinstance(entry.node, Scalar) else None
    return name if name in layers.outlines else None


def has_corners(keys: OutlineKeys) -> bool:
    """Whether an outline is one with corners, as its keys tell."""
    return "corner_radius" in keys.all or "sides" in keys.all


def dimensions_of(values: Any, keys: OutlineKeys) -> dict[str, float]:
    """An outline's dimensions out of a model that holds them; those left out are 0."""
    found = {key: getattr(values, key) for key in keys.all}
    return {key: 0.0 if value is None else value for key, value in found.items()}


def ends_of(values: Any, outlines: PlainMapping[str, OutlineKeys]) -> Ends | None:
    """The ends of a size's values, None if it is straight. The values must be free of faults."""
    if values.top is None or values.bottom is None:
        return None
    bottom, top = (
        End(end.outline, dimensions_of(end, outlines[end.outline])) for end in (values.bottom, values.top)
    )
    shift = values.shift
    return Ends(bottom, top, values.slant, (shift.x, shift.y) if shift else (0.0, 0.0))


def leading_end(ends: Ends, outlines: PlainMapping[str, OutlineKeys]) -> tuple[str, End]:
    """The end that stands for a tapered shade where one outline is asked for: the one with corners, bottom
    first, else the bottom."""
    named = [("bottom", ends.bottom), ("top", ends.top)]
    return next((pair for pair in named if has_corners(outlines[pair[1].outline])), named[0])


def _without_others(entry: Entry, layer: Mapping, layers: Layers) -> Entry:
    """An end from below without the dimensions that the outline which the layer gives it does not have."""
    above = layer.get(entry.key)
    if entry.key not in ENDS or above is None:
        return entry
    if not isinstance(above.node, Mapping) or not isinstance(entry.node, Mapping):
        return entry
    name = outline_named(above.node, layers)
    if name is None:
        return entry
    others = layers.dimensions - set(layers.outlines[name].all)
    return Entry(entry.key, entry.key_span, without(entry.node, others))
