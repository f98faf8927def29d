"""A panel that comes cut to size: what overlap it leaves on these rings, and whether it is the right one."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.errors import Fault
from generator.base.message import Message, message
from generator.base.units import round_down, round_up
from generator.recipe.kits import Supplied
from generator.recipe.models import SizeRecipe
from generator.shape.say import mm, ways

TAPE_CLEAR = 1.0
"""The overlap is wider than the tape that closes it by so much, mm (common practice, no source)."""
_HALF = 0.5
"""A panel is measured to a whole millimetre: one that is as long as the sheet prints it is right."""
_NOISE = 1e-6
"""A length at a limit is within it, whatever the last digits of a float say, mm."""
_ALIKE = 0.05
"""Two heights are the same if they differ by no more, mm: less than a rule shows."""


def margin_of(size: SizeRecipe) -> float:
    """Width of the cloth margin, mm: of a supplied panel that of its margin strips."""
    supplied = size.panel.supplied
    if supplied is None or supplied.margin is None or not size.panel.kiss_cut:
        return size.panel.margin
    return supplied.margin


def count_of(supplied: Supplied, size: SizeRecipe, wrapped: float) -> int:
    """How many such panels are meant to go once round, ``wrapped`` mm: the number that comes nearest."""
    least, most = overlap_limits(size)
    each = supplied.length - (least + min(most, supplied.length / 2)) / 2
    return max(1, round(wrapped / each)) if each > 0 else 1


def overlap_limits(size: SizeRecipe) -> tuple[float, float]:
    """Least and most overlap of a supplied panel, mm: as recipe or house says, never narrower than its tape.

    Where neither says anything there is no most.
    """
    tape = size.tape.width + TAPE_CLEAR
    if size.limits is None:
        return tape, math.inf
    return max(size.limits.least, tape), max(size.limits.most, tape)


def supplied_faults(size: SizeRecipe, wrapped: float) -> list[Fault]:
    """What is wrong with a supplied panel; ``wrapped`` is once round the rings on the mid-sheet line, mm."""
    supplied = size.panel.supplied
    if supplied is None:
        return []
    if size.tapered:
        return [
            Fault(
                size.span("panel.supplied"),
                message("a supplied panel is a rectangle, and the panel of a tapered shade is curved"),
                message("a panel cut along its pattern"),
                message("remove supplied"),
            )
        ]
    margin = list(_margin(size, supplied))
    return [*_length(size, supplied, wrapped), *margin, *([] if margin else _height(size, supplied))]


def _length(size: SizeRecipe, supplied: Supplied, wrapped: float) -> Iterator[Fault]:
    count = count_of(supplied, size, wrapped)
    share = wrapped / count
    overlap = supplied.length - share
    least, most = overlap_limits(size)
    # No second layer half round the shade, whatever the limits say.
    most = min(most, share / 2)
    if least - _HALF - _NOISE <= overlap <= most + _HALF + _NOISE:
        return
    round_ = message("once round is {wrapped}", wrapped=mm(wrapped))
    if count > 1:
        round_ = message(
            "once round is {wrapped}, {share} for each of {count} panels",
            wrapped=mm(wrapped),
            share=mm(share),
            count=count,
        )
    wrong = message(
        "a panel of {length} does not go round these rings: {round}", length=mm(supplied.length), round=round_
    )
    if overlap >= 0:
        wrong = message(
            "a panel of {length} laps over itself by {overlap} on these rings: {round}",
            length=mm(supplied.length),
            overlap=mm(overlap),
            round=round_,
        )
        if count > 1:
            wrong = message(
                "a panel of {length} laps over the next by {overlap} on these rings: {round}",
                length=mm(supplied.length),
                overlap=mm(overlap),
                round=round_,
            )
    low, high = round_up(share + least - _HALF), round_down(share + most + _HALF)
    fix = message("use a panel of {low}", low=mm(low))
    if high > low:
        fix = message("use a panel of {low} to {high}", low=mm(low), high=mm(high))
    fix = ways([fix, *_rings(size, supplied, count)])
    within = (
        message("an overlap of {least} to {most}", least=mm(least), most=mm(most))
        if most > least
        else message("an overlap of {least}", least=mm(least))
    )
    yield Fault(
        size.span("panel.supplied.length"),
        wrong,
        within,
        fix,
    )


def _rings(size: SizeRecipe, supplied: Supplied, count: int) -> Iterator[Message]:
    """Round rings that the panel would fit, in words; nothing for another outline."""
    if size.outline != "circle":
        return
    least, most = overlap_limits(size)
    off = size.tape.thickness + size.panel.thickness / 2
    small, large = (
        count * (supplied.length - overlap) / math.pi - 2 * off
        for overlap in (min(most, supplied.length / 3), least)
    )
    small, large = round_up(small, 0.5), round_down(large, 0.5)
    if not 0 < small <= large:
        return
    if small < large:
        yield message("rings of {small} to {large}", small=mm(small), large=mm(large))
    else:
        yield message("rings of {size}", size=mm(small))


def _margin(size: SizeRecipe, supplied: Supplied) -> Iterator[Fault]:
    strips = supplied.margin
    if strips is None:
        return
    if not size.panel.kiss_cut:
        if strips:
            yield Fault(
                size.span("panel.supplied.margin"),
                message(
                    "the supplied panel has margin strips of {strips}, but kiss_cut is false",
                    strips=mm(strips),
                ),
                message("margin strips on a panel with kiss cuts, or none"),
                message("write {text}, or remove the margin of the supplied panel", text="kiss_cut: true"),
            )
    elif "panel.margin" in size.stated and abs(strips - size.panel.margin) > _ALIKE:
        yield Fault(
            size.span("panel.supplied.margin"),
            message(
                "the margin strips of the supplied panel are {strips} wide, and the recipe's margin "
                "is {margin}",
                strips=mm(strips),
                margin=mm(size.panel.margin),
            ),
            message("one width for both"),
            message("write {text} for the panel, or leave it out there", text=f"margin: {mm(strips)}"),
        )


def _height(size: SizeRecipe, supplied: Supplied) -> Iterator[Fault]:
    margins = 2 * margin_of(size) if size.panel.kiss_cut else 0.0
    needed = size.height + margins
    if abs(supplied.height - needed) <= _ALIKE:
        return
    expected = message(
        "{needed}: finished height {height}, since it has no margin strips",
        needed=mm(needed),
        height=mm(size.height),
    )
    if margins:
        expected = message(
            "{needed}: finished height {height} and 2 × margin {margin}",
            needed=mm(needed),
            height=mm(size.height),
            margin=mm(margins / 2),
        )
    finished = supplied.height - margins
    fix = message("use a panel of that height")
    if finished > 0:
        fix = message("use a panel of that height, or write {text}", text=f"height: {mm(finished)}")
    yield Fault(
        size.span("panel.supplied.height"),
        message("a panel {height} high does not make this shade", height=mm(supplied.height)),
        expected,
        fix,
    )
