"""What a technique says and what a plan is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from generator.base.spans import Span

Wait = Literal["at-once", "may-wait", "safe-pause"]
"""What may happen after a task: the next must follow at once, may wait, or this is a good place to stop."""


@dataclass(frozen=True, slots=True)
class Task:
    """One task of a technique. Wording is found by key: ``<technique>.<id>.title`` and so on."""

    id: str
    stage: str
    span: Span
    needs: tuple[str, ...]
    gives: tuple[str, ...]
    when: str | None
    """Condition on the recipe's values, a sandboxed expression; None: always."""
    first_time: str
    practised: str
    """Minutes as sandboxed expressions of measures."""
    figure: str
    face: str | None = None
    place: str | None = None
    tools: tuple[str, ...] = ()
    consumables: tuple[str, ...] = ()
    after: Wait = "may-wait"
    irreversible: bool = False
    gate: bool = False
    """Drawn as a stop: the maker checks before work that cannot wait."""
    pair: str | None = None
    """How two people share it, a wording key's last part; None: one person's work."""
    adult: bool = False
    """A named adult does it where the makers are young learners."""
    cautions: tuple[str, ...] = ()
    """Wording keys of hazards, each with hazard, consequence and avoid."""
    instructions: int = 0
    """How many instructions the wording has, or 0: as many as are there."""


@dataclass(frozen=True, slots=True)
class Minutes:
    """Estimated minutes, first time and practised."""

    first_time: float
    practised: float

    def __add__(self, other: Minutes) -> Minutes:
        return Minutes(self.first_time + other.first_time, self.practised + other.practised)


@dataclass(frozen=True)
class Step:
    """A task in its place."""

    number: int
    task: Task
    minutes: Minutes
    from_steps: Mapping[str, int] = field(default_factory=dict)
    """Each need and the number of the step that gives it."""
    why: tuple[str, ...] = ()
    """Why it stands here, in plain sentences."""

    @property
    def id(self) -> str:
        """The task's name."""
        return self.task.id


@dataclass(frozen=True)
class Stage:
    """Steps that stand together."""

    id: str
    steps: tuple[Step, ...]

    @property
    def minutes(self) -> Minutes:
        """Sum over the steps."""
        total = Minutes(0.0, 0.0)
        for step in self.steps:
            total = total + step.minutes
        return total


@dataclass(frozen=True)
class Plan:
    """The ordered work for one size."""

    technique: str
    stages: tuple[Stage, ...]

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps in order."""
        return tuple(step for stage in self.stages for step in stage.steps)

    @property
    def minutes(self) -> Minutes:
        """Sum over all steps."""
        total = Minutes(0.0, 0.0)
        for stage in self.stages:
            total = total + stage.minutes
        return total

    def given_before(self, number: int) -> frozenset[str]:
        """What all steps before ``number`` have given."""
        return frozenset(give for step in self.steps if step.number < number for give in step.task.gives)
