"""The panel: its length and height, and what is left over for seam and margins."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.blank import blank_measures
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.outline import PARALLEL, sheet_growth
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.measures.taper import BEND, taper_panel_measures
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade


def panel_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Lengths first, then heights. Shown parts add up to the shown whole."""
    yield from taper_panel_measures(size, shade) if shade.tapered else _straight(size, shade)
    yield from blank_measures(shade)


def _straight(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    yield from _lengths(size, shade)
    yield from _heights(size, shade)
    yield stated(size, "panel_thickness", "Panel thickness", "panel.thickness", shade.thickness)
    radius = shade.outline.smallest_radius
    strain = shade.thickness / (2 * radius + shade.thickness) if shade.thickness > 0 else 0.0
    yield Measure(
        id="bend_strain",
        label="Stretch of the panel's outer face at the tightest bend",
        exact=strain,
        shown=round(strain, 4),
        unit="fraction",
        formula=f"panel {plain(shade.thickness, 2)} / (2 × radius {plain(radius)} + panel "
        f"{plain(shade.thickness, 2)})",
        source=BEND,
        inputs=("panel_thickness", "smallest radius of curvature"),
    )


def _lengths(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    overlap = round_nearest(shade.overlap)
    length = round_nearest(shade.panel_length)
    yield Measure(
        id="panel_length",
        label="Panel length",
        exact=shade.panel_length,
        shown=length,
        unit="mm",
        formula=f"{sheet_growth(shade)} + overlap {plain(shade.overlap)}",
        source=PARALLEL,
        tolerance=1.0,
        inputs=("perimeter", "tape_thickness", "panel_thickness", "overlap"),
    )
    yield Measure(
        id="wrapped_length",
        label="Panel length once round, without the overlap",
        exact=shade.wrapped_length,
        # What is left of the shown panel, so that the two add up on the page.
        shown=length - overlap,
        unit="mm",
        formula=sheet_growth(shade),
        source=PARALLEL,
        tolerance=1.0,
        inputs=("perimeter", "tape_thickness", "panel_thickness"),
    )
    yield stated(
        size, "overlap", "Seam overlap", "panel.overlap", shade.overlap, shown=overlap, tolerance=1.0
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
            "panel.margin",
            shade.margin,
            shown=margin,
            tolerance=practice("margin_tolerance"),
        )
