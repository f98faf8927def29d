"""How long and how wide a ring is."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.measure import Measure
from generator.measures.practice import practice
from generator.shape.outline import Outline
from generator.shape.say import plain


def extents(ring: Outline, name: str, words: str, inputs: tuple[str, ...] = ()) -> Iterator[Measure]:
    """``<name>_length`` and ``<name>_width``: the ring's larger and smaller size outside the wire, mm."""
    sides = (ring.width, ring.depth)
    for way, size, value in (("length", "larger", max(sides)), ("width", "smaller", min(sides))):
        yield Measure(
            id=f"{name}_{way}",
            label=f"{words}, {size} size outside the wire",
            # The walk round the outline adds up many pieces; a ninth decimal of a millimetre is its noise.
            exact=round(value, 9),
            shown=round_nearest(value),
            unit="mm",
            formula=f"measured on the outside of the wire: {plain(value)}",
            source="the outline's extent",
            tolerance=practice("width_tolerance"),
            inputs=inputs,
        )
