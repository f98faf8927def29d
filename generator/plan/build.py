"""From a recipe, its measures and a technique to a plan: tasks in the best order, each with its reason."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any

from generator.base.assets import data_folder
from generator.base.errors import Fault, TechniqueError
from generator.base.message import message
from generator.base.spans import Span
from generator.base.units import round_nearest
from generator.measures.measure import Measures
from generator.plan.checking import check
from generator.plan.expressions import ExpressionError
from generator.plan.facts import facts_of, minute_values, once
from generator.plan.graph import check_graph, follower
from generator.plan.model import Minutes, Mishap, Plan, Stage, Step, Task
from generator.plan.order import Job, Order, best_order
from generator.plan.reading import MOMENTS, read_technique
from generator.plan.technique import NAME, Facts, Item, TaskEntry, Technique
from generator.plan.times import Times
from generator.plan.timing import timing
from generator.plan.why import reasons
from generator.recipe.beside import find_file
from generator.recipe.models import SizeRecipe

_sound: deque[Technique] = deque(maxlen=16)
"""Techniques that were checked, the last ones."""


def load_technique(name: str, beside: Path | None = None, asked: Span | None = None) -> Technique:
    """Read and check a technique.

    ``name`` is a name in ``recipes/techniques`` or the path of a ``.yaml`` file, relative to the folder
    ``beside``; ``asked`` is the place that asks for it. Raises TechniqueError with all faults of the file.
    """
    path = find_file(name, "techniques", message("technique"), beside or Path(), asked or Span(name, 1, 1))
    if isinstance(path, Fault):
        raise TechniqueError([path])
    technique = read_technique(path, path.stem if NAME.fullmatch(path.stem) else "technique")
    # A file that holds what it held is the same technique, and was found sound.
    if any(technique is each for each in _sound):
        return technique
    faults = check(technique)
    if not faults.found:
        faults = check_graph(technique)
    if faults.found:
        raise TechniqueError(faults.found)
    _sound.append(technique)
    return technique


def all_parts(used: Iterable[Technique]) -> frozenset[str]:
    """Tools and consumables of the techniques in use and of every technique that is there.

    One list of parts serves several techniques. Raises TechniqueError for one that cannot be read.
    """
    there = sorted((data_folder("recipes") / "techniques").glob("*.yaml"))
    every = [*used, *(read_technique(path, path.stem) for path in there)]
    return frozenset(item.name for each in every for item in (*each.tools, *each.consumables))


def contradictions(size: SizeRecipe, measures: Measures, technique: Technique) -> list[Fault]:
    """Where a recipe does not say what its technique asks for, each at its place with the reason."""
    return [
        Fault(size.span(ask.key), ask.wrong, ask.expected, ask.fix)
        for ask in technique.contradictions(facts_of(size, measures))
    ]


def plan(size: SizeRecipe, measures: Measures, technique: Technique, times: Times | None = None) -> Plan:
    """The ordered work for one size, its minutes measured as far as ``times`` goes, estimated beyond.

    Raises TechniqueError where minutes cannot be worked out for this size, or no order holds.
    """
    return plan_for(
        technique,
        facts_of(size, measures),
        {name: one.value for name, one in measures.items() if not isinstance(one.shown, tuple)},
        times,
    )


def plan_for(
    technique: Technique, facts: Facts, shown: Mapping[str, float], times: Times | None = None
) -> Plan:
    """The same from bare facts and shown measures."""
    tasks = technique.tasks_for(facts)
    stages = [stage for stage in technique.stage_order(facts) if any(task.stage == stage for task in tasks)]
    order = order_of(tasks, stages, technique)
    ordered = [tasks[index] for index in order.jobs]
    values = {**facts, **minute_values(shown)}
    timed = timing(ordered, _minutes(technique, facts, values), times, values)
    often = {task.id: once(values, task.times)[0] for task in ordered}
    steps = _steps(ordered, timed.minutes, _rests(technique, facts, values), often, facts)
    return Plan(
        technique=technique.name,
        stages=tuple(_stage(stage, steps, technique, facts) for stage in stages),
        facts=dict(facts),
        tools=_used(technique.tools, (task.tools for task in ordered)),
        consumables=_used(technique.consumables, (task.consumables for task in ordered)),
        mishaps=_mishaps(steps),
        proved=order.proved,
        cost=_told(order.cost),
        bound=_told(order.bound),
        phrases=(*technique.phrases, *(p for e in technique.tasks if e.holds(facts) for p in e.phrases)),
        measured=timed.measured,
        digest=f"{technique.digest} {times.digest}" if times else technique.digest,
    )


def _told(cost: tuple[int, int, int, int]) -> tuple[int, int, int, int]:
    return (cost[0], cost[1], cost[2], -cost[3])


def order_of(tasks: Sequence[Task], stages: Sequence[str], technique: Technique) -> Order:
    """The best order of some tasks. Raises TechniqueError if what must follow at once cannot."""
    index = {task.id: number for number, task in enumerate(tasks)}
    giver = {result: index[task.id] for task in tasks for result in task.gives}
    jobs = []
    for task in tasks:
        then = follower(task, tasks)
        jobs.append(
            Job(
                stage=stages.index(task.stage),
                before=frozenset(giver[need] for need in task.needs if need in giver),
                face=task.face,
                place=task.place,
                tool=task.tools[0] if task.tools else None,
                irreversible=task.irreversible,
                then=None if then is None else index[then],
            )
        )
    order = best_order(jobs, technique.places[0].name if technique.places else None)
    if order is None:
        first = next(task for task in tasks if task.after == "at-once")
        raise TechniqueError(
            [
                Fault(
                    first.span,
                    message("what must follow at once cannot in any order, here or at a later task"),
                    message("tasks that are ready when they must follow"),
                    message("let the task that follows need only what is there by then"),
                )
            ]
        )
    return order


def _stage(name: str, steps: Sequence[Step], technique: Technique, facts: Facts) -> Stage:
    entries = [entry for entry in technique.stages if entry.id == name and entry.holds(facts)]
    return Stage(
        name,
        tuple(step for step in steps if step.task.stage == name),
        station=any(entry.station for entry in entries),
        free=any(entry.free for entry in entries),
    )


def _minutes(technique: Technique, facts: Facts, values: Mapping[str, Any]) -> dict[str, Minutes]:
    """Minutes of each task by name."""
    found = {}
    faults = []
    for entry in technique.tasks:
        if entry.holds(facts):
            try:
                found[entry.id] = _minutes_of(entry, values)
            except ExpressionError as error:
                faults.append(Fault(entry.span, error.wrong, error.expected, error.fix))
    if faults:
        raise TechniqueError(faults)
    return found


def _minutes_of(entry: TaskEntry, values: Mapping[str, Any]) -> Minutes:
    often, single = once(values, entry.times)
    first, practised = (often * float(e.value(single)) for e in (entry.first_time, entry.practised))
    if min(first, practised) < 0:
        raise ExpressionError(
            message("{id} takes less than no time", id=entry.id),
            message("minutes from 0 up"),
            message("change its minutes"),
        )
    return Minutes(first, practised)


def _rests(technique: Technique, facts: Facts, values: Mapping[str, Any]) -> dict[str, float]:
    """Minutes that results rest, by task."""
    held = (entry for entry in technique.tasks if entry.rest is not None and entry.holds(facts))
    return {entry.id: max(0.0, float(entry.rest.value(values))) for entry in held if entry.rest}


def _steps(
    ordered: Sequence[Task],
    minutes: Mapping[str, Minutes],
    rests: Mapping[str, float],
    often: Mapping[str, int],
    facts: Facts,
) -> list[Step]:
    number = {task.id: position for position, task in enumerate(ordered, start=1)}
    giver = {result: number[task.id] for task in ordered for result in task.gives}
    takers: dict[str, list[int]] = defaultdict(list)
    for task in ordered:
        for need in task.needs:
            takers[need].append(number[task.id])
    plain: list[Step] = []
    first_time = whole_parts([minutes[task.id].first_time for task in ordered])
    practised = whole_parts([minutes[task.id].practised for task in ordered])
    for position, task in enumerate(ordered):
        plain.append(
            Step(
                number=number[task.id],
                task=task,
                minutes=minutes[task.id],
                from_steps={need: giver[need] for need in task.needs if need in giver},
                to_steps={result: tuple(takers[result]) for result in task.gives},
                adult=task.adult and bool(facts.get("young")),
                rest=rests.get(task.id, 0.0),
                times=often[task.id],
                helper=task.hands > 2,
                whole=(first_time[position], practised[position]),
            )
        )
    return [_with_reasons(step, plain) for step in plain]


def whole_parts(minutes: Sequence[float]) -> list[int]:
    """Minutes rounded to whole ones so that every running sum is the rounded exact one.

    A reader who adds up a page finds its total, and the total is not off by a minute a step.
    """
    sums = [round(round_nearest(total)) for total in accumulate(minutes)]
    return [after - before for before, after in pairwise([0, *sums])]


def _with_reasons(step: Step, steps: Sequence[Step]) -> Step:
    values: dict[str, Any] = {name: getattr(step, name) for name in step.__dataclass_fields__}
    return Step(**{**values, "why": reasons(step, steps)})


def _used(known: Iterable[Item], lists: Iterable[Sequence[str]]) -> tuple[str, ...]:
    used = {name for names in lists for name in names}
    return tuple(item.name for item in known if item.name in used)


def _mishaps(steps: Sequence[Step]) -> tuple[Mishap, ...]:
    number = {step.id: step.number for step in steps}
    return tuple(
        Mishap(
            step=step.number,
            task=step.id,
            key=step.task.key,
            part="" if place == 1 else f".{place}",
            until=moment if moment in MOMENTS else "before",
            before=None if moment in MOMENTS else number[moment],
        )
        for step in steps
        for place, moment in enumerate(step.task.mend_until, start=1)
    )
