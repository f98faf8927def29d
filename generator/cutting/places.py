"""From a tree of cuts to places on the cloth, cuts in the order of a hand, and what is left over.

Whoever cuts holds one rectangle. First the waste beyond its parts is cut off, each time along its whole edge,
so that it stays in one piece; then part after part, each finished before the next is cut off.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.cutting.model import Area, Cut, Layout, Piece, Placed, mm
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
        if node.width < across:
            self._along(held, node.width, waste=True)
            self._over((x, y + node.width, along, across - node.width))
        if node.length < along:
            self._across((x, y, along, node.width), node.length, waste=True)
            self._over((x + node.length, y, along - node.length, node.width))
        if isinstance(node, Leaf):
            self._piece(node, x, y)
            return
        *parts, last = node.parts
        for part in parts:
            if isinstance(node, Row):
                self._across((x, y, 0, node.width), part.length, gives=self._name(part))
                self.cut(part, (x, y, part.length, node.width))
                x += part.length
            else:
                self._along((x, y, node.length, 0), part.width, gives=self._name(part))
                self.cut(part, (x, y, node.length, part.width))
                y += part.width
        beside = isinstance(node, Beside)
        self.cut(last, (x, y, node.length, last.width) if beside else (x, y, last.length, node.width))

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
    tree = tidy(tree)
    hand = _Hand(pieces)
    hand.cut(tree, (0, 0, tree.length, round(width / mm(1))))
    return Layout(
        width, mm(tree.length), tuple(hand.placed), tuple(hand.cuts), tuple(hand.offcuts), exact, bound
    )


def tidy(node: Node) -> Node:
    """The same cuts with like parts together: the widest (or longest) first, all that fall short as one part.

    What falls short together loses its waste in one cut, and the waste stays in one long strip.
    """
    if isinstance(node, Leaf):
        return node
    parts = [tidy(part) for part in node.parts]
    if isinstance(node, Row):
        parts.sort(key=lambda part: (-part.width, -part.length, _kinds(part)))
        return _nested(Row, parts, [part.width for part in parts])
    parts.sort(key=lambda part: (-part.length, -part.width, _kinds(part)))
    return _nested(Beside, parts, [part.length for part in parts])


def _nested(kind: type[Row] | type[Beside], parts: list[Node], sizes: list[int]) -> Node:
    """Parts of the greatest size, then all others as one part of the same kind. ``sizes`` falls."""
    full = sizes.count(sizes[0])
    if full == len(parts):
        return kind(tuple(parts)) if full > 1 else parts[0]
    return kind((*parts[:full], _nested(kind, parts[full:], sizes[full:])))


def _kinds(node: Node) -> list[tuple[int, bool]]:
    """Its pieces; they count from the longest."""
    if isinstance(node, Leaf):
        return [(node.kind, node.option.turned)]
    return sorted(kind for part in node.parts for kind in _kinds(part))
