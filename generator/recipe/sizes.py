"""The sizes of a recipe: layers laid over one another, what each lacks, and the finished SizeRecipe."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as PlainMapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from generator.base.errors import Fault
from generator.base.message import joined, message
from generator.base.outline_keys import OutlineKeys
from generator.base.spans import Span
from generator.base.units import quoted
from generator.recipe.ends import ENDS, End
from generator.recipe.faults import EXAMPLES, Translator, find
from generator.recipe.kits import Kits, Limits
from generator.recipe.layers import INNER, TOP_ONLY, Layers
from generator.recipe.merge import places, plain, without
from generator.recipe.models import OPTIONAL_SECTIONS, SECTIONS, YOUNG, Makers, SizeRecipe
from generator.recipe.nodes import Mapping, Scalar
from generator.recipe.tapers import (
    dimensions_of,
    ends_of,
    is_tapered,
    laid_over,
    leading_end,
    outline_named,
)
from generator.recipe.taught_class import TaughtClass


@dataclass(frozen=True)
class MergedSize:
    """One size with everything that the recipe and the house say about it."""

    name: str
    span: Span
    own: Mapping
    """What stands in the size itself."""
    tree: Mapping
    tapered: bool
    """Whether it has an outline for an end, in place of one for both."""
    outline: str | None
    """Name of the outline of a straight size, if a known one is stated."""
    keys: OutlineKeys | None
    """Keys of that outline."""


def merged_sizes(root: Mapping, house: Mapping, layers: Layers) -> list[MergedSize]:
    """Every size that is a mapping, in file order."""
    found = []
    entry = root.get("sizes")
    shared = without(root, TOP_ONLY)
    for size in entry.node if entry and isinstance(entry.node, Mapping) else ():
        if not isinstance(size.node, Mapping):
            continue
        stated = {e.key for e in shared} | {e.key for e in size.node}
        below = without(house, (*TOP_ONLY, *(key for key in OPTIONAL_SECTIONS if key not in stated)))
        own = without(size.node, TOP_ONLY)
        tree = laid_over(laid_over(below, shared, layers), own, layers)
        tapered = is_tapered(tree)
        name = None if tapered else outline_named(tree, layers)
        keys = layers.outlines[name] if name else None
        found.append(MergedSize(size.key, size.key_span, own, tree, tapered, name, keys))
    return found


def without_ends(root: Mapping, sizes: list[MergedSize]) -> bool:
    """Whether there are sizes, and no ends at the top of the file nor in any of them."""
    return bool(sizes) and not is_tapered(root) and not any(size.tapered for size in sizes)


def missing_at_top(root: Mapping, meant: set[str]) -> Iterator[Fault]:
    """Keys that every recipe needs."""
    for key in ("rimfold", "title", "sizes"):
        if root.get(key) is None and key not in meant:
            yield Fault(
                root.span,
                message("{key} is missing", key=quoted(key)),
                joined([EXAMPLES[key]]),
                message("add the line"),
            )


def missing_in_sizes(
    root: Mapping, sizes: list[MergedSize], layers: Layers, translator: Translator
) -> Iterator[Fault]:
    """Keys that each size needs, in the size itself or for all sizes at the top. ``tapers.py`` and
    ``judge_ends.py`` see to what a tapered size needs instead of an outline, dimensions and height."""
    meant = translator.meant
    shaped = {"outline", *ENDS} & meant
    nowhere = not any(size.tapered or size.tree.get("outline") for size in sizes)
    shared_slant = without_ends(root, sizes) and root.get("slant")
    names = ", ".join(sorted(layers.outlines))
    if sizes and nowhere and not shaped:
        yield Fault(
            root.span,
            message("“outline” is missing"),
            message("one of {names}", names=names),
            message("add a line such as outline: circle"),
        )
    for size in sizes:
        yield from _missing_in_sections(size, translator)
        if size.tapered:
            continue
        if size.tree.get("outline") is None and not nowhere and not shaped:
            yield Fault(
                size.span,
                message("size {size} has no {key}", size=quoted(size.name), key="outline"),
                message("one of {names}", names=names),
                message("add outline to the size"),
            )
        # A slant in place of the height is told as such.
        slanted = "slant" in meant or size.own.get("slant") or shared_slant
        needed = [*(size.keys.counts + size.keys.lengths if size.keys else ()), "height"]
        for key in needed:
            if size.tree.get(key) is None and key not in meant and not (key == "height" and slanted):
                expected = message("the finished height")
                if key != "height":
                    expected = message("the {key} of the {name}", key=key, name=size.outline)
                example = EXAMPLES.get(key, f"{key}: 35 cm")
                yield Fault(
                    size.span,
                    message("size {size} has no {key}", size=quoted(size.name), key=key),
                    expected,
                    message("add it to the size, such as {text}", text=example),
                )


def _missing_in_sections(size: MergedSize, translator: Translator) -> Iterator[Fault]:
    for section, model in {**SECTIONS, **INNER}.items():
        entry = find(size.tree, section.split("."))
        if entry is None or not isinstance(entry.node, Mapping):
            continue
        for key, info in model.model_fields.items():
            dotted = f"{section}.{key}"
            if info.is_required() and entry.node.get(key) is None and dotted not in translator.meant:
                wrong = message("{section} has no {key}", section=quoted(section), key=key)
                yield Fault(
                    entry.key_span, wrong, message("the key {key} in it", key=key), translator.example(dotted)
                )


def young_blades(size: MergedSize) -> Fault | None:
    """The fault of a blade in a young learner's hand, or None."""
    entry = size.tree.get("makers")
    if entry is None or not isinstance(entry.node, Mapping):
        return None
    try:
        makers = Makers.model_validate(plain(entry.node))
    except ValidationError:
        return None
    blades = entry.node.get("blades")
    if makers.ages is None or makers.blades != "learner" or min(makers.ages) >= YOUNG or blades is None:
        return None
    return Fault(
        blades.node.span,
        message("a blade is given to a young learner (the youngest is {ages})", ages=min(makers.ages)),
        message("an adult for blades and iron where somebody is under {young}", young=YOUNG),
        message("name an adult: blades: adult"),
    )


@dataclass(frozen=True)
class Whole:
    """What all sizes of a recipe share."""

    file: str
    stem: str
    title: str
    technique: str
    times: str
    link: str | None
    kits: Kits | None
    taught: TaughtClass | None
    limits: Limits | None
    digest: str
    spans: PlainMapping[str, Span]
    """Places of keys at the top that sizes share."""


def finished(size: MergedSize, whole: Whole, layers: Layers) -> SizeRecipe:
    """The typed size. The tree must be free of faults, else pydantic's ValidationError is raised."""
    values: Any = layers.size.model_validate(plain(size.tree))
    ends = ends_of(values, layers.outlines) if size.tapered else None
    if ends:
        leading, ring = leading_end(ends, layers.outlines)
    else:
        assert size.outline is not None
        assert size.keys is not None
        leading, ring = "", End(size.outline, dimensions_of(values, size.keys))
    spans = {"": size.span, **whole.spans} | places(size.tree, whole.file)
    # Who asks for the one outline's place is led to the end that stands for it.
    inside = f"{leading}." if ends else ""
    spans |= {key: spans[inside + key] for key in ("outline", *ring.dimensions) if inside + key in spans}
    spans |= {f"dimensions.{key}": spans[key] for key in ring.dimensions if key in spans}
    stated = frozenset(spans) - {""}
    if ends:
        unsaid = dict.fromkeys(ring.dimensions, leading) | {"height": "slant"}
        spans |= {key: spans[place] for key, place in unsaid.items() if key not in spans and place in spans}
    # Each part has been read by its own model: reading the whole once more would need one validator more.
    return SizeRecipe.model_construct(
        name=size.name,
        recipe=whole.stem,
        title=whole.title,
        technique=whole.technique,
        times=whole.times,
        use=values.use,
        paper=values.paper,
        languages=values.languages,
        units=values.units,
        tone=values.tone,
        outline=ring.outline,
        dimensions={key: float(value) for key, value in ring.dimensions.items()},
        height=0.0 if ends and ends.slant is not None else values.height,
        ends=ends,
        link=whole.link,
        kits=whole.kits,
        taught=whole.taught,
        limits=whole.limits,
        digest=whole.digest,
        spans=spans,
        stated=stated,
        **{section: getattr(values, section) for section in SECTIONS},
    )


def top_places(root: Mapping, keys: tuple[str, ...]) -> dict[str, Span]:
    """Where values at the top stand, of those keys that are stated."""
    found = {key: root.get(key) for key in keys}
    return {key: entry.node.span for key, entry in found.items() if entry}


def text_at(root: Mapping, key: str) -> str:
    """The text of a key at the top, or nothing."""
    entry = root.get(key)
    return entry.node.text.strip() if entry and isinstance(entry.node, Scalar) else ""
