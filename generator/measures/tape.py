"""The double-sided tape: on the seam, round the rings, and how much to have."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest, round_up
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.measures.taper_tape import seam_tapes, taper_tape_measures
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade

SPARE = 0.1
TAPE_STEP = 100.0


def tape_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Width and thickness as stated, then lengths."""
    yield stated(size, "tape_width", "Tape width", "tape.width", size.tape.width)
    yield stated(size, "tape_thickness", "Tape thickness", "tape.thickness", size.tape.thickness, ruler="mm")
    if shade.tapered:
        yield from taper_tape_measures(shade, so_far, SPARE, TAPE_STEP)
        return
    inset, gap = practice("rim_inset"), practice("tape_gap")
    yield Measure(
        id="seam_tape",
        label="Seam tape, length of each piece" if shade.panels > 1 else "Seam tape, length",
        exact=shade.height - 2 * inset,
        shown=so_far.shown("finished_height") - 2 * inset,
        unit="mm",
        formula=f"finished height {plain(shade.height)} − 2 × {plain(inset)}",
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("finished_height", "rim_inset"),
    )
    if shade.panels > 1:
        yield seam_tapes(shade)
    perimeter = shade.outline.length
    each = perimeter - gap
    both = round_nearest(2 * each)
    yield Measure(
        id="ring_tape_each",
        label="Tape round one ring",
        exact=each,
        # Half of what both take as shown, so that the two add up on the page.
        shown=both / 2,
        unit="mm",
        formula=f"round the ring {plain(perimeter)} − gap {plain(gap)}",
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("perimeter", "tape_gap"),
    )
    yield Measure(
        id="ring_tape",
        label="Tape round both rings",
        exact=2 * each,
        shown=both,
        unit="mm",
        formula=f"2 × (round the ring {plain(perimeter)} − gap {plain(gap)})",
        source=COMMON_PRACTICE,
        inputs=("perimeter", "tape_gap"),
    )
    total = (1 + SPARE) * (2 * perimeter + shade.panels * shade.height)
    seams = f"{shade.panels} × " if shade.panels > 1 else ""
    yield Measure(
        id="tape_total",
        label="Tape to have, a tenth to spare",
        exact=total,
        shown=round_up(total, TAPE_STEP),
        unit="mm",
        formula=f"{plain(1 + SPARE)} × (2 × round the ring {plain(perimeter)} + {seams}finished height "
        f"{plain(shade.height)})",
        source=COMMON_PRACTICE,
        inputs=("perimeter", "finished_height", *(("panels",) if seams else ())),
        rounding="up",
        ruler="eighths",
    )
