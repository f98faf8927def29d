"""What is cut, and what a plan of cuts is. All lengths in mm.

On a cloth x runs along it from the end that is cut first, at the left of whoever cuts, and y across it from
the near edge of the usable width.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

UNIT = 0.01
"""Everything is computed in whole hundredths of a millimetre, so that sums that should be equal are equal."""

BENCH = 3500.0
"""What a hand can lay out at one go along the cloth, mm (common practice, no source)."""
LONG_CUT = 5000.0
"""What a hand cuts off at one go along a thread, the cloth pulled on, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Equal rectangles of cloth.

    A piece lies upright if its ``length`` lies across the cloth: a print that runs along the cloth then runs
    up the shade. It lies turned if its length lies along the cloth.
    """

    name: str
    length: float
    """Once round the shade."""
    width: float
    """Up the shade."""
    count: int
    pitch: float = 0.0
    """What each upright piece takes along the cloth at least, so that each shows the same of the print."""
    inches: tuple[Fraction, Fraction] | None = field(default=None, compare=False)
    """Length and width as the size's sheet tells them in inches; None: it tells mm alone."""

    @property
    def area(self) -> float:
        """Of all of them, mm²."""
        return self.length * self.width * self.count


@dataclass(frozen=True, slots=True)
class Area:
    """An upright rectangle on the cloth."""

    x: float
    y: float
    along: float
    """Extent along the cloth."""
    across: float
    """Extent across it."""

    @property
    def size(self) -> float:
        """mm²."""
        return self.along * self.across


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece in its place."""

    name: str
    area: Area
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut from edge to edge of what is left in the hand at that moment."""

    number: int
    """In the order of cutting, from 1."""
    start: tuple[float, float]
    end: tuple[float, float]
    gives: str | None = None
    """Name of the piece that is parted from what is in the hand; None: a part to cut further, or waste."""
    waste: bool = False
    """Beyond it nothing is needed."""
    distance: float = 0.0
    """How far it lies from the near edge of what is in the hand: that towards the first end of the cloth, or
    towards its edge y = 0."""

    @property
    def runs_along(self) -> bool:
        """Along the cloth; else across it."""
        return self.start[1] == self.end[1]


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the pieces lie, and the cuts that part them."""

    width: float
    """Usable width of the cloth."""
    length: float
    """Length of cloth that is cut up."""
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Area, ...]
    """What is left over, each as one piece."""
    exact: bool
    """No plan of cuts from edge to edge is shorter; False: the plan lies in shelves, which may be longer."""
    bound: float
    """No plan at all is shorter than this."""

    @property
    def used(self) -> float:
        """Area of the pieces, mm²."""
        return sum(placed.area.size for placed in self.placed)

    @property
    def part_used(self) -> float:
        """Part of the cloth cut up that becomes pieces, 0 to 1."""
        return self.used / (self.width * self.length)


@dataclass(frozen=True, slots=True)
class Strip:
    """Equal pieces of a roll or reel, told by their length alone."""

    name: str
    length: float
    count: int
    inches: Fraction | None = field(default=None, compare=False)
    """Length as it is told in inches; None: in mm alone."""


@dataclass(frozen=True, slots=True)
class Roll:
    """One roll, sheet or reel, cut up from its beginning."""

    pieces: tuple[tuple[str, float], ...]
    """Name and length of each piece, in the order of cutting."""
    left: float
    """What is left over at its end."""


@dataclass(frozen=True, slots=True)
class Rolls:
    """Rolls of one length, cut up."""

    length: float
    rolls: tuple[Roll, ...]
    exact: bool
    """It is proved that no fewer rolls will do."""
    bound: int
    """No fewer rolls than this will do: proved by their lengths alone, or by the search."""

    @property
    def used(self) -> float:
        """Length of all pieces."""
        return sum(length for roll in self.rolls for _, length in roll.pieces)

    @property
    def groups(self) -> tuple[tuple[int, Roll], ...]:
        """Rolls that are cut alike, with how many there are."""
        return tuple((self.rolls.count(roll), roll) for roll in dict.fromkeys(self.rolls))


def units(length: float) -> int:
    """A length in whole units of ``UNIT``."""
    return round(length / UNIT)


def mm(amount: int) -> float:
    """Units as mm."""
    return round(amount * UNIT, 2)


def in_order(pieces: Sequence[Piece]) -> list[Piece]:
    """Those that are wanted at all, the longest first."""
    return sorted(
        (piece for piece in pieces if piece.count > 0),
        key=lambda piece: (-piece.length, -piece.width, piece.name),
    )
