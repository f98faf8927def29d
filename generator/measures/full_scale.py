"""Numbers that only a full-scale pattern prints: its bar, its scale, and the scales that prove rings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from generator.base.units import round_nearest
from generator.measures.inches import MM_PER_INCH
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.outline import PARALLEL
from generator.shape.development import ENDS, End
from generator.shape.say import plain
from generator.shape.shade import Shade

PROOF_REACH = 20.0
"""How far a scale goes to either side of the ring that the recipe states, mm."""
BAR = 100.0
"""The bar that tells whether a printer kept to the size, mm."""
INCH_BAR = 4.0
"""The same for a rule in inches, inches."""
INCH_BAR_MM = float(Fraction(INCH_BAR) * MM_PER_INCH)
FRAME = 18.0
"""Width of a viewfinder's frame, mm."""
TEN = 10
PAPER = 0.1
"""Thickness of office paper of 80 g a square metre, mm (common practice, no source)."""
ON_PAPER = "the middle of the strip's paper goes round outside the wire: π × its thickness longer (Steiner)"


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale on a strip that is wrapped round a ring."""

    ticks: tuple[tuple[int, float], ...]
    """What each tick reads, whole mm, and its place from the strip's beginning, mm."""


def proof_scale(shade: Shade, end: End | None = None) -> Scale:
    """The scale of one ring. Straight shade (``end`` None): it reads panel lengths. Taper: ways round a ring.

    A ring whose way round is p needs a panel of p + 2 pi d + overlap, d the offset of the sheet's middle:
    Steiner's formula holds for every convex ring, so also for one that is not quite what it should be. Of
    several panels each takes its share of p + 2 pi d. By the same formula a strip as thick as ``PAPER`` is
    longer than p by pi times that, once round on its middle.
    """
    ring = shade.outline if end is None else shade.rim(end)
    count, more = (shade.panels, _more_than_ring(shade)) if end is None else (1, 0.0)
    overlap = shade.overlap if end is None else 0.0
    first, last = ((ring.length + more + reach) / count + overlap for reach in (-PROOF_REACH, PROOF_REACH))
    readings = range(math.ceil(first - 1e-9), math.floor(last + 1e-9) + 1)
    return Scale(
        tuple((reading, (reading - overlap) * count - more + strip_growth()) for reading in readings)
    )


def _more_than_ring(shade: Shade) -> float:
    """How much longer the middle of the sheet is than a straight shade's ring, mm."""
    return shade.wrapped_length - shade.outline.length


def numbered(shade: Shade, end: End | None = None) -> tuple[float, ...]:
    """The readings of a scale that have room for a number: tens, or closer ones where ticks stand apart."""
    count = shade.panels if end is None else 1
    step = next(step for step in (1, 2, 5, TEN) if step * count >= TEN)
    return tuple(float(reading) for reading, _ in proof_scale(shade, end).ticks if reading % step == 0)


def strip_growth() -> float:
    """How much longer a strip of paper is that goes once round a ring than the ring, mm."""
    return math.pi * PAPER


def full_scale_measures(shade: Shade, measures: Measures) -> Measures:
    """A size's measures and those of its pattern."""
    return Measures({**measures.by_id, **{one.id: one for one in _more(shade)}})


def _more(shade: Shade) -> Iterator[Measure]:
    yield Measure(
        "bar", "Bar to measure", BAR, BAR, "mm", "a value of the house", COMMON_PRACTICE, ruler="mm"
    )
    yield Measure(
        "inch_bar",
        "Bar to measure in inches",
        INCH_BAR,
        INCH_BAR,
        "in",
        "a value of the house",
        COMMON_PRACTICE,
    )
    yield Measure(
        "print_scale",
        "Printed size",
        1.0,
        1.0,
        "fraction",
        "full size, neither fitted nor shrunk",
        "geometry",
    )
    yield Measure(
        "paper_thickness",
        "Paper of the strips that prove rings, thickness",
        PAPER,
        PAPER,
        "mm",
        "office paper; on much thicker paper a strip reads too much",
        COMMON_PRACTICE,
        ruler="mm",
    )
    third = shade.wrapped_length / 3
    yield Measure(
        id="viewed",
        label="Part of the way round that faces the viewer",
        exact=third,
        shown=round_nearest(third),
        unit="mm",
        formula=f"a third of once round {plain(shade.wrapped_length)}",
        source=COMMON_PRACTICE,
        inputs=("wrapped_length",),
    )
    for end in ENDS if shade.tapered else (None,):
        tens = numbered(shade, end)
        what = f"ways round the {end} ring" if end else "panel lengths"
        yield Measure(
            id=f"proof_{end}_scale" if end else "proof_scale",
            label=f"Numbers on the strip that proves a ring: {what}",
            exact=tens,
            shown=tens,
            unit="mm",
            formula=_read_off(shade, end),
            source=f"{PARALLEL}; {ON_PAPER}",
            inputs=("perimeter", "paper_thickness")
            if end
            else ("perimeter", "paper_thickness", "tape_thickness", "panel_thickness", "overlap"),
            # The strip is marked in whole millimetres.
            ruler="mm",
        )


def _read_off(shade: Shade, end: End | None) -> str:
    """What a reading is, in words."""
    own = f"the strip's own length − {plain(strip_growth(), 2)} for its paper"
    if end is not None:
        return own
    whole = f"{own} + {plain(_more_than_ring(shade), 2)}"
    share = f"({whole}) / {shade.panels} panels" if shade.panels > 1 else whole
    return f"{share} + overlap {plain(shade.overlap)}"
