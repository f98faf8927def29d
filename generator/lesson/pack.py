"""Everything that a tutor carries in, in numbers: the class by the clock, the room, what is bought."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.base.edition import USUAL, Form
from generator.lesson.buying import Buying, buying
from generator.lesson.outcome import Outcome, outcome, refuse_late
from generator.lesson.room import Room, room_of
from generator.lesson.roster import Roster
from generator.lesson.schedule import Schedule, Who, schedule
from generator.measures.measure import Measure, Measures


@dataclass(frozen=True)
class ClassNumbers:
    """A class that ends in time."""

    outcome: Outcome
    schedule: Schedule
    buying: Buying
    room: Room
    saved: tuple[Measure, ...]
    """Minutes that each way out saves, in the order of ``outcome.ways``."""
    loans: tuple[tuple[Measure, Measure, Measure], ...]
    """For each loan: pieces to borrow, the longest wait then, minutes saved."""
    tools: tuple[tuple[str, Measure], ...]
    """Shared tools with how many there are."""
    halves: Mapping[Who, Measure]
    """How many people all are, and either half of a halved class."""
    making: Mapping[tuple[str, str], Measure]
    """How many make a size, by recipe and size."""
    measures: Measures

    @property
    def roster(self) -> Roster:
        """Who is in it."""
        return self.outcome.roster


def class_numbers(roster: Roster, form: Form = USUAL) -> ClassNumbers:
    """All numbers of a class, its drawings for pages of a form.

    Raises ClassError where it cannot end in time, or cannot be cut.
    """
    found = outcome(roster)
    refuse_late(found)
    times, bought, room = schedule(found), buying(roster, form), room_of(roster, form)
    saved = tuple(_minutes(f"way_{n}", "Minutes saved", way.saves) for n, way in enumerate(found.ways, 1))
    loans = tuple(
        (
            _count(f"loan_{n}", "To borrow", loan.want - loan.have),
            _minutes(f"loan_{n}_wait", "The longest wait then", loan.then),
            _minutes(f"loan_{n}_saves", "Minutes saved", loan.saves),
        )
        for n, loan in enumerate(found.loans, 1)
    )
    tools = tuple(
        (tool, _count(f"tool_{tool.replace('-', '_')}", "Shared tools", count))
        for tool, count in roster.tools.items()
    )
    people, half = len(roster.guests), -(-len(roster.guests) // 2)
    halves: dict[Who, Measure] = {
        "all": room.people,
        "first-half": _count("first_half", "People in the first half", half),
        "second-half": _count("second_half", "People in the second half", people - half),
    }
    makes = [(guest.work.size.recipe, guest.work.size.name) for guest in roster.guests]
    making = {
        key: _count(f"making_{n}", "People who make this size", makes.count(key))
        for n, key in enumerate(dict.fromkeys(makes), 1)
    }
    more = [
        *halves.values(),
        *making.values(),
        *saved,
        *(each for loan in loans for each in loan),
        *(count for _, count in tools),
    ]
    every = {**times.measures, **bought.measures, **room.measures, **{each.id: each for each in more}}
    return ClassNumbers(found, times, bought, room, saved, loans, tools, halves, making, Measures(every))


def _minutes(id_: str, label: str, minutes: float) -> Measure:
    formula, source = "the class run with the change and without", "simulated class"
    return Measure(id_, label, minutes, float(round(minutes)), "min", formula, source)


def _count(id_: str, label: str, count: int) -> Measure:
    return Measure(id_, label, float(count), float(count), "count", "counted", "the recipe")
