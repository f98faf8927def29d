"""The cloth's pattern: whole repeats round the shade, and where the motif's middle goes.

Matching depends on the wrapped length, not on the overlap, which lies under itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade


def whole_repeats(wrapped: float, repeat: float) -> tuple[int, float]:
    """Whole repeats that go once round, and the length left over, mm."""
    count = math.floor(wrapped / repeat + 1e-9)
    return count, wrapped - count * repeat


def seam_step(wrapped: float, repeat: float) -> float:
    """How far the pattern jumps at the seam, the shorter way, mm."""
    _, rest = whole_repeats(wrapped, repeat)
    return min(abs(rest), repeat - rest)


def matching_length(wrapped: float, repeat: float) -> float:
    """The wrapped length of whole repeats, at least one, that is nearest to ``wrapped``, mm."""
    return max(1, math.floor(wrapped / repeat + 0.5)) * repeat


def matching_diameter(repeats: int, repeat: float, offset: float) -> float:
    """Outside diameter of a round ring whose mid-sheet line is so many repeats long, mm."""
    return repeats * repeat / math.pi - 2 * offset


def pattern_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Motif centre always, repeats only where the recipe states one."""
    # Of a taper along its wide rim, as its panel's length.
    wrapped = shade.rim_length(shade.wide_end)
    middle = wrapped / shade.panels / 2
    development = shade.one_panel.development
    if development is not None:
        middle = development.rim_place(shade.wide_end, development.length / 2)
    of = f" / {shade.panels} panels" if shade.panels > 1 else ""
    yield Measure(
        id="motif_centre",
        # Opposite the seam of two panels stands their joint: a motif has its place midway between the two.
        label="Middle of a panel, along its wide rim from its start end"
        if shade.tapered and of
        else "Middle opposite the seam, along the wide rim from the start end"
        if shade.tapered
        else "Middle of a panel between its two seams, from its start end"
        if of
        else "Middle of the side opposite the seam, from the start end",
        exact=middle,
        shown=round_nearest(middle),
        unit="mm",
        formula=f"half of once round {plain(wrapped)}{of}",
        source=COMMON_PRACTICE,
        tolerance=2.0,
        inputs=("wrapped_length", *(("panels",) if of else ())),
    )
    turned = shade.margin if shade.kiss_cut else 0.0
    clear = practice("motif_clear") + turned
    yield Measure(
        id="motif_edge",
        label="Motif clear of the panel's long edges, at least",
        exact=clear,
        shown=round_nearest(clear),
        unit="mm",
        formula=(f"margin turned in {plain(turned)} + " if turned else "")
        + f"clear {plain(practice('motif_clear'))}",
        source=COMMON_PRACTICE,
        inputs=(("margin",) if turned else ()) + ("motif_clear",),
        rounding="up",
    )
    half = shade.panel_height / 2
    yield Measure(
        id="motif_height",
        label="Middle of the panel, from a long edge",
        exact=half,
        shown=round_nearest(half),
        unit="mm",
        formula=f"half of the panel's height {plain(shade.panel_height)}",
        source=COMMON_PRACTICE,
        tolerance=2.0,
        inputs=("panel_height",),
    )
    repeat = size.covering.repeat
    if repeat is not None and repeat.up is not None:
        yield stated(size, "repeat_up", "Pattern repeat, up the shade", "covering.repeat.up", repeat.up)
    if repeat is None or repeat.around is None or repeat.around <= 0:
        return
    around = repeat.around
    yield stated(size, "repeat_around", "Pattern repeat, round the shade", "covering.repeat.around", around)
    if shade.tapered:
        return
    count, rest = whole_repeats(shade.wrapped_length, around)
    yield Measure(
        id="pattern_repeats",
        label="Whole repeats round the shade",
        exact=float(count),
        shown=float(count),
        unit="count",
        formula=f"once round {plain(shade.wrapped_length)} / repeat {plain(around)}, whole ones",
        source="arithmetic",
        inputs=("wrapped_length", "repeat_around"),
    )
    step = seam_step(shade.wrapped_length, around)
    yield Measure(
        id="pattern_step",
        label="Jump of the pattern at the seam",
        exact=step,
        shown=round_nearest(step),
        unit="mm",
        formula=f"once round {plain(shade.wrapped_length)} − {count} × repeat {plain(around)} = "
        f"{plain(rest)}, or what is missing to the next repeat, whichever is less",
        source="arithmetic",
        inputs=("wrapped_length", "repeat_around"),
    )
