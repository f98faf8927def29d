"""Whether the blank comes out of the cloth, and whether the pattern meets at the seam."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from generator.base.errors import Fault, GeometryError, Warning_
from generator.base.message import Message, joined, message, plural, together
from generator.base.units import round_down
from generator.measures.cloth import cloth_cut, wide_enough
from generator.measures.laying import CLOTH_STEP
from generator.measures.measure import Measures
from generator.measures.pattern import matching_length, whole_repeats
from generator.recipe.lengths import SMALLEST_SIZE
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.say import dimension, mm, ways
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
        wrong = message(
            "the blank needs {length} across the cloth, which has {stock} of usable width, and a "
            "one-way print cannot be turned",
            length=mm(length),
            stock=mm(stock),
        )
    else:
        wrong = message(
            "the blank, {length} by {width}, is wider than the cloth whichever way it lies",
            length=mm(length),
            width=mm(width),
        )
    found = [
        *_smaller_ring(size),
        message("use cloth with at least {needed} of usable width", needed=mm(needed)),
    ]
    if not one_way:
        height = round_down(stock, CLOTH_STEP) - 2 * shade.margin - 2 * size.covering.slack_edges
        if height >= SMALLEST_SIZE:
            found.insert(
                0, message("the largest height that fits is {height}", height=mm(round_down(height)))
            )
    yield Fault(
        size.span("covering.width"),
        wrong,
        message("a blank of at most {stock} across", stock=mm(stock)),
        ways(found),
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
            message(
                "one repeat of the pattern, {repeat}, is longer than once round the shade, {round}",
                repeat=mm(repeat),
                round=mm(round_),
            ),
        )
        return
    step = measures.shown("pattern_step")
    if step >= 1:
        count, rest = whole_repeats(round_, repeat)
        yield Warning_(
            span,
            plural(
                "the pattern jumps by {step} at the seam: {count} repeats of {repeat} go round and "
                "{rest} are over; only another ring cures it, one that takes a panel of {round} once "
                "round",
                "the pattern jumps by {step} at the seam: {count} repeat of {repeat} goes round and "
                "{rest} are over; only another ring cures it, one that takes a panel of {round} once "
                "round",
                step=mm(step),
                count=count,
                repeat=mm(repeat),
                rest=mm(rest),
                round=mm(matching_length(round_, repeat)),
            ),
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


def _smaller_ring(size: SizeRecipe) -> Iterator[Message]:
    """The largest ring on whole mm that this cloth makes: its leading size alone, else all in proportion."""
    leading = outline_keys()[size.outline].lengths[0]
    now = size.dimensions[leading]
    others = [key for key in outline_keys()[size.outline].all if key != leading and key in size.dimensions]

    def alone(value: float) -> Mapping[str, float]:
        return {**size.dimensions, leading: value}

    def alike(value: float) -> Mapping[str, float]:
        lengths = {key for key in others if key not in outline_keys()[size.outline].counts}
        return {
            key: value if key == leading else round_down(old * value / now) if key in lengths else old
            for key, old in size.dimensions.items()
        }

    found = _largest(size, now, alone)
    if found is not None:
        name, most = dimension(leading), mm(found[leading])
        if others:
            yield message(
                "the largest {name} that fits is {most} at the same {others}",
                name=name,
                most=most,
                others=together([dimension(key) for key in others]),
            )
        else:
            yield message("the largest {name} that fits is {most}", name=name, most=most)
        return
    found = _largest(size, now, alike)
    if found is not None:
        sizes = joined(
            joined([dimension(key), mm(value)], " ")
            for key, value in found.items()
            if key in (leading, *others) and key != "sides"
        )
        yield message("the largest ring of this shape that fits has {sizes}", sizes=sizes)


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
