"""Judging a technique's graph: every fault at its line, whatever a recipe's conditions switch off."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, product

from generator.base.message import Message, message, together
from generator.base.spans import Span
from generator.plan.expressions import Expression
from generator.plan.facts import domain
from generator.plan.fields import Faults
from generator.plan.reading import MOMENTS
from generator.plan.technique import Facts, Item, TaskEntry, Technique

Test = Callable[[Facts], bool]

CASE_LIMIT = 10_000
"""How many combinations of condition values are tried in all. The sample techniques need some hundreds."""


class TooManyCases(Exception):  # noqa: N818 - no error of a person's making until it has a place
    """The conditions of a technique can be true and false together in more ways than can be tried."""


@dataclass(frozen=True)
class Giver:
    """A task and one of its results."""

    task: TaskEntry
    item: Item

    def holds(self, facts: Facts) -> bool:
        """Whether this recipe has the task and the task gives it."""
        return self.task.holds(facts) and self.item.holds(facts)

    @property
    def conditions(self) -> tuple[Expression | None, ...]:
        """What that depends on."""
        return (self.task.when, self.item.when)


def combinations_of(
    conditions: Iterable[Expression | None], faults: Faults, weight: int = 1
) -> Iterator[Facts]:
    """Every combination of values of the names that some conditions ask for.

    ``weight`` is for how many cases each counts. Raises TooManyCases where the file that ``faults`` are of
    has asked for more than can be tried.
    """
    names = sorted({name for condition in conditions if condition for name in condition.names})
    for combination in product(*(domain()[name] for name in names)):
        faults.tried += weight
        if faults.tried > CASE_LIMIT:
            raise TooManyCases
        yield dict(zip(names, combination, strict=True))


def too_many(technique: Technique, faults: Faults) -> None:
    """Note that there are too many cases, at the task or stage that asks for most."""
    asked: list[tuple[int, Span]] = [(len(s.when.names), s.span) for s in technique.stages if s.when]
    for task in technique.tasks:
        items = (*task.needs, *task.gives, *task.tools, *task.consumables, *task.cautions)
        conditions = [task.when, *(item.when for item in items)]
        asked.append((max(len(one.names) if one else 0 for one in conditions), task.span))
    span = max(asked, key=lambda one: one[0])[1]
    faults.add(
        span,
        message("the conditions here and elsewhere hold in more different cases than can be tried"),
        message("conditions that ask for a few things each"),
        message("ask for fewer things in each when, or make two techniques"),
    )


def where(said: Message, facts: Facts) -> Message:
    """What holds for a combination of condition values; as it is if nothing depends on anything."""
    parts = [
        message(
            "{name} is {text}", name=name, text=str(value).lower() if isinstance(value, bool) else str(value)
        )
        for name, value in facts.items()
    ]
    return message("{text} where {facts}", text=said, facts=together(parts)) if parts else said


def check(technique: Technique) -> Faults:
    """All faults of the graph: unknown names, givers, needs, unused results, mending. Not loops or order."""
    faults = Faults()
    givers: dict[str, list[Giver]] = defaultdict(list)
    for task in technique.tasks:
        for item in task.gives:
            givers[item.name].append(Giver(task, item))
    _check_names(technique, faults)
    try:
        _check_twice(technique, faults)
        _check_givers(technique, givers, faults)
        _check_needs(technique, givers, faults)
        _check_uses(technique, givers, faults)
        _check_mending(technique, faults)
    except TooManyCases:
        too_many(technique, faults)
    return faults


def _check_names(technique: Technique, faults: Faults) -> None:
    known = {
        "stage": {stage.id for stage in technique.stages},
        "face": _set(technique.faces),
        "place": _set(technique.places),
        "tool": _set(technique.tools),
        "consumable": _set(technique.consumables),
        "caution": _set(technique.cautions),
    }
    used: set[str] = set()
    for task in technique.tasks:
        used.add(task.stage.name)
        if task.stage.name not in known["stage"]:
            faults.unknown(task.stage.span, message("stage"), task.stage.name, known["stage"])
        for kind, noun, items in (
            ("face", message("face"), (task.face,) if task.face else ()),
            ("place", message("place"), (task.place,) if task.place else ()),
            ("tool", message("tool"), task.tools),
            ("consumable", message("consumable"), task.consumables),
            ("caution", message("caution"), task.cautions),
        ):
            for item in items:
                if item.name not in known[kind]:
                    faults.unknown(item.span, noun, item.name, known[kind])
    for stage in technique.stages:
        if stage.id not in used:
            faults.add(
                stage.span,
                message("no task is in the stage {id}", id=stage.id),
                message("a task in it"),
                message("remove the stage"),
            )
    for noun, listed, of in (
        (message("tool"), technique.tools, [t.tools for t in technique.tasks]),
        (message("consumable"), technique.consumables, [t.consumables for t in technique.tasks]),
        (message("caution"), technique.cautions, [t.cautions for t in technique.tasks]),
    ):
        needed = {item.name for items in of for item in items}
        for item in listed:
            if item.name not in needed:
                faults.add(
                    item.span,
                    message("no task uses the {noun} {name}", noun=noun, name=item.name),
                    message("a task with it"),
                    message("remove it"),
                )


def _set(items: Iterable[Item]) -> set[str]:
    return {item.name for item in items}


def _check_twice(technique: Technique, faults: Faults) -> None:
    """One name for one task; one place for one stage, unless conditions exclude each other."""
    for first, second in combinations(technique.tasks, 2):
        if first.id == second.id:
            wrong = message(
                "the task {id} stands here a second time (first in line {line})",
                id=first.id,
                line=first.span.line,
            )
            faults.add(
                second.span, wrong, message("each task once"), message("give one of the two another id")
            )
    for one, other in combinations(technique.stages, 2):
        if one.id == other.id:
            for facts in combinations_of((one.when, other.when), faults):
                if one.holds(facts) and other.holds(facts):
                    wrong = where(message("the stage {id} stands in two places", id=one.id), facts)
                    faults.add(
                        other.span,
                        wrong,
                        message("one place"),
                        message("make the conditions exclude each other"),
                    )
                    break
    for task in technique.tasks:
        places = [stage for stage in technique.stages if stage.id == task.stage.name]
        for facts in (
            combinations_of((task.when, *(stage.when for stage in places)), faults) if places else ()
        ):
            if task.holds(facts) and not any(stage.holds(facts) for stage in places):
                wrong = where(message("the task {id} has no stage", id=task.id), facts)
                faults.add(
                    task.stage.span,
                    wrong,
                    message("a stage for every recipe"),
                    message("add a place for the stage"),
                )
                break


def _check_givers(technique: Technique, givers: dict[str, list[Giver]], faults: Faults) -> None:
    materials = _set(technique.materials)
    for name, several in givers.items():
        if name in materials:
            faults.add(
                several[0].item.span,
                message(
                    "“{name}” is among the materials and given by {id}", name=name, id=several[0].task.id
                ),
                message("one giver"),
                message("remove one of the two"),
            )
        for one, other in combinations(several, 2):
            for facts in combinations_of((*one.conditions, *other.conditions), faults):
                if one.holds(facts) and other.holds(facts):
                    wrong = where(
                        message(
                            "{id} and {other} both give “{name}”",
                            id=one.task.id,
                            other=other.task.id,
                            name=name,
                        ),
                        facts,
                    )
                    fix = message("make their conditions exclude each other, or name two results")
                    faults.add(other.item.span, wrong, message("one giver"), fix)
                    break


def _check_needs(technique: Technique, givers: dict[str, list[Giver]], faults: Faults) -> None:
    materials = _set(technique.materials)
    known = materials | set(givers)
    for task in technique.tasks:
        for item in task.needs:
            if item.name in materials:
                continue
            if item.name not in known:
                faults.unknown(item.span, message("result or material"), item.name, known)
                continue
            several = givers[item.name]
            conditions = (task.when, item.when, *(c for giver in several for c in giver.conditions))
            for facts in combinations_of(conditions, faults):
                wanted = task.holds(facts) and item.holds(facts)
                if wanted and not any(giver.holds(facts) for giver in several):
                    wrong = where(
                        message(
                            "nothing gives “{name}”, which {id} needs",
                            name=item.name,
                            id=task.id,
                        ),
                        facts,
                    )
                    fix = message(
                        "let another task give it then, or make the need depend on the same condition"
                    )
                    faults.add(item.span, wrong, message("a task that gives it"), fix)
                    break


def _check_uses(technique: Technique, givers: dict[str, list[Giver]], faults: Faults) -> None:
    needed = {item.name for task in technique.tasks for item in task.needs}
    finish = _set(technique.finish)
    for name, several in givers.items():
        if name not in needed and name not in finish:
            wrong = message("nobody uses “{name}”, which {id} gives", name=name, id=several[0].task.id)
            fix = message("let a task need it, or add it to finish")
            faults.add(several[0].item.span, wrong, message("a task that needs it"), fix)
    for item in technique.finish:
        if item.name not in givers:
            faults.unknown(item.span, message("result"), item.name, set(givers))
    for item in technique.materials:
        if item.name not in needed:
            wrong = message("nobody uses the material “{name}”", name=item.name)
            faults.add(
                item.span, wrong, message("a task that needs it"), message("remove it, or let a task need it")
            )


def _check_mending(technique: Technique, faults: Faults) -> None:
    by_id = {task.id: task for task in technique.tasks}
    for task in technique.tasks:
        for item in task.mend_until:
            if item.name in MOMENTS:
                continue
            if item.name not in by_id:
                faults.unknown(item.span, message("task or moment"), item.name, {*by_id, *MOMENTS})
                continue
            other = by_id[item.name]
            for facts in combinations_of((task.when, other.when), faults):
                if task.holds(facts) and not other.holds(facts):
                    wrong = where(message("there is no task {id} to mend before", id=other.id), facts)
                    faults.add(
                        item.span, wrong, message("a task of every such recipe"), message("name another task")
                    )
                    break
