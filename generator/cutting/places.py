"""From a tree of cuts to places on the cloth, cuts in the order of a hand, and what is left over.

Whoever cuts holds one rectangle. Waste that all its parts leave alike comes off first, in one cut, if that is
not too long a cut; else each part takes its own waste with it. Then comes part after part, each finished
before the next is cut off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from generator.cutting.model import LONG_CUT, Area, Cut, Layout, Piece, Placed, mm, units
from generator.cutting.tree import Beside, Leaf, Node, Row

Rect = tuple[int, int, int, int]
"""x, y, extent along, extent across, in whole units."""


class _Hand:
    """Collects what is cut, in order."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces
        self.placed: list[Placed] = []
        self.cuts: list[Cut] = []
        self.offcuts: list[Area] = []

    def cut(self, node: Node, held: Rect) -> None:
        """Cut all of a part out of the rectangle in the hand."""
        x, y, along, across = held
        if node.width < across and (not isinstance(node, Row) or _in_one(node)):
            self._along(held, node.width, waste=True)
            self._over((x, y + node.width, along, across - node.width))
            across = node.width
        if node.length < along and (
            not isinstance(node, Beside) or _alike(part.length for part in node.parts)
        ):
            self._across((x, y, along, across), node.length, waste=True)
            self._over((x + node.length, y, along - node.length, across))
            along = node.length
        if isinstance(node, Leaf):
            self._piece(node, x, y)
            return
        *parts, last = node.parts
        for part in parts:
            if isinstance(node, Row):
                self._across((x, y, 0, across), part.length, gives=self._name(part))
                self.cut(part, (x, y, part.length, across))
                x, along = x + part.length, along - part.length
            else:
                self._along((x, y, along, 0), part.width, gives=self._name(part))
                self.cut(part, (x, y, along, part.width))
                y, across = y + part.width, across - part.width
        self.cut(last, (x, y, along, across))

    def _piece(self, leaf: Leaf, x: int, y: int) -> None:
        option = leaf.option
        own = option.piece_along
        if own < option.along:
            self._across((x, y, option.along, option.across), own, waste=True)
            self._over((x + own, y, option.along - own, option.across))
        area = Area(mm(x), mm(y), mm(own), mm(option.across))
        self.placed.append(Placed(self.pieces[leaf.kind].name, area, option.turned))

    def _name(self, part: Node) -> str | None:
        return self.pieces[part.kind].name if isinstance(part, Leaf) else None

    def _along(self, held: Rect, distance: int, *, gives: str | None = None, waste: bool = False) -> None:
        x, y, along, _ = held
        self._line((x, y + distance), (x + along, y + distance), distance, gives, waste)

    def _across(self, held: Rect, distance: int, *, gives: str | None = None, waste: bool = False) -> None:
        x, y, _, across = held
        self._line((x + distance, y), (x + distance, y + across), distance, gives, waste)

    def _line(
        self, start: tuple[int, int], end: tuple[int, int], distance: int, gives: str | None, waste: bool
    ) -> None:
        a, b = ((mm(x), mm(y)) for x, y in (start, end))
        self.cuts.append(Cut(len(self.cuts) + 1, a, b, gives, waste, mm(distance)))

    def _over(self, rect: Rect) -> None:
        self.offcuts.append(Area(*(mm(side) for side in rect)))


def laid(tree: Node, pieces: Sequence[Piece], width: float, *, exact: bool, bound: float) -> Layout:
    """The plan of a tree on a cloth of ``width`` mm; ``Leaf.kind`` counts in ``pieces``."""
    tree = tidy(tree, units(width))
    hand = _Hand(pieces)
    hand.cut(tree, (0, 0, tree.length, units(width)))
    return Layout(
        width, mm(tree.length), tuple(hand.placed), tuple(hand.cuts), tuple(hand.offcuts), exact, bound
    )


def tidy(node: Node, room: int) -> Node:
    """The same cuts with like parts together: the widest (or longest) first, those of one waste as one part.

    ``room`` is what the part has across the cloth.
    """
    if isinstance(node, Leaf):
        return node
    if isinstance(node, Row):
        wide = node.width
        parts = sorted(
            (tidy(part, wide) for part in node.parts),
            key=lambda part: (-part.width, -part.length, _kinds(part)),
        )
        groups: list[list[Node]] = [[part] for part in parts if part.width == room]
        short = [part for part in parts if part.width < room]
        # Lengths of several pieces keep apart: those alike are then cut alike.
        groups += [[part] for part in short if not isinstance(part, Leaf)]
        for width in dict.fromkeys(part.width for part in short):
            groups += _freed([part for part in short if part.width == width and isinstance(part, Leaf)])
        return _joined(Row, groups)
    parts = sorted(
        (tidy(part, part.width) for part in node.parts),
        key=lambda part: (-part.length, -part.width, _kinds(part)),
    )
    long = node.length
    groups = [[part] for part in parts if part.length == long]
    for length in dict.fromkeys(part.length for part in parts if part.length < long):
        groups.append([part for part in parts if part.length == length])
    return _joined(Beside, groups)


def _freed(parts: list[Node]) -> Iterator[list[Node]]:
    """Parts that follow one another, as many as one long cut frees of their waste."""
    held: list[Node] = []
    for part in parts:
        if held and sum(each.length for each in held) + part.length > units(LONG_CUT):
            yield held
            held = []
        held.append(part)
    if held:
        yield held


def _joined(kind: type[Row] | type[Beside], groups: list[list[Node]]) -> Node:
    """Parts of one size as one part, so that their waste comes off in one cut."""
    parts = [kind(tuple(group)) if len(group) > 1 else group[0] for group in groups]
    return kind(tuple(parts)) if len(parts) > 1 else parts[0]


def _in_one(row: Row) -> bool:
    """Whether the waste beside a row comes off in one cut."""
    return _alike(part.width for part in row.parts) and row.length <= max(
        units(LONG_CUT), *(part.length for part in row.parts)
    )


def _kinds(node: Node) -> list[tuple[int, bool]]:
    """Its pieces; they count from the longest."""
    if isinstance(node, Leaf):
        return [(node.kind, node.option.turned)]
    return sorted(kind for part in node.parts for kind in _kinds(part))


def _alike(sizes: Iterable[int]) -> bool:
    return len(set(sizes)) == 1
