"""The ring: its sizes outside the wire, and the way round it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.ends import end_ring_measures
from generator.measures.extents import extents
from generator.measures.measure import Measure, Measures
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.build import outline_facts
from generator.shape.say import plain
from generator.shape.shade import Shade

PARALLEL = "Steiner's formula for parallel curves (do Carmo, exercise 1-7, from memory)"


def outline_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Sizes of the ring (of a taper both rings), perimeter, wire, struts."""
    yield from end_ring_measures(size, shade) if shade.tapered else _ring(size, shade)
    yield stated(size, "wire", "Wire thickness (diameter)", "ring.wire", shade.wire, ruler="mm")
    yield stated(size, "struts", "Struts of the fitter ring", "ring.struts", len(shade.struts), unit="count")
    yield stated(size, "recess", "Fitter set back inside the shade", "ring.recess", shade.recess)
    if shade.hole is not None:
        yield stated(size, "hole", "Hole of the fitter", "ring.hole", shade.hole)


def _ring(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    yield from _sizes(size, shade)
    facts = outline_facts(size)
    perimeter = shade.outline.length
    yield Measure(
        id="perimeter",
        label="Once round the ring, outside the wire",
        exact=perimeter,
        shown=round_nearest(perimeter),
        unit="mm",
        formula=facts.perimeter,
        source=facts.source,
        tolerance=practice("ring_agreement"),
        inputs=tuple(size.dimensions),
    )


def _sizes(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    dimensions, tolerance = size.dimensions, practice("width_tolerance")
    if "diameter" in dimensions:
        yield stated(
            size,
            "ring_diameter",
            "Ring diameter, outside the wire",
            "diameter",
            dimensions["diameter"],
            shown=round_nearest(dimensions["diameter"]),
            tolerance=tolerance,
        )
    if "across_flats" in dimensions:
        yield stated(size, "sides", "Sides of the ring", "sides", int(dimensions["sides"]), unit="count")
        yield stated(
            size,
            "across_flats",
            "Ring across flats, outside the wire",
            "across_flats",
            dimensions["across_flats"],
            shown=round_nearest(dimensions["across_flats"]),
            tolerance=tolerance,
        )
    yield from extents(shade.outline, "ring", "Ring", tuple(dimensions))
    if "corner_radius" in dimensions:
        yield stated(
            size,
            "corner_radius",
            "Corner radius, outside the wire",
            "corner_radius",
            dimensions["corner_radius"],
        )


def sheet_growth(shade: Shade) -> str:
    """Words for the way that the mid-sheet line is longer than the ring, numbers filled in."""
    offset = (shade.sheet.length - shade.outline.length) / (2 * math.pi)
    tape = offset - shade.thickness / 2
    return (
        f"round the ring {plain(shade.outline.length)} + 2π × "
        f"(tape {plain(tape, 3)} + half the panel {plain(shade.thickness / 2, 3)})"
    )
