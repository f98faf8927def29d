"""Numbers that only a full-scale pattern prints: its bar, its scale, and the scales that prove rings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.base.units import round_nearest
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.outline import PARALLEL
from generator.shape.development import ENDS, End
from generator.shape.say import plain
from generator.shape.shade import Shade

PROOF_REACH = 20.0
"""How far a scale goes to either side of the ring that the recipe states, mm."""
BAR = 100.0
"""The bar that tells whether a printer kept to the size, mm."""
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
    Steiner's formula holds for every convex ring, so also for one that is not quite what it should be. By the
    same formula a strip as thick as ``PAPER`` is longer than p by pi times that, once round on its middle.
    """
    ring = shade.outline if end is None else shade.rim(end)
    more = shade.panel_length - shade.outline.length if end is None else 0.0
    first, last = ring.length - PROOF_REACH + more, ring.length + PROOF_REACH + more
    readings = range(math.ceil(first - 1e-9), math.floor(last + 1e-9) + 1)
    return Scale(tuple((reading, reading - more + strip_growth()) for reading in readings))


def strip_growth() -> float:
    """How much longer a strip of paper is that goes once round a ring than the ring, mm."""
    return math.pi * PAPER


def full_scale_measures(shade: Shade, measures: Measures) -> Measures:
    """A size's measures and those of its pattern."""
    return Measures({**measures.by_id, **{one.id: one for one in _more(shade)}})


def _more(shade: Shade) -> Iterator[Measure]:
    yield Measure("bar", "Bar to measure", BAR, BAR, "mm", "a value of the house", COMMON_PRACTICE)
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
        tens = tuple(float(reading) for reading, _ in proof_scale(shade, end).ticks if reading % TEN == 0)
        what = f"ways round the {end} ring" if end else "panel lengths"
        yield Measure(
            id=f"proof_{end}_scale" if end else "proof_scale",
            label=f"Tens on the strip that proves a ring: {what}",
            exact=tens,
            shown=tens,
            unit="mm",
            formula=f"the strip's own length − {plain(strip_growth(), 2)} for its paper"
            + ("" if end else f" + {plain(shade.panel_length - shade.outline.length, 2)}"),
            source=f"{PARALLEL}; {ON_PAPER}",
            inputs=("perimeter", "paper_thickness")
            if end
            else ("perimeter", "paper_thickness", "tape_thickness", "panel_thickness", "overlap"),
        )
