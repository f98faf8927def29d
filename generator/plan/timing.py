"""Measured minutes in the place of estimates, task by task and pace by pace."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.plan.facts import once
from generator.plan.model import Measured, Minutes, Task
from generator.plan.times import Times


@dataclass(frozen=True)
class Timing:
    """Minutes by task, and where the measured ones come from."""

    minutes: Mapping[str, Minutes]
    measured: Measured | None


def timing(
    ordered: Sequence[Task],
    estimates: Mapping[str, Minutes],
    times: Times | None,
    values: Mapping[str, Any],
) -> Timing:
    """The minutes of tasks in their order: measured where the form reaches, else the estimate.

    A form has minutes of shades of one panel: what is done for each of several takes them as often.
    """
    if times is None:
        return Timing(estimates, None)
    minutes: dict[str, Minutes] = {}
    steps: tuple[set[int], set[int]] = (set(), set())
    spreads = [0.0, 0.0]
    for number, task in enumerate(ordered, start=1):
        fit, estimate = times.fits.get(task.id), estimates[task.id]
        often, single = once(values, task.times)
        p, n = float(single["p"]), float(single["n"])
        found = [fit.minutes(p, n, practised) if fit else None for practised in (False, True)]
        found = [None if value is None else often * value for value in found]
        for pace, value in enumerate(found):
            if fit is not None and value is not None:
                steps[pace].add(number)
                spreads[pace] += often * fit.spread**2
        first, practised = found
        minutes[task.id] = Minutes(
            estimate.first_time if first is None else first,
            estimate.practised if practised is None else practised,
        )
    if not steps[0] and not steps[1]:
        return Timing(minutes, None)
    # Spreads of steps that do not depend on one another add by squares.
    spread = (math.sqrt(spreads[0]), math.sqrt(spreads[1]))
    return Timing(
        minutes, Measured(times.workroom, times.shades, frozenset(steps[0]), frozenset(steps[1]), spread)
    )
