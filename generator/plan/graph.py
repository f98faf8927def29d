"""The graph of a technique: who gives what to whom, loops, stages in order, what must follow at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

from generator.base.message import Message, message, together
from generator.plan.checking import TooManyCases, combinations_of, too_many, where
from generator.plan.expressions import Expression
from generator.plan.fields import Faults
from generator.plan.model import Task
from generator.plan.technique import Facts, Item, TaskEntry, Technique

if TYPE_CHECKING:
    import networkx as nx

    Graph = nx.DiGraph[str]


def graph_of(tasks: Sequence[Task]) -> Graph:
    """Tasks as nodes in their order; an edge from a giver to each task that needs a result of it."""
    import networkx as nx

    graph: Graph = nx.DiGraph()
    graph.add_nodes_from(task.id for task in tasks)
    giver = {result: task.id for task in tasks for result in task.gives}
    for task in tasks:
        for need in task.needs:
            if need in giver:
                graph.add_edge(giver[need], task.id)
    return graph


def follower(task: Task, tasks: Iterable[Task]) -> str | None:
    """The one task that must follow an at-once task: the only one that needs a result of it."""
    if task.after != "at-once":
        return None
    found = [other.id for other in tasks if set(other.needs) & set(task.gives)]
    return found[0] if len(found) == 1 else None


@dataclass(frozen=True)
class _Edge:
    """A result that one task of the file may give to another, with all that it depends on."""

    giver: TaskEntry
    gift: Item
    taker: TaskEntry
    need: Item

    @property
    def conditions(self) -> tuple[Expression | None, ...]:
        return (self.giver.when, self.gift.when, self.taker.when, self.need.when)

    def holds(self, facts: Facts) -> bool:
        return (
            self.giver.holds(facts)
            and self.gift.holds(facts)
            and self.taker.holds(facts)
            and self.need.holds(facts)
        )


def _edges(technique: Technique) -> Iterator[_Edge]:
    gifts: dict[str, list[tuple[TaskEntry, Item]]] = defaultdict(list)
    for giver in technique.tasks:
        for gift in giver.gives:
            gifts[gift.name].append((giver, gift))
    for taker in technique.tasks:
        for need in taker.needs:
            for giver, gift in gifts[need.name]:
                yield _Edge(giver, gift, taker, need)


def check_graph(technique: Technique) -> Faults:
    """Loops; needs from a later stage; at-once tasks without one clear follower. Names must be right."""
    faults = Faults()
    edges = list(_edges(technique))
    try:
        _check_loops(edges, faults)
        if not faults.found:
            _check_stages(technique, edges, faults)
            _check_at_once(technique, edges, faults)
    except TooManyCases:
        too_many(technique, faults)
    return faults


def _check_loops(edges: Sequence[_Edge], faults: Faults) -> None:
    if not _may_loop(edges):
        return
    # Loading it takes longer than all that is judged here, and few files get as far as this.
    import networkx as nx

    whole: Graph = nx.DiGraph((edge.giver.id, edge.taker.id) for edge in edges)
    for knot in nx.strongly_connected_components(whole):
        inside = [edge for edge in edges if edge.giver.id in knot and edge.taker.id in knot]
        for facts in (
            combinations_of((c for edge in inside for c in edge.conditions), faults) if inside else ()
        ):
            held = {(edge.giver.id, edge.taker.id): edge for edge in inside if edge.holds(facts)}
            # Sorted, so that the same file always tells the same cycle.
            graph: Graph = nx.DiGraph(sorted(held))
            if nx.is_directed_acyclic_graph(graph):
                continue
            cycle = nx.find_cycle(graph)
            names = [giver for giver, _ in cycle]
            least = names.index(min(names))
            names = names[least:] + names[:least]
            edge = held[(names[-1], names[0])]
            told = " → ".join([*names, names[0]])
            faults.add(
                edge.need.span,
                where(
                    message(
                        "the tasks wait for one another in a loop: {loop}",
                        loop=told,
                    ),
                    facts,
                ),
                message("an order without a loop"),
                message("remove a need, such as “{name}” of {id}", name=edge.need.name, id=edge.taker.id),
            )
            break


def _may_loop(edges: Sequence[_Edge]) -> bool:
    """Whether there is a loop where every condition holds at once; where there is none, there never is."""
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for edge in edges:
        sorter.add(edge.taker.id, edge.giver.id)
    try:
        sorter.prepare()
    except CycleError:
        return True
    return False


def _check_stages(technique: Technique, edges: Sequence[_Edge], faults: Faults) -> None:
    for edge in edges:
        giver, taker = edge.giver.stage.name, edge.taker.stage.name
        both = [stage for stage in technique.stages if stage.id in (giver, taker)]
        for facts in combinations_of((*edge.conditions, *(stage.when for stage in both)), faults):
            if not edge.holds(facts):
                continue
            order = [stage.id for stage in both if stage.holds(facts)]
            if order.index(giver) > order.index(taker):
                faults.add(
                    edge.need.span,
                    where(
                        message(
                            "{id} needs “{name}”, which {giver} gives in the later stage {stage}",
                            id=edge.taker.id,
                            name=edge.need.name,
                            giver=edge.giver.id,
                            stage=giver,
                        ),
                        facts,
                    ),
                    message("needs from the same stage or an earlier one"),
                    message("move one of the tasks, or change the order of the stages"),
                )
                break


def _check_at_once(technique: Technique, edges: Sequence[_Edge], faults: Faults) -> None:
    for task in technique.tasks:
        if task.after != "at-once":
            continue
        out = [edge for edge in edges if edge.giver is task]
        for facts in combinations_of((task.when, *(c for edge in out for c in edge.conditions)), faults):
            takers = {edge.taker.id for edge in out if edge.holds(facts)}
            if task.holds(facts) and len(takers) != 1:
                wrong = message(
                    "it is not clear what must follow {id} at once: no task needs its results", id=task.id
                )
                if takers:
                    wrong = message(
                        "it is not clear what must follow {id} at once: {tasks} need its results",
                        id=task.id,
                        tasks=together(sorted(takers)),
                    )
                faults.add(
                    task.span,
                    where(wrong, facts),
                    message("one task that needs a result of it"),
                    message("change its results, or after: may-wait"),
                )
                break
            other = next((edge.taker for edge in out if edge.holds(facts)), task)
            if task.holds(facts) and other.times != task.times:
                faults.add(
                    task.span,
                    where(
                        message(
                            "{id} must follow {first} at once, but {one} and {other}",
                            id=other.id,
                            first=task.id,
                            one=_often(task),
                            other=_often(other),
                        ),
                        facts,
                    ),
                    message("two tasks that follow at once to be done equally often"),
                    message("give both the same times, or let the first wait: after: may-wait"),
                )
                break


def _often(task: TaskEntry) -> Message:
    if task.times:
        return message("{id} is done once for each of the {times}", id=task.id, times=task.times)
    return message("{id} is done once", id=task.id)
