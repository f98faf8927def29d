"""The critical path: how short the work can be with hands enough, and how long each step can wait.

Critical path method: Kelley and Walker 1959, from memory. A step's slack is its latest start minus its
earliest.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from generator.plan.model import Plan

Pace = Literal["first_time", "practised"]


@dataclass(frozen=True)
class CriticalPath:
    """Length in minutes, the steps without slack, and every step's slack in minutes."""

    length: float
    steps: tuple[int, ...]
    earliest: Mapping[int, float]
    slack: Mapping[int, float]
    ready: Mapping[int, float]
    """When each step's results can be used, at the earliest."""


def critical_path(plan: Plan, pace: Pace = "first_time") -> CriticalPath:
    """The critical path of a plan, by needs alone."""
    minutes = {step.number: getattr(step.minutes, pace) for step in plan.steps}
    before = {step.number: sorted(set(step.from_steps.values())) for step in plan.steps}
    return schedule(minutes, before, {step.number: step.rest for step in plan.steps if step.rest})


def schedule(
    minutes: Mapping[int, float],
    before: Mapping[int, Sequence[int]],
    rests: Mapping[int, float] | None = None,
) -> CriticalPath:
    """Earliest starts forward, latest starts back. Steps must be numbered so that needs come first.

    ``rests`` are minutes after a step before its results can be used.
    """
    rest = dict.fromkeys(minutes, 0.0) | dict(rests or {})
    numbers = sorted(minutes)
    earliest: dict[int, float] = {}
    for number in numbers:
        earliest[number] = max((earliest[b] + minutes[b] + rest[b] for b in before[number]), default=0.0)
    length = max((earliest[n] + minutes[n] for n in numbers), default=0.0)
    latest = {number: length - minutes[number] for number in numbers}
    for number in reversed(numbers):
        for b in before[number]:
            latest[b] = min(latest[b], latest[number] - minutes[b] - rest[b])
    slack = {number: latest[number] - earliest[number] for number in numbers}
    # Sums in another order differ by floating-point noise.
    critical = tuple(number for number in numbers if slack[number] < 1e-9)
    ready = {number: earliest[number] + minutes[number] + rest[number] for number in numbers}
    return CriticalPath(length, critical, earliest, {n: max(0.0, s) for n, s in slack.items()}, ready)
