"""What is put right or taken out of a recipe's tree before the models judge it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from generator.base.errors import Fault
from generator.base.message import Message, message
from generator.base.units import LengthError, parse_length, quoted
from generator.recipe.models import SECTIONS, TAPER_KEYS
from generator.recipe.nodes import Entry, Hole, Mapping, Node, Scalar

_CUT_NUMBER = re.compile(r"-?[0-9]+")
_CUT_REST = re.compile(r"[0-9]+\s*[a-z\"″]*")


@dataclass
class Prepared:
    """The tree that is left to judge, and what is known by then."""

    root: Mapping
    faults: list[Fault] = field(default_factory=list)


def prepare(root: Mapping) -> Prepared:
    """Take out values that a decimal comma has cut in two."""
    prepared = Prepared(root)
    prepared.root = _top(root, prepared)
    return prepared


def _top(root: Mapping, prepared: Prepared) -> Mapping:
    entries = []
    for entry in _joined(root, prepared):
        if entry.key == "sizes" and isinstance(entry.node, Mapping):
            sizes = tuple(_with(size, _size(size.node, prepared)) for size in entry.node)
            entries.append(_with(entry, Mapping(sizes, entry.node.span)))
        else:
            entries.append(_with(entry, _section(entry, prepared)))
    return Mapping(tuple(entries), root.span)


def _size(node: Node, prepared: Prepared) -> Node:
    if not isinstance(node, Mapping):
        return node
    entries = tuple(_with(entry, _section(entry, prepared)) for entry in _joined(node, prepared))
    return Mapping(entries, node.span)


def _section(entry: Entry, prepared: Prepared) -> Node:
    if entry.key not in (*SECTIONS, *TAPER_KEYS, "kits", "class") or not isinstance(entry.node, Mapping):
        return entry.node
    entries = []
    for inner in _joined(entry.node, prepared, signed=entry.key == "shift"):
        if isinstance(inner.node, Mapping):
            node = Mapping(tuple(_joined(inner.node, prepared)), inner.node.span)
            entries.append(_with(inner, node))
        else:
            entries.append(inner)
    return Mapping(tuple(entries), entry.node.span)


def _with(entry: Entry, node: Node) -> Entry:
    return Entry(entry.key, entry.key_span, node)


def _point(written: str, *, signed: bool) -> Message:
    minus = signed and written.startswith("-")
    try:
        parse_length(written.removeprefix("-") if minus else written)
    except LengthError as error:
        return message("keep the minus sign, and {fix}", fix=error.fix) if minus else error.fix
    return message("write {text}", text=written.replace(",", "."))


def _joined(mapping: Mapping, prepared: Prepared, *, signed: bool = False) -> list[Entry]:
    """The entries of a mapping. A value in brackets that YAML cuts at its comma, ``35,5 cm``, is told.

    ``signed``: its values may be below zero.
    """
    entries: list[Entry] = []
    for entry in mapping:
        before = entries[-1] if entries else None
        cut = (
            before is not None
            and isinstance(before.node, Scalar)
            and isinstance(entry.node, Scalar)
            and entry.node.empty
            and _CUT_REST.fullmatch(entry.key)
            and _CUT_NUMBER.fullmatch(before.node.text)
            and before.node.span.line == entry.key_span.line
        )
        if before is not None and isinstance(before.node, Scalar) and cut:
            written = f"{before.node.text},{entry.key}"
            prepared.faults.append(
                Fault(
                    before.node.span,
                    message("a comma cuts {written} in two", written=quoted(written)),
                    message("a point in a number with decimals"),
                    _point(written, signed=signed),
                )
            )
            entries[-1] = _with(before, Hole(before.node.span))
        else:
            entries.append(entry)
    return entries
