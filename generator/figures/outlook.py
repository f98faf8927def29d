"""The drawings that pages about a whole plan show, beside those of its steps."""

from __future__ import annotations

from dataclasses import replace

from generator.base.words import Words
from generator.figures.model import Figure, Slot
from generator.figures.pair_chart import pair_chart
from generator.figures.plan_graph import plan_graph
from generator.figures.silhouette import silhouette
from generator.measures.measure import Measures
from generator.plan.outlook import Outlook
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

SMALL = Slot("silhouette-small", 66.0, 46.0, 62.0)


def drawings(
    size: SizeRecipe, shade: Shade, measures: Measures, outlook: Outlook, words: Words
) -> tuple[Figure, ...]:
    """A small picture of the whole, the graph, then two people at each pace.

    ``words`` must be bound to the plan. Raises FigureError where a figure has no room.
    """
    whole = silhouette(size, shade, measures, words, outlook.plan, SMALL)
    charts = (pair_chart(outlook.plan, pair, pace, words) for pace, pair in outlook.pairs.items())
    return (replace(whole, id=SMALL.name), plan_graph(outlook.plan, words), *charts)
