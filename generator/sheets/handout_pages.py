"""Where the pages of a handout end: two sheets of paper, printed on both sides.

Heights in mm. Where four pages do not hold all steps, pictures that are higher than the words beside them are
drawn anew for a lower place, those first that teach least; letters keep their size. What then stays empty on a
page becomes lines for notes, below the words of as many steps as may be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from generator.plan.model import Plan
from generator.sheets import cards
from generator.sheets.packing import NOTES_FROM, SPARE, Block, Layout, Rooms, Sized, pack

MOST_PAGES = 4
"""Two sheets, both sides."""
WORDS = "words-"
"""What the id of a step begins with where the words beside its picture are measured."""
FRONT, CHECKS, HOME, CLOSING = "front", "checks", "home", "closing"
"""Ids of what stands round the steps."""
PITCH = 7.5
"""Distance of the lines for notes, mm."""
MOST_LINES = 3
"""Most of them below one step."""
WORTH = 1.0
"""A picture is drawn lower only where the step is so much lower then, mm."""


class Row(NamedTuple):
    """A step, mm."""

    whole: float
    """Its height on the page."""
    words: float
    """Height of the words beside its picture, the air above and below them included."""
    picture: float
    """Height of its picture, as measured, with the same air."""
    low: float
    """The same for the lower picture."""
    teaches: int = 1

    def height(self, *, low: bool) -> float:
        """How high it is with one or the other picture."""
        return max(self.words, self.low if low else self.picture)


@dataclass(frozen=True)
class HandoutLayout(Layout):
    """The pages of one handout."""

    lines: Mapping[str, int] = field(default_factory=dict)
    """Lines for notes below the words of a step."""
    blank: bool = False
    """A page for notes stands last, so that the next handout begins on paper of its own."""
    full: float = 0.0
    """Height of such a page."""


def rows_of(
    plan: Plan, heights: Mapping[str, float], pictures: Mapping[str, float], low: float
) -> Mapping[str, Row]:
    """Each step by the id of its card, from measured heights, those of the pictures, and the lower place's."""
    rows: dict[str, Row] = {}
    for step in plan.steps:
        name = cards.card_id(step)
        whole, words, picture = heights[name], heights[WORDS + name], pictures[name]
        air = whole - max(words, picture)
        rows[name] = Row(whole, words + air, picture + air, min(picture, low) + air, step.task.teaches)
    return rows


def arrange(
    plan: Plan, heights: Mapping[str, float], rows: Mapping[str, Row], rooms: Rooms
) -> HandoutLayout | None:
    """The pages, four at most; None where two sheets do not hold this plan's steps.

    No page is turned in work that a gate begins, unless only so two sheets are enough.
    """
    lowered = sorted(
        (name for name, row in rows.items() if row.whole - row.height(low=True) > WORTH),
        key=lambda name: (rows[name].teaches, rows[name].height(low=True) - rows[name].whole),
    )
    for chained in (True, False):
        rules = tuple(_rules(plan, chained=chained))
        for count in range(len(lowered) + 1):
            low = frozenset(lowered[:count])
            known = {**heights, **{name: row.height(low=name in low) for name, row in rows.items()}}
            packed = pack([Sized(block, known[block.id]) for block in rules if block.id in known], rooms)
            if len(packed.pages) <= MOST_PAGES:
                return _layout(packed, known, rows, rooms, low)
    return None


def _layout(
    packed: Layout,
    heights: Mapping[str, float],
    rows: Mapping[str, Row],
    rooms: Rooms,
    low: frozenset[str],
) -> HandoutLayout:
    lines: dict[str, int] = {}
    notes: dict[str, float] = {}
    air: dict[str, float] = {}
    for number, page in enumerate(packed.pages):
        empty = rooms.of(number) - SPARE - sum(heights[block] for block in page)
        free = {name: heights[name] - rows[name].words for name in page if name in rows}
        added = ruled(free, empty)
        lines |= added
        left = empty - sum(_more(free[name], count) for name, count in added.items())
        if left > NOTES_FROM:
            notes[page[-1]] = left
        else:
            air |= {block: left / (len(page) - 1) for block in page[1:]}
    return HandoutLayout(
        breaks=packed.breaks,
        notes=notes,
        air=air,
        pages=packed.pages,
        low=low,
        lines=lines,
        blank=len(packed.pages) % 2 == 1,
        full=rooms.other - SPARE,
    )


def ruled(free: Mapping[str, float], empty: float) -> dict[str, int]:
    """How many lines for notes stand below each step's words.

    ``free`` is what stays empty below them, ``empty`` what the page has left. A line more goes where there
    are fewest, then where it takes least of the page.
    """
    lines = dict.fromkeys(free, 0)
    while True:
        able = [name for name in free if lines[name] < MOST_LINES]
        best = min(able, key=lambda name: (lines[name], _more(free[name], lines[name] + 1)), default=None)
        if best is None:
            return lines
        taken = _more(free[best], lines[best] + 1) - _more(free[best], lines[best])
        if taken > empty:
            return lines
        lines[best] += 1
        empty -= taken


def _more(free: float, lines: int) -> float:
    """How much higher a step becomes by so many lines."""
    return max(0.0, lines * PITCH - free)


def _rules(plan: Plan, *, chained: bool) -> Iterator[Block]:
    """What stands on the pages, in order."""
    yield Block(FRONT)
    for block in cards.rules(plan):
        yield block if chained else replace(block, chain="", gate=False, wish=False)
    yield from (Block(CHECKS), Block(HOME), Block(CLOSING))


