"""Things on one line, moved apart as little as may be."""

from __future__ import annotations

from collections.abc import Sequence


def spread(middles: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """Middles of things in order so that none overlaps the next, as near to where they should be as can be.

    Neighbours that would overlap are taken together, side by side, about the mean of where they should be:
    the least sum of squares (pool adjacent violators; Ayer and others 1955, from memory). All lies between
    ``low`` and ``high`` if it finds room there.
    """
    # Where each would stand if all before it had no width: then "in order" is all that is asked.
    before = [sum(widths[:place]) + widths[place] / 2 for place in range(len(widths))]
    groups: list[list[float]] = []
    for middle, shift in zip(middles, before, strict=True):
        groups.append([middle - shift])
        while len(groups) > 1 and _mean(groups[-2]) > _mean(groups[-1]):
            last = groups.pop()
            groups[-1] += last
    total = sum(widths)
    flat = [min(max(_mean(group), low), high - total) for group in groups for _ in group]
    return [start + shift for start, shift in zip(flat, before, strict=True)]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)
