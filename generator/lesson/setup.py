"""Who makes what in which room: everything from which a class follows, so that one thing can be changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from generator.lesson.model import Gate, Lesson, Person
from generator.lesson.route import Terms, route, swappable
from generator.plan.model import Plan


@dataclass(frozen=True)
class Member:
    """Somebody in the class, and the plan of the shade that they make."""

    name: str
    plan: Plan
    own_cloth: bool = False
    """They bring their cloth, so that nobody has cut it before."""

    def terms(self, terms: Terms) -> Terms:
        """What holds for them."""
        return replace(terms, pre_cut=terms.pre_cut and not self.own_cloth)

    def shows(self, terms: Terms) -> tuple[str, ...]:
        """Names of demonstrations and breaks, in order."""
        swapped = terms.swapped and swappable(self.plan)
        items = route(self.plan, self.terms(replace(terms, swapped=swapped)))
        return tuple(item.name for item in items if isinstance(item, Gate))


@dataclass(frozen=True)
class Setup:
    """A class as it is planned."""

    members: tuple[Member, ...]
    terms: Terms
    stations: int
    tools: Mapping[str, int] = field(default_factory=dict)
    stagger: float = 0.0
    """Minutes between the starts of one person and the next; only without a welcome for all."""

    @property
    def can_swap(self) -> bool:
        """Whether the class can be halved: at least two people, all of whose work can be swapped."""
        return len(self.members) > 1 and all(swappable(member.plan) for member in self.members)

    @property
    def lesson(self) -> Lesson:
        """The class for the simulation.

        In a swapped class the first half, the larger where they differ, begins with the panel. Raises
        ValueError where people's plans have other demonstrations than each other's.
        """
        half = -(-len(self.members) // 2)
        swapped = self.terms.swapped and self.can_swap
        terms = replace(self.terms, swapped=swapped)
        people = tuple(
            Person(
                member.name,
                route(member.plan, member.terms(terms), free_first=swapped and place >= half),
                start=place * self.stagger,
            )
            for place, member in enumerate(self.members)
        )
        return Lesson(people, self.stations, self.tools)

    @property
    def shown(self) -> float:
        """Minutes of all demonstrations and breaks together."""
        return sum(item.minutes for item in self.lesson.people[0].route if isinstance(item, Gate))
