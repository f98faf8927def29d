"""The handout of one size, for whoever makes it in a class: two sheets of paper, three for a long plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from generator.sheets.document import Kind, Subject
from generator.sheets.handout import handout
from generator.sheets.handout import numbers as handout_numbers
from generator.sheets.handout_pages import HandoutLayout, pages_of
from generator.sheets.packing import Block, Measured
from generator.sheets.wording import Catalogue


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
    """From measured heights to pages. What it gives raises PressError where three sheets are not enough."""

    def arranged(placed: Iterable[Measured]) -> HandoutLayout:
        return pages_of(subject, {part.id: part.height for part in placed}, kind.rooms, kind.slots)

    return arranged
