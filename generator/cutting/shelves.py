"""Plans in shelves: across the whole cloth, then into columns of one piece each, cut from edge to edge.

``by_height`` lays the tallest first, which is quick and gives a length that will do. ``in_shelves`` looks for
the shortest of all plans of this kind over columns made as they are wanted (Gilmore and Gomory 1963, from
memory); a plan of more stages may be shorter still.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.cutting.solver import Row as Demand
from generator.cutting.solver import prices, solve
from generator.cutting.tree import Beside, Leaf, Node, Option, Row

MOST_ROUNDS = 200
_NOISE = 1e-6

Options = Sequence[Sequence[Option]]


@dataclass(frozen=True, slots=True)
class _Column:
    """Equal pieces one after the other in a shelf."""

    kind: int
    option: Option
    high: int
    """How many of them the shelf holds."""


@dataclass(frozen=True, slots=True)
class _Shelf:
    """How one shelf is filled."""

    length: int
    columns: tuple[_Column, ...]

    def gives(self, kind: int) -> int:
        """How many of a piece come out of it."""
        return sum(column.high for column in self.columns if column.kind == kind)


def by_height(options: Options, counts: Sequence[int], width: int) -> Node:
    """Shelf after shelf, the longest along the cloth first, each piece in the first shelf with room.

    All pieces upright, or all turned where they fit: whichever is shorter.
    """
    plans = []
    for turned in (False, True):
        ways = [next((w for w in each if w.turned == turned), each[0]) for each in options]
        order = sorted(range(len(counts)), key=lambda kind: (-ways[kind].along, -ways[kind].across, kind))
        shelves: list[list[int]] = []
        free: list[int] = []
        for kind in order:
            left, wide = counts[kind], ways[kind].across
            for place, room in enumerate(free):
                taken = min(left, room // wide)
                shelves[place] += [kind] * taken
                free[place] -= taken * wide
                left -= taken
            while left:
                taken = min(left, width // wide)
                shelves.append([kind] * taken)
                free.append(width - taken * wide)
                left -= taken
        plans.append(_rows([[Leaf(kind, ways[kind]) for kind in shelf] for shelf in shelves]))
    return min(plans, key=lambda plan: plan.length)


def in_shelves(options: Options, counts: Sequence[int], width: int) -> Node:
    """The shortest plan in shelves that was found; never longer than ``by_height``."""
    first = by_height(options, counts, width)
    shelves = list(_single(options, counts, width))
    lengths = sorted({way.along for ways in options for way in ways})
    for _ in range(MOST_ROUNDS):
        _, duals = prices([shelf.length for shelf in shelves], _demands(shelves, counts))
        better = [
            shelf
            for length in lengths
            if (shelf := _best_shelf(options, duals, width, length)) is not None and shelf not in shelves
        ]
        if not better:
            break
        shelves += better
    found = solve(
        [float(shelf.length) for shelf in shelves], _demands(shelves, counts), [sum(counts)] * len(shelves)
    )
    if found is None:
        return first
    chosen = [shelf for shelf, times in zip(shelves, found.values, strict=True) for _ in range(times)]
    plan = _built(chosen, counts)
    return plan if plan.length < first.length else first


def _demands(shelves: Sequence[_Shelf], counts: Sequence[int]) -> list[Demand]:
    return [
        Demand({p: float(s.gives(kind)) for p, s in enumerate(shelves) if s.gives(kind)}, float(count))
        for kind, count in enumerate(counts)
    ]


def _single(options: Options, counts: Sequence[int], width: int) -> Iterator[_Shelf]:
    """Shelves of one piece alone, as many as fit beside one another."""
    for kind, ways in enumerate(options):
        for way in ways:
            fit = min(width // way.across, counts[kind])
            yield _Shelf(way.along, (_Column(kind, way, 1),) * fit)


def _best_shelf(options: Options, duals: Sequence[float], width: int, length: int) -> _Shelf | None:
    """The filling of one shelf that is worth most, if it is worth more than its length (a knapsack)."""
    columns = [
        _Column(kind, way, length // way.along)
        for kind, ways in enumerate(options)
        for way in ways
        if way.along <= length and duals[kind] > _NOISE
    ]
    # By width used so far: worth, and the columns.
    best: dict[int, tuple[float, tuple[_Column, ...]]] = {0: (0.0, ())}
    for column in columns:
        worth = column.high * duals[column.kind]
        for used in sorted(best):
            at, here = used + column.option.across, best[used]
            while at <= width:
                here = (here[0] + worth, (*here[1], column))
                if at in best and best[at][0] >= here[0] - _NOISE:
                    break
                best[at] = here
                at += column.option.across
    worth, filled = max(best.values(), key=lambda each: each[0])
    return _Shelf(length, filled) if worth > length * (1 + _NOISE) else None


def _built(chosen: Sequence[_Shelf], counts: Sequence[int]) -> Node:
    """The shelves as a tree; pieces beyond what is wanted are left out, of the longest shelves first."""
    left: Mapping[int, int] = dict(enumerate(counts))
    rows: list[list[Node]] = []
    for shelf in sorted(chosen, key=lambda shelf: shelf.length):
        row: list[Node] = []
        for column in shelf.columns:
            taken = min(column.high, left[column.kind])
            left = {**left, column.kind: left[column.kind] - taken}
            stack = [Leaf(column.kind, column.option)] * taken
            if stack:
                row.append(Row.of(stack) if len(stack) > 1 else stack[0])
        if row:
            rows.append(row)
    return _rows(rows)


def _rows(rows: Sequence[Sequence[Node]]) -> Node:
    shelves: list[Node] = [Beside.of(row) if len(row) > 1 else row[0] for row in rows]
    return Row.of(shelves) if len(shelves) > 1 else shelves[0]
