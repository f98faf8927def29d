"""Warnings: known keys that this recipe does not use, and what its writer should know."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Warning_
from generator.base.message import Message, message, together
from generator.base.spans import Span
from generator.base.units import quoted
from generator.recipe.ends import ENDS
from generator.recipe.layers import TOP_ONLY, Layers
from generator.recipe.merge import leaves, without
from generator.recipe.models import TAPER_KEYS, SizeRecipe
from generator.recipe.nodes import Mapping
from generator.recipe.sizes import MergedSize


def unused(
    root: Mapping, sizes: list[MergedSize], recipes: list[SizeRecipe], layers: Layers
) -> Iterator[Warning_]:
    """One warning for each value that no size uses."""
    yield from _unused_of_kits(root, recipes)
    used: set[Span] = set()
    for size, recipe in zip(sizes, recipes, strict=True):
        for key, entry in leaves(size.tree):
            if _reason(key, recipe, layers) is None:
                used.add(entry.node.span)
    for key, span, readers in _stated(root, recipes):
        if span not in used:
            reasons = [_reason(key, recipe, layers) for recipe in readers]
            own = message("every size that can use it says its own")
            reason = own if None in reasons else next((reason for reason in reasons if reason), own)
            yield Warning_(span, message("{key} is not used: {reason}", key=quoted(key), reason=reason))


def _unused_of_kits(root: Mapping, recipes: list[SizeRecipe]) -> Iterator[Warning_]:
    """Limits for a panel that nobody supplies."""
    kits = root.get("kits")
    overlap = kits.node.get("overlap") if kits and isinstance(kits.node, Mapping) else None
    if overlap and not any(recipe.panel.supplied for recipe in recipes):
        told = message("it holds a panel that is supplied, and no size has one")
        yield Warning_(
            overlap.key_span, message("{key} is not used: {reason}", key=quoted("kits.overlap"), reason=told)
        )


def _stated(root: Mapping, recipes: list[SizeRecipe]) -> Iterator[tuple[str, Span, list[SizeRecipe]]]:
    """Every value that the recipe states, its place, and the sizes that might use it."""
    for key, entry in leaves(without(root, TOP_ONLY)):
        yield key, entry.node.span, recipes
    sizes_entry = root.get("sizes")
    assert sizes_entry is not None
    assert isinstance(sizes_entry.node, Mapping)
    by_name = {recipe.name: recipe for recipe in recipes}
    for size in sizes_entry.node:
        assert isinstance(size.node, Mapping)
        for key, inner in leaves(size.node):
            yield key, inner.node.span, [by_name[size.key]]


def _reason(key: str, recipe: SizeRecipe, layers: Layers) -> Message | None:
    """Why a size has no use for a key, or None if it has."""
    reason = _shape_reason(key, recipe, layers)
    if reason:
        return reason
    if key == "seam.hem" and recipe.seam.finish == "raw":
        return message("the seam is raw; write finish: hem if you want a hem")
    if key in ("panel.stock_length", "panel.stock_width") and recipe.panel.supplied:
        return message("the panel comes cut to size")
    if key == "panel.overlap" and recipe.panel.supplied:
        return message("the length of the supplied panel says how far its ends lap")
    if key == "makers.blades" and recipe.makers.ages is None:
        return message("it matters only where the makers' ages are stated, such as ages: [9, 11]")
    return None


def _shape_reason(key: str, recipe: SizeRecipe, layers: Layers) -> Message | None:
    """Why a size's shape has no use for a key, or None if it has."""
    first, _, inner = key.partition(".")
    outline = recipe.outline
    if recipe.ends is None:
        if first in TAPER_KEYS:
            return message("it belongs to a tapered shade, and this one has an outline for both ends")
    elif first in ("outline", *layers.dimensions):
        return message("a tapered shade has an outline and dimensions in top and in bottom")
    elif key == ("slant" if recipe.ends.slant is None else "height"):
        return message("of height and slant only the one that is stated nearer to the size counts")
    elif first in ENDS:
        key, outline = inner, getattr(recipe.ends, first).outline
    own = layers.outlines[outline].all
    if key in layers.dimensions and key not in own:
        return message("the outline {outline} has {own} only", outline=outline, own=together(own))
    return None


def lamp_notes(root: Mapping, recipes: list[SizeRecipe]) -> Iterator[Warning_]:
    """What is not stated about the lamp."""
    lampless = all(recipe.lamp is None for recipe in recipes)
    for recipe in recipes:
        if recipe.lamp is None:
            span = root.span if lampless else recipe.span("")
            yield Warning_(
                span,
                message(
                    "no lamp is stated, so its distance from the covering cannot be checked; write {code}"
                    " with your lamp's own values",
                    code="lamp: {diameter: 60 mm, kind: LED, watts: 6}",
                ),
            )
        elif recipe.lamp.watts is None:
            yield Warning_(
                recipe.span("lamp"),
                message(
                    "the lamp's wattage is not stated; write the one that is marked on it, such as watts: 6"
                ),
            )
