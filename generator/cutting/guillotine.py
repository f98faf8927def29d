"""Pieces of cloth out of its usable width by cuts from edge to edge: ``cut_cloth``."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from generator.base.errors import CuttingError
from generator.base.message import message
from generator.cutting.blocks import in_blocks
from generator.cutting.bounds import length_bound
from generator.cutting.curves import MOST_STATES, shortest, states
from generator.cutting.model import BENCH, UNIT, Layout, Piece, in_order, mm, units
from generator.cutting.places import laid
from generator.cutting.shelves import in_shelves
from generator.cutting.tree import Option, sections
from generator.shape.say import plain


def cut_cloth(pieces: Sequence[Piece], width: float, turn: bool) -> Layout:
    """The shortest cloth of ``width`` mm that all pieces come out of, cut from edge to edge.

    ``turn``: pieces may lie either way; else all lie upright. Of equally short plans one with few cuts is
    taken, and of those one without a part that is longer than a bench. Beyond ``MOST_STATES`` choices of
    counts the plan is one of shelves or of blocks, and may be longer than need be: ``Layout.exact`` says so.
    Raises CuttingError for a piece that the cloth is too narrow for.
    """
    wanted = in_order(pieces)
    if not wanted:
        return Layout(width, 0.0, (), (), (), exact=True, bound=0.0)
    options = [_ways(piece, width, turn) for piece in wanted]
    counts = [piece.count for piece in wanted]
    room = units(width)
    bound = length_bound(options, counts, room)
    tree = in_shelves(options, counts, room)
    exact = tree.length == bound or states(counts) <= MOST_STATES
    if states(counts) <= MOST_STATES:
        tree = shortest(options, counts, room, tree.length) or tree
        bench = max(units(BENCH), *(way.along for ways in options for way in ways))
        if max(part.length for part in sections(tree)) > bench:
            tree = shortest(options, counts, room, tree.length, bench) or tree
    elif not exact:
        other = in_blocks(options, counts, room)
        tree = other if other is not None and other.length < tree.length else tree
    return laid(tree, wanted, width, exact=exact, bound=mm(tree.length if exact else bound))


def pitch(height: float, repeat: float) -> float:
    """What a piece of ``height`` takes along a print that repeats every ``repeat`` mm: whole repeats."""
    return math.ceil(height / repeat - 1e-9) * repeat


def most_pieces(piece: Piece, width: float, length: float, turn: bool) -> int:
    """How many of a piece come out of a rectangle ``width`` mm across and ``length`` mm along."""
    most = math.floor(width * length / (piece.length * piece.width) + 1e-9)
    counts = range(1, most + 1)
    return bisect_left(
        counts, True, key=lambda count: not comes_out([replace(piece, count=count)], width, length, turn)
    )


def comes_out(pieces: Sequence[Piece], width: float, length: float, turn: bool) -> bool:
    """Whether all pieces come out of a rectangle ``width`` mm across and ``length`` mm along."""
    try:
        return cut_cloth(pieces, width, turn).length <= length + UNIT / 2
    except CuttingError:
        return False


def _ways(piece: Piece, width: float, turn: bool) -> list[Option]:
    """How a piece may lie on the cloth. Raises CuttingError if it may not at all."""
    length, high = units(piece.length), units(piece.width)
    taken = max(high, units(piece.pitch))
    ways = [Option(length, taken, turned=False, own_along=high)]
    if turn and length != high:
        ways.append(Option(high, length, turned=True, own_along=length))
    fit = [way for way in ways if way.across <= units(width)]
    if not fit:
        least = min(way.across for way in ways)
        raise CuttingError(
            message(
                "a piece of {length} × {width} mm for {name} does not come out of a cloth {cloth} mm wide",
                length=plain(piece.length),
                width=plain(piece.width),
                name=piece.name,
                cloth=plain(width),
            ),
            message("a cloth of at least {least} mm", least=plain(mm(least))),
        )
    return fit
