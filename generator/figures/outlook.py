"""The drawings that pages about a whole plan show, beside those of its steps."""

from __future__ import annotations

from dataclasses import replace

from generator.base.errors import FigureError
from generator.base.words import Words
from generator.figures.model import Figure, Slot
from generator.figures.pair_chart import pair_chart
from generator.figures.plan_graph import plan_graph
from generator.figures.silhouette import silhouette
from generator.measures.measure import Measures
from generator.plan.model import Plan
from generator.plan.outlook import Outlook
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

SMALL = tuple(Slot("silhouette-small", width, 0.7 * width, width) for width in (62.0, 66.0, 70.0, 76.0))
"""Places for a small picture of the whole, the smallest first. Lettering keeps its size, so that some shades
need a larger one."""


def drawings(
    size: SizeRecipe, shade: Shade, measures: Measures, outlook: Outlook, words: Words
) -> tuple[Figure, ...]:
    """A small picture of the whole, the graph, then two people at each pace.

    ``words`` must be bound to the plan. Raises FigureError where a figure has no room.
    """
    whole = _small(size, shade, measures, outlook.plan, words)
    charts = (pair_chart(outlook.plan, pair, pace, words) for pace, pair in outlook.pairs.items())
    return (replace(whole, id=SMALL[0].name), plan_graph(outlook.plan, words), *charts)


def _small(size: SizeRecipe, shade: Shade, measures: Measures, plan: Plan, words: Words) -> Figure:
    for slot in SMALL:
        try:
            return silhouette(size, shade, measures, words, plan, slot)
        except FigureError:
            continue
    return silhouette(size, shade, measures, words, plan)
