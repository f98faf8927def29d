"""A tree of located nodes, walked in reading order: every value, and every key, with its place."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.spans import Span
from generator.recipe.nodes import Mapping, Node, Scalar, Sequence

Place = tuple[str, ...]
"""Keys from the top of a recipe inwards; a place in a list is its number."""


def walk(node: Node | None, inside: Place = ()) -> Iterator[tuple[Place, Node]]:
    """Every value, the whole before its parts."""
    if node is None:
        return
    yield inside, node
    for key, _, inner in _parts(node):
        yield from walk(inner, (*inside, key))


def plain_values(node: Node | None) -> Iterator[tuple[Place, str]]:
    """Every value that is no section and no list, as it is written."""
    return ((place, inner.text) for place, inner in walk(node) if isinstance(inner, Scalar))


def spans(node: Node | None) -> Iterator[tuple[Place, Span]]:
    """Where every value begins, then where every key does; the whole has no place of its own."""
    found = [(place, inner) for place, inner in walk(node) if isinstance(inner, (Mapping, Sequence))]
    yield from ((place, inner.span) for place, inner in walk(node) if place)
    for place, inner in found:
        yield from (((*place, key), span) for key, span, _ in _parts(inner) if span is not None)


def _parts(node: Node) -> Iterator[tuple[str, Span | None, Node]]:
    """What a section or a list holds: by what it is called, where its key stands, and itself."""
    if isinstance(node, Mapping):
        yield from ((entry.key, entry.key_span, entry.node) for entry in node)
    elif isinstance(node, Sequence):
        yield from ((str(at), None, item) for at, item in enumerate(node.items))
