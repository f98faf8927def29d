"""The lamp: how far it stays from the covering. A distance, never a promise."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_down
from generator.measures.measure import Measure, Measures
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade

GEOMETRY = "geometry, with the lamp in the middle of the ring"


def lamp_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Nothing without a lamp; the gap at the end only with the lamp's length."""
    lamp = size.lamp
    if lamp is None:
        return
    # A label tells it as the most that a lamp may measure.
    yield stated(size, "lamp_diameter", "Lamp diameter", "lamp.diameter", lamp.diameter, rounding="down")
    inside = shade.smallest_inside
    yield Measure(
        id="inside_width",
        label="Smallest width between the wires",
        exact=inside,
        shown=round_down(inside),
        unit="mm",
        formula=("narrow ring, " if shade.tapered else "")
        + f"across the nearest sides {plain(inside + 2 * shade.wire)} − 2 × wire {plain(shade.wire)}",
        source="geometry",
        inputs=("bottom_perimeter", "top_perimeter", "wire") if shade.tapered else ("ring_width", "wire"),
        rounding="down",
    )
    gap = (inside - lamp.diameter) / 2
    yield Measure(
        id="lamp_gap",
        label="Lamp to the cloth, sideways",
        exact=gap,
        shown=round_down(gap),
        unit="mm",
        formula=f"(smallest inside width {plain(inside)} − lamp {plain(lamp.diameter)}) / 2",
        source=GEOMETRY,
        inputs=("inside_width", "lamp_diameter"),
        rounding="down",
    )
    if lamp.length is not None:
        yield stated(size, "lamp_length", "Lamp length", "lamp.length", lamp.length, rounding="down")
        end = shade.height - shade.recess - lamp.length
        yield Measure(
            id="lamp_gap_end",
            label="Lamp to the open end",
            exact=end,
            shown=round_down(end),
            unit="mm",
            formula=f"finished height {plain(shade.height)} − recess {plain(shade.recess)} "
            f"− lamp {plain(lamp.length)}",
            source=GEOMETRY,
            inputs=("finished_height", "recess", "lamp_length"),
            rounding="down",
        )
    if lamp.watts is not None:
        yield stated(size, "lamp_watts", "Lamp power", "lamp.watts", lamp.watts, unit="W")
