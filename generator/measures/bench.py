"""The table: how long it must be."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_up
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.recipe.models import SizeRecipe
from generator.shape.blank_hull import blank_box
from generator.shape.say import plain
from generator.shape.shade import Shade

LAMINATE_SPACE = 100.0
ROLL_SPACE = 200.0
BENCH_STEP = 10.0


def bench_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Free length of table for laminating and for rolling."""
    cloth = so_far.exact("cloth_length")
    yield Measure(
        id="lamination_bench",
        label="Table length to laminate on",
        exact=cloth + LAMINATE_SPACE,
        shown=round_up(cloth + LAMINATE_SPACE, BENCH_STEP),
        unit="mm",
        formula=f"cloth {plain(cloth)} + {plain(LAMINATE_SPACE)}",
        source=COMMON_PRACTICE,
        inputs=("cloth_length",),
        rounding="up",
        ruler="eighths",
    )
    if shade.tapered:
        length, width = so_far.exact("blank_length"), so_far.exact("blank_width")
        if shade.panels > 1 and shade.development is not None:
            box = blank_box(shade.development, shade.margin, shade.overlap)
            length, width = box.length, box.width
        yield from _swung(shade, length, width, so_far.exact("ring_length"))
        return
    strip, ring = shade.strip_length, so_far.exact("ring_length")
    name, of = ("joined panels", "strip_length") if shade.panels > 1 else ("panel", "panel_length")
    yield Measure(
        id="rolling_bench",
        label="Table length to roll on",
        exact=strip + ring + ROLL_SPACE,
        shown=round_up(strip + ring + ROLL_SPACE, BENCH_STEP),
        unit="mm",
        formula=f"{name} {plain(strip)} + ring {plain(ring)} + {plain(ROLL_SPACE)}",
        source=COMMON_PRACTICE,
        inputs=(of, "ring_length"),
        rounding="up",
        ruler="eighths",
    )


def _swung(shade: Shade, length: float, width: float, ring: float) -> Iterator[Measure]:
    """A tapered shade swings round as it rolls: the rectangle of the flat sheet, and room both ways."""
    several = shade.panels > 1
    panel = "joined panels" if several else "panel"
    for id_, label, side, name in (
        ("rolling_bench", "Table length to roll on", length, "blank_length"),
        ("rolling_depth", "Table depth to roll on", width, "blank_width"),
    ):
        need = side + ring + ROLL_SPACE
        yield Measure(
            id=id_,
            label=label,
            exact=need,
            shown=round_up(need, BENCH_STEP),
            unit="mm",
            formula=f"{panel} {plain(side)} + wide ring {plain(ring)} + {plain(ROLL_SPACE)}",
            source=COMMON_PRACTICE,
            inputs=("strip_length" if several else name, "ring_length"),
            rounding="up",
            ruler="eighths",
        )
