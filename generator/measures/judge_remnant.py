"""Whether all pieces come out of a cloth whose length is stated."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault
from generator.measures.blank import endless, held
from generator.measures.cloth import cloth_cut, cloth_layout, wide_enough
from generator.measures.laying import shortest
from generator.measures.measure import Measures
from generator.recipe.models import SizeRecipe
from generator.shape.say import mm
from generator.shape.shade import Shade


def judge_remnant(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A remnant that is wide enough, but too short. One that is too narrow is told as such."""
    length = size.covering.length
    if length is None or cloth_layout(size, shade) is not None:
        return
    free = endless(size)
    if not wide_enough(free, shade):
        return
    cut = cloth_cut(free, shade)
    needed = shortest(size.covering, cut, shade.panels, turns=not held(size))
    pieces = f"{shade.panels} pieces" if shade.panels > 1 else "a piece"
    enough = f"a cloth at least {mm(needed)} long" if needed is not None else "a larger cloth"
    yield Fault(
        size.span("covering.length"),
        f"the shade needs {pieces} of {mm(cut[0])} by {mm(cut[1])}, which the cloth of "
        f"{mm(size.covering.width)} by {mm(length)} has not",
        enough,
        "use a larger cloth, or make the shade smaller: rimfold fit names the largest that a cloth makes",
    )
