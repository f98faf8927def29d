"""How pieces of cloth come out of a cloth: along it, turned, or some of them turned."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.base.units import round_down, round_up
from generator.recipe.models import Covering

CLOTH_STEP = 5.0
"""Cloth is cut in steps of this many mm, rounded up: what is too much is trimmed away."""
NOISE = 1e-6

Cut = tuple[float, float]
"""A piece to cut: its length, round the shade, and its width, up the shade, mm."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Where a piece's corner lies on the cloth, across it and along it, mm, and whether it is turned."""

    across: float
    along: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """Pieces on a cloth, and the rectangle that they take from its corner on, mm."""

    pieces: tuple[Piece, ...]
    width: float
    length: float

    @property
    def turned(self) -> int:
        """How many of them are turned."""
        return sum(piece.turned for piece in self.pieces)


def cut_of(covering: Covering, around: float, up: float) -> Cut:
    """The piece to cut for a blank with these extents (mm), its slack with it, rounded up."""
    return (
        round_up(around + 2 * covering.slack_ends, CLOTH_STEP),
        round_up(up + 2 * covering.slack_edges, CLOTH_STEP),
    )


def laid(covering: Covering, cut: Cut, count: int, *, turns: bool = True) -> Layout | None:
    """So many equal pieces on a cloth of a stated width, and of a stated length if it is a remnant.

    Straight, a piece lies with its length across the cloth, so that the way up the shade is the way along the
    cloth. Of all rows of pieces that lie alike the smallest rectangle is taken, straight before turned; where
    none fits, straight and turned ones together. None: they do not come out of the cloth.
    """
    width, length = covering.width, covering.length or math.inf
    found = [one for turned in _ways(turns) for one in _rows(cut, count, turned)]
    fitting = [one for one in found if one.width <= width + NOISE and one.length <= length + NOISE]
    if fitting:
        return min(fitting, key=lambda one: round(one.width * one.length, 3))
    if not turns or count == 1 or length == math.inf:
        return None
    mixed = _Guillotine(cut).out_of(width, length, count)
    if mixed is None:
        return None
    ends = [(p.across + cut[p.turned], p.along + cut[1 - p.turned]) for p in mixed]
    return Layout(mixed, max(x for x, _ in ends), max(y for _, y in ends))


def shortest(covering: Covering, cut: Cut, count: int, *, turns: bool = True) -> float | None:
    """The least length of cloth of this width that holds the pieces in rows, mm; None: it is too narrow."""
    rows = (one for turned in _ways(turns) for one in _rows(cut, count, turned))
    return min((one.length for one in rows if one.width <= covering.width + NOISE), default=None)


def _ways(turns: bool) -> tuple[bool, ...]:
    return (False, True) if turns else (False,)


def rooms(covering: Covering, count: int) -> Iterator[tuple[float, float]]:
    """The most that a blank may measure round the shade and up it (mm) so that so many come out in rows."""
    slack = (2 * covering.slack_ends, 2 * covering.slack_edges)
    for columns in range(1, count + 1):
        wide = round_down(covering.width / columns, CLOTH_STEP)
        rows = math.ceil(count / columns)
        long = round_down(covering.length / rows, CLOTH_STEP) if covering.length else math.inf
        yield wide - slack[0], long - slack[1]
        yield long - slack[0], wide - slack[1]


def _rows(cut: Cut, count: int, turned: bool) -> Iterator[Layout]:
    """Pieces that lie alike, in rows of any number."""
    wide, long = cut[turned], cut[1 - turned]
    for columns in range(1, count + 1):
        rows = math.ceil(count / columns)
        pieces = tuple(
            Piece((k % columns) * wide, (k // columns) * long, turned=turned) for k in range(count)
        )
        yield Layout(pieces, columns * wide, rows * long)


class _Guillotine:
    """Pieces cut out of a rectangle by cuts from edge to edge, each piece turned or not.

    Cuts need only be tried at sums of the pieces' sides (normal patterns: Gilmore and Gomory 1965, from
    memory).
    """

    def __init__(self, cut: Cut) -> None:
        self.cut = cut
        self.known: dict[tuple[float, float, int], tuple[Piece, ...] | None] = {}

    def out_of(self, width: float, length: float, count: int) -> tuple[Piece, ...] | None:
        """So many pieces, or None."""
        key = (round(width, 3), round(length, 3), count)
        if key not in self.known:
            self.known[key] = self._found(width, length, count)
        return self.known[key]

    def _found(self, width: float, length: float, count: int) -> tuple[Piece, ...] | None:
        a, b = self.cut
        if count * a * b > width * length + NOISE:
            return None
        if count == 1:
            for turned, (wide, long) in ((False, (a, b)), (True, (b, a))):
                if wide <= width + NOISE and long <= length + NOISE:
                    return (Piece(0.0, 0.0, turned=turned),)
            return None
        for first in range(1, count // 2 + 1):
            for x in self._sums(width):
                left, right = self.out_of(x, length, first), self.out_of(width - x, length, count - first)
                if left and right:
                    return (*left, *(Piece(p.across + x, p.along, p.turned) for p in right))
            for y in self._sums(length):
                low, high = self.out_of(width, y, first), self.out_of(width, length - y, count - first)
                if low and high:
                    return (*low, *(Piece(p.across, p.along + y, p.turned) for p in high))
        return None

    def _sums(self, side: float) -> list[float]:
        """Lengths below a side that whole pieces make, along and across."""
        a, b = self.cut
        sums = {
            round(i * a + j * b, 6)
            for i in range(int(side / a + NOISE) + 1)
            for j in range(int((side - i * a) / b + NOISE) + 1)
        }
        return sorted(x for x in sums if 0 < x < side)
