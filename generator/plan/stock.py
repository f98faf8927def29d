"""In which forms a workshop buys what it cuts: rolls, single sheets, reels of tape."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from generator.base.message import message
from generator.plan.fields import Faults, Fields
from generator.recipe import nodes
from generator.recipe.lengths import length
from generator.recipe.values import ValueFault

_LENGTH = length(most=200_000.0)
"""Nothing that is bought is longer than 200 m."""


@dataclass(frozen=True, slots=True)
class Roll:
    """A sheet material off a roll, mm."""

    length: float
    width: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet material in single sheets, mm."""

    length: float
    width: float


@dataclass(frozen=True, slots=True)
class Reel:
    """Tape on a reel, mm."""

    length: float
    """Of the tape on a full reel."""
    core: float
    """Diameter of the core."""
    outer: float
    """Diameter over the tape of a full reel."""


Form = Roll | Sheet | Reel

_FORMS: Mapping[str, tuple[tuple[str, ...], Callable[..., Form]]] = {
    "roll": (("length", "width"), Roll),
    "sheet": (("length", "width"), Sheet),
    "reel": (("length", "core", "outer"), Reel),
}


def stock_forms(node: nodes.Node | None, parts: Collection[str], faults: Faults) -> dict[str, Form]:
    """The forms that a list of parts states, by part; what is wrong goes to ``faults``."""
    if node is None or isinstance(node, nodes.Hole):
        return {}
    if not isinstance(node, nodes.Mapping):
        faults.add(
            node.span,
            message("stock is not a section"),
            message("parts by name"),
            message("write such as {text}", text="panel: {roll: …}"),
        )
        return {}
    found: dict[str, Form] = {}
    for entry in node:
        if entry.key not in parts:
            faults.unknown(entry.key_span, message("part"), entry.key, parts)
            continue
        fields = Fields(entry.node, message("stock of {key}", key=entry.key), faults)
        for key in _FORMS:
            form = form_of(fields, key, faults)
            if form is not None and entry.key in found:
                wrong = message("{name} is bought in two forms", name=entry.key)
                faults.add(
                    entry.key_span, wrong, message("one form"), message("keep the one that you cut from")
                )
            elif form is not None:
                found[entry.key] = form
        fields.finish()
        _judge(found.get(entry.key), entry, faults)
    return found


def form_of(fields: Fields, key: str, faults: Faults) -> Form | None:
    """A roll, a sheet or a reel, if the fields have that key; what is wrong goes to ``faults``."""
    node = fields.node(key)
    if node is None:
        return None
    keys, make = _FORMS[key]
    inner = Fields(node, message("{key} of {what}", key=key, what=fields.what), faults)
    given = {}
    for each in keys:
        text = inner.text(each)
        if text is None:
            if isinstance(node, nodes.Mapping) and each not in inner.entries:
                inner.missing(each)
            continue
        try:
            given[each] = _LENGTH(text)
        except ValueFault as fault:
            faults.add(inner.entries[each].node.span, fault.wrong, fault.expected, fault.fix)
    inner.finish()
    return make(**given) if len(given) == len(keys) else None


def _judge(form: Form | None, entry: nodes.Entry, faults: Faults) -> None:
    if isinstance(form, Reel) and form.core >= form.outer:
        wrong = message("a full reel of {key} is no wider than its core", key=entry.key)
        expected = message("a diameter over the tape that is more than the core's")
        faults.add(entry.key_span, wrong, expected, message("measure both again"))
