"""The part of the JSON Schema that speaks of tapered sizes: what contradicts what, and what an end needs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.recipe.ends import ENDS
from generator.recipe.layers import Layers

Schema = dict[str, Any]


def stated(*keys: str) -> Schema:
    """A layer in which a key stands, or a key in a section: ``stated("top", "diameter")``."""
    first, *rest = keys
    return {"required": [first], **({"properties": {first: stated(*rest)}} if rest else {})}


def any_of(*schemas: Schema) -> Schema:
    """One of several."""
    return {"anyOf": list(schemas)}


def each_size(schema: Schema) -> Schema:
    """The top of a file whose sizes are all such."""
    return {"properties": {"sizes": {"additionalProperties": schema}}}


TAPERED: Schema = any_of(*(stated(end) for end in ENDS))
"""A layer with an end in it."""


def own_keys(layers: Layers) -> Iterator[Schema]:
    """An end holds no dimension of another outline than the one that it names."""
    for name, keys in sorted(layers.outlines.items()):
        yield {"if": _chosen(name), "then": {"propertyNames": {"enum": ["outline", *keys.all]}}}


def needs(layers: Layers) -> Iterator[Schema]:
    """What the ends of a file and of its sizes must and must not have, if it is to be read."""
    straight = any_of(stated("outline"), *(stated(key) for key in sorted(layers.dimensions)))
    height, slant, outline = stated("height"), stated("slant"), stated("outline")
    no_ends = {"not": TAPERED}
    # Where one layer says both, a size must say which.
    yield each_size({"not": {"allOf": [TAPERED, straight]}})
    yield {"if": {"allOf": [TAPERED, straight]}, "then": each_size(any_of(outline, TAPERED))}
    yield {"if": TAPERED, "then": each_size({"if": straight, "then": outline})}
    yield each_size({"not": {"allOf": [height, slant]}})
    tapered_here = {"if": TAPERED, "then": any_of(height, slant)}
    yield {"if": {"allOf": [height, slant]}, "then": each_size(tapered_here)}
    both_everywhere = {"allOf": [height, slant, TAPERED]}
    yield {"if": both_everywhere, "then": each_size(any_of(outline, height, slant))}
    # A straight size has a height; a slant or a shift belongs to ends.
    low = {"not": height}
    yield {"if": low, "then": each_size({"if": outline, "then": height})}
    yield {"if": {"allOf": [low, no_ends]}, "then": each_size(any_of(TAPERED, height))}
    for key in ("slant", "shift"):
        yield each_size({"not": {"allOf": [outline, stated(key)]}})
        yield {"if": no_ends, "then": each_size({"if": stated(key), "then": TAPERED})}
        yield {
            "if": {"allOf": [stated(key), no_ends]},
            "then": {"not": each_size({"not": TAPERED})},
        }
    for end, other in (ENDS, ENDS[::-1]):
        absent = {"not": stated(other)}
        yield {"if": absent, "then": each_size({"if": stated(end), "then": stated(other)})}
        yield {"if": {"allOf": [stated(end), absent]}, "then": each_size(any_of(stated(other), outline))}
        yield from _of_end(end, layers)


def _of_end(end: str, layers: Layers) -> Iterator[Schema]:
    """An end is whole at the top of the file, or in each size that does not give an outline instead.

    Where both say something of it, what one lacks the other may have: that is left to the reader.
    """
    complete = {"properties": {end: any_of(*_whole(layers))}}
    yield {"if": {"not": stated(end)}, "then": each_size(complete)}
    yield {"if": {"not": complete}, "then": each_size(any_of(stated("outline"), stated(end)))}


def _whole(layers: Layers) -> Iterator[Schema]:
    """An end with an outline and all that this outline needs, outline by outline."""
    for name, keys in sorted(layers.outlines.items()):
        needed = ["outline", *keys.counts, *keys.lengths]
        yield {"required": needed, "properties": {"outline": {"const": name}}}


def _chosen(name: str) -> Schema:
    return {**stated("outline"), "properties": {"outline": {"const": name}}}
