"""Pages of one column: what else stands side by side, below one another; lists broken by rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from generator.base.edition import Form
from generator.sheets.front import Entry, MeasureGroup
from generator.sheets.packing import Block

T = TypeVar("T")

ABREAST = 4
"""Small pictures side by side on A5."""
BESIDE = 80.0
"""A picture wider than this fills a column of A5, mm."""
MOST_MEASURES = 12
"""Measures below one heading in large print; the heading stands again above the rest."""
MOST_ROWS = 80
"""No list is longer; rules of rows that are not there are left out by the packing."""


@dataclass(frozen=True, slots=True)
class Narrow:
    """Lists of a first page in pieces that fit on any page."""

    contents: tuple[tuple[Entry, ...], ...]
    measures: tuple[MeasureGroup, ...]
    beside: float = BESIDE
    """A picture wider than this has nothing beside it, mm."""


def view(contents: tuple[Entry, ...], groups: tuple[MeasureGroup, ...], form: Form) -> Narrow:
    """What a template shows in one column."""
    most = MOST_MEASURES if form.large else MOST_ROWS
    parts = (replace(group, rows=rows) for group in groups for rows in _cut(group.rows, most))
    return Narrow(tuple(_cut(contents, ABREAST)), tuple(parts))


def front() -> Iterator[Block]:
    """The first pages, in order."""
    yield Block("overview")
    yield Block("five", airy=False)
    yield Block("strip", airy=False)
    yield from rows("things")
    yield from rows("tools")
    yield Block("bench", airy=False)
    yield Block("work")
    yield Block("room")
    yield from rows("contents")
    yield Block("reading", optional=True)
    yield from rows("measures", wish=True)
    yield from rows("terms")


def tail() -> Iterator[Block]:
    """What follows the last card."""
    yield Block("checks")
    yield from rows("faults", wish=True)
    yield Block("closing")
    yield Block("care")


def rows(name: str, *, wish: bool = False) -> Iterator[Block]:
    """A heading with the first row of its list, then every other row by itself."""
    yield Block(name, wish=wish)
    for number in range(1, MOST_ROWS + 1):
        yield Block(f"{name}-{number}", joined=number == 1, airy=False)


def _cut(entries: Sequence[T], most: int) -> Iterator[tuple[T, ...]]:
    """The entries in pieces of so many."""
    for start in range(0, len(entries), most):
        yield tuple(entries[start : start + most])
