"""What a recipe says otherwise than before, by the names that its writer knows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.recipe.content import plain_of
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe

NAMED = 3
"""No more values are named."""
_SILENT = {"name", "recipe", "digest", "spans", "stated", "limits"}
"""What follows from the rest, or is no value."""
_WITHIN = {"dimensions", "ends"}
"""Names of ours that stand between those of a recipe."""
_CALLED = {"taught": "class"}


def differences(before: Recipe, after: Recipe) -> str:
    """In words, such as ``diameter and lamp watts changed``; empty where they say the same."""
    old, new = ({size.name: size for size in recipe.sizes} for recipe in (before, after))
    changed: dict[str, None] = {}
    for name in old:
        if name in new:
            changed |= dict.fromkeys(_changed(old[name], new[name]))
    told = [f"{_listed(list(changed))} changed"] if changed else []
    told += [f"size {name} is new" for name in new if name not in old]
    told += [f"size {name} is gone" for name in old if name not in new]
    return ", ".join(told[:NAMED])


def _changed(before: SizeRecipe, after: SizeRecipe) -> Iterator[str]:
    """Names of the values that differ, in the order of the keys of a recipe."""
    old, new = dict(_values(before)), dict(_values(after))
    for name in {**old, **new}:
        if old.get(name) != new.get(name):
            yield name


def _values(size: SizeRecipe) -> Iterator[tuple[str, Any]]:
    said = {name: getattr(size, name) for name in type(size).model_fields if name not in _SILENT}
    yield from _below(plain_of(said), ())


def _below(value: Any, way: tuple[str, ...]) -> Iterator[tuple[str, Any]]:
    if isinstance(value, Mapping):
        for name, inner in value.items():
            more = () if name in _WITHIN else (_CALLED.get(name, name.replace("_", " ")),)
            yield from _below(inner, way + more)
    else:
        yield " ".join(way), value


def _listed(names: list[str]) -> str:
    if len(names) > NAMED:
        return f"{', '.join(names[:NAMED])} and {len(names) - NAMED} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
