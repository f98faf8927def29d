"""What is left over, and what it still makes."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.cutting.guillotine import comes_out, most_pieces
from generator.cutting.model import Area, Piece


@dataclass(frozen=True, slots=True)
class Use:
    """What one offcut still makes."""

    offcut: Area
    made: tuple[tuple[str, int], ...]
    """Name of a piece and how many; empty: it makes nothing of what was asked for."""


def uses(offcuts: Sequence[Area], wishes: Sequence[Piece], turn: bool) -> tuple[Use, ...]:
    """For each offcut, the largest first, what it makes: of the first wish as many as come out, then of the
    next what comes out beside them, and so on. ``Piece.count`` is how many are wanted at most."""
    return tuple(
        Use(offcut, tuple(_made(offcut, wishes, turn)))
        for offcut in sorted(offcuts, key=lambda area: (-area.size, area.x, area.y))
    )


def _made(offcut: Area, wishes: Sequence[Piece], turn: bool) -> list[tuple[str, int]]:
    made: list[Piece] = []
    for wish in wishes:
        most = min(wish.count, most_pieces(wish, offcut.across, offcut.along, turn))

        def too_many(count: int, wish: Piece = wish) -> bool:
            pieces = [*made, replace(wish, count=count)]
            return not comes_out(pieces, offcut.across, offcut.along, turn)

        count = bisect_left(range(1, most + 1), True, key=too_many)
        if count:
            made.append(replace(wish, count=count))
    return [(piece.name, piece.count) for piece in made]
