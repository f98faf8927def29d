"""Cards for the wall of a class: large pictures of the steps that everybody looks up while they work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from generator.base.errors import PressError
from generator.base.message import Number, message
from generator.sheets.document import Kind, Subject
from generator.sheets.formatting import quantity
from generator.sheets.packing import Block, Layout, Measured
from generator.sheets.wall import wall_cards, wall_steps
from generator.sheets.wording import Catalogue


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template may name as ``cards``."""
    drawings = {figure.id: figure for figure in subject.figures}
    return {"cards": wall_cards(subject.batch, words.voice, drawings), "looks": LOOKS}


def blocks(subject: Subject) -> tuple[Block, ...]:
    """Each card, so that it is measured."""
    return tuple(Block(figure.id) for figure in subject.figures)


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """What every size prints, and the sizes' names."""
    for work in subject.batch:
        yield work.size.name
        yield from (quantity(measure, words.voice) for measure in work.measures.values())
        yield from (str(step.number) for step in wall_steps(work))


LOOKS = ("largest", "larger", "plain")
"""Sizes of the words, the largest first: a card takes the first that its page holds."""


@dataclass(frozen=True)
class WallLayout(Layout):
    """A card a page."""

    looks: Mapping[str, str] = field(default_factory=dict)
    """How large the words of each card are."""


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], WallLayout]:
    """A card a page. What it gives raises PressError for a card that is higher than one."""

    def arranged(placed: Iterable[Measured]) -> WallLayout:
        heights = {part.id: part.height for part in placed}
        looks = {}
        for figure in subject.figures:
            over = {look: heights[f"{look}-{figure.id}"] - kind.rooms.first for look in LOOKS}
            look = next((look for look in LOOKS if over[look] <= 0), None)
            if look is None:
                raise PressError(
                    message(
                        "the card for the wall of step {number} is {over} too high",
                        number=figure.number,
                        over=Number(f"{over[LOOKS[-1]]:.0f} mm"),
                    ),
                    message("shorten what the technique says of that step"),
                )
            looks[figure.id] = look
        return WallLayout(looks=looks)

    return arranged
