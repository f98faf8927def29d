"""A class by the clock: when each part of it begins, usually and at the latest, over many runs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from generator.base.units import round_down, round_nearest
from generator.cutting.numbers import Book
from generator.lesson.model import Block, Course, Gate
from generator.lesson.outcome import Outcome
from generator.lesson.route import BREAK, WELCOME
from generator.lesson.runs import courses_of, percentile
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.plan.model import Plan, Step

SOURCE = "simulated class, runs with people of different speed"
Kind = Literal["welcome", "show", "break", "work", "close"]
Who = Literal["all", "first-half", "second-half"]


@dataclass(frozen=True)
class Part:
    """Something in the class that has its time."""

    kind: Kind
    name: str
    """A demonstration's name, a stage's, ``welcome``, ``break``, ``close``."""
    start: Measure
    """A time of day, as half of all classes have it."""
    minutes: Measure
    """How long it takes: from the first who begins to the last who is done."""
    latest: Measure
    """Begun later than this, eight classes of ten would not end in time."""
    steps: tuple[Step, ...] = ()
    """What is done, as the first in the list who does it has it; of a demonstration what it prepares."""
    who: Who = "all"
    end: Measure | None = None
    """When the last is done with it; None of what is no work."""

    @property
    def pause(self) -> Step | None:
        """The step after which the work may rest, if this part ends with one."""
        return next((step for step in reversed(self.steps) if step.task.after == "safe-pause"), None)


@dataclass(frozen=True)
class Schedule:
    """The whole class."""

    parts: tuple[Part, ...]
    end: Measure
    """When the last is done, usually."""
    late: Measure
    """When the last is done in eight classes of ten."""
    close: Measure
    """When the room must be left."""
    latest: Measure
    """The latest beginning."""
    waits: Mapping[str, Measure]
    """The longest wait for each resource, minutes."""
    measures: Measures

    @property
    def shown(self) -> tuple[Part, ...]:
        """The demonstrations in order."""
        return tuple(part for part in self.parts if part.kind == "show")


@dataclass
class _Span:
    """When one part lay, over the runs."""

    starts: list[float] = field(default_factory=list)
    stops: list[float] = field(default_factory=list)
    rests: list[float] = field(default_factory=list)
    """From its start to the end of the class."""


def schedule(found: Outcome) -> Schedule:
    """Times of day for everything in a class."""
    return _Clock(found).read()


Key = tuple[int, str, Who]
"""After how many gates, the stage, and who."""


class _Clock:
    def __init__(self, found: Outcome) -> None:
        self.found = found
        self.roster = found.roster
        self.book = Book()
        self.lesson = found.setup.lesson
        self.plans = [member.plan for member in found.setup.members]
        self.begin = self.roster.taught.start

    def read(self) -> Schedule:
        courses = list(courses_of(self.lesson, self.roster.taught.seed))
        gates = [_Span() for _ in self.lesson.gates]
        for course in courses:
            for span, opened, gate in zip(gates, course.opened, self.lesson.gates, strict=True):
                _note(span, opened, opened + gate.minutes, course)
        keys, homes = self._homes()
        works = {key: _Span() for key in keys}
        for course in courses:
            for key, (start, stop) in _ranges(course, homes).items():
                _note(works[key], start, stop, course)
        parts = list(self._parts(gates, works, keys))
        ahead, room = self.found.outlook, self.roster.room
        end = self._time("class_end", "The last is done, usually", ahead.last)
        late = self._time("class_late", "The last is done, in eight classes of ten", ahead.last_p80)
        close = self._time("class_close", "The room is left", self.roster.taught.length)
        latest = self._time("class_latest", "Begin at the latest", -self.found.over, down=True)
        clear = self.book.put(
            "clear_up", "Clearing up", self.roster.clear_up, "as stated", COMMON_PRACTICE, unit="min"
        )
        final = self._time("class_clear", "Clear up from", room)
        parts.append(Part("close", "close", final, clear, final))
        waits = {
            name: self.book.put(
                f"wait_{name.replace('-', '_')}",
                f"Longest wait for {name}",
                minutes,
                "the longest wait in the run in the middle",
                SOURCE,
                unit="min",
                shown=round_nearest(minutes, 1.0),
            )
            for name, minutes in ahead.waits.items()
        }
        return Schedule(tuple(parts), end, late, close, latest, waits, self.book.measures)

    def _homes(self) -> tuple[list[Key], list[dict[str, Key]]]:
        """Every part of the work in the order in which people come to it, and for each person of which part a
        block is."""
        keys: dict[Key, None] = {}
        homes = []
        half = -(-len(self.lesson.people) // 2)
        swapped = self.found.setup.terms.swapped and self.found.setup.can_swap
        for place, (person, plan) in enumerate(zip(self.lesson.people, self.plans, strict=True)):
            stage_of = {step.id: stage.id for stage in plan.stages for step in stage.steps}
            free = {step.id for stage in plan.stages if stage.free for step in stage.steps}
            home: dict[str, Key] = {}
            gates, mixed = 0, _mixed(person.route, free)
            for item in person.route:
                if isinstance(item, Gate):
                    gates += 1
                elif isinstance(item, Block):
                    parted = swapped and gates in mixed
                    who: Who = "all" if not parted else "first-half" if place < half else "second-half"
                    key = (gates, stage_of[item.name.split()[0]], who)
                    home[item.name] = key
                    keys.setdefault(key)
            homes.append(home)
        return list(keys), homes

    def _parts(
        self, gates: Sequence[_Span], works: Mapping[Key, _Span], keys: Sequence[Key]
    ) -> Iterator[Part]:
        for index, gate in enumerate((None, *self.lesson.gates)):
            if gate is not None:
                kind: Kind = "show"
                if gate.name in (WELCOME, BREAK):
                    kind = "welcome" if gate.name == WELCOME else "break"
                number = index - 1
                steps = tuple(self._shown(gate.name)) if kind == "show" else ()
                minutes = self.book.put(
                    f"gate_{index}_minutes", gate.name, gate.minutes, "as stated", COMMON_PRACTICE, unit="min"
                )
                yield Part(
                    kind, gate.name, *self._when(f"gate_{index}", gate.name, gates[number], minutes), steps
                )
            here = [key for key in keys if key[0] == index]
            for place, key in enumerate(sorted(here, key=lambda key: percentile(works[key].starts, 0.5)), 1):
                span, name = works[key], f"work_{index}_{place}"
                long = percentile([b - a for a, b in zip(span.starts, span.stops, strict=True)], 0.5)
                minutes = self.book.put(
                    f"{name}_minutes",
                    f"{key[1]}: from the first who begins to the last who is done",
                    long,
                    "the run in the middle",
                    SOURCE,
                    unit="min",
                    shown=round_nearest(long, 1.0),
                )
                steps = tuple(self._done(key))
                end = self._time(f"{name}_end", f"{key[1]}: done", percentile(span.stops, 0.5))
                yield Part("work", key[1], *self._when(name, key[1], span, minutes), steps, key[2], end)

    def _when(self, name: str, label: str, span: _Span, minutes: Measure) -> tuple[Measure, Measure, Measure]:
        start = self._time(f"{name}_start", f"{label}: begins", percentile(span.starts, 0.5))
        rest = percentile(span.rests, 0.8)
        latest = self._time(
            f"{name}_latest", f"{label}: begins at the latest", self.roster.room - rest, down=True
        )
        return start, minutes, latest

    def _time(self, id_: str, label: str, minutes: float, *, down: bool = False) -> Measure:
        at = self.begin + minutes
        shown = round_down(at, 1.0) if down else round_nearest(at, 1.0)
        formula = f"beginning and {minutes:.2f} min, of {len(self.plans)} people"
        return self.book.put(id_, label, at, formula, SOURCE, unit="clock", shown=shown)

    def _shown(self, name: str) -> Iterator[Step]:
        """Steps that a demonstration prepares: from its own to that before the next one's."""
        for plan in self._with(name):
            mine = False
            for step in plan.steps:
                shown = step.task.demonstration
                mine = shown.name == name if shown is not None else mine
                if mine:
                    yield step
            return

    def _with(self, name: str) -> Iterable[Plan]:
        return (
            plan
            for plan in self.plans
            if any(step.task.demonstration and step.task.demonstration.name == name for step in plan.steps)
        )

    def _done(self, key: Key) -> Iterator[Step]:
        """The steps of a part, by the plan of the first who does it; what only others do comes with them."""
        seen: set[str] = set()
        _, homes = self._homes()
        for plan, home in zip(self.plans, homes, strict=True):
            names = {name for block, at in home.items() if at == key for name in block.split()}
            for step in plan.steps:
                if step.id in names and step.id not in seen:
                    seen.add(step.id)
                    yield step


def _mixed(route: Sequence[object], free: set[str]) -> set[int]:
    """After which numbers of gates a route has both what needs no panel and other work: there halves swap."""
    gates = 0
    kinds: dict[int, set[bool]] = {}
    for item in route:
        if isinstance(item, Gate):
            gates += 1
        elif isinstance(item, Block):
            kinds.setdefault(gates, set()).add(item.name.split()[0] in free)
    return {gates for gates, found in kinds.items() if len(found) > 1}


def _ranges(course: Course, homes: Sequence[Mapping[str, Key]]) -> dict[Key, tuple[float, float]]:
    """When the first began and the last ended each part in one run."""
    found: dict[Key, tuple[float, float]] = {}
    for done in course.done:
        key = homes[done.person][done.block]
        start, stop = found.get(key, (done.start, done.stop))
        found[key] = min(start, done.start), max(stop, done.stop)
    return found


def _note(span: _Span, start: float, stop: float, course: Course) -> None:
    span.starts.append(start)
    span.stops.append(stop)
    span.rests.append(course.last - start)
