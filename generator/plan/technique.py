"""A technique as it stands in its file: stages and tasks whose parts may depend on the recipe."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from generator.base.message import Message
from generator.base.spans import Span
from generator.plan.expressions import Expression
from generator.plan.facts import ADULT_TOOLS
from generator.plan.model import Demonstration, Phrase, Task, Wait

Facts = Mapping[str, Any]
"""Values of the names that conditions may ask for."""

NAME = re.compile(r"(?=[a-z0-9-]{1,60}$)[a-z][a-z0-9]*(-[a-z0-9]+)*")
"""How stages, tasks, tools and the rest are named: they are parts of file names and wording keys."""


@dataclass(frozen=True, slots=True)
class Item:
    """A name in a list, with the condition under which it stands there."""

    name: str
    span: Span
    when: Expression | None = None

    def holds(self, facts: Facts) -> bool:
        """Whether it stands there for this recipe."""
        return self.when is None or self.when.holds(facts)


@dataclass(frozen=True, slots=True)
class Ask:
    """What a recipe must say to be made in this way."""

    key: str
    """Dotted key of the recipe at which it is told, ``panel.margin``."""
    holds: Expression
    wrong: Message
    expected: Message
    fix: Message


@dataclass(frozen=True, slots=True)
class StageEntry:
    """A stage's place in the order. One stage may have several places whose conditions exclude each other."""

    id: str
    span: Span
    when: Expression | None = None
    station: bool = False
    """Its work needs a place at a table long enough for the panel."""
    free: bool = False
    """A class or a pair may do it at another time; a printed sheet keeps the order."""

    def holds(self, facts: Facts) -> bool:
        """Whether the stage stands here for this recipe."""
        return self.when is None or self.when.holds(facts)


@dataclass(frozen=True, slots=True)
class TaskEntry:
    """A task of the file."""

    id: str
    span: Span
    stage: Item
    when: Expression | None
    needs: tuple[Item, ...]
    gives: tuple[Item, ...]
    tools: tuple[Item, ...]
    consumables: tuple[Item, ...]
    cautions: tuple[Item, ...]
    first_time: Expression
    practised: Expression
    figure: str
    face: Item | None
    place: Item | None
    after: Wait
    irreversible: bool
    gate: bool
    pair: str | None
    adult: bool
    hands: Expression
    mend_until: tuple[Item, ...]
    wording: str
    share: float | None = None
    rest: Expression | None = None
    times: str | None = None
    demonstration: Demonstration | None = None
    ahead: bool = False
    wall: bool = False
    phrases: tuple[Phrase, ...] = ()
    """Words that the file gives it."""
    teaches: int | None = None
    """What the file says of its picture; None: 2 of what cannot be undone, otherwise 1."""

    def holds(self, facts: Facts) -> bool:
        """Whether this recipe has the task."""
        return self.when is None or self.when.holds(facts)

    def task(self, facts: Facts) -> Task:
        """The task as it is for one recipe: only what stands there."""
        tools = _names(self.tools, facts)
        return Task(
            id=self.id,
            stage=self.stage.name,
            span=self.span,
            needs=_names(self.needs, facts),
            gives=_names(self.gives, facts),
            when=self.when.text if self.when else None,
            first_time=self.first_time.text,
            practised=self.practised.text,
            figure=self.figure,
            face=self.face.name if self.face else None,
            place=self.place.name if self.place else None,
            tools=tools,
            consumables=_names(self.consumables, facts),
            after=self.after,
            irreversible=self.irreversible,
            gate=self.gate,
            pair=self.pair,
            share=self.share,
            adult=self.adult or not ADULT_TOOLS.isdisjoint(tools),
            cautions=_names(self.cautions, facts),
            hands=_count(self.hands, facts),
            most_hands=_count(self.hands, {**facts, "large": True}),
            mend_until=tuple(item.name for item in self.mend_until),
            wording=self.wording,
            times=self.times,
            demonstration=self.demonstration,
            ahead=self.ahead,
            wall=self.wall,
            teaches=(2 if self.irreversible else 1) if self.teaches is None else self.teaches,
        )


def _count(hands: Expression, facts: Facts) -> int:
    return round(float(hands.value(facts)))


def _names(items: Iterable[Item], facts: Facts) -> tuple[str, ...]:
    return tuple(item.name for item in items if item.holds(facts))


@dataclass(frozen=True)
class Technique:
    """A checked technique."""

    name: str
    file: str
    digest: str
    """SHA-256 of the file, hex."""
    wording: str
    """First part of its wording keys, and the name of its catalogue."""
    asks: tuple[Ask, ...]
    """What a recipe must say, or it is refused with the reason."""
    materials: tuple[Item, ...]
    """What is there before the first task."""
    finish: tuple[Item, ...]
    """Results that nobody needs to use."""
    faces: tuple[Item, ...]
    places: tuple[Item, ...]
    """Where work happens; it starts at the first."""
    tools: tuple[Item, ...]
    consumables: tuple[Item, ...]
    cautions: tuple[Item, ...]
    stages: tuple[StageEntry, ...]
    tasks: tuple[TaskEntry, ...]
    phrases: tuple[Phrase, ...] = ()
    """Words that the file gives to tools, stages and the rest."""

    def contradictions(self, facts: Facts) -> tuple[Ask, ...]:
        """What a recipe does not say that it must."""
        return tuple(ask for ask in self.asks if not ask.holds.holds(facts))

    def tasks_for(self, facts: Facts) -> tuple[Task, ...]:
        """The tasks of one recipe, in the order of the file."""
        return tuple(entry.task(facts) for entry in self.tasks if entry.holds(facts))

    def stage_order(self, facts: Facts) -> tuple[str, ...]:
        """The stages of one recipe, in the order in which a sheet prints them."""
        return tuple(stage.id for stage in self.stages if stage.holds(facts))
