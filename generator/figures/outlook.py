"""The drawings that pages about a whole plan show, beside those of its steps."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.base.edition import USUAL, Form
from generator.base.errors import FigureError
from generator.base.words import Words
from generator.figures.model import SHEET, Figure, Slot
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


TIMES = {"normal": 1.0, "large": 1.5, "larger": 2.0}
"""How many times as large the drawings are in each size of print."""
EDGES, HEADS, BESIDE = 32.0, 45.0, 178.0
"""Paper beside the column of a page, above and below a drawing with its heading; the column of A4, mm."""
GRAPH_FROM, CHARTS_FROM = 170.0, 115.0
"""Drawn for less width than this, mm, a graph or a chart would not be read."""


@dataclass(frozen=True, slots=True)
class Board:
    """Room for the drawings of a plan on a page: what they are drawn for, mm, and how many times as large
    they are then."""

    width: float
    height: float
    enlarged: float

    @property
    def graph(self) -> bool:
        """Whether there is room for the graph; the table of steps says the same."""
        return self.width >= GRAPH_FROM

    @property
    def charts(self) -> bool:
        """Whether there is room for two people as a chart; their steps are listed too."""
        return self.width >= CHARTS_FROM


def board_of(form: Form) -> Board:
    """The room that there is in a form of pages."""
    times = TIMES[form.print_size]
    width = {"A5": 120.0, "A3": form.sheet.width - EDGES}.get(form.paper, BESIDE)
    return Board(width / times, (form.sheet.height - HEADS) / times, times)


def drawings(
    size: SizeRecipe, shade: Shade, measures: Measures, outlook: Outlook, words: Words, form: Form = USUAL
) -> tuple[Figure, ...]:
    """A small picture of the whole, the graph, then two people at each pace, as far as there is room.

    ``words`` must be bound to the plan. Raises FigureError where a figure has no room.
    """
    board = board_of(form)
    drawn = [replace(_small(size, shade, measures, outlook.plan, words, board), id=SMALL[0].name)]
    if board.graph:
        width = min(BESIDE, board.width)
        drawn.append(plan_graph(outlook.plan, words, width, board.height, board.enlarged))
    if board.charts:
        for pace, pair in outlook.pairs.items():
            drawn.append(pair_chart(outlook.plan, pair, pace, words, board.width, board.enlarged))
    return tuple(drawn)


def _small(
    size: SizeRecipe, shade: Shade, measures: Measures, plan: Plan, words: Words, board: Board
) -> Figure:
    for slot in SMALL:
        try:
            place = replace(slot, enlarged=board.enlarged)
            return silhouette(size, shade, measures, words, plan, place)
        except FigureError:
            continue
    return silhouette(size, shade, measures, words, plan, replace(SHEET, enlarged=board.enlarged))
