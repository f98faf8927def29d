"""The cloth of a tapered shade: where its threads run up the shade, and what is left over round the blank."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.blank import Lie, cloth_lie
from generator.measures.measure import COMMON_PRACTICE, Measure
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS
from generator.shape.say import plain
from generator.shape.shade import Shade


def taper_words(lie: Lie) -> tuple[str, str]:
    """Length and width of the blank's rectangle in the words of a formula."""
    if lie.upright:
        middle = "the middle line upright"
        return f"panel {plain(lie.across)} across, {middle}", f"panel {plain(lie.up)} high, {middle}"
    of = "smallest rectangle" if lie.box.how == "smallest" else "rectangle that comes out of the cloth"
    return f"{of} round the panel, one side {plain(lie.across)}", f"its other side {plain(lie.up)}"


def grain_measures(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    """The one line on which the threads run true, as places along both rims, and how they lean elsewhere."""
    development = shade.one_panel.development
    assert development is not None
    lie = cloth_lie(size, shade)
    half = "half way along the panel" if shade.panels > 1 else "half way round, opposite the seam"
    why = half if lie.upright else "parallel to a side of the cut rectangle"
    for end in ENDS:
        place = development.rim_place(end, lie.grain)
        yield Measure(
            id=f"{end}_grain",
            label=f"Grain line along the {end} rim, from the start end",
            exact=place,
            shown=round_nearest(place),
            unit="mm",
            formula=f"{why}: {plain(place)}",
            source=COMMON_PRACTICE,
            tolerance=2.0,
            inputs=(f"{end}_wrapped",),
        )
    here = development.generator(lie.grain).tau
    lean = math.degrees(max(abs(here), abs(development.turning - here)))
    yield Measure(
        id="grain_lean",
        label=f"Threads lean at the {'seam' if shade.panels == 1 else 'joints'}, at most",
        exact=lean,
        shown=round(lean, 1),
        unit="deg",
        formula=f"part of the sweep {plain(math.degrees(abs(development.turning)))}° between the grain line "
        f"and the seam: {plain(lean)}°",
        source="arithmetic",
        inputs=("sweep",),
    )


def taper_slack(size: SizeRecipe, shade: Shade, cut_length: float, cut_width: float) -> Iterator[Measure]:
    """Slack round the blank's rectangle; the far sides take the rest of the rounded cut."""
    lie = cloth_lie(size, shade)
    covering = size.covering
    for id_, rest, ends, cut, blank, slack, of in (
        (
            "slack_ends",
            "slack_end_rest",
            "left and right",
            cut_length,
            lie.across,
            covering.slack_ends,
            "length",
        ),
        (
            "slack_edges",
            "slack_edge_rest",
            "above and below",
            cut_width,
            lie.up,
            covering.slack_edges,
            "width",
        ),
    ):
        yield stated(
            size,
            id_,
            f"Cloth past the panel {ends}, at least",
            f"covering.{id_}",
            slack,
            shown=round_nearest(slack),
        )
        far = cut - blank - slack
        yield Measure(
            id=rest,
            label=f"Cloth past the panel {ends}, on the far side",
            exact=far,
            shown=round_nearest(far),
            unit="mm",
            formula=f"cloth {plain(cut)} − panel {plain(blank)} − slack {plain(slack)}",
            source=COMMON_PRACTICE,
            inputs=(f"cloth_{of}", id_),
        )
    if shade.hem:
        yield stated(
            size, "hem", "Hem tab at the outside end", "seam.hem", shade.hem, shown=round_nearest(shade.hem)
        )
