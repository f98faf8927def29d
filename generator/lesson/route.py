"""From the plan of a shade to one person's route through a class: gates, stations, blocks, shared tools."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from generator.lesson.model import Block, Enter, Gate, Item, Leave, Use
from generator.plan.model import Demonstration, Plan, Stage, Step

ADULT = "adult"
"""The adult who does what young learners must not: somebody to wait for, as for a tool."""
WELCOME, BREAK = "welcome", "break"
"""Names of the gates that belong to the class and not to a task."""


@dataclass(frozen=True, slots=True)
class Terms:
    """What holds for everybody in a class. Minutes."""

    practised: bool
    """People have made shades before: their minutes are the practised ones."""
    pre_cut: bool
    """The cloth comes cut: tasks that a tutor does ahead are left out."""
    shared: frozenset[str]
    """Tools of which there are fewer than people."""
    welcome: float = 10.0
    pause: float = 15.0
    """The break; 0: none."""
    pause_after: str = "tape"
    """The stage after which it stands."""
    swapped: bool = False
    """The class is halved: one half does the free stage last, the other first."""
    shown: Mapping[str, float] = field(default_factory=dict)
    """Minutes of demonstrations that take other than the technique says, by name."""


def route(plan: Plan, terms: Terms, *, free_first: bool = False) -> tuple[Item, ...]:
    """One person's way through a class.

    ``free_first`` is for one half of a swapped class: what needs no panel is done before the panel. In a
    swapped class all demonstrations of either half stand before both.
    """
    items: list[Item] = [Gate(WELCOME, terms.welcome)] if terms.welcome else []
    for part in _parts(plan, terms):
        if len(part) == 1 or not terms.swapped:
            for stage in (stage for side in part for stage in side):
                items += _stage(stage, terms, demonstrations=True)
                items += _pause(terms, [stage])
            continue
        items += (gate for side in part for stage in side for gate in _demonstrations(stage, terms))
        for side in reversed(part) if free_first else part:
            for stage in side:
                items += _stage(stage, terms, demonstrations=False)
        items += _pause(terms, [stage for side in part for stage in side])
    return tuple(_joined(items))


def swappable(plan: Plan) -> bool:
    """Whether a class of this plan can be halved: it has a free stage and panel work to swap it with."""
    return any(len(part) > 1 for part in _parts(plan, _ANY))


def _parts(plan: Plan, terms: Terms) -> Iterator[tuple[tuple[Stage, ...], ...]]:
    """The stages in order; the free stage with the panel work it can be swapped with, as one part of two."""
    stages = [stage for stage in plan.stages if stage.steps]
    free = next((index for index, stage in enumerate(stages) if stage.free), None)
    if free is None:
        yield from (((stage,),) for stage in stages)
        return
    # Panel work before or after the free stage: what needs nothing of it, up to the first stage that does.
    given = {give for step in stages[free].steps for give in step.task.gives}
    needs = {need for step in stages[free].steps for need in step.task.needs}
    first = next((i for i, stage in enumerate(stages) if i == free or not _gives(stage, needs)), free)
    last = next((i for i in range(free + 1, len(stages)) if _needs(stages[i], given)), len(stages))
    panel = tuple(stage for i, stage in enumerate(stages[first:last], first) if i != free)
    yield from (((stage,),) for stage in stages[:first])
    if panel:
        yield ((panel, (stages[free],)) if terms.swapped else (tuple(stages[first:last]),))
    else:
        yield ((stages[free],),)
    yield from (((stage,),) for stage in stages[last:])


def _gives(stage: Stage, needs: Collection[str]) -> bool:
    return any(give in needs for step in stage.steps for give in step.task.gives)


def _needs(stage: Stage, given: Collection[str]) -> bool:
    return any(need in given for step in stage.steps for need in step.task.needs)


def _pause(terms: Terms, done: Iterable[Stage]) -> list[Item]:
    ends = terms.pause > 0 and any(stage.id == terms.pause_after for stage in done)
    return [Gate(BREAK, terms.pause)] if ends else []


def _gate(shown: Demonstration, terms: Terms) -> Gate:
    return Gate(shown.name, terms.shown.get(shown.name, shown.minutes))


def _demonstrations(stage: Stage, terms: Terms) -> Iterator[Gate]:
    for step in stage.steps:
        if step.task.demonstration is not None:
            yield _gate(step.task.demonstration, terms)


def _stage(stage: Stage, terms: Terms, *, demonstrations: bool) -> list[Item]:
    """A stage's blocks; a gate in a chain would break it, so it stands before the chain."""
    found: list[Item] = []
    for chain in _chains(stage.steps):
        if terms.pre_cut:
            chain = [step for step in chain if not step.task.ahead]
        if demonstrations:
            shown = [step.task.demonstration for step in chain if step.task.demonstration is not None]
            found += [_gate(each, terms) for each in shown]
        if chain:
            found.append(_block(chain, terms))
    if not stage.station:
        return found
    # The station is taken after the demonstration before it: nobody watches from a table.
    first = next((index for index, item in enumerate(found) if isinstance(item, Block)), len(found))
    return [*found[:first], Enter(), *found[first:], Leave()]


def _chains(steps: Sequence[Step]) -> Iterator[list[Step]]:
    """Steps that must follow at once, together."""
    chain: list[Step] = []
    for step in steps:
        chain.append(step)
        if step.task.after != "at-once":
            yield chain
            chain = []
    if chain:
        yield chain


def _block(chain: Sequence[Step], terms: Terms) -> Block:
    uses, gone = [], 0.0
    for step in chain:
        minutes = step.minutes.practised if terms.practised else step.minutes.first_time
        shared = [*step.task.tools, *([ADULT] if step.adult else [])]
        uses += [Use(tool, gone, minutes) for tool in shared if tool in terms.shared]
        gone += minutes
    return Block(" ".join(step.id for step in chain), gone, tuple(uses))


def _joined(items: Sequence[Item]) -> Iterator[Item]:
    """A station that is left and taken again with nothing between is kept."""
    kept: list[Item] = []
    for _, run in groupby(items, key=lambda item: isinstance(item, Leave | Enter)):
        part = list(run)
        if len(part) == 2 and isinstance(part[0], Leave) and isinstance(part[1], Enter):
            continue
        kept += part
    yield from kept


_ANY = Terms(practised=False, pre_cut=False, shared=frozenset(), swapped=True)
