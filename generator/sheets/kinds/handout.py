"""The handout of one size, for whoever makes it in a class: two sheets of paper."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from generator.base.errors import PressError
from generator.figures.model import slot_named
from generator.sheets.cards import card_id
from generator.sheets.document import Kind, Subject
from generator.sheets.handout import handout
from generator.sheets.handout import numbers as handout_numbers
from generator.sheets.handout_pages import HandoutLayout, Row, arrange, rows_of
from generator.sheets.packing import Block, Measured
from generator.sheets.wording import Catalogue

LOWER = ("handout-low", "handout-least")
"""Places for pictures where two sheets would not hold all steps."""


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template may name as ``handout``."""
    return {"handout": handout(subject, words)}


def blocks(subject: Subject) -> tuple[Block, ...]:
    """Its front, so that it is measured; what else there is ``handout_pages.py`` knows."""
    return (Block("front"),)


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """Minutes to the next stop and to the end; steps in ranges."""
    return handout_numbers(subject, words)


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], HandoutLayout]:
    """From measured heights to pages. What it gives raises PressError where two sheets are not enough."""

    def arranged(placed: Iterable[Measured]) -> HandoutLayout:
        heights = {part.id: part.height for part in placed}
        layout = arrange(subject.plan, heights, rows(subject, heights), kind.rooms)
        if layout is None:
            raise PressError(
                f"the handout of {subject.size.title} {subject.size.name} does not fit on two sheets of paper: "
                f"its {len(subject.plan.steps)} steps are too many; print the step sheet for this shade"
            )
        return layout

    return arranged


def rows(subject: Subject, heights: Mapping[str, float]) -> Mapping[str, Row]:
    """Heights of the steps with their pictures, and with lower ones."""
    pictures = {card_id(step): subject.figure_of(step).height for step in subject.plan.steps}
    places = {name: slot_named(name).max_height for name in LOWER}
    return rows_of(subject.plan, heights, pictures, places)
