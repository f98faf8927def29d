"""What whoever prepares the work wants to know of a plan: its critical path, and two people at one shade.

All of it is computed in the whole minutes that pages print, so that what stands on paper adds up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from generator.plan.critical import CriticalPath, Pace, critical_path
from generator.plan.model import Plan, Step
from generator.plan.pair import PairPlan, pair_plan

PACES: tuple[Pace, ...] = ("first_time", "practised")


@dataclass(frozen=True)
class Outlook:
    """One plan in printed minutes, and what follows from it at both paces."""

    plan: Plan
    paths: Mapping[Pace, CriticalPath]
    pairs: Mapping[Pace, PairPlan]


def outlook(plan: Plan) -> Outlook:
    """Critical paths and schedules for two, in printed minutes."""
    printed = plan.printed
    return Outlook(
        printed,
        {pace: critical_path(printed, pace) for pace in PACES},
        {pace: pair_plan(printed, pace) for pace in PACES},
    )


def chains(plan: Plan) -> tuple[tuple[Step, ...], ...]:
    """Steps that must go on at once, chain by chain."""
    found: list[list[Step]] = []
    for before, after in pairwise(plan.steps):
        if before.task.after == "at-once":
            if found and found[-1][-1] is before:
                found[-1].append(after)
            else:
                found.append([before, after])
    return tuple(map(tuple, found))
