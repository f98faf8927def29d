"""How one sheet folded twice is made up: front, a pair of pages within, four panels of steps, back.

Heights in mm. The first step stands on the front, the last one beside its checks on the right page of the
pair; all others flow down the columns of the panels, which are seen together when the sheet lies open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.sheets.columns import SPARE, Cell, Column, pack
from generator.sheets.packing import Layout

PANELS, ACROSS = 4, 2
"""Panels of steps, and columns in each."""
MOST_AIR = 6.0
"""Most air between two things on a page that is not full, mm."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel's columns, each with the air between its steps, mm."""

    columns: tuple[Column, ...]
    air: tuple[float, ...]


@dataclass(frozen=True)
class FoldedLayout(Layout):
    """The eight pages in the order in which they are read."""

    front: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    panels: tuple[Panel, ...] = ()
    right: tuple[str, ...] = ()
    back: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pages:
    """What stands on the pages round the steps, by id, in order."""

    front: tuple[str, ...]
    left: tuple[str, ...]
    right: tuple[str, ...]
    back: tuple[str, ...]
    spare: tuple[str, ...] = ()
    """What is left out where it has no room."""


def make_up(
    pages: Pages, steps: Sequence[Cell], heights: Mapping[str, float], room: float
) -> FoldedLayout | str:
    """The pages of the sheet; or what has no room: ``front``, ``left``, ``right``, ``back`` or ``steps``."""
    air: dict[str, float] = {}
    kept: dict[str, tuple[str, ...]] = {}
    for name in ("front", "left", "right", "back"):
        whole = tuple(block for block in getattr(pages, name) if block in heights)
        least = tuple(block for block in whole if block not in pages.spare)
        fitting = next((page for page in (whole, least) if _height(page, heights) <= room - SPARE), None)
        if fitting is None:
            return name
        kept[name] = fitting
        air.update(_aired(fitting, heights, room))
    columns = pack(steps, [room] * (PANELS * ACROSS))
    if columns is None:
        return "steps"
    panels = [
        Panel(pair, tuple(_between(column, steps, room) for column in pair))
        for pair in (columns[at : at + ACROSS] for at in range(0, len(columns), ACROSS))
    ]
    low = frozenset(place.id for column in columns for place in column if place.picture == "low")
    return FoldedLayout(
        air=air,
        low=low,
        front=kept["front"],
        left=kept["left"],
        panels=tuple(panels),
        right=kept["right"],
        back=kept["back"],
    )


def _height(page: Sequence[str], heights: Mapping[str, float]) -> float:
    return sum(heights[block] for block in page)


def _aired(page: Sequence[str], heights: Mapping[str, float], room: float) -> Iterator[tuple[str, float]]:
    empty = room - SPARE - _height(page, heights)
    if len(page) > 1 and empty > 0:
        yield from ((block, min(MOST_AIR, empty / (len(page) - 1))) for block in page[1:])


def _between(column: Column, steps: Sequence[Cell], room: float) -> float:
    """Air between the steps of a column, none where two share a picture."""
    by_id = {cell.id: cell for cell in steps}
    used = sum(
        by_id[place.id].words
        + {"high": by_id[place.id].high, "low": by_id[place.id].low, "shared": 0.0}[place.picture]
        for place in column
    )
    gaps = sum(not place.joined for place in column[1:])
    return min(MOST_AIR, max(0.0, room - SPARE - used) / gaps) if gaps else 0.0
