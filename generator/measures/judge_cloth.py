"""Whether the blank comes out of the cloth, and whether the pattern meets at the seam."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from generator.base.errors import Fault, GeometryError, Warning_
from generator.base.units import round_down
from generator.measures.cloth import cloth_cut, wide_enough
from generator.measures.laying import CLOTH_STEP
from generator.measures.measure import Measures
from generator.measures.pattern import matching_length, whole_repeats
from generator.recipe.lengths import SMALLEST_SIZE
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.say import mm
from generator.shape.shade import Shade


def judge_cloth(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A blank wider than the cloth. A one-way print runs along the cloth, so the blank lies across it."""
    if shade.tapered:
        return  # judge_taper_cloth knows how a curved panel may lie
    stock = size.covering.width
    if stock <= 0 or wide_enough(size, shade):
        return
    length, width = cloth_cut(size, shade)
    one_way = size.covering.direction == "one-way"
    needed = length if one_way else min(length, width)
    if one_way:
        wrong = (
            f"the blank needs {mm(length)} across the cloth, which has {mm(stock)} of usable width, and a "
            "one-way print cannot be turned"
        )
    else:
        wrong = f"the blank, {mm(length)} by {mm(width)}, is wider than the cloth whichever way it lies"
    ways = [*_smaller_ring(size), f"use cloth with at least {mm(needed)} of usable width"]
    if not one_way:
        height = round_down(stock, CLOTH_STEP) - 2 * shade.margin - 2 * size.covering.slack_edges
        if height >= SMALLEST_SIZE:
            ways.insert(0, f"the largest height that fits is {mm(round_down(height))}")
    yield Fault(
        size.span("covering.width"), wrong, f"a blank of at most {mm(stock)} across", ", or ".join(ways)
    )


def judge_pattern(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Warning_]:
    """A step of the pattern at the seam, or a repeat that goes round less than once."""
    if "pattern_step" not in measures or size.covering.repeat is None or not size.covering.repeat.around:
        return
    repeat, round_ = size.covering.repeat.around, shade.wrapped_length
    span = size.span("covering.repeat.around")
    if repeat > round_:
        yield Warning_(
            span,
            f"one repeat of the pattern, {mm(repeat)}, is longer than once round the shade, {mm(round_)}",
        )
        return
    step = measures.shown("pattern_step")
    if step >= 1:
        count, rest = whole_repeats(round_, repeat)
        yield Warning_(
            span,
            f"the pattern jumps by {mm(step)} at the seam: {count} repeats of {mm(repeat)} go round and "
            f"{mm(rest)} are over; only another ring cures it, one that takes a panel of "
            f"{mm(matching_length(round_, repeat))} once round",
        )


def _takes_fewer(panels: int, shade: Shade) -> bool:
    return shade.panels < panels


def _makes(size: SizeRecipe) -> bool:
    """Whether a changed size is a shape at all."""
    try:
        build_shade(size)
    except GeometryError:
        return False
    return True


def _smaller_ring(size: SizeRecipe) -> Iterator[str]:
    """The largest ring on whole mm that this cloth makes: its leading size alone, else all in proportion."""
    leading = outline_keys()[size.outline].lengths[0]
    now = size.dimensions[leading]
    others = [key for key in outline_keys()[size.outline].all if key != leading and key in size.dimensions]

    def alone(value: float) -> Mapping[str, float]:
        return {**size.dimensions, leading: value}

    def together(value: float) -> Mapping[str, float]:
        lengths = {key for key in others if key not in outline_keys()[size.outline].counts}
        return {
            key: value if key == leading else round_down(old * value / now) if key in lengths else old
            for key, old in size.dimensions.items()
        }

    name = leading.replace("_", " ")
    found = _largest(size, now, alone)
    if found is not None:
        same = " and ".join(key.replace("_", " ") for key in others)
        yield f"the largest {name} that fits is {mm(found[leading])}" + (
            f" at the same {same}" if same else ""
        )
        return
    found = _largest(size, now, together)
    if found is not None:
        sizes = ", ".join(
            f"{key.replace('_', ' ')} {mm(value)}"
            for key, value in found.items()
            if key in (leading, *others) and key != "sides"
        )
        yield f"the largest ring of this shape that fits has {sizes}"


def _largest(
    size: SizeRecipe, now: float, change: Callable[[float], Mapping[str, float]]
) -> Mapping[str, float] | None:
    """Largest whole mm of the leading size at which the blank fits; None if that is no shape.

    As long as the shade takes as many panels the blank grows with the ring, so halving finds it; a size too
    small for a shape counts as one that fits. A ring that takes one panel fewer is tried after that.
    """
    # The struts play no part in the blank, and a first strut may lie beyond a smaller ring.
    free = size.model_copy(update={"ring": size.ring.model_copy(update={"first_strut": None})})

    def made(value: float) -> SizeRecipe:
        return free.model_copy(update={"dimensions": change(value)})

    def largest(low: int, high: int, good: Callable[[Shade], bool]) -> int:
        while high - low > 1:
            middle = (low + high) // 2
            trial = made(float(middle))
            if not _makes(trial) or good(build_shade(trial)):
                low = middle
            else:
                high = middle
        return low

    high = int(now) + 1
    for panels in range(build_shade(size).panels, 0, -1):
        fewer = largest(0, high, partial(_takes_fewer, panels)) if panels > 1 else 0
        low = largest(fewer, high, lambda shade: wide_enough(size, shade))
        best = made(float(low))
        if low > fewer and low >= SMALLEST_SIZE and _makes(best):
            return best.dimensions
        high = fewer + 1
    return None
