"""The two rings of a tapered shade: the sizes of each, and the way round it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.extents import extents
from generator.measures.measure import COMMON_PRACTICE, Measure
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.build import end_facts
from generator.shape.development import ENDS, End, other_end
from generator.shape.say import plain
from generator.shape.shade import Shade

SEEN = 0.05
"""Millimetres under which a shifted ring stands straight above the other."""


def end_ring_measures(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    """Sizes of both rings, bottom first, then once round each, and how far the top ring is moved."""
    assert size.ends is not None
    for end in ENDS:
        yield from _sizes(size, end)
    yield from _extents(shade)
    for end in ENDS:
        facts = end_facts(size, end)
        perimeter = shade.rim(end).length
        yield Measure(
            id=f"{end}_perimeter",
            label=f"Once round the {end} ring, outside the wire",
            exact=perimeter,
            shown=round_nearest(perimeter),
            unit="mm",
            formula=facts.perimeter,
            source=facts.source,
            tolerance=practice("ring_agreement"),
            inputs=tuple(f"{end}.{key}" for key in size.ends.at(end).dimensions),
        )
    yield _perimeter(shade)
    yield from _shift(size)


def wire_word(shade: Shade, end: End) -> str:
    """``round the bottom ring 1099.6``: the start of a formula."""
    return f"round the {end} ring {plain(shade.rim(end).length)}"


def _sizes(size: SizeRecipe, end: End) -> Iterator[Measure]:
    assert size.ends is not None
    dimensions, tolerance = size.ends.at(end).dimensions, practice("width_tolerance")
    name = end.capitalize()

    def given(key: str, label: str, *, whole: bool = True) -> Measure:
        value = dimensions[key]
        shown = round_nearest(value) if whole else None
        within = tolerance if whole else None
        id_ = f"{end}_{key}"
        return stated(
            size, id_, f"{name} ring, {label}", f"{end}.{key}", value, shown=shown, tolerance=within
        )

    if "sides" in dimensions:
        key = f"{end}.sides"
        yield stated(size, f"{end}_sides", f"{name} ring, sides", key, int(dimensions["sides"]), unit="count")
        yield given("across_flats", "across flats, outside the wire")
    elif "diameter" in dimensions:
        yield given("diameter", "diameter, outside the wire")
    elif "side" in dimensions:
        yield given("side", "side, outside the wire")
    else:
        yield given("length", "larger size outside the wire")
        yield given("width", "smaller size outside the wire")
    if "corner_radius" in dimensions:
        yield given("corner_radius", "corner radius, outside the wire", whole=False)


def _extents(shade: Shade) -> Iterator[Measure]:
    """Extents of the wide ring, the room that the shade takes, and of the rings as a maker names them."""
    named: tuple[tuple[str, str, End], ...] = (
        ("ring", "Wide ring", shade.wide_end),
        ("fitter", "Fitter ring", shade.fitter_end),
        ("plain", "Plain ring", other_end(shade.fitter_end)),
    )
    for name, words, end in named:
        yield from extents(shade.rim(end), name, words)


def _perimeter(shade: Shade) -> Measure:
    wide = shade.rim(shade.wide_end).length
    return Measure(
        id="perimeter",
        label="Once round the wide ring, outside the wire",
        exact=wide,
        shown=round_nearest(wide),
        unit="mm",
        formula=f"the longer of {wire_word(shade, 'bottom')} and {wire_word(shade, 'top')}",
        source="arithmetic",
        tolerance=practice("ring_agreement"),
        inputs=("bottom_perimeter", "top_perimeter"),
    )


def _shift(size: SizeRecipe) -> Iterator[Measure]:
    assert size.ends is not None
    across, back = size.ends.shift
    for id_, value, ways in (
        ("shift_side", across, ("right", "left")),
        ("shift_back", back, ("away from", "towards")),
    ):
        if abs(value) < SEEN:
            continue
        way = ways[0] if value > 0 else ways[1]
        where = f"to the {way}, seen from the seam" if id_ == "shift_side" else f"{way} the seam"
        yield Measure(
            id=id_,
            label=f"Top ring's middle moved {where}",
            exact=abs(value),
            shown=round_nearest(abs(value)),
            unit="mm",
            formula=f"{plain(value)}, as the recipe says",
            source=COMMON_PRACTICE,
            tolerance=practice("width_tolerance"),
            inputs=(f"shift.{'x' if id_ == 'shift_side' else 'y'}",),
        )
