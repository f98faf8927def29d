"""What is wrong with a recipe's kits: keys that are missing, boxes of a size that is not there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.base.errors import Fault, nearest
from generator.base.message import message
from generator.base.units import quoted
from generator.recipe.faults import Translator
from generator.recipe.fields import SIZE_NAME_PATTERN
from generator.recipe.kits import Kits
from generator.recipe.merge import merge
from generator.recipe.nodes import Entry, Mapping


def merged_kits(root: Mapping, house: Mapping) -> Entry | None:
    """The section ``kits`` of a recipe laid over that of the house; None if the recipe has none."""
    own, below = root.get("kits"), house.get("kits")
    if own is None or below is None:
        return own
    if not (isinstance(own.node, Mapping) and isinstance(below.node, Mapping)):
        return own
    return Entry(own.key, own.key_span, merge(below.node, own.node))


def kits_judged(root: Mapping, kits: Entry | None, translator: Translator) -> Iterator[Fault]:
    """Keys that neither recipe nor house states, and sizes that the recipe does not have."""
    if kits is None or not isinstance(kits.node, Mapping):
        return
    for key, info in Kits.model_fields.items():
        dotted = f"kits.{key}"
        if info.is_required() and kits.node.get(key) is None and dotted not in translator.meant:
            wrong = message("{section} has no {key}", section=quoted("kits"), key=key)
            yield Fault(
                kits.key_span, wrong, message("the key {key} in it", key=key), translator.example(dotted)
            )
    sizes, count = root.get("sizes"), kits.node.get("count")
    if not (count and isinstance(count.node, Mapping) and sizes and isinstance(sizes.node, Mapping)):
        return
    known = [size.key for size in sizes.node]
    for entry in count.node:
        if entry.key not in known and re.fullmatch(SIZE_NAME_PATTERN, entry.key):
            close = nearest(entry.key, known)
            fix = (
                message("write {text} if you mean that", text=close)
                if close
                else message("write one of them, or add the size")
            )
            wrong = message(
                "boxes are counted of a size {key}, which this recipe does not have", key=quoted(entry.key)
            )
            yield Fault(
                entry.key_span, wrong, message("one of its sizes: {known}", known=", ".join(known)), fix
            )
