"""Whether all pieces come out of a cloth whose length is stated."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault
from generator.base.message import message, plural
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
    enough = (
        message("a cloth at least {needed} long", needed=mm(needed))
        if needed is not None
        else message("a larger cloth")
    )
    yield Fault(
        size.span("covering.length"),
        plural(
            "the shade needs {count} pieces of {along} by {across}, which the cloth of {width} by {length} "
            "has not",
            "the shade needs a piece of {along} by {across}, which the cloth of {width} by {length} has not",
            count=shade.panels,
            along=mm(cut[0]),
            across=mm(cut[1]),
            width=mm(size.covering.width),
            length=mm(length),
        ),
        enough,
        message(
            "use a larger cloth, or make the shade smaller: rimfold fit names the largest that a cloth makes"
        ),
    )
