"""What would make a class shorter: each single change tried out, with the minutes that it saves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from generator.lesson.model import STATION
from generator.lesson.runs import outlook
from generator.lesson.setup import Setup

Kind = Literal["swap", "tool", "station", "pre-cut", "pause", "no-pause", "stagger"]
RUNS = 60
"""Runs for each change: enough to tell them apart, few enough not to keep a tutor waiting."""
LEAST = 0.5
"""A change that saves less is not told, minutes."""
STAGGER = 5.0
"""Minutes between two starts that are tried."""


@dataclass(frozen=True, slots=True)
class Way:
    """A change, and by how many minutes the last person finishes sooner in eight classes of ten."""

    kind: Kind
    what: str
    """The tool, or the stage after which the break stands; empty for other kinds."""
    saves: float
    cost: int
    """How much it asks of a tutor, for choosing among equals: 0 nothing, 1 another order, 2 work or money."""


def ways_out(setup: Setup, seed: int, runs: int = RUNS) -> tuple[Way, ...]:
    """All single changes that help, the one that saves most first. Deterministic for a seed."""
    before = outlook(setup.lesson, seed, runs).last_p80
    found = []
    for kind, what, cost, changed in _changes(setup):
        saves = before - outlook(changed.lesson, seed, runs).last_p80
        if saves >= LEAST:
            found.append(Way(kind, what, saves, cost))
    return tuple(sorted(found, key=lambda way: (-round(way.saves, 6), way.cost, way.kind, way.what)))


def _changes(setup: Setup) -> Iterator[tuple[Kind, str, int, Setup]]:
    terms = setup.terms
    if not terms.swapped and setup.can_swap:
        yield "swap", "", 1, replace(setup, terms=replace(terms, swapped=True))
    for tool, count in setup.tools.items():
        if count < len(setup.members):
            yield "tool", tool, 2, replace(setup, tools={**setup.tools, tool: count + 1})
    if setup.stations < len(setup.members):
        yield "station", STATION, 2, replace(setup, stations=setup.stations + 1)
    if not terms.pre_cut:
        yield "pre-cut", "", 2, replace(setup, terms=replace(terms, pre_cut=True))
    if terms.pause:
        stages = [stage.id for stage in setup.members[0].plan.stages[:-1] if stage.steps]
        for stage in (name for name in stages if name != terms.pause_after):
            yield "pause", stage, 1, replace(setup, terms=replace(terms, pause_after=stage))
        yield "no-pause", "", 2, replace(setup, terms=replace(terms, pause=0.0))
    if not setup.stagger:
        yield "stagger", "", 1, replace(setup, stagger=STAGGER)
