"""Lengths in centimetres and inches, converted once, for those who buy cloth by them."""

from __future__ import annotations

from fractions import Fraction

from generator.base.units import round_up
from generator.measures.inches import MM_PER_INCH, STEPS, rounded
from generator.measures.measure import Measure

INCH = "the inch is 25.4 mm (ISO 80000-3:2019, from memory)"
MM_PER_CENTIMETRE = 10.0
TENTH = 0.1


def in_centimetres(measure: Measure) -> Measure:
    """The shown length in centimetres, up to a tenth: what may be trimmed."""
    exact = measure.value / MM_PER_CENTIMETRE
    return Measure(
        id=f"{measure.id}_cm",
        label=f"{measure.label}, cm",
        exact=exact,
        shown=round(round_up(exact, TENTH), 3),
        unit="cm",
        formula=f"{measure.value:g} mm / {MM_PER_CENTIMETRE:g}, up to {TENTH:g}",
        source="the centimetre is 10 mm",
        inputs=(measure.id,),
    )


def in_inches(measure: Measure) -> Measure:
    """The length in inches, up to an eighth: the same as on a sheet that is told in inches."""
    assert not isinstance(measure.exact, tuple)
    exact = Fraction(measure.exact) / MM_PER_INCH
    step = STEPS["eighths"]
    shown = measure.inches[0] if measure.inches else rounded(exact, step, "up")
    return Measure(
        id=f"{measure.id}_in",
        label=f"{measure.label}, in",
        exact=float(exact),
        shown=float(shown),
        unit="in",
        formula=f"{measure.exact:g} mm / {float(MM_PER_INCH):g}, up to {float(step):g}",
        source=INCH,
        inputs=(measure.id,),
    )
