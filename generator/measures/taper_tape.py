"""The tape of a tapered shade: along a sloping seam, and round two rings of different size."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest, round_up
from generator.measures.ends import wire_word
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.practice import practice
from generator.shape.development import ENDS
from generator.shape.say import plain
from generator.shape.shade import Shade


def seam_tapes(shade: Shade) -> Measure:
    """How many pieces of seam tape a shade of several panels takes."""
    return Measure(
        id="seam_tapes",
        label="Pieces of seam tape: the seam and each joint",
        exact=float(shade.panels),
        shown=float(shade.panels),
        unit="count",
        formula=f"the seam and {shade.panels - 1} {'joint' if shade.panels == 2 else 'joints'}",
        source=COMMON_PRACTICE,
        inputs=("panels",),
    )


def taper_tape_measures(shade: Shade, so_far: Measures, spare: float, step: float) -> Iterator[Measure]:
    """``spare`` is the share to have over, ``step`` what the whole is rounded up to, mm."""
    development = shade.development
    assert development is not None
    inset, gap = practice("rim_inset"), practice("tape_gap")
    # The tape lies on the end laid last, which is as long as the last line of the surface.
    edge = development.generator(development.length).length
    alike = abs(edge - shade.slant) < 1e-6
    yield Measure(
        id="seam_tape",
        label="Seam tape, length" if shade.panels == 1 else "Seam tape, length of each piece",
        exact=edge - 2 * inset,
        shown=(so_far.shown("slant") if alike else round_nearest(edge)) - 2 * inset,
        unit="mm",
        formula=f"seam edge {plain(edge)} − 2 × {plain(inset)}",
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("slant", "rim_inset"),
    )
    if shade.panels > 1:
        yield seam_tapes(shade)
    shown = 0.0
    for end in ENDS:
        around = shade.rim(end).length - gap
        shown += round_nearest(around)
        yield Measure(
            id=f"{end}_ring_tape",
            label=f"Tape round the {end} ring",
            exact=around,
            shown=round_nearest(around),
            unit="mm",
            formula=f"{wire_word(shade, end)} − gap {plain(gap)}",
            source=COMMON_PRACTICE,
            tolerance=1.0,
            inputs=(f"{end}_perimeter", "tape_gap"),
        )
    rings = sum(shade.rim(end).length for end in ENDS)
    both = " + ".join(wire_word(shade, end) for end in ENDS)
    yield Measure(
        id="ring_tape",
        label="Tape round both rings",
        exact=rings - 2 * gap,
        # The sum of what is shown for each, so that the two add up on the page.
        shown=shown,
        unit="mm",
        formula=f"{both} − 2 × gap {plain(gap)}",
        source=COMMON_PRACTICE,
        inputs=("bottom_ring_tape", "top_ring_tape"),
    )
    total = (1 + spare) * (rings + shade.panels * edge)
    seams = f"{shade.panels} × " if shade.panels > 1 else ""
    yield Measure(
        id="tape_total",
        label="Tape to have, a tenth to spare",
        exact=total,
        shown=round_up(total, step),
        unit="mm",
        formula=f"{plain(1 + spare)} × ({both} + {seams}seam edge {plain(edge)})",
        source=COMMON_PRACTICE,
        inputs=("bottom_perimeter", "top_perimeter", "slant"),
        rounding="up",
        ruler="eighths",
    )
