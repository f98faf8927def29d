"""House defaults, recipe and size laid over one another: section by section, key by key; lists replace."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from generator.base.spans import Span
from generator.recipe.nodes import Entry, Hole, Mapping, Node, Scalar, Sequence


def merge(*layers: Mapping) -> Mapping:
    """Mappings laid over one another, the last on top. Each value keeps the place where it was written."""
    merged: dict[str, Entry] = {}
    for layer in layers:
        for entry in layer:
            below = merged.get(entry.key)
            if below and isinstance(below.node, Mapping) and isinstance(entry.node, Mapping):
                merged[entry.key] = Entry(entry.key, entry.key_span, merge(below.node, entry.node))
            else:
                merged[entry.key] = entry
    return Mapping(tuple(merged.values()), layers[-1].span)


def without(mapping: Mapping, keys: Iterable[str]) -> Mapping:
    """The mapping with some keys left out."""
    left_out = frozenset(keys)
    return Mapping(tuple(entry for entry in mapping if entry.key not in left_out), mapping.span)


def plain(node: Node) -> Any:
    """The node as dicts, lists and texts; None where nothing is written. Holes are left out of mappings."""
    if isinstance(node, Mapping):
        return {entry.key: plain(entry.node) for entry in node if not isinstance(entry.node, Hole)}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    if isinstance(node, Scalar):
        return None if node.empty else node.text
    return None


def leaves(mapping: Mapping, prefix: str = "") -> Iterator[tuple[str, Entry]]:
    """Every entry below a mapping that is no section, by dotted key."""
    for entry in mapping:
        if isinstance(entry.node, Mapping):
            yield from leaves(entry.node, f"{prefix}{entry.key}.")
        else:
            yield f"{prefix}{entry.key}", entry


def places(mapping: Mapping, file: str, prefix: str = "") -> dict[str, Span]:
    """Place of each dotted key that stands in ``file``: a section's key, or a value."""
    found: dict[str, Span] = {}
    for entry in mapping:
        key = f"{prefix}{entry.key}"
        if isinstance(entry.node, Mapping):
            if entry.key_span.file == file:
                found[key] = entry.key_span
            found |= places(entry.node, file, f"{key}.")
        elif entry.node.span.file == file:
            found[key] = entry.node.span
    return found
