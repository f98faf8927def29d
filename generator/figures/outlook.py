"""The drawings that pages about a whole plan show, beside those of its steps."""

from __future__ import annotations

from generator.base.words import Words
from generator.figures.model import Figure
from generator.figures.pair_chart import pair_chart
from generator.figures.plan_graph import plan_graph
from generator.plan.outlook import Outlook


def drawings(outlook: Outlook, words: Words) -> tuple[Figure, ...]:
    """The graph, then two people at each pace. ``words`` must be bound to the plan."""
    charts = (pair_chart(outlook.plan, pair, pace, words) for pace, pair in outlook.pairs.items())
    return (plan_graph(outlook.plan, words), *charts)
