"""Where the pages of a handout end: two sheets of paper printed on both sides, or three; in large print more.

Heights in mm. Where four pages do not hold all steps, pictures that are higher than the words beside them are
drawn anew for a lower place, those first that teach least; letters keep their size. A plan that is too long
even then, as that of a shade of two panels, gets a third sheet. What then stays empty on a page becomes lines
for notes, below the words of as many steps as may be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from generator.base.edition import PrintSize
from generator.base.errors import NoRoomError
from generator.base.message import message
from generator.figures.model import slot_named
from generator.plan.model import Plan
from generator.sheets import cards
from generator.sheets.document import Subject
from generator.sheets.packing import NOTES_FROM, SPARE, Block, Layout, Rooms, Sized, pack

SHEETS: Mapping[PrintSize, range] = {"normal": range(2, 4), "large": range(2, 9), "larger": range(2, 16)}
"""Sheets of paper, of two pages each: as few of these as hold it."""
WORDS = "words-"
"""What the id of a step begins with where the words beside its picture are measured."""
FRONT, CHECKS, HOME, CLOSING = "front", "checks", "home", "closing"
"""Ids of what stands round the steps."""
LOWER = {
    "handout": ("handout-low", "handout-least"),
    "handout-large": ("handout-large-low",),
    "handout-larger": ("handout-larger-low",),
    "handout-a3": ("handout-low-a3", "handout-least-a3"),
}
"""Places for pictures where the sheets would not hold all steps, by the usual place."""
PITCH = 7.5
"""Distance of the lines for notes, mm."""
MOST_LINES = 3
"""Most of them below one step."""
WORTH = 0.3
"""Places that make a step no more than so much higher than the lowest are as good, mm."""


class Row(NamedTuple):
    """A step, mm."""

    words: float
    """Height of the words beside its picture, with the air above and below them."""
    pictures: Mapping[str, float]
    """Height of its picture with the same air: in the place that it was measured in, called ``""``, and at
    most in the lower ones."""
    teaches: int = 1
    stacked: bool = False
    """Its picture stands among the words, not beside them."""

    def height(self, place: str = "") -> float:
        """How high it is with its picture in a place."""
        high = self.pictures[place]
        return self.words + high if self.stacked else max(self.words, high)

    @property
    def lower(self) -> str:
        """The place that makes it lowest; among those that make it as low, the highest."""
        least = min(self.height(place) for place in self.pictures)
        able = [place for place in self.pictures if self.height(place) - least < WORTH]
        return max(able, key=lambda place: self.pictures[place])

    @property
    def saved(self) -> float:
        """How much lower it is there."""
        return self.height() - self.height(self.lower)


@dataclass(frozen=True)
class HandoutLayout(Layout):
    """The pages of one handout."""

    lines: Mapping[str, int] = field(default_factory=dict)
    """Lines for notes below the words of a step."""
    blank: bool = False
    """A page for notes stands last, so that the next handout begins on paper of its own."""
    full: float = 0.0
    """Height of such a page."""


def pages_of(
    subject: Subject, heights: Mapping[str, float], rooms: Rooms, slots: Sequence[str] = ("", "handout")
) -> HandoutLayout:
    """The pages of one size from measured heights, with its pictures in the places ``slots``.

    Raises NoRoomError where the sheets are not enough.
    """
    plan, size = subject.plan, subject.size
    pictures = {cards.card_id(step): subject.figure_of(step).height for step in plan.steps}
    places = (slot_named(name) for name in LOWER.get(slots[1], ()))
    lower = {place.name: place.max_height * place.enlarged for place in places}
    able = SHEETS[subject.form.print_size]
    rows = rows_of(plan, heights, pictures, lower, stacked=subject.form.large)
    for sheets in able:
        layout = arrange(plan, heights, rows, rooms, 2 * sheets)
        if layout is not None:
            return layout
    raise NoRoomError(
        message(
            "the handout of {shade} does not fit on {sheets} sheets of paper: its {steps} steps are too many",
            shade=size.called,
            sheets=able[-1],
            steps=len(plan.steps),
        ),
        message("print the step sheet for this shade"),
    )


def rows_of(
    plan: Plan,
    heights: Mapping[str, float],
    pictures: Mapping[str, float],
    places: Mapping[str, float],
    *,
    stacked: bool = False,
) -> Mapping[str, Row]:
    """Each step by the id of its card, from measured heights, those of the pictures, and of lower places;
    ``stacked``: pictures stand among the words."""
    rows: dict[str, Row] = {}
    for step in plan.steps:
        name = cards.card_id(step)
        words, picture = heights[WORDS + name], pictures[name]
        able = {"": picture, **{place: most for place, most in places.items() if most < picture}}
        if stacked:
            rows[name] = Row(heights[name] - picture, able, step.task.teaches, stacked=True)
            continue
        air = heights[name] - max(words, picture)
        known = {place: height + air for place, height in able.items()}
        rows[name] = Row(words + air, known, step.task.teaches)
    return rows


def arrange(
    plan: Plan, heights: Mapping[str, float], rows: Mapping[str, Row], rooms: Rooms, most: int
) -> HandoutLayout | None:
    """The pages, ``most`` of them at most; None where these do not hold this plan's steps.

    Where that is not enough the lines of stages go; then a page may be turned in work that a gate begins.
    """
    able = sorted(
        (name for name, row in rows.items() if row.lower),
        key=lambda name: (rows[name].teaches, -rows[name].saved),
    )
    for chained, titled in ((True, True), (True, False), (False, True), (False, False)):
        rules = tuple(_rules(plan, chained=chained, titled=titled))
        for count in range(len(able) + 1):
            places = {name: rows[name].lower for name in able[:count]}
            known = {**heights, **{name: row.height(places.get(name, "")) for name, row in rows.items()}}
            packed = pack([Sized(block, known[block.id]) for block in rules if block.id in known], rooms)
            if len(packed.pages) <= most and _held(packed, known, rooms):
                return _layout(packed, known, rows, rooms, places)
    return None


def _held(packed: Layout, heights: Mapping[str, float], rooms: Rooms) -> bool:
    """Whether no page is fuller than it may be: something may be higher than a whole one."""
    return all(sum(heights[block] for block in page) <= rooms.of(n) for n, page in enumerate(packed.pages))


def _layout(
    packed: Layout,
    heights: Mapping[str, float],
    rows: Mapping[str, Row],
    rooms: Rooms,
    places: Mapping[str, str],
) -> HandoutLayout:
    lines: dict[str, int] = {}
    notes: dict[str, float] = {}
    air: dict[str, float] = {}
    for number, page in enumerate(packed.pages):
        empty = rooms.of(number) - SPARE - sum(heights[block] for block in page)
        free = {
            name: 0.0 if rows[name].stacked else heights[name] - rows[name].words
            for name in page
            if name in rows
        }
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
        redrawn=places,
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


def _rules(plan: Plan, *, chained: bool, titled: bool) -> Iterator[Block]:
    """What stands on the pages, in order."""
    lines = {cards.stage_id(stage) for stage in plan.stages}
    yield Block(FRONT)
    for block in cards.rules(plan):
        kept = block if chained else replace(block, chain="", gate=False, wish=False)
        if titled:
            yield kept
        elif block.id not in lines:
            yield replace(kept, joined=False, airy=True)
    yield from (Block(CHECKS), Block(HOME), Block(CLOSING))
