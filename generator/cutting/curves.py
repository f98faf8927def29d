"""The shortest guillotine cut of pieces out of a width, exact for any number of stages.

For each choice of how many of each piece, every smallest rectangle that holds them by cuts from edge to edge
is kept: as width grows its length falls, so that they make a curve (Stockmeyer 1983, shape curves of slicing
floorplans, from memory). A first cut parts the pieces in two: beside one another widths add and the longer
counts, one after the other lengths add and the wider counts. That is the recursion of Gilmore and Gomory 1965
(from memory) with counts of pieces for the sizes of the sheet. Widths and lengths are whole ``model.UNIT``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from generator.cutting.tree import Beside, Leaf, Node, Option, Row

MOST_STATES = 2500
"""Choices of counts up to which the search is exact; beyond it takes too long."""

Ints = Any
"""A numpy array of whole numbers."""


def states(counts: Sequence[int]) -> int:
    """How many choices of counts there are."""
    return int(np.prod([count + 1 for count in counts]))


@dataclass(slots=True)
class _Points:
    """Corners of all curves, curve after curve; within one the length grows and the width falls."""

    width: Ints
    length: Ints
    trims: Ints
    """Cuts that take off nothing but waste; of equal corners that with the fewest is kept."""
    kind: Ints
    """0: a piece; 1: two parts beside one another; 2: one after the other."""
    first: Ints
    second: Ints
    """Corners of the parts; of a piece which piece and which way it lies."""


_FIELDS = ("width", "length", "trims", "kind", "first", "second")


@dataclass(frozen=True)
class Curves:
    """The curves of all choices of counts."""

    counts: tuple[int, ...]
    _options: Sequence[Sequence[Option]]
    _points: _Points
    _starts: Ints

    def lengths(self) -> Iterator[tuple[tuple[int, ...], int]]:
        """Each choice of counts that has a plan, and the length of the shortest one."""
        radix = [count + 1 for count in self.counts]
        for state in range(1, states(self.counts)):
            if self._starts[state] < self._starts[state + 1]:
                vector = tuple(int(place) for place in np.unravel_index(state, radix))
                yield vector, int(self._points.length[self._starts[state]])

    def shortest(self, counts: Sequence[int]) -> Node | None:
        """The shortest plan for so many pieces; None if there is none within the limits of the search."""
        state = int(np.ravel_multi_index(tuple(counts), [count + 1 for count in self.counts]))
        first, last = self._starts[state], self._starts[state + 1]
        return _node(self._points, self._options, int(first)) if first < last else None


def shortest(
    options: Sequence[Sequence[Option]],
    counts: Sequence[int],
    width: int,
    most_length: int,
    bench: int | None = None,
) -> Node | None:
    """The shortest plan of cuts for ``counts[i]`` pieces that lie in one of ``options[i]``.

    ``most_length`` is a length that is known to do: what is longer, or wastes more than its plan, is not
    looked at. ``bench``: no parts longer than that lie beside one another. None if there is no such plan.
    """
    area = sum(n * ways[0].across * ways[0].along for n, ways in zip(counts, options, strict=True))
    waste = width * most_length - area
    return curves(options, counts, width, most_length, waste, bench).shortest(counts)


def curves(
    options: Sequence[Sequence[Option]],
    counts: Sequence[int],
    width: int,
    most_length: int,
    waste: int,
    bench: int | None = None,
) -> Curves:
    """The curves of all choices of counts up to ``counts``.

    Rectangles longer than ``most_length``, or with more than ``waste`` of area that is no piece, are left
    out. No plan of that length and that waste holds one. ``bench``: so are parts beside one another that are
    longer.
    """
    radix = [count + 1 for count in counts]
    steps = [1] * len(counts)
    for place in range(len(counts) - 2, -1, -1):
        steps[place] = steps[place + 1] * radix[place + 1]
    total = states(counts)
    areas = _areas(options, radix)
    # Beyond every width and length: parts the curves of one long array from one another.
    span = 2 * (max(width, most_length) + 1)
    points = _Points(*(np.zeros(0, dtype=np.int64) for _ in _FIELDS))
    starts = np.zeros(total + 1, dtype=np.int64)
    by_length, by_width = np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    vectors = np.array(np.unravel_index(np.arange(total), radix)).T
    for state in range(1, total):
        vector = vectors[state]
        found = _pieces(options, vector, width)
        if found is None:
            found = _joined(points, starts, by_length, by_width, vector, steps, state, span, width)
            long = found.length > (most_length if bench is None else bench)
            found = _taken(found, ~(long & (found.kind == 1)))
        kept = found.width * found.length - areas[state] <= waste
        new = _smallest(_taken(found, (found.length <= most_length) & kept))
        points = _Points(*(np.concatenate([getattr(points, name), getattr(new, name)]) for name in _FIELDS))
        by_length = np.concatenate([by_length, state * span + new.length])
        by_width = np.concatenate([by_width, state * span - new.width])
        starts[state + 1] = len(points.width)
    return Curves(tuple(counts), options, points, starts)


def _areas(options: Sequence[Sequence[Option]], radix: Sequence[int]) -> Ints:
    """Area of the pieces in each state."""
    each = [ways[0].across * ways[0].along for ways in options]
    return sum(
        grid * area for grid, area in zip(np.indices(radix).reshape(len(radix), -1), each, strict=True)
    )


def _pieces(options: Sequence[Sequence[Option]], vector: Ints, width: int) -> _Points | None:
    """The curve of a single piece; None for several."""
    if vector.sum() != 1:
        return None
    kind = int(vector.argmax())
    ways = [
        (way.across, way.along, 0, 0, kind, place)
        for place, way in enumerate(options[kind])
        if way.across <= width
    ]
    return _Points(*np.array(ways, dtype=np.int64).reshape(-1, len(_FIELDS)).T)


def _joined(
    points: _Points,
    starts: Ints,
    by_length: Ints,
    by_width: Ints,
    vector: Ints,
    steps: Sequence[int],
    state: int,
    span: int,
    width: int,
) -> _Points:
    """Every first cut of a state: each corner of one part with the best corner of the other."""
    grids = np.indices([count + 1 for count in vector]).reshape(len(vector), -1)
    part = np.array(steps, dtype=np.int64) @ grids
    part = part[(part > 0) & (part < state)]
    other = state - part
    sizes = starts[part + 1] - starts[part]
    # Corner by corner of the one part: index of the corner, and which state the other part is.
    one = np.repeat(starts[part], sizes) + _counted(sizes)
    other = np.repeat(other, sizes)
    # Beside it: the narrowest that is no longer.
    beside = np.searchsorted(by_length, other * span + points.length[one], side="right") - 1
    fits = beside >= starts[other]
    a, b = one[fits], beside[fits]
    side = _Points(
        points.width[a] + points.width[b],
        points.length[a],
        points.trims[a] + points.trims[b] + (points.length[a] != points.length[b]),
        np.full(len(a), 1),
        a,
        b,
    )
    # After it: the shortest that is no wider.
    after = np.searchsorted(by_width, other * span - points.width[one], side="left")
    fits = after < starts[other + 1]
    a, b = one[fits], after[fits]
    row = _Points(
        points.width[a],
        points.length[a] + points.length[b],
        points.trims[a] + points.trims[b] + (points.width[a] != points.width[b]),
        np.full(len(a), 2),
        a,
        b,
    )
    side = _taken(side, side.width <= width)
    return _Points(*(np.concatenate([getattr(side, name), getattr(row, name)]) for name in _FIELDS))


def _counted(sizes: Ints) -> Ints:
    """0, 1, … for each size in turn."""
    if not len(sizes):
        return sizes
    ends = np.cumsum(sizes)
    return np.arange(ends[-1]) - np.repeat(ends - sizes, sizes)


def _taken(points: _Points, which: Ints) -> _Points:
    return _Points(*(getattr(points, name)[which] for name in _FIELDS))


def _smallest(points: _Points) -> _Points:
    """Corners that no other beats in both directions, by growing length."""
    order = np.lexsort((points.kind, points.trims, points.width, points.length))
    sorted_points = _taken(points, order)
    widths = sorted_points.width
    if not len(widths):
        return sorted_points
    narrowest = np.concatenate([[np.iinfo(np.int64).max], np.minimum.accumulate(widths)[:-1]])
    return _taken(sorted_points, widths < narrowest)


def _node(points: _Points, options: Sequence[Sequence[Option]], corner: int) -> Node:
    kind, first, second = (int(getattr(points, name)[corner]) for name in ("kind", "first", "second"))
    if kind == 0:
        return Leaf(first, options[first][second])
    parts = (_node(points, options, first), _node(points, options, second))
    return Beside.of(parts) if kind == 1 else Row.of(parts)
