"""What a class is made of, for the simulation: routes of blocks, gates, stations and tools. Minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

STATION = "station"
"""Name of the stations among the resources that people wait for."""


@dataclass(frozen=True, slots=True)
class Use:
    """A shared tool within a block: from so many minutes after its start, for so many minutes."""

    tool: str
    offset: float
    minutes: float


@dataclass(frozen=True, slots=True)
class Block:
    """Work that one person does without a break: a task, or a chain of tasks that must go on at once."""

    name: str
    minutes: float
    uses: tuple[Use, ...] = ()


@dataclass(frozen=True, slots=True)
class Gate:
    """A demonstration or a break: it opens when everybody has come, and takes its minutes."""

    name: str
    minutes: float


@dataclass(frozen=True, slots=True)
class Enter:
    """From here on a station is needed."""


@dataclass(frozen=True, slots=True)
class Leave:
    """The station is free again."""


Item = Block | Gate | Enter | Leave


@dataclass(frozen=True)
class Person:
    """Somebody in the class."""

    name: str
    route: tuple[Item, ...]
    factor: float = 1.0
    """Their minutes for each that a block states."""
    start: float = 0.0
    """When they begin, minutes after the class does."""


@dataclass(frozen=True)
class Lesson:
    """Everybody's route through one class. All routes pass the same gates in the same order.

    Raises ValueError where they do not: a gate would wait for ever.
    """

    people: tuple[Person, ...]
    stations: int
    """How many can work at the tables at once."""
    tools: Mapping[str, int] = field(default_factory=dict)
    """Shared tools and how many there are; everybody has every other tool."""

    def __post_init__(self) -> None:
        orders = {tuple(item for item in person.route if isinstance(item, Gate)) for person in self.people}
        if len(orders) > 1:
            raise ValueError("people of one class must pass the same gates in the same order")
        if self.stations < 1 or any(count < 1 for count in self.tools.values()):
            raise ValueError("a class needs at least one station and one of each shared tool")

    @property
    def gates(self) -> tuple[Gate, ...]:
        """In order."""
        return tuple(item for item in self.people[0].route if isinstance(item, Gate)) if self.people else ()


@dataclass(frozen=True, slots=True)
class Done:
    """One block as it was done."""

    person: int
    """Place in the class list, from 0."""
    block: str
    asked: float
    """When the person was ready for it."""
    start: float
    stop: float
    waited_for: str | None
    """The resource that was last to become free, where the person waited."""


@dataclass(frozen=True)
class Course:
    """How a class went once."""

    done: tuple[Done, ...]
    """In the order of their starts."""
    finish: tuple[float, ...]
    """When each person had finished, in the order of the class list."""
    opened: tuple[float, ...]
    """When each gate had gathered everybody, in order."""
    waits: Mapping[str, float]
    """Minutes waited in all for each resource, by its name."""
    longest: Mapping[str, float]
    """The longest single wait for each resource."""

    @property
    def last(self) -> float:
        """When the last person had finished."""
        return max(self.finish, default=0.0)
