"""What is wrong with the ends of tapered sizes: contradictions, gaps, keys of another outline."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault
from generator.base.message import Message, joined, message, together
from generator.base.units import quoted
from generator.recipe.ends import ENDS
from generator.recipe.faults import EXAMPLES, Translator
from generator.recipe.layers import Layers
from generator.recipe.nodes import Entry, Mapping
from generator.recipe.sizes import MergedSize, without_ends
from generator.recipe.tapers import outline_named


def ends_judged(
    root: Mapping, sizes: list[MergedSize], layers: Layers, translator: Translator
) -> Iterator[Fault]:
    """All faults of the ends of all sizes, and of the keys that only a tapered size has."""
    for size in sizes:
        if size.tapered:
            yield from _of_tapered(size, layers, translator)
    if {*ENDS} & translator.meant:
        return
    if without_ends(root, sizes):
        yield from _of_straight(root)
    for size in sizes:
        if not size.tapered:
            yield from _of_straight(size.own)


def _of_straight(layer: Mapping) -> Iterator[Fault]:
    """A slant or a shift where there are no ends."""
    fixes = {
        "slant": message(
            "write height for a straight shade, or give the size top and bottom, each with its own outline "
            "and dimensions"
        ),
        "shift": message(
            "remove it, or give the size top and bottom, each with its own outline and dimensions"
        ),
    }
    for key, fix in fixes.items():
        entry = layer.get(key)
        if entry:
            wrong = message("{key} belongs to a tapered shade", key=quoted(key))
            yield Fault(entry.key_span, wrong, message("top and bottom beside it"), fix)


def _of_tapered(size: MergedSize, layers: Layers, translator: Translator) -> Iterator[Fault]:
    given = [end for end in ENDS if size.tree.get(end)]
    beside = [entry for entry in size.tree if entry.key == "outline" or entry.key in layers.dimensions]
    for entry in beside:
        wrong = message(
            "{key} stands beside {given}",
            key=quoted(entry.key),
            given=together([quoted(end) for end in reversed(given)]),
        )
        expected = message("outline and dimensions of a tapered shade in top and in bottom")
        fix = message(
            "move it into the end that it belongs to, such as {text}, or remove it",
            text=f"{given[0]}: {{{entry.key}: …}}",
        )
        if entry.key == "outline":
            fix = message("write it in top and in bottom, or leave both out if the shade is straight")
        yield Fault(entry.key_span, wrong, expected, fix)
    if len(given) == 1 and not beside:
        yield from _lone(size.tree, given[0], translator)
    yield from _height(size, translator)
    for end in given:
        ring = size.tree.get(end)
        if ring and isinstance(ring.node, Mapping):
            yield from _end(ring, ring.node, layers, translator)


def _lone(tree: Mapping, end: str, translator: Translator) -> Iterator[Fault]:
    entry = tree.get(end)
    other = "top" if end == "bottom" else "bottom"
    if entry and other not in translator.meant:
        fix = message("add the top ring, such as {text}", text=EXAMPLES["top"])
        if other == "bottom":
            fix = message("add the bottom ring, such as {text}", text=EXAMPLES["bottom"])
        yield Fault(
            entry.key_span,
            message("{end} stands without {other}", end=quoted(end), other=quoted(other)),
            message("both ends of a tapered shade, or one outline for a straight one"),
            fix,
        )


def _height(size: MergedSize, translator: Translator) -> Iterator[Fault]:
    height, slant = size.tree.get("height"), size.tree.get("slant")
    if height and slant:
        yield Fault(
            slant.key_span,
            message("“slant” stands beside “height”"),
            message("only one of them, since the other follows from it"),
            message("remove the one that you did not measure"),
        )
    elif not height and not slant and not {"height", "slant"} & translator.meant:
        yield Fault(
            size.span,
            message("size {name} has neither height nor slant", name=quoted(size.name)),
            message("one of them: the height straight up, or the slant along the sheet"),
            message("add it to the size, such as {text}", text=EXAMPLES["height"]),
        )


def _end(entry: Entry, end: Mapping, layers: Layers, translator: Translator) -> Iterator[Fault]:
    """An outline that is missing, dimensions that are missing, and those of another outline."""
    meant, shown = translator.meant, quoted(entry.key)
    stated = {inner.key for inner in end} & layers.dimensions
    if end.get("outline") is None and f"{entry.key}.outline" not in meant:
        fitting = _fitting(stated, layers)
        fix = (
            message("add {text}", text=f"outline: {fitting[0]}")
            if len(fitting) == 1
            else message("add the shape of that ring")
        )
        yield Fault(
            entry.key_span,
            message("{section} has no {key}", section=shown, key="outline"),
            _one_of(fitting or [*layers.outlines]),
            fix,
        )
    name = outline_named(end, layers)
    if name is None:
        return
    keys = layers.outlines[name]
    for key in keys.counts + keys.lengths:
        if key not in stated and f"{entry.key}.{key}" not in meant:
            example = EXAMPLES.get(key, f"{key}: 35 cm")
            wrong, fix = (
                message("{section} has no {key}", section=shown, key=key),
                message("add it to {key}, such as {text}", key=entry.key, text=example),
            )
            yield Fault(entry.key_span, wrong, message("the {key} of the {name}", key=key, name=name), fix)
    for inner in end:
        if inner.key in layers.dimensions and inner.key not in keys.all:
            fitting = _fitting(stated, layers)
            fix = (
                message("remove it, or write {text}", text=f"outline: {fitting[0]}")
                if len(fitting) == 1
                else message("remove it")
            )
            wrong = message("{key} does not belong to the outline {name}", key=quoted(inner.key), name=name)
            yield Fault(inner.key_span, wrong, message("{keys} only", keys=together(keys.all)), fix)


def _fitting(stated: set[str], layers: Layers) -> list[str]:
    """Outlines that have all dimensions that are stated and no others that they need."""
    return [
        name
        for name, keys in sorted(layers.outlines.items())
        if {*keys.counts, *keys.lengths} <= stated <= {*keys.all}
    ]


def _one_of(names: list[str]) -> Message:
    return message("one of {names}", names=", ".join(sorted(names))) if len(names) > 1 else joined(names)
