"""From a recipe's text to sizes that are shaped, measured and judged: what is known before any plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypeVar

from generator.base.errors import FAULT_LIMIT, Fault, GeometryError, Warning_
from generator.base.outline_keys import OutlineKeys
from generator.measures.build import measure
from generator.measures.judge import judge
from generator.measures.measure import Measures
from generator.plan.sound import asks_of, unmet
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe, read_recipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.shade import Shade

T = TypeVar("T")

Judged = tuple[SizeRecipe, Shade, Measures]


@cache
def outlines() -> dict[str, OutlineKeys]:
    """The outlines that shapes know, with their keys in a recipe."""
    return outline_keys()


def judged_sizes(
    sizes: Sequence[SizeRecipe], against: Callable[[SizeRecipe, Measures], Sequence[Fault]]
) -> tuple[list[Judged], list[Warning_]]:
    """Shape, measure and judge sizes; ``against`` says what the technique of one has against it.

    Raises GeometryError with all faults.
    """
    faults: list[Fault] = []
    warnings: list[Warning_] = []
    judged: list[Judged] = []
    for size in sizes:
        try:
            shade = build_shade(size)
        except GeometryError as error:
            faults.extend(error.faults)
            continue
        measures = measure(size, shade)
        judgement = judge(size, shade, measures)
        faults.extend([*against(size, measures), *judgement.faults])
        warnings.extend(judgement.warnings)
        judged.append((size, shade, measures))
        if len(faults) >= FAULT_LIMIT:
            break
    if faults:
        raise GeometryError(once(faults))
    return judged, warnings


@dataclass(frozen=True)
class MeasuredSize:
    """A size and its measures."""

    size: SizeRecipe
    measures: Measures


@dataclass(frozen=True)
class Measured:
    """A recipe that reads clean and whose shades can be made."""

    recipe: Recipe
    works: tuple[MeasuredSize, ...]
    warnings: tuple[Warning_, ...]


def measured(path: Path) -> Measured | None:
    """Everything that ``examine`` tells of a recipe's measures, where that is known without a plan.

    None where it is not: with kits or a class, a technique that is not one of ours as it was found sound, or
    measured times. Raises RecipeError for what does not read clean, GeometryError for shades that cannot or
    must not be made.
    """
    recipe = read_recipe(path, outlines())
    first = recipe.sizes[0]
    asks = {size.technique: asks_of(size.technique, first.times) for size in recipe.sizes}
    if recipe.kits or recipe.taught or None in asks.values():
        return None
    judged, warnings = judged_sizes(
        recipe.sizes, lambda size, measures: unmet(asks[size.technique] or (), size, measures)
    )
    works = tuple(MeasuredSize(size, measures) for size, _, measures in judged)
    return Measured(recipe, works, tuple(once([*recipe.warnings, *warnings])))


def once(things: Iterable[T]) -> list[T]:
    """Each thing once, in its order."""
    return list(dict.fromkeys(things))
