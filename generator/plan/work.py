"""A size on its way: read, shaped, measured and planned, ready to be drawn."""

from __future__ import annotations

from dataclasses import dataclass

from generator.measures.measure import Measures
from generator.plan.model import Plan
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade


@dataclass(frozen=True)
class Work:
    """One size, computed and planned, ready to be drawn."""

    size: SizeRecipe
    shade: Shade
    measures: Measures
    plan: Plan
