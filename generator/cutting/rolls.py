"""Pieces told by their length out of rolls, sheets or reels of one length: the cutting-stock problem.

Each roll is cut by a pattern, that is how many of each piece come out of it; the fewest rolls are a
whole-number program over all patterns that no further piece fits into (Gilmore and Gomory 1961, from memory).
A knife takes no width: nothing is lost at a cut.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice

from generator.base.errors import CuttingError
from generator.base.message import message
from generator.cutting.model import Roll, Rolls, Strip, mm, units
from generator.cutting.solver import Row, solve
from generator.shape.say import plain

MOST_PATTERNS = 5000
"""Beyond so many patterns the pieces are laid longest first, and the plan says that it is not proved."""
MOST_FEW = 200
"""Up to so many patterns, of all plans with the fewest rolls that with the fewest kinds of rolls is taken:
rolls cut alike are quicker to cut, and to check."""

Pattern = tuple[int, ...]


def cut_rolls(strips: Sequence[Strip], length: float) -> Rolls:
    """The fewest rolls of ``length`` mm that hold all pieces.

    The order of pieces in a roll is the longest first; rolls cut alike stand together, and that with the
    largest rest stands last. Raises CuttingError for a piece that is longer than a roll.
    """
    wanted = sorted((strip for strip in strips if strip.count > 0), key=lambda s: (-s.length, s.name))
    room = units(length)
    lengths = [units(strip.length) for strip in wanted]
    for strip, each in zip(wanted, lengths, strict=True):
        if each > room:
            raise CuttingError(
                message(
                    "a piece of {length} mm for {name} does not come out of a roll of {roll} mm",
                    length=plain(strip.length),
                    name=strip.name,
                    roll=plain(length),
                ),
                message("at least {least} mm", least=plain(strip.length)),
            )
    counts = [strip.count for strip in wanted]
    least = length_bound(lengths, counts, room)
    cut = longest_first(lengths, counts, room)
    bound, exact = least, len(cut) == least
    if not exact:
        patterns = list(islice(maximal_patterns(lengths, counts, room), MOST_PATTERNS + 1))
        if len(patterns) <= MOST_PATTERNS:
            found = _fewest(patterns, counts, least)
            if found is not None:
                cut, bound = found
                exact = len(cut) == bound
    rolls = [
        Roll(
            tuple((s.name, s.length) for s, n in zip(wanted, pattern, strict=True) for _ in range(n)),
            mm(room - _long(pattern, lengths)),
        )
        for pattern in cut
    ]
    alike = Counter(rolls)
    rolls.sort(key=lambda roll: (roll.left, -alike[roll], roll.pieces))
    return Rolls(length, tuple(rolls), exact, bound)


def length_bound(lengths: Sequence[int], counts: Sequence[int], room: int) -> int:
    """No fewer rolls will do: all pieces together, and those of which no two share a roll."""
    whole = sum(n * each for n, each in zip(counts, lengths, strict=True))
    alone = sum(n for n, each in zip(counts, lengths, strict=True) if 2 * each > room)
    return max(math.ceil(whole / room), alone)


def longest_first(lengths: Sequence[int], counts: Sequence[int], room: int) -> list[Pattern]:
    """Roll after roll, the longest piece that still fits. ``lengths`` must fall."""
    left = list(counts)
    rolls: list[Pattern] = []
    while any(left):
        free, pattern = room, [0] * len(lengths)
        for place, each in enumerate(lengths):
            pattern[place] = min(left[place], free // each)
            free -= pattern[place] * each
            left[place] -= pattern[place]
        rolls.append(tuple(pattern))
    return rolls


def maximal_patterns(lengths: Sequence[int], counts: Sequence[int], room: int) -> Iterator[Pattern]:
    """Every way to fill a roll that leaves no room for another piece, or no piece to put there."""

    def fill(place: int, free: int) -> Iterator[tuple[Pattern, int]]:
        if place == len(lengths):
            yield (), free
            return
        for count in range(min(counts[place], free // lengths[place]), -1, -1):
            for rest, over in fill(place + 1, free - count * lengths[place]):
                yield (count, *rest), over

    for pattern, over in fill(0, room):
        fits = (over >= each and n < most for each, n, most in zip(lengths, pattern, counts, strict=True))
        if not any(fits):
            yield pattern


def _fewest(
    patterns: Sequence[Pattern], counts: Sequence[int], least: int
) -> tuple[list[Pattern], int] | None:
    """The fewest rolls, and how few are proved; of such plans one with few kinds of rolls."""
    rows = [
        Row({column: pattern[place] for column, pattern in enumerate(patterns) if pattern[place]}, count)
        for place, count in enumerate(counts)
    ]
    total = sum(counts)
    first = solve([1.0] * len(patterns), rows, [total] * len(patterns))
    if first is None:
        return None
    chosen, rolls = first.values, sum(first.values)
    if len(patterns) <= MOST_FEW:
        few = _fewest_kinds(patterns, rows, rolls)
        chosen = few or chosen
    cut = [pattern for pattern, times in zip(patterns, chosen, strict=True) for _ in range(times)]
    return _without_surplus(cut, counts), max(least, math.ceil(first.bound - 1e-6))


def _fewest_kinds(patterns: Sequence[Pattern], rows: Sequence[Row], rolls: int) -> tuple[int, ...] | None:
    """How often each pattern is used where no more than ``rolls`` are cut, and few patterns are used."""
    size = len(patterns)
    none_unless_used = [Row({place: -1.0, size + place: float(rolls)}, 0.0) for place in range(size)]
    no_more = Row(dict.fromkeys(range(size), -1.0), -float(rolls))
    found = solve(
        [0.0] * size + [1.0] * size,
        [*rows, *none_unless_used, no_more],
        [float(rolls)] * size + [1.0] * size,
    )
    return found.values[:size] if found else None


def _without_surplus(cut: Sequence[Pattern], counts: Sequence[int]) -> list[Pattern]:
    """Patterns may give more than is wanted: what is too much is not cut."""
    left = list(counts)
    kept: list[Pattern] = []
    for pattern in cut:
        taken = tuple(min(n, over) for n, over in zip(pattern, left, strict=True))
        left = [over - n for over, n in zip(left, taken, strict=True)]
        if any(taken):
            kept.append(taken)
    return kept


def _long(pattern: Pattern, lengths: Sequence[int]) -> int:
    return sum(n * each for n, each in zip(pattern, lengths, strict=True))
