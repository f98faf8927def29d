"""A size on its way: read, shaped, measured and planned, ready to be drawn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from generator.measures.measure import Measures
from generator.plan.model import Plan
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

if TYPE_CHECKING:
    from generator.plan.kit import KitContents


@dataclass(frozen=True)
class Work:
    """One size, computed and planned, ready to be drawn."""

    size: SizeRecipe
    shade: Shade
    measures: Measures
    plan: Plan
    kit: KitContents | None = None
    """One kit of this size, where the recipe has kits."""

    @property
    def with_kit(self) -> Work:
        """The same with the kit's numbers among its measures, for documents of kits."""
        if self.kit is None:
            return self
        return replace(self, measures=Measures({**self.measures, **self.kit.measures}))
