"""The cloth: what to cut, and what is left over round the panel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_down, round_nearest
from generator.measures.blank import cloth_box, cloth_lie, held
from generator.measures.laying import NOISE, Cut, Layout, cut_of, laid
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.stated import stated
from generator.measures.taper_cloth import grain_measures, taper_slack, taper_words
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade

SWATCH = 100.0
"""A swatch that a hand can pull at and an iron can cover, mm (common practice, no source)."""


def cloth_blank(size: SizeRecipe, shade: Shade) -> tuple[float, float]:
    """Length and width of what is cut out of a piece of cloth in the end, a hem with it, mm."""
    if shade.tapered:
        box = cloth_box(size, shade)
        return box.across, box.up
    return shade.panel_length + shade.hem, shade.height + 2 * shade.margin


def cloth_need(size: SizeRecipe, shade: Shade) -> tuple[float, float]:
    """Length and width of cloth that the shade needs with its slack, exact, mm."""
    around, up = cloth_blank(size, shade)
    return around + 2 * size.covering.slack_ends, up + 2 * size.covering.slack_edges


def cloth_cut(size: SizeRecipe, shade: Shade) -> Cut:
    """Length and width to cut, mm: rounded up, since the slack is trimmed away."""
    return cut_of(size.covering, *cloth_blank(size, shade))


def cloth_layout(size: SizeRecipe, shade: Shade) -> Layout | None:
    """How all pieces of the shade lie on its cloth; None: they do not come out of it.

    A print with one direction runs along the cloth, so that its pieces lie across; so does a pattern with a
    repeat on a curved panel.
    """
    return laid(size.covering, cloth_cut(size, shade), shade.pieces, turns=not held(size))


def wide_enough(size: SizeRecipe, shade: Shade) -> bool:
    """Whether a piece comes out of the cloth's width, however long the cloth is."""
    length, width = cloth_cut(size, shade)
    return (length if held(size) else min(length, width)) <= size.covering.width + NOISE


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
        label="Cloth to cut, length of each piece" if shade.panels > 1 else "Cloth to cut, length",
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
        rounding="up",
        ruler="eighths",
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
        rounding="up",
        ruler="eighths",
    )
    if shade.panels > 1:
        yield Measure(
            id="cloth_pieces",
            label="Pieces of cloth, one a panel",
            exact=float(shade.panels),
            shown=float(shade.panels),
            unit="count",
            formula=f"one for each of {shade.panels} panels",
            source=COMMON_PRACTICE,
            inputs=("panels",),
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
        rounding="down",
    )
    if size.makers.own_cloth:
        yield Measure(
            id="swatch",
            label="Swatch to try the cloth with, each side",
            exact=SWATCH,
            shown=SWATCH,
            unit="mm",
            formula="a value of the trade: about a hand's breadth",
            source=COMMON_PRACTICE,
            ruler="quarters",
        )
    yield stated(
        size,
        "cloth_stock",
        "Usable width of the cloth",
        "covering.width",
        size.covering.width,
        ruler="eighths",
    )


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
