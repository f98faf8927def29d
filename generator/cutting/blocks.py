"""Plans of blocks for more pieces than an exact search of all together can take.

A block is a few pieces with the exactly shortest cuts. The blocks of least length together that give all
pieces are chosen by HiGHS; a shelf is a block too. Pieces laid otherwise may take less, so that nothing is
proved.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.cutting.bounds import area_bound
from generator.cutting.curves import curves, states
from generator.cutting.model import BENCH, units
from generator.cutting.solver import Row as Demand
from generator.cutting.solver import solve
from generator.cutting.tree import Node, Option, Row

MOST_STATES = 800
"""Choices of counts in one block."""
WASTE = 0.15
"""No block wastes more of its area, but those of few pieces, which may be all that is left."""
FEW = 2


def in_blocks(options: Sequence[Sequence[Option]], counts: Sequence[int], width: int) -> Node | None:
    """The shortest plan of blocks that was found, or None if none was."""
    small = block_counts(counts)
    most = max(units(BENCH), *(way.along for ways in options for way in ways))
    found = curves(options, small, width, most, width * most)
    blocks = [
        (vector, length)
        for vector, length in found.lengths()
        if sum(vector) <= FEW or length * (1 - WASTE) <= area_bound(options, vector, width)
    ]
    demands = [
        Demand({p: float(v[kind]) for p, (v, _) in enumerate(blocks) if v[kind]}, float(count))
        for kind, count in enumerate(counts)
    ]
    chosen = solve([float(length) for _, length in blocks], demands, [sum(counts)] * len(blocks))
    if chosen is None:
        return None
    left = list(counts)
    parts: list[Node] = []
    for (vector, _), times in zip(blocks, chosen.values, strict=True):
        for _ in range(times):
            wanted = [min(a, b) for a, b in zip(vector, left, strict=True)]
            part = found.shortest(wanted) if any(wanted) else None
            if part is not None:
                parts.append(part)
                left = [a - b for a, b in zip(left, wanted, strict=True)]
    return Row.of(parts) if len(parts) > 1 else parts[0]


def block_counts(counts: Sequence[int]) -> list[int]:
    """How many of each piece a block may hold: as many of all alike as the search of blocks can take."""
    most = 1
    while states([min(count, most + 1) for count in counts]) <= MOST_STATES and most < max(counts):
        most += 1
    return [min(count, most) for count in counts]
