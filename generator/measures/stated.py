"""Measures that a recipe or the house defaults state, and no formula computes."""

from __future__ import annotations

from generator.measures.measure import Measure, Rounding, Ruler, Unit
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain

RECIPE = "the recipe"
HOUSE = "the house defaults"


def stated(
    size: SizeRecipe,
    id_: str,
    label: str,
    key: str,
    value: float,
    *,
    shown: float | None = None,
    unit: Unit = "mm",
    tolerance: float | None = None,
    rounding: Rounding = "nearest",
    ruler: Ruler = "sixteenths",
) -> Measure:
    """A measure as the recipe states it under ``key``, shown to a hundredth unless ``shown`` is given."""
    of_shape = key in size.dimensions or key.startswith(("bottom.", "top.")) or key in ("height", "slant")
    by_recipe = of_shape or key in size.stated
    source = RECIPE if by_recipe else HOUSE
    return Measure(
        id=id_,
        label=label,
        exact=value,
        shown=round(value, 2) if shown is None else shown,
        unit=unit,
        formula=f"{plain(value, 2)}, as {source} {'says' if by_recipe else 'say'}",
        source=source,
        tolerance=tolerance,
        inputs=(key,),
        rounding=rounding,
        ruler=ruler,
    )
