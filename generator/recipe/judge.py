"""Every fault of a recipe's tree at once: what stands in it, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from pydantic import ValidationError

from generator.base.errors import Fault
from generator.base.message import message
from generator.base.spans import Span
from generator.base.units import quoted
from generator.recipe.faults import EXAMPLES, Translator
from generator.recipe.judge_class import class_judged
from generator.recipe.judge_ends import ends_judged
from generator.recipe.judge_kits import kits_judged
from generator.recipe.layers import Layers
from generator.recipe.merge import plain
from generator.recipe.nodes import Document, Entry, Mapping, Scalar, Sequence
from generator.recipe.sizes import MergedSize, missing_at_top, missing_in_sizes, young_blades


def written(root: Mapping, translator: Translator) -> list[Fault]:
    """What is wrong with the keys and values that stand in the file, whether a size uses them or not."""
    faults: list[Fault] = []
    try:
        translator.layers.top.model_validate(plain(root))
    except ValidationError as error:
        faults = translator.faults(error.errors(include_url=False))
    told = {fault.span for fault in faults}
    faults += [fault for fault in _empty(root, translator.layers) if fault.span not in told]
    faults += _twin_sizes(root)
    return faults


def judged(
    root: Mapping, sizes: list[MergedSize], kits: Entry | None, taught: Entry | None, layers: Layers
) -> list[Fault]:
    """All faults of a recipe: written, missing, and a blade in a young learner's hand.

    ``kits`` and ``taught`` (the class) are those sections with what the house says of them.
    """
    translator = Translator(root, layers)
    faults = written(root, translator)
    faults += missing_at_top(root, translator.meant)
    faults += missing_in_sizes(root, sizes, layers, translator)
    faults += ends_judged(root, sizes, layers, translator)
    faults += kits_judged(root, kits, translator)
    faults += class_judged(root, taught, translator)
    faults += [fault for fault in map(young_blades, sizes) if fault]
    return faults


def no_recipe(document: Document) -> Fault:
    """The fault of a file whose root is one text or a list."""
    assert document.root is not None
    one = isinstance(document.root, Scalar)
    return Fault(
        document.root.span,
        message("one text stands here") if one else message("a list stands here"),
        message("keys and values, such as rimfold: 1"),
        message("begin from the starter recipe (rimfold new)"),
    )


def file_name(path: Path, file: str) -> list[Fault]:
    """The fault of a file whose name cannot name the folder of its documents."""
    if not path.is_file() or (path.stem.strip(". ") and path.stem.isprintable()):
        return []
    wrong = message("the file's name cannot name the folder of its documents")
    expected = message("a name of letters, digits or the signs - . _ before the ending .yaml")
    return [Fault(Span(file, 1, 1), wrong, expected, message("rename the file, such as pier-drum.yaml"))]


def _empty(root: Mapping, layers: Layers) -> Iterator[Fault]:
    """Known keys with nothing behind the colon."""
    for entry in root:
        if entry.key == "sizes" and isinstance(entry.node, Mapping):
            for size in entry.node:
                if isinstance(size.node, Mapping):
                    yield from _empty_in_layer(size.node, layers)
                elif _is_empty(size):
                    wrong = message("size {key} is empty", key=quoted(size.key))
                    yield Fault(
                        size.key_span,
                        wrong,
                        message("its keys, such as height: 22 cm"),
                        message("write them, or remove it"),
                    )
    yield from _empty_in_layer(root, layers)


def _empty_in_layer(layer: Mapping, layers: Layers) -> Iterator[Fault]:
    for entry in layer:
        if _is_empty(entry):
            yield _no_value(entry, layers)
        elif entry.key in layers.sections:
            yield from _empty_below(entry, layers)


def _empty_below(entry: Entry, layers: Layers) -> Iterator[Fault]:
    """Keys without a value, and empty places of lists, anywhere in a section."""
    if isinstance(entry.node, Mapping):
        for inner in entry.node:
            if _is_empty(inner):
                yield _no_value(inner, layers)
            else:
                yield from _empty_below(inner, layers)
    elif isinstance(entry.node, Sequence):
        for item in entry.node.items:
            place = Entry(entry.key, item.span, item)
            if _is_empty(place):
                wrong = message("a place in the list {key} is empty", key=quoted(entry.key))
                yield Fault(
                    item.span,
                    wrong,
                    message("a value in each place"),
                    message("write it, or remove the place"),
                )
            else:
                yield from _empty_below(place, layers)


def _is_empty(entry: Entry) -> bool:
    return isinstance(entry.node, Scalar) and entry.node.empty


def _no_value(entry: Entry, layers: Layers) -> Fault:
    shown = quoted(entry.key)
    if entry.key in layers.sections:
        return Fault(
            entry.key_span,
            message("{key} is empty", key=shown),
            message("keys in it, such as {keys}", keys=layers.keys_in(entry.key)),
            message("write them, or remove the key"),
        )
    example = (
        message("write it, such as {text}", text=EXAMPLES[entry.key])
        if entry.key in EXAMPLES
        else message("write it, or remove the key")
    )
    return Fault(
        entry.key_span,
        message("{key} has no value", key=shown),
        message("a value behind the colon"),
        example,
    )


def _twin_sizes(root: Mapping) -> Iterator[Fault]:
    """Two sizes whose folders would be one on many computers."""
    entry = root.get("sizes")
    seen: dict[str, str] = {}
    for size in entry.node if entry and isinstance(entry.node, Mapping) else ():
        folded = size.key.casefold()
        if folded in seen:
            wrong = message(
                "sizes {one} and {other} differ in capitals only",
                one=quoted(seen[folded]),
                other=quoted(size.key),
            )
            yield Fault(
                size.key_span, wrong, message("names that differ in more"), message("rename one of them")
            )
        seen.setdefault(folded, size.key)
