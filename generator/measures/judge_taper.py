"""A tapered shade: whether its flat sheet closes round on itself, fits the cloth, and how the print runs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from generator.base.errors import Fault, GeometryError, Warning_
from generator.base.message import Message, joined, message
from generator.measures.blank import held
from generator.measures.cloth import cloth_cut, wide_enough
from generator.measures.measure import Measures
from generator.measures.scaling import leading_size, scaled
from generator.recipe.ends import ENDS, End, Ends
from generator.recipe.lengths import SMALLEST_SIZE
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.say import dimension, mm, plain, ways
from generator.shape.shade import TURN, Shade

NOISE = 1e-6
TALLEST = 3000
"""The greatest height that a fix is looked for at, mm."""


def judge_sweep(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """The flat sheet with its overlap must not come round to its own start."""
    if shade.development is None or not meets_itself(shade):
        return
    assert size.ends is not None
    key = "height" if size.ends.slant is None else "slant"
    taller = _tallest_enough(size, key)
    fix = message("use rings whose sizes differ less")
    if taller is not None:
        fix = ways([message("write {text} or more", text=f"{key}: {mm(taller)}"), fix])
    yield Fault(
        size.span(key),
        message(
            "the shade is so flat that its sheet turns through {angle}°: with the overlap of "
            "{overlap} it meets its own start",
            angle=plain(measures.exact("sweep")),
            overlap=mm(shade.overlap),
        ),
        message("a sheet that turns through less than 360° with its overlap and its margin"),
        fix,
    )


def judge_moved_ring(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A top ring moved so far that the lamp's line leaves one of the rings leaves no room for a lamp."""
    if shade.development is None or shade.smallest_inside > NOISE:
        return
    yield Fault(
        size.span("shift"),
        message(
            "the top ring is moved so far that the fitter's middle stands outside the other ring, or on it"
        ),
        message("a shade with room for a lamp straight above or below the fitter's middle"),
        message("move the top ring less"),
    )


def judge_rings_alike(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Warning_]:
    """Two equal rings, one straight above the other, are a straight shade written as a taper."""
    if size.ends is None or size.ends.bottom != size.ends.top or any(size.ends.shift):
        return
    yield Warning_(
        size.span("top"),
        message(
            "both rings are alike, so the shade is straight, and the sheet speaks of a taper; "
            "write outline and its sizes in place of bottom and top"
        ),
    )


def meets_itself(shade: Shade) -> bool:
    """Whether the blank's outside end reaches its start end, at the innermost corner of the margin.

    The two seam lines of the flat sheet meet in a point; seen from there the overlap takes the angle whose
    tangent is overlap / distance, and most at the least distance (elementary).
    """
    development = shade.development
    assert development is not None
    turning = abs(development.turning)
    if turning < math.pi:
        return False
    first, last = development.generator(0.0), development.generator(development.length)
    apex = _crossing(first.flat_low, first.flat_high, last.flat_low, last.flat_high)
    if apex is None:
        return turning >= TURN
    inner = min(math.dist(apex, first.flat_low), math.dist(apex, first.flat_high)) - shade.margin
    return inner <= NOISE or turning + math.atan(shade.overlap / inner) >= TURN - NOISE


def judge_grain(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Warning_]:
    """A print goes round a taper askew: true on one line, leaning more and more towards the seam."""
    if shade.development is None:
        return
    lean = plain(measures.shown("grain_lean"))
    low, high = (mm(measures.shown(f"{end}_wrapped")) for end in ENDS)
    if size.covering.repeat is not None and size.covering.repeat.around is not None:
        yield Warning_(
            size.span("covering.repeat.around"),
            message(
                "no repeat can match at the seam of a tapered shade: its rims, {low} and {high} "
                "round, take different numbers of repeats, and the rows lean {lean}° to either side "
                "at the seam; use a plain cloth or a small scattered print, or let the seam face the "
                "wall",
                low=low,
                high=high,
                lean=lean,
            ),
        )
    elif size.covering.direction == "one-way" and measures.exact("grain_lean") >= LEANS:
        yield Warning_(
            size.span("covering.direction"),
            message(
                "the print stands upright only opposite the seam; from there it leans more and more, "
                "up to {lean}° at the seam",
                lean=lean,
            ),
        )


LEANS = 5.0
"""Degrees of lean that nobody sees in a print (a threshold of the house)."""


def judge_taper_cloth(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """The curved panel with its slack, wider than the cloth."""
    stock = size.covering.width
    if not shade.tapered or stock <= 0 or wide_enough(size, shade):
        return
    length, width = cloth_cut(size, shade)
    needed = length if held(size) else min(length, width)
    if held(size):
        wrong = message(
            "the curved panel needs {length} across the cloth, which has {stock} of usable width, and a "
            "pattern with a repeat cannot be turned",
            length=mm(length),
            stock=mm(stock),
        )
        if size.covering.direction == "one-way":
            wrong = message(
                "the curved panel needs {length} across the cloth, which has {stock} of usable width, and a "
                "one-way print cannot be turned",
                length=mm(length),
                stock=mm(stock),
            )
    else:
        wrong = message(
            "the curved panel needs cloth of {length} by {width}, wider than it is either way",
            length=mm(length),
            width=mm(width),
        )
    wider = message("use cloth with at least {needed} of usable width", needed=mm(needed))
    yield Fault(
        size.span("covering.width"),
        wrong,
        message("a panel of at most {stock} across", stock=mm(stock)),
        ways([*_smaller(size), wider]),
    )


def _smaller(size: SizeRecipe) -> Iterator[Message]:
    """The largest shade of the same proportions that the cloth makes, its wide ring on whole mm."""
    now = leading_size(size)

    def smaller(value: float) -> SizeRecipe:
        return scaled(size, value / now, first_strut=False)

    def makes(value: float) -> Shade | None:
        try:
            return build_shade(smaller(value))
        except GeometryError:
            return None

    def good(value: float) -> bool:
        shade = makes(value)
        return shade is None or wide_enough(smaller(value), shade)

    low = _halved(int(now), good)
    if low < SMALLEST_SIZE or makes(float(low)) is None:
        return
    best = smaller(float(low))
    assert best.ends is not None
    rings = {"top": _told(best.ends.top), "bottom": _told(best.ends.bottom)}
    if best.ends.slant is not None:
        yield message(
            "the largest shade of this shape that fits has rings of {top} over {bottom} and a slant {slant}",
            **rings,
            slant=mm(best.ends.slant),
        )
    else:
        yield message(
            "the largest shade of this shape that fits has rings of {top} over {bottom} and a "
            "height {height}",
            **rings,
            height=mm(best.height),
        )


def _told(end: End) -> Message:
    dimensions: Mapping[str, float] = end.dimensions
    names = [key for key in dimensions if key not in outline_keys()[end.outline].counts]
    return joined(joined([dimension(key), mm(dimensions[key])], " ") for key in names)


def _halved(high: int, good: Callable[[float], bool]) -> int:
    """The greatest whole number up to ``high`` that is good; the good ones come first."""
    low, high = 0, high + 1
    while high - low > 1:
        middle = (low + high) // 2
        if good(float(middle)):
            low = middle
        else:
            high = middle
    return low


def _tallest_enough(size: SizeRecipe, key: str) -> float | None:
    """The least whole mm of height (or slant) at which the sheet keeps clear of itself; None: none does."""
    assert size.ends is not None

    def flat(value: float) -> bool:
        if key == "height":
            trial = size.model_copy(update={"height": value})
        else:
            ends = size.ends
            assert ends is not None
            trial = size.model_copy(update={"ends": Ends(ends.bottom, ends.top, value, ends.shift)})
        try:
            return meets_itself(build_shade(trial))
        except GeometryError:
            return True

    least = _halved(TALLEST, flat) + 1
    return float(least) if least <= TALLEST else None


def _crossing(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]
) -> tuple[float, float] | None:
    """Where the lines a-b and c-d meet; None if they run alike."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    share = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    return a[0] + ux * share, a[1] + uy * share
