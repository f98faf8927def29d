"""Lengths in centimetres and inches, converted once, for those who buy cloth by them."""

from __future__ import annotations

from generator.base.units import round_up
from generator.measures.measure import Measure

MM_PER_INCH = 25.4
INCH = "the inch is 25.4 mm (ISO 80000-3:2019, from memory)"
EIGHTH = 0.125
"""Cloth is bought to an eighth of an inch (common practice, no source)."""
TENTH = 0.1


def in_centimetres(measure: Measure) -> Measure:
    """The shown length in centimetres, up to a tenth: what may be trimmed."""
    return _converted(measure, "cm", 10.0, TENTH, "the centimetre is 10 mm")


def in_inches(measure: Measure) -> Measure:
    """The shown length in inches, up to an eighth: what may be trimmed."""
    return _converted(measure, "in", MM_PER_INCH, EIGHTH, INCH)


def _converted(measure: Measure, unit: str, size: float, step: float, source: str) -> Measure:
    exact = measure.value / size
    assert unit in ("cm", "in")
    return Measure(
        id=f"{measure.id}_{unit}",
        label=f"{measure.label}, {unit}",
        exact=exact,
        shown=round(round_up(exact, step), 3),
        unit="cm" if unit == "cm" else "in",
        formula=f"{measure.value:g} mm / {size:g}, up to {step:g}",
        source=source,
        inputs=(measure.id,),
    )
