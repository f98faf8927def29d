"""A class run through once: people meet at gates, queue for stations, and reserve tools for whole chains.

The rules are the project's own, and a lower bound (``bound.py``) says how far from the best they may be:

- A chain starts at the earliest time at which each tool that it needs is free when its turn comes, so that
  nobody waits inside a chain that must go on. Of like tools it takes the one that is free first.
- Requests are served by the time at which they are made, then by the class list. What ends at the same time
  ends first. First come, first served is not always best.
- One who waits for a station blocks nobody who needs none.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass, field
from typing import Any

import simpy

from generator.lesson.model import STATION, Block, Course, Done, Enter, Gate, Leave, Lesson

LATE = 2
"""Priority of the desk among events of one moment: after everything that ends or arrives in it."""
SAME = 1e-9
"""Times nearer to each other are one, minutes."""

Process = Generator[simpy.Event, Any, None]


@dataclass
class _Desk:
    """Takes the requests of one moment and serves them by the class list."""

    env: simpy.Environment
    waiting: list[tuple[int, Callable[[], object]]] = field(default_factory=list)

    def ask(self, number: int, serve: Callable[[], object]) -> None:
        """Serve this request when everything else of this moment has happened."""
        if not self.waiting:
            event = simpy.Event(self.env)
            event._ok, event._value = True, None
            event.callbacks = [lambda _: self._serve()]
            self.env.schedule(event, priority=LATE)  # type: ignore[arg-type]
        self.waiting.append((number, serve))

    def _serve(self) -> None:
        requests, self.waiting = sorted(self.waiting, key=lambda request: request[0]), []
        for _, serve in requests:
            serve()


@dataclass
class _Room:
    """What is shared: stations with their queue, the time at which each tool is free, the gates."""

    stations: int
    queue: list[tuple[float, int, simpy.Event]] = field(default_factory=list)
    free: dict[str, list[float]] = field(default_factory=dict)
    come: dict[int, int] = field(default_factory=dict)
    open: dict[int, simpy.Event] = field(default_factory=dict)


def simulate(lesson: Lesson) -> Course:
    """Run a class once. Everything is in minutes from its beginning."""
    env = simpy.Environment()
    desk = _Desk(env)
    room = _Room(lesson.stations, free={tool: [0.0] * count for tool, count in lesson.tools.items()})
    done: list[Done] = []
    finish = [0.0] * len(lesson.people)
    opened: dict[int, float] = {}
    waits: dict[str, list[float]] = {}

    def person(number: int) -> Process:
        who = lesson.people[number]
        if who.start:
            yield env.timeout(who.start)
        gate = 0
        for item in who.route:
            asked = env.now
            match item:
                case Gate():
                    yield from _pass(env, room, gate, item, len(lesson.people), opened)
                    gate += 1
                case Enter():
                    event = env.event()
                    desk.ask(number, lambda event=event, asked=asked: _enter(room, asked, number, event))  # type: ignore[misc]
                    yield event
                    _note(waits, STATION, env.now - asked)
                case Leave():
                    _leave(room)
                case Block():
                    yield from work(number, item, who.factor, asked)
        finish[number] = env.now

    def work(number: int, block: Block, factor: float, asked: float) -> Process:
        late: str | None = None
        if any(use.tool in room.free for use in block.uses):
            event = env.event()
            desk.ask(number, lambda: event.succeed(_reserve(room, block, factor, env.now)))
            start, late = yield event
            if late is not None:
                _note(waits, late, start - asked)
            if start > env.now:
                yield env.timeout(start - env.now)
        begun = env.now
        yield env.timeout(block.minutes * factor)
        done.append(Done(number, block.name, asked, begun, env.now, late))

    for number in range(len(lesson.people)):
        env.process(person(number))
    env.run()
    return Course(
        tuple(sorted(done, key=lambda each: (each.start, each.person))),
        tuple(finish),
        tuple(opened[index] for index in sorted(opened)),
        {name: sum(all_) for name, all_ in waits.items()},
        {name: max(all_) for name, all_ in waits.items()},
    )


def _pass(
    env: simpy.Environment, room: _Room, index: int, gate: Gate, people: int, opened: dict[int, float]
) -> Process:
    """Wait until everybody has come to the gate, then for its own minutes."""
    event = room.open.setdefault(index, env.event())
    room.come[index] = room.come.get(index, 0) + 1
    if room.come[index] == people:
        opened[index] = env.now
        event.succeed()
    yield event
    yield env.timeout(gate.minutes)


def _enter(room: _Room, asked: float, number: int, event: simpy.Event) -> None:
    room.queue.append((asked, number, event))
    _admit(room)


def _leave(room: _Room) -> None:
    room.stations += 1
    _admit(room)


def _admit(room: _Room) -> None:
    """Give free stations to those who have waited longest."""
    room.queue.sort(key=lambda request: request[:2])
    while room.stations and room.queue:
        room.stations -= 1
        room.queue.pop(0)[2].succeed()


def _reserve(room: _Room, block: Block, factor: float, now: float) -> tuple[float, str | None]:
    """The start of a block and the tool that made it wait; its tools are taken from then on."""
    start, late = now, None
    uses = [use for use in block.uses if use.tool in room.free]
    for use in uses:
        ready = min(room.free[use.tool]) - use.offset * factor
        if ready > start + SAME:
            start, late = ready, use.tool
    for use in uses:
        times = room.free[use.tool]
        first = times.index(min(times))
        # Two uses of one tool in a chain: the second may find it taken by the first for a little longer.
        times[first] = max(times[first], start + (use.offset + use.minutes) * factor)
    return start, late


def _note(waits: dict[str, list[float]], name: str, minutes: float) -> None:
    if minutes > SAME:
        waits.setdefault(name, []).append(minutes)
