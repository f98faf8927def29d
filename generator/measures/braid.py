"""The braid that is glued on after the tuck, if there is one."""

from __future__ import annotations

from collections.abc import Iterator

from generator.measures.measure import Measure, Measures
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade


def braid_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Its width and how long its glue cures; its length is once round the ring."""
    braid = size.braid
    if braid is None:
        return
    yield stated(size, "braid_width", "Braid width", "braid.width", braid.width)
    yield stated(
        size, "braid_cures", "Glue of the braid cures", "braid.cures", braid.cure_minutes, unit="min"
    )
