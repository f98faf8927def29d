"""The handouts of a class in the order of its list, each with its owner's name and on paper of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.sheets import context
from generator.sheets.document import Kind, Subject, document_kind, formed
from generator.sheets.handout import Handout, handout
from generator.sheets.handout import numbers as handout_numbers
from generator.sheets.handout_pages import pages_of
from generator.sheets.packing import Block, Layout, Measured
from generator.sheets.wording import Catalogue


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody in the class."""

    name: str
    """Empty: a line to write it on."""
    member: int
    """What they make: its place among the members."""


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the template may name: ``members``, what is made, and ``people``, who makes which of it."""
    return {"members": tuple(_views(subject)), "people": tuple(people(subject))}


def _views(subject: Subject) -> Iterator[Handout]:
    assert subject.roster is not None  # the kind needs a class
    pre_cut = subject.roster.taught.cloth == "pre-cut"
    for member in subject.members:
        yield handout(member, context.wording(member), pre_cut=pre_cut)


def people(subject: Subject) -> Iterator[Person]:
    """Everybody in the order of the list."""
    assert subject.roster is not None
    plans = [id(member.plan) for member in subject.members]
    for guest in subject.roster.guests:
        yield Person(guest.name or "", plans.index(id(guest.work.plan)))


def blocks(subject: Subject) -> tuple[Block, ...]:
    """Each front, so that it is measured; what else there is ``handout_pages.py`` knows."""
    return tuple(Block(f"{number}-front") for number, _ in enumerate(subject.members))


def numbers(subject: Subject, words: Catalogue) -> Iterable[str]:
    """The numbers of every member's own handout, and names with digits."""
    for member in subject.members:
        own = context.wording(member)
        yield from context.numbers(member, own)
        yield from handout_numbers(member, own)
    yield from (person.name for person in people(subject) if person.name)


def arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], Layout]:
    """From measured heights to pages. What it gives raises PressError where three sheets are not enough."""

    def arranged(placed: Iterable[Measured]) -> Layout:
        slots = formed(document_kind(kind.members or ""), subject.form).slots
        heights: dict[int, dict[str, float]] = {number: {} for number, _ in enumerate(subject.members)}
        for part in placed:
            number, _, name = part.id.partition("-")
            if number.isdecimal():
                heights[int(number)][name] = part.height
        parts = (
            pages_of(member, heights[number], kind.rooms, slots)
            for number, member in enumerate(subject.members)
        )
        return Layout(parts=tuple(parts))

    return arranged
