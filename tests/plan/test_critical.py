"""The critical path, against a graph library and a textbook."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest

from generator.plan.critical import critical_path, schedule
from tests.plan.samples import rolled


@pytest.mark.parametrize("seed", range(50))
def test_its_length_is_that_of_the_longest_path(seed: int) -> None:
    random = Random(seed)
    count = random.randint(1, 15)
    minutes = {n: random.randint(0, 90) / 10 for n in range(1, count + 1)}
    before = {n: [b for b in range(1, n) if random.random() < 0.3] for n in minutes}
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from([0, *minutes])
    for n, several in before.items():
        # The weight of an edge is the time of the task that it leads to; 0 is the start.
        graph.add_edge(0, n, weight=minutes[n])
        for b in several:
            graph.add_edge(b, n, weight=minutes[n])
    assert schedule(minutes, before).length == pytest.approx(nx.dag_longest_path_length(graph))


def test_a_textbook_project_has_its_published_dates() -> None:
    # Reliable Construction Co., Hillier and Lieberman, Introduction to Operations Research, 7th edition,
    # chapter 10 (project management with PERT/CPM), from memory: 44 weeks, A B C E F J L N critical.
    weeks = dict(zip("ABCDEFGHIJKLMN", [2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6], strict=True))
    needs = {
        "A": "", "B": "A", "C": "B", "D": "C", "E": "C", "F": "E", "G": "D",
        "H": "EG", "I": "C", "J": "FI", "K": "J", "L": "J", "M": "H", "N": "KL",
    }  # fmt: skip
    number = {name: index for index, name in enumerate(weeks, start=1)}
    path = schedule(
        {number[name]: float(time) for name, time in weeks.items()},
        {number[name]: [number[b] for b in before] for name, before in needs.items()},
    )
    assert path.length == 44
    assert [name for name in weeks if number[name] in path.steps] == list("ABCEFJLN")
    slack = {name: path.slack[number[name]] for name in weeks if path.slack[number[name]]}
    assert slack == {"D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4}


def test_the_rolled_edge_has_the_critical_path_found_by_trial() -> None:
    # Found twice by trial for p 1.112 and three struts, first time and practised.
    plan = rolled()
    first, practised = critical_path(plan), critical_path(plan, "practised")
    assert first.length == pytest.approx(88.360)
    assert first.steps == (1, 2, *range(4, 15), *range(18, 24), 25, 26)
    assert [first.slack[n] for n in (15, 16, 17, 24)] == pytest.approx([24.784] * 3 + [4.112])
    assert practised.length == pytest.approx(39.680)
    assert practised.steps == (*range(3, 15), *range(18, 24), 25, 26)
