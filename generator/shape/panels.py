"""How many equal panels a shade takes from the sheets that its recipe states."""

from __future__ import annotations

import math
from dataclasses import replace

from generator.base.errors import Fault, GeometryError
from generator.base.units import round_up
from generator.recipe.models import Panel, SizeRecipe
from generator.shape.blank import blank_box
from generator.shape.development import Development
from generator.shape.say import mm
from generator.shape.shade import Shade

MOST_PANELS = 6
"""More joints than this nobody keeps true over a whole strip (common practice, no source)."""
_NOISE = 1e-6


def in_panels(size: SizeRecipe, whole: Shade) -> Shade:
    """The same shade of the fewest equal panels that come out of a stated sheet.

    Raises GeometryError where the sheet is too narrow for the height, or too short for ``MOST_PANELS``.
    """
    if whole.development is not None:
        return _in_one(size, whole, whole.development)
    for count in range(1, MOST_PANELS + 1):
        shade = replace(whole, panels=count)
        if lies_on(size.panel, shade.panel_length, shade.panel_height):
            return shade
    raise GeometryError([_too_small(size, replace(whole, panels=MOST_PANELS))])


def _in_one(size: SizeRecipe, whole: Shade, development: Development) -> Shade:
    """A tapered shade, whose blank must come out of the sheet in one piece."""
    if size.panel.stock_length is None and size.panel.stock_width is None:
        return whole
    box = blank_box(development, whole.margin if whole.kiss_cut else 0.0, whole.overlap)
    if lies_on(size.panel, box.length, box.width):
        return whole
    long, wide = _sheet(size.panel)
    told = " by ".join(mm(side) for side in (long, wide) if side < math.inf)
    raise GeometryError(
        [
            Fault(
                size.span("panel.stock_length" if size.panel.stock_length else "panel.stock_width"),
                f"the curved panel needs a sheet of {mm(round_up(box.length))} by {mm(round_up(box.width))}; "
                f"the sheet it is cut from measures {told}",
                "one sheet that the whole panel comes out of: only straight shades are joined",
                "use a larger sheet, or make the shade smaller",
            )
        ]
    )


def lies_on(panel: Panel, length: float, height: float) -> bool:
    """Whether a piece comes out of the sheet. PVC has no direction: the piece may lie along it or across.

    Across only where the recipe states a width: who states a length alone means how long a panel may be.
    """
    long, wide = _sheet(panel)
    along = length <= long + _NOISE and height <= wide + _NOISE
    return along or (wide < math.inf and length <= wide + _NOISE and height <= long + _NOISE)


def lies_across(panel: Panel, length: float, height: float) -> bool:
    """Whether the piece fits only turned, its length across the sheet."""
    long, wide = _sheet(panel)
    return lies_on(panel, length, height) and (length > long + _NOISE or height > wide + _NOISE)


def _sheet(panel: Panel) -> tuple[float, float]:
    """Length and width of the sheet; endless where the recipe states none."""
    return panel.stock_length or math.inf, panel.stock_width or math.inf


def _too_small(size: SizeRecipe, most: Shade) -> Fault:
    """``most`` is the shade of as many panels as there may be."""
    long, wide = _sheet(size.panel)
    told = " by ".join(mm(side) for side in (long, wide) if side < math.inf)
    high = most.panel_height
    if high > max(long, wide) + _NOISE:
        return Fault(
            size.span("panel.stock_width"),
            f"the panel is {mm(high)} high, and the sheet it is cut from measures {told}: it comes out of "
            "that neither along nor across",
            f"a sheet of at least {mm(round_up(high))} one way",
            "use a wider sheet, or make the shade lower: panels are joined round the shade, not one above "
            "another",
        )
    across = high > wide + _NOISE
    key = "panel.stock_width" if across or long == math.inf else "panel.stock_length"
    how = f" across, since they are {mm(high)} high," if across else ""
    return Fault(
        size.span(key),
        f"a sheet of {told} is too small: {MOST_PANELS} panels cut from it{how} do not go round",
        f"at most {MOST_PANELS} panels, so a sheet of at least {mm(round_up(most.panel_length))} by "
        f"{mm(round_up(high))}",
        "use a larger sheet, or make the shade smaller",
    )
