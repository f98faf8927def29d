"""The cloth: what to cut, and what is left over round the panel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_down, round_nearest, round_up
from generator.measures.blank import cloth_lie
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.stated import stated
from generator.measures.taper_cloth import grain_measures, taper_slack, taper_words
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade

CLOTH_STEP = 5.0


def cloth_need(size: SizeRecipe, shade: Shade) -> tuple[float, float]:
    """Length and width of cloth that the shade needs with its slack, exact, mm."""
    if shade.tapered:
        lie = cloth_lie(size, shade)
        return lie.across + 2 * size.covering.slack_ends, lie.up + 2 * size.covering.slack_edges
    length = shade.panel_length + shade.hem + 2 * size.covering.slack_ends
    width = shade.height + 2 * shade.margin + 2 * size.covering.slack_edges
    return length, width


def cloth_cut(size: SizeRecipe, shade: Shade) -> tuple[float, float]:
    """Length and width to cut, mm: rounded up, since the slack is trimmed away."""
    length, width = cloth_need(size, shade)
    return round_up(length, CLOTH_STEP), round_up(width, CLOTH_STEP)


def cloth_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """The cut, its diagonal, the slack on each side."""
    ends, edges = size.covering.slack_ends, size.covering.slack_edges
    hem_words = f" + hem {plain(shade.hem)}" if shade.hem else ""
    margin_words = f" + 2 × margin {plain(shade.margin)}" if shade.margin else ""
    margin_inputs = ("margin",) if shade.margin else ()
    length, width = cloth_need(size, shade)
    cut_length, cut_width = cloth_cut(size, shade)
    length_words = f"panel {plain(shade.panel_length)}{hem_words}"
    width_words = f"finished height {plain(shade.height)}{margin_words}"
    if shade.tapered:
        length_words, width_words = taper_words(cloth_lie(size, shade))
    yield Measure(
        id="cloth_length",
        label="Cloth to cut, length",
        exact=length,
        shown=cut_length,
        unit="mm",
        formula=f"{length_words} + 2 × slack {plain(ends)}",
        source=COMMON_PRACTICE,
        inputs=(
            "blank_length" if shade.tapered else "panel_length",
            "slack_ends",
            *(("hem",) if shade.hem else ()),
        ),
    )
    yield Measure(
        id="cloth_width",
        label="Cloth to cut, width",
        exact=width,
        shown=cut_width,
        unit="mm",
        formula=f"{width_words} + 2 × slack {plain(edges)}",
        source=COMMON_PRACTICE,
        inputs=("finished_height", *margin_inputs, "slack_edges"),
    )
    diagonal = math.hypot(cut_length, cut_width)
    yield Measure(
        id="diagonal",
        label="Cut cloth, corner to corner",
        exact=diagonal,
        shown=round_nearest(diagonal),
        unit="mm",
        formula=f"√(length {plain(cut_length)}² + width {plain(cut_width)}²), of the cut as shown",
        source="Pythagoras",
        inputs=("cloth_length", "cloth_width"),
    )
    if shade.tapered:
        yield from grain_measures(size, shade)
        yield from taper_slack(size, shade, cut_length, cut_width)
    else:
        yield from _slack(size, shade, so_far, cut_length, cut_width)
    held = max(size.covering.slack_edges - 2.0, 1.0)
    yield Measure(
        id="tape_hold",
        label="Low-tack tape on to the cloth, at most",
        exact=held,
        shown=round_down(held),
        unit="mm",
        formula=f"slack {plain(edges)} − 2, so that no panel lies on it",
        source=COMMON_PRACTICE,
        inputs=("slack_edges",),
    )
    yield stated(size, "cloth_stock", "Usable width of the cloth", "covering.width", size.covering.width)


def _slack(
    size: SizeRecipe, shade: Shade, so_far: Measures, cut_length: float, cut_width: float
) -> Iterator[Measure]:
    """The start side's slack as the recipe has it; the other side takes the rest of the rounded cut."""
    ends, edges = round_nearest(size.covering.slack_ends), round_nearest(size.covering.slack_edges)
    hem = round_nearest(shade.hem)
    margin = so_far.shown("margin") if shade.margin else 0.0
    covered = so_far.shown("finished_height") + 2 * margin
    panel = so_far.shown("panel_length")
    exact_cover = shade.height + 2 * shade.margin
    yield stated(
        size,
        "slack_ends",
        "Cloth past the panel at each end, at least",
        "covering.slack_ends",
        size.covering.slack_ends,
        shown=ends,
    )
    yield Measure(
        id="slack_end_rest",
        label="Cloth past the panel at the outside end" + (", beyond the hem" if hem else ""),
        exact=cut_length - shade.panel_length - shade.hem - size.covering.slack_ends,
        shown=cut_length - panel - hem - ends,
        unit="mm",
        formula=f"cloth {plain(cut_length)} − panel {plain(panel)}{f' − hem {plain(hem)}' if hem else ''} "
        f"− slack {plain(ends)}",
        source=COMMON_PRACTICE,
        inputs=("cloth_length", "panel_length", "slack_ends", *(("hem",) if hem else ())),
    )
    yield stated(
        size,
        "slack_edges",
        "Cloth past the panel along each long edge, at least",
        "covering.slack_edges",
        size.covering.slack_edges,
        shown=edges,
    )
    yield Measure(
        id="slack_edge_rest",
        label="Cloth past the panel along the far edge",
        exact=cut_width - exact_cover - size.covering.slack_edges,
        shown=cut_width - covered - edges,
        unit="mm",
        formula=f"cloth {plain(cut_width)} − panel{' with margins' if margin else ''} {plain(covered)} "
        f"− slack {plain(edges)}",
        source=COMMON_PRACTICE,
        inputs=("cloth_width", "finished_height", *(("margin",) if margin else ()), "slack_edges"),
    )
    if shade.hem:
        yield stated(size, "hem", "Hem tab at the outside end", "seam.hem", shade.hem, shown=hem)
