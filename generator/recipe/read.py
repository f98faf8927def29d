"""From a recipe file to typed sizes, or to every fault of the file at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from os import fspath
from pathlib import Path

from generator.base.assets import data_folder
from generator.base.errors import FAULT_LIMIT, Fault, RecipeError, Warning_
from generator.base.message import message
from generator.base.outline_keys import OutlineKeys
from generator.base.spans import Span
from generator.recipe.faults import Translator
from generator.recipe.judge import file_name, judged, no_recipe, written
from generator.recipe.judge_class import CLASS, merged_class
from generator.recipe.judge_kits import merged_kits
from generator.recipe.kits import Kits, Limits
from generator.recipe.layers import Layers, layers_for
from generator.recipe.merge import places, plain
from generator.recipe.models import SizeRecipe
from generator.recipe.nodes import Document, Entry, Node, Sequence, document_of, parse_document, read_document
from generator.recipe.nodes import Mapping as Tree
from generator.recipe.prepare import prepare
from generator.recipe.sizes import Whole, finished, merged_sizes, text_at, top_places
from generator.recipe.source import Source, read_source
from generator.recipe.taught_class import TaughtClass
from generator.recipe.unused import lamp_notes, unused

HOUSE = message("the house defaults")


@dataclass(frozen=True)
class Recipe:
    """A recipe that reads clean."""

    path: Path
    stem: str
    """File name without its ending: the folder in ``out/``."""
    title: str
    sizes: tuple[SizeRecipe, ...]
    """In file order."""
    warnings: tuple[Warning_, ...]
    """In file order."""
    digest: str
    """SHA-256 of the recipe file and the house defaults, hex."""
    kits: Kits | None = None
    """What it says of kits."""
    taught: TaughtClass | None = None
    """What it says of a class."""


def house_file() -> Path:
    """The one file of house defaults."""
    return data_folder("recipes") / "stock" / "house.yaml"


def read_recipe(path: Path, outlines: Mapping[str, OutlineKeys], house: Path | None = None) -> Recipe:
    """Read one recipe. ``outlines`` names every outline and its keys; ``house`` replaces the house defaults.

    Raises RecipeError with all faults of the file (of the house defaults, if those are at fault), and nothing
    else, whatever the file holds.
    """
    return _recipe_of(read_document(path), path, outlines, house)


def parse_recipe(
    text: str, path: Path, outlines: Mapping[str, OutlineKeys], house: Path | None = None
) -> Recipe:
    """The same for a text that is at hand, as if it stood at ``path``. Raises RecipeError."""
    return _recipe_of(parse_document(text, fspath(path)), path, outlines, house)


def _recipe_of(
    document: Document, path: Path, outlines: Mapping[str, OutlineKeys], house: Path | None
) -> Recipe:
    layers = layers_for(outlines)
    faults = [*file_name(path, document.file), *document.faults]
    if not isinstance(document.root, Tree):
        raise _error(faults if document.root is None else [*faults, no_recipe(document)])
    below, below_digest = _defaults(read_source(house or house_file(), HOUSE), layers)
    prepared = prepare(document.root)
    root = prepared.root
    merged = merged_sizes(root, below, layers)
    kits = merged_kits(root, below)
    taught = merged_class(root, below)
    faults += [*prepared.faults, *judged(root, merged, kits, taught, layers)]
    if faults:
        raise _error(faults)
    digest = hashlib.sha256(f"{document.digest} {below_digest}".encode()).hexdigest()
    whole = Whole(
        file=document.file,
        stem=path.stem,
        title=text_at(root, "title"),
        technique=text_at(root, "technique") or text_at(below, "technique"),
        times=text_at(root, "times") or text_at(below, "times"),
        link=text_at(root, "link") or None,
        kits=Kits.model_validate(plain(kits.node)) if kits else None,
        taught=TaughtClass.model_validate(plain(taught.node)) if taught else None,
        limits=_limits(kits or below.get("kits")),
        digest=digest,
        spans=top_places(root, ("technique", "times"))
        | _kits_places(root, document.file)
        | _class_places(root),
    )
    sizes = [finished(size, whole, layers) for size in merged]
    warnings = {*unused(root, merged, sizes, layers), *lamp_notes(root, sizes)}
    ordered = sorted(warnings, key=lambda warning: (warning.span.order, warning.text))
    return Recipe(
        path, path.stem, whole.title, tuple(sizes), tuple(ordered), digest, whole.kits, whole.taught
    )


def _limits(kits: Entry | None) -> Limits | None:
    """How far the ends of a supplied panel may lap, where recipe or house says so."""
    overlap = kits.node.get("overlap") if kits and isinstance(kits.node, Tree) else None
    return Limits.model_validate(plain(overlap.node)) if overlap else None


def _kits_places(root: Tree, file: str) -> dict[str, Span]:
    """Places of all that a recipe says of kits, by dotted key; entries of a list by their number from 0."""
    kits = root.get("kits")
    if kits is None or not isinstance(kits.node, Tree):
        return {}
    found = {"kits": kits.key_span, **places(kits.node, file, "kits.")}
    cautions = kits.node.get("cautions")
    if cautions and isinstance(cautions.node, Sequence):
        found |= {f"kits.cautions.{index}": item.span for index, item in enumerate(cautions.node.items)}
    return found


def _class_places(root: Tree) -> dict[str, Span]:
    """Places of all that a recipe says of a class, by dotted key; entries of a list by number from 0."""

    def below(node: Node, key: str) -> Iterator[tuple[str, Span]]:
        if isinstance(node, Tree):
            for entry in node:
                yield (
                    f"{key}.{entry.key}",
                    entry.key_span if isinstance(entry.node, Tree) else entry.node.span,
                )
                yield from below(entry.node, f"{key}.{entry.key}")
        elif isinstance(node, Sequence):
            for index, item in enumerate(node.items):
                yield f"{key}.{index}", item.span
                yield from below(item, f"{key}.{index}")

    taught = root.get(CLASS)
    return {CLASS: taught.key_span, **dict(below(taught.node, CLASS))} if taught else {}


@lru_cache(maxsize=4)
def _defaults(source: Source, layers: Layers) -> tuple[Tree, str]:
    """The house defaults and their digest. Raises RecipeError with the faults of their file."""
    document = document_of(source, HOUSE)
    if not isinstance(document.root, Tree):
        raise _error(document.faults if document.root is None else [*document.faults, no_recipe(document)])
    prepared = prepare(document.root)
    faults = [*document.faults, *prepared.faults, *written(prepared.root, Translator(prepared.root, layers))]
    if faults:
        raise _error(faults)
    return prepared.root, document.digest


def _error(faults: Iterable[Fault]) -> RecipeError:
    """Each fault once, in file order, no more than a person can use."""
    unique = sorted(dict.fromkeys(faults), key=lambda fault: fault.span.order)
    return RecipeError(unique[:FAULT_LIMIT])
