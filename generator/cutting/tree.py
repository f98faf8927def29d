"""A plan of cuts as a tree: pieces, parts beside one another, parts one after the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain


@dataclass(frozen=True, slots=True)
class Option:
    """One way in which a piece may lie, in whole units: what it takes of the cloth, and its own extent."""

    across: int
    along: int
    turned: bool
    own_along: int = 0
    """Less than ``along`` where the print asks for more cloth than the piece has; 0: the same."""

    @property
    def piece_along(self) -> int:
        """The piece's own extent along the cloth."""
        return self.own_along or self.along


@dataclass(frozen=True, slots=True)
class Leaf:
    """One piece."""

    kind: int
    """Which piece."""
    option: Option

    @property
    def width(self) -> int:
        """Extent across the cloth."""
        return self.option.across

    @property
    def length(self) -> int:
        """Extent along it."""
        return self.option.along


@dataclass(frozen=True, slots=True)
class Beside:
    """Parts beside one another, across the cloth; none of them is such a row itself."""

    parts: tuple[Node, ...]

    @classmethod
    def of(cls, parts: Iterable[Node]) -> Beside:
        """Parts that are rows of the same kind are taken apart."""
        return cls(tuple(chain.from_iterable(p.parts if isinstance(p, Beside) else (p,) for p in parts)))

    @property
    def width(self) -> int:
        """Extent across the cloth."""
        return sum(part.width for part in self.parts)

    @property
    def length(self) -> int:
        """Extent along it."""
        return max(part.length for part in self.parts)


@dataclass(frozen=True, slots=True)
class Row:
    """Parts one after the other, along the cloth; none of them is such a row itself."""

    parts: tuple[Node, ...]

    @classmethod
    def of(cls, parts: Iterable[Node]) -> Row:
        """Parts that are rows of the same kind are taken apart."""
        return cls(tuple(chain.from_iterable(p.parts if isinstance(p, Row) else (p,) for p in parts)))

    @property
    def width(self) -> int:
        """Extent across the cloth."""
        return max(part.width for part in self.parts)

    @property
    def length(self) -> int:
        """Extent along it."""
        return sum(part.length for part in self.parts)


Node = Leaf | Beside | Row


def sections(node: Node) -> tuple[Node, ...]:
    """What cuts across the whole cloth part first."""
    return node.parts if isinstance(node, Row) else (node,)
