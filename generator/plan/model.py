"""What a technique says and what a plan is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from generator.base.spans import Span

Wait = Literal["at-once", "may-wait", "safe-pause"]
"""What may happen after a task: the next must follow at once, may wait, or this is a good place to stop."""


@dataclass(frozen=True, slots=True)
class Demonstration:
    """What a tutor shows to everybody before a task of a class."""

    name: str
    """Last part of its wording key."""
    minutes: float


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
    share: float | None = None
    """Both together take so much of its minutes; None: not stated, so it is not shared."""
    adult: bool = False
    """A named adult does it where the makers are young learners."""
    cautions: tuple[str, ...] = ()
    """Wording keys of hazards, each with hazard, consequence and avoid."""
    instructions: int = 0
    """How many instructions the wording has, or 0: as many as are there."""
    hands: int = 2
    """How many hands it takes here; more than two: a helper is wanted."""
    most_hands: int = 2
    """How many it takes where the work is large."""
    mend_until: tuple[str, ...] = ()
    """For each mistake the last moment to mend it: ``at-once``, ``any-time``, ``never``, or the name of the
    task before which it must be mended. The first mistake stands on the card."""
    wording: str = ""
    """First part of the wording keys, ``<wording>.<id>.title``."""

    times: str | None = None
    """The count that it is done once for each of, such as ``panels``; None: it is done once."""
    teaches: int = 1
    """How much its picture teaches where not every step has one, from 0 to 3."""

    demonstration: Demonstration | None = None
    """In a class, what is shown to everybody before it."""
    ahead: bool = False
    """A tutor does it before the class where the cloth comes cut."""
    wall: bool = False
    """In a class, a card on the wall shows it."""

    @property
    def key(self) -> str:
        """Beginning of the task's wording keys: ``rolled-edge.dock``."""
        return f"{self.wording}.{self.id}"


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words that the technique file carries itself, under the key that a catalogue would have them."""

    key: str
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Minutes:
    """Estimated minutes, first time and practised."""

    first_time: float
    practised: float

    def __add__(self, other: Minutes) -> Minutes:
        return Minutes(self.first_time + other.first_time, self.practised + other.practised)


@dataclass(frozen=True, slots=True)
class Link:
    """A result by its name in the technique, and the steps that give it or need it."""

    result: str
    steps: tuple[int, ...]


ReasonKind = Literal[
    "needs", "waits", "earlier", "free", "later", "follows", "followed", "gate", "rests", "pause", "undone",
    "beside", "times-panels", "times-struts",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason for a step's place, without words; what else it holds depends on its kind."""

    kind: ReasonKind
    links: tuple[Link, ...] = ()
    """``needs``, ``waits``: all results; ``earlier``, ``later``: the one that decides."""
    stock: tuple[str, ...] = ()
    """``needs``: what is there from the start."""
    step: int | None = None
    """``follows``, ``followed``, ``beside``: the step before or after."""
    minutes: int | None = None
    """``rests``: whole minutes."""
    count: int | None = None
    """``times-…``: how often it is done."""
    same: tuple[str, ...] = ()
    """``beside``: ``face``, ``place`` and ``tool``, as far as they stay."""


@dataclass(frozen=True)
class Step:
    """A task in its place."""

    number: int
    task: Task
    minutes: Minutes
    from_steps: Mapping[str, int] = field(default_factory=dict)
    """Each need and the number of the step that gives it."""
    why: tuple[Reason, ...] = ()
    """Why it stands here; ``sheets/why.py`` has the sentences."""
    adult: bool = False
    """In this plan a named adult must do it: the makers are young learners."""
    helper: bool = False
    """In this plan a second person is wanted: it takes more than two hands."""
    to_steps: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    """Each result and the numbers of the steps that need it."""
    rest: float = 0.0
    """Minutes that its result must rest before it can be used, nobody working."""
    times: int = 1
    """How often it is done; its minutes are those of all times together."""
    whole: tuple[int, int] = (0, 0)
    """Whole minutes for a page, first time and practised: over all steps they add up to the rounded total."""

    @property
    def id(self) -> str:
        """The task's name."""
        return self.task.id


@dataclass(frozen=True, slots=True)
class Mishap:
    """A row of the fault table: wording keys for what is seen, and when it can still be mended."""

    step: int
    """The step that caused it."""
    task: str
    key: str
    """Beginning of its wording keys; ``.see``, ``.mistake`` and ``.rescue`` follow."""
    part: str
    """What follows those keys: empty for the task's first mistake, ``.2`` for the second."""
    until: str
    """``at-once``, ``any-time``, ``never`` or ``before``."""
    before: int | None = None
    """The step before which it must be mended, with ``before``."""

    def word(self, what: str) -> str:
        """Wording key of ``see``, ``mistake`` or ``rescue``."""
        return f"{self.key}.{what}{self.part}"


@dataclass(frozen=True, slots=True)
class Measured:
    """Where minutes come from that were measured and not estimated."""

    workroom: str
    shades: int
    """How many shades the form has times of."""
    first_time: frozenset[int]
    practised: frozenset[int]
    """Steps whose minutes are measured."""
    spread: tuple[float, float]
    """Standard deviation of the measured steps together, minutes, first time and practised."""


@dataclass(frozen=True)
class Stage:
    """Steps that stand together."""

    id: str
    steps: tuple[Step, ...]
    station: bool = False
    """It needs a place at a table long enough for the panel; a class has only so many."""
    free: bool = False
    """A class or a pair may do it at another time."""

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
    facts: Mapping[str, object] = field(default_factory=dict)
    """The values that conditions and variants of wording ask for: ``use``, ``kiss_cut``, ``fitter``, …"""
    tools: tuple[str, ...] = ()
    """Every tool that a step uses, and no other, in the technique's order."""
    consumables: tuple[str, ...] = ()
    """Everything that a step uses up, and nothing else, in the technique's order."""
    mishaps: tuple[Mishap, ...] = ()
    """The fault table, in the order of the steps."""
    proved: bool = True
    """No valid order costs less; False where the search had to stop before it could prove so."""
    cost: tuple[int, int, int, int] = (0, 0, 0, 0)
    """Changes of face, of place, of tool, and the sum of the positions of irreversible steps."""
    bound: tuple[int, int, int, int] = (0, 0, 0, 0)
    """What no order can beat, part by part; equal to ``cost`` where that is proved."""
    phrases: tuple[Phrase, ...] = ()
    """The technique file's own words."""
    measured: Measured | None = None
    """Where measured minutes come from; None: all are estimates."""
    digest: str = ""
    """SHA-256 of each file that the plan comes from, hex."""

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

    def step(self, task: str) -> Step | None:
        """The step of a task, or None if this plan has none."""
        return next((step for step in self.steps if step.id == task), None)

    @property
    def printed(self) -> Plan:
        """The same plan in the whole minutes that pages print: what is computed of it adds up on paper."""
        stages = tuple(
            replace(stage, steps=tuple(_in_whole_minutes(step) for step in stage.steps))
            for stage in self.stages
        )
        return replace(self, stages=stages)

    @property
    def estimated(self) -> tuple[int, ...]:
        """Steps of which a printed time is an estimate."""
        both = self.measured.first_time & self.measured.practised if self.measured else frozenset()
        return tuple(step.number for step in self.steps if step.number not in both)

    @property
    def numbers(self) -> dict[str, int]:
        """Step number by task name."""
        return {step.id: step.number for step in self.steps}

    def given_before(self, number: int) -> frozenset[str]:
        """What all steps before ``number`` have given."""
        return frozenset(give for step in self.steps if step.number < number for give in step.task.gives)


def _in_whole_minutes(step: Step) -> Step:
    first_time, practised = step.whole
    return replace(step, minutes=Minutes(float(first_time), float(practised)), rest=float(round(step.rest)))
