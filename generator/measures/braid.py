"""The braid: glued along the rim after the tuck, or folded over a trimmed edge to bind it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_down, round_up
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.measures.wire import wrap_used
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import TURN, Shade

LENGTH_STEP = 5.0
FOLD_STEP = 0.5


def over_the_rim(size: SizeRecipe, shade: Shade) -> float:
    """How thick the edge is that a binding goes over: panel, tape and wire, mm.

    The cloth and the binding itself are not counted: no recipe states how thick they are.
    """
    return shade.thickness + size.tape.thickness + shade.wire


def binding_fold(size: SizeRecipe, shade: Shade, width: float) -> float:
    """Part of a binding's width that lies outside, mm: half of what the edge leaves over, rounded down."""
    return round_down((width - over_the_rim(size, shade)) / 2, FOLD_STEP)


def least_binding(size: SizeRecipe, shade: Shade) -> float:
    """The narrowest binding that hides the wire: as deep as the wire outside, and inside to its underside.

    From the outer face it goes over panel, tape and half the wire, a quarter round the wire, and down past
    its lower half (own derivation).
    """
    r = shade.wire / 2
    inside = shade.thickness + size.tape.thickness + r + wrap_used(math.pi / 2, r) + r
    # The fold is rounded down, and never more than half of what the edge leaves over lies outside.
    outside = 2 * (shade.wire + FOLD_STEP) + over_the_rim(size, shade)
    return max(shade.wire + inside, outside)


def braid_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Its width and how long its glue cures; where it binds an edge, how it is cut and folded."""
    braid = size.braid
    if braid is None:
        return
    name = "Braid" if shade.margin else "Binding"
    yield stated(size, "braid_width", f"{name} width", "braid.width", braid.width)
    if not shade.margin:
        yield from _binding(size, shade, braid.width)
    yield stated(
        size,
        "braid_cures",
        f"Glue of the {name.lower()} cures",
        "braid.cures",
        braid.cure_minutes,
        unit="min",
    )


def _binding(size: SizeRecipe, shade: Shade, width: float) -> Iterator[Measure]:
    lap = practice("binding_lap")
    off = shade.thickness + size.tape.thickness
    # Once round the covered shade, outside the panel: a curve parallel to the wire's outline.
    length = shade.outline.length + TURN * off + lap
    each = round_up(length, LENGTH_STEP)
    yield Measure(
        id="binding_length",
        label="Binding to cut for each rim",
        exact=length,
        shown=each,
        unit="mm",
        formula=f"round the ring {plain(shade.outline.length)} + 2π × (panel and tape {plain(off, 2)}) "
        f"+ lap {plain(lap)}",
        source="Steiner's formula for parallel curves (do Carmo, exercise 1-7, from memory)",
        inputs=("perimeter", "panel_thickness", "tape_thickness", "binding_lap"),
        rounding="up",
        ruler="eighths",
    )
    yield Measure(
        id="binding_total",
        label="Binding for both rims",
        exact=2 * length,
        shown=2 * each,
        unit="mm",
        formula=f"2 × {plain(each)}",
        source="arithmetic",
        inputs=("binding_length",),
        rounding="up",
        ruler="eighths",
    )
    over = over_the_rim(size, shade)
    fold = binding_fold(size, shade, width)
    yield Measure(
        id="binding_fold",
        label="Binding outside, up to its fold",
        exact=(width - over) / 2,
        shown=fold,
        unit="mm",
        formula=f"half of what panel, tape and wire {plain(over, 2)} leave of its width {plain(width)}",
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("braid_width", "panel_thickness", "tape_thickness", "wire"),
        rounding="down",
    )
    yield Measure(
        id="binding_inside",
        label="Binding beyond its fold, over the ring and inside",
        # What is left of the width, so that the two add up on the page.
        exact=width - (width - over) / 2,
        shown=round(width - fold, 2),
        unit="mm",
        formula=f"width {plain(width)} − outside {plain(fold)}",
        source="arithmetic",
        tolerance=1.0,
        inputs=("braid_width", "binding_fold"),
    )
