"""The panel: its length and height, and what is left over for seam and margins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.base.units import round_nearest
from generator.measures.bend import bend_strain
from generator.measures.blank import blank_measures
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.outline import PARALLEL, sheet_growth
from generator.measures.practice import practice
from generator.measures.stated import RECIPE, stated
from generator.measures.taper import taper_panel_measures
from generator.recipe.models import SizeRecipe
from generator.shape.panels import lies_across, lies_on
from generator.shape.say import plain
from generator.shape.shade import Shade


def panel_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Lengths first, then heights. Shown parts add up to the shown whole."""
    yield _count(size, shade)
    yield from taper_panel_measures(size, shade) if shade.tapered else _straight(size, shade)
    yield from blank_measures(shade)


def _straight(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    yield from _lengths(size, shade)
    yield from _heights(size, shade)
    yield stated(size, "panel_thickness", "Panel thickness", "panel.thickness", shade.thickness, ruler="mm")
    radius = shade.outline.smallest_radius
    yield bend_strain(shade.thickness, radius, f"radius {plain(radius)}")


def _lengths(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    overlap = round_nearest(shade.overlap)
    length = round_nearest(shade.panel_length)
    several = shade.panels > 1
    share = f"({sheet_growth(shade)}) / {shade.panels} panels" if several else sheet_growth(shade)
    supplied = size.panel.supplied is not None
    yield Measure(
        id="panel_length",
        label="Panel length, each of them" if several else "Panel length",
        exact=shade.panel_length,
        shown=length,
        unit="mm",
        formula=f"{plain(length)}, as it is supplied"
        if supplied
        else f"{share} + overlap {plain(shade.overlap)}",
        source=RECIPE if supplied else PARALLEL,
        tolerance=1.0,
        inputs=("panel.supplied.length",)
        if supplied
        else (
            "perimeter",
            "tape_thickness",
            "panel_thickness",
            "overlap",
            *(("panels",) if several else ()),
        ),
    )
    # What the shown panels make, so that they add up on the page: each laps over the next by the overlap.
    round_ = shade.panels * (length - overlap)
    if several:
        yield Measure(
            id="strip_length",
            label="Joined panels, length",
            exact=shade.strip_length,
            shown=round_ + overlap,
            unit="mm",
            formula=f"{sheet_growth(shade)} + overlap {plain(shade.overlap)}",
            source=PARALLEL,
            tolerance=float(shade.panels),
            inputs=("panel_length", "panels", "overlap"),
        )
    yield Measure(
        id="wrapped_length",
        label="Panel length once round, without the overlap",
        exact=shade.wrapped_length,
        shown=round_,
        unit="mm",
        formula=sheet_growth(shade),
        source=PARALLEL,
        tolerance=float(shade.panels),
        inputs=("perimeter", "tape_thickness", "panel_thickness"),
    )
    if not supplied:
        yield stated(
            size, "overlap", "Seam overlap", "panel.overlap", shade.overlap, shown=overlap, tolerance=1.0
        )
        return
    yield Measure(
        id="overlap",
        label="Seam overlap",
        exact=shade.overlap,
        shown=overlap,
        unit="mm",
        formula=f"panel {plain(shade.panel_length)} − {share}",
        source=PARALLEL,
        tolerance=1.0,
        inputs=("panel_length", "wrapped_length"),
    )


def _count(size: SizeRecipe, shade: Shade) -> Measure:
    """How many panels, and the sheet that decides it."""
    long, wide = size.panel.stock_length, size.panel.stock_width
    sheet = " × ".join(plain(side) for side in (long, wide) if side is not None)
    across = not shade.tapered and lies_across(size.panel, shade.panel_length, shade.panel_height)
    if size.panel.supplied:
        formula = f"as many of {plain(shade.panel_length)} as go round"
    elif shade.tapered and sheet:
        formula = (
            f"the fewest of one form that come out of a sheet of {sheet}: once round at half the slope "
            f"{plain(shade.wrapped_length)} / {shade.panels} + overlap {plain(shade.overlap)}"
        )
    elif sheet:
        lies = ", lying across it" if across else ""
        fewer = replace(shade, panels=shade.panels - 1) if shade.panels > 1 else None
        if fewer and lies_on(size.panel, fewer.panel_length, fewer.panel_height):
            lies += ", whose joints keep off the corners"
        formula = (
            f"the fewest of at most the sheet's size, {sheet}{lies}: once round "
            f"{plain(shade.wrapped_length)} / {shade.panels} + overlap {plain(shade.overlap)}"
        )
    else:
        formula = "one, since the recipe states no size of the sheet"
    return Measure(
        id="panels",
        label="Panels, joined round the shade" if shade.panels > 1 else "Panels",
        exact=float(shade.panels),
        shown=float(shade.panels),
        unit="count",
        formula=formula,
        source=COMMON_PRACTICE,
        inputs=tuple(key for key in ("panel.stock_length", "panel.stock_width") if key in size.stated),
    )


def _heights(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    # Half a millimetre each, so that two margins and a whole height make a whole panel.
    margin = round_nearest(shade.margin, 0.5)
    height = round_nearest(shade.panel_height)
    finished = height - 2 * margin if shade.kiss_cut else height
    if shade.kiss_cut:
        formula = f"finished height {plain(shade.height)} + 2 × margin {plain(shade.margin)}"
        label = "Panel height with its margin strips"
    else:
        without = "the margins are cloth alone" if shade.margin else "nothing is turned in"
        formula = f"finished height {plain(shade.height)}; {without}"
        label = "Panel height"
    if size.panel.supplied:
        formula = f"{plain(height)}, as it is supplied: {formula}"
    yield Measure(
        id="panel_height",
        label=label,
        exact=shade.panel_height,
        shown=height,
        unit="mm",
        formula=formula,
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("finished_height", "margin") if shade.kiss_cut else ("finished_height",),
    )
    yield stated(
        size,
        "finished_height",
        "Finished height, rim to rim",
        "height",
        shade.height,
        shown=finished,
        tolerance=practice("height_tolerance"),
    )
    if shade.margin:
        yield stated(
            size,
            "margin",
            "Margin to turn in at each rim",
            size.margin_key,
            shade.margin,
            shown=margin,
            tolerance=practice("margin_tolerance"),
            ruler="thirty-seconds",
        )
