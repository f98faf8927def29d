"""What no class can beat: a lower bound on the time at which the last person finishes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.lesson.model import Block, Gate, Lesson, Person


@dataclass(frozen=True, slots=True)
class _Need:
    """One person's uses of one tool in one phase: minutes before, in and after them."""

    head: float
    used: tuple[float, ...]
    tail: float


def lower_bound(lesson: Lesson) -> float:
    """Minutes that the last person needs at least.

    The sum over gates, and over the phases between them of the greatest of: the longest person's work; for
    each tool the least time before its first use, plus its work shared out over all pieces (never less than
    whole uses one after the other), plus the least time after the last use. Stations are held until they are
    left, so they give a bound of the same form.
    """
    phases = [list(_phases(person)) for person in lesson.people]
    if not phases:
        return 0.0
    total = sum(gate.minutes for gate in lesson.gates)
    for index in range(len(phases[0])):
        own = [(person.factor, phase[index]) for person, phase in zip(lesson.people, phases, strict=True)]
        longest = max(factor * sum(block.minutes for block in blocks) for factor, blocks in own)
        pools = (_pool(tool, count, own) for tool, count in lesson.tools.items())
        total += max([longest, *pools])
    return total


def _phases(person: Person) -> Iterator[list[Block]]:
    """A person's blocks before the first gate, between gates, after the last."""
    blocks: list[Block] = []
    for item in person.route:
        if isinstance(item, Gate):
            yield blocks
            blocks = []
        elif isinstance(item, Block):
            blocks.append(item)
    yield blocks


def _pool(tool: str, count: int, own: list[tuple[float, list[Block]]]) -> float:
    """The bound that one kind of tool gives for one phase, minutes."""
    needs = [need for factor, blocks in own if (need := _need(tool, factor, blocks)) is not None]
    if not needs:
        return 0.0
    used = [minutes for need in needs for minutes in need.used]
    work = max(sum(used) / count, math.ceil(len(used) / count) * min(used))
    return min(need.head for need in needs) + work + min(need.tail for need in needs)


def _need(tool: str, factor: float, blocks: list[Block]) -> _Need | None:
    gone, spans = 0.0, []
    for block in blocks:
        spans += [(gone + use.offset, use.minutes) for use in block.uses if use.tool == tool]
        gone += block.minutes
    if not spans:
        return None
    first, last = spans[0][0], spans[-1][0] + spans[-1][1]
    return _Need(factor * first, tuple(factor * minutes for _, minutes in spans), factor * (gone - last))
