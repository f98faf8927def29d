"""A measure: a number with a passport."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

Unit = Literal[
    "mm", "mm²", "count", "fraction", "deg", "min", "W", "s", "g", "kg", "m", "cm", "in", "money", "clock"
]  # fmt: skip
"""``clock``: a time of day, minutes after midnight; ``money``: an amount, its currency stands elsewhere."""
Value = float | tuple[float, ...]

Rounding = Literal["up", "nearest", "down"]
"""Up for what may be trimmed, nearest for a mark, down for what must fit."""
Ruler = Literal["quarters", "eighths", "sixteenths", "thirty-seconds", "feet", "mm"]
"""The lines of an inch rule by which a length is told; ``feet``: by quarters of a foot, if it is
long; ``mm``: it is told in millimetres alone."""

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Measure:
    """One value that a sheet may print.

    ``exact`` is the computed value in ``unit``; ``shown`` is what the hand uses, rounded the way it must be:
    up for what may be trimmed, nearest for a mark, down for what must fit. ``tolerance`` is plus or minus, in
    ``unit``, or None. ``formula`` is in words with the values filled in. ``rounding`` and ``ruler`` say how a
    length is told in inches (``inches.py``); ``inches`` are those of a length that must add up with others.
    """

    id: str
    label: str
    exact: Value
    shown: Value
    unit: Unit
    formula: str
    source: str
    tolerance: float | None = None
    inputs: tuple[str, ...] = ()
    rounding: Rounding = "nearest"
    ruler: Ruler = "sixteenths"
    inches: tuple[Fraction, ...] | None = None

    @property
    def value(self) -> float:
        """The shown value of a measure that is not a list. Raises TypeError for a list."""
        if isinstance(self.shown, tuple):
            raise TypeError(f"{self.id} is a list")
        return self.shown

    @property
    def values(self) -> tuple[float, ...]:
        """The shown values, one or many."""
        return self.shown if isinstance(self.shown, tuple) else (self.shown,)


@dataclass(frozen=True)
class Measures(Mapping[str, Measure]):
    """All measures of one size by id, in the order in which a maker meets them."""

    by_id: Mapping[str, Measure] = field(default_factory=dict)

    def __getitem__(self, key: str) -> Measure:
        return self.by_id[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.by_id)

    def __len__(self) -> int:
        return len(self.by_id)

    def shown(self, key: str) -> float:
        """Shown value of a single-valued measure."""
        return self.by_id[key].value

    def exact(self, key: str) -> float:
        """Exact value of a single-valued measure. Raises TypeError for a list of values."""
        value = self.by_id[key].exact
        if isinstance(value, tuple):
            raise TypeError(f"{key} is a list")
        return value
