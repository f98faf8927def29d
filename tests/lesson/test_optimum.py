"""First come, first served against the best: published schedules, Graham's bound, an exact optimum."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from generator.lesson.bound import lower_bound
from generator.lesson.model import Block, Lesson, Person, Use
from generator.lesson.simulate import simulate

Job = tuple[float, float, float]
"""Minutes before the shared tool, at it, after it."""


def at_one_tool(jobs: Sequence[Job], count: int = 1) -> Lesson:
    people = [
        Person(
            str(n),
            (Block("before", before), Block("at", at, (Use("tool", 0.0, at),)), Block("after", after)),
        )
        for n, (before, at, after) in enumerate(jobs)
    ]
    return Lesson(tuple(people), len(people), {"tool": count})


def best(jobs: Sequence[Job]) -> float:
    """The earliest end with one tool, by HiGHS: start times, and for each two people who goes first."""
    n = len(jobs)
    pairs = list(itertools.combinations(range(n), 2))
    far = sum(sum(job) for job in jobs)
    columns = n + len(pairs) + 1
    rows, low = [], []
    for i, (_, at, after) in enumerate(jobs):
        row = np.zeros(columns)
        row[-1], row[i] = 1.0, -1.0
        rows.append(row)
        low.append(at + after)
    for place, (i, j) in enumerate(pairs):
        for first, second, free in ((i, j, 1.0), (j, i, -1.0)):
            row = np.zeros(columns)
            row[second], row[first], row[n + place] = 1.0, -1.0, far * free
            rows.append(row)
            low.append(jobs[first][1] - (0.0 if free > 0 else far))
    found = milp(
        np.eye(columns)[-1],
        integrality=np.array([0] * n + [1] * len(pairs) + [0]),
        bounds=Bounds(
            [job[0] for job in jobs] + [0.0] * (len(pairs) + 1), [far] * n + [1] * len(pairs) + [far]
        ),
        constraints=LinearConstraint(np.array(rows), np.array(low), np.inf),
        options={"mip_rel_gap": 0.0},
    )
    assert found.success
    return float(found.fun)


@pytest.mark.parametrize(("machines", "makespan"), [(2, 18), (3, 13)])
def test_a_list_of_jobs_on_machines_alike_ends_as_a_public_encyclopaedia_has_it(
    machines: int, makespan: float
) -> None:
    # List scheduling of jobs 4, 5, 6, 7, 8 in this order.
    assert simulate(at_one_tool([(0, job, 0) for job in (4, 5, 6, 7, 8)], machines)).last == makespan


@pytest.mark.parametrize(("machines", "makespan"), [(3, 12), (4, 15)])
def test_one_more_machine_can_make_all_end_later_as_published(machines: int, makespan: float) -> None:
    # Graham (1966, from memory): jobs of 3, 2, 2, 2, 4, 4, 4, 4, 9; the ninth waits for the first, the fifth
    # to the eighth for the fourth. People do not wait for one another here, so those four come when it ends,
    # which nobody who comes later can move.
    def at(name: str, minutes: float) -> Block:
        return Block(name, minutes, (Use("machine", 0.0, minutes),))

    early = [
        Person("1, 9", (at("1", 3.0), at("9", 9.0))),
        *(Person(name, (at(name, 2.0),)) for name in ("2", "3", "4")),
    ]
    fourth = simulate(Lesson(tuple(early), 8, {"machine": machines})).finish[3]
    late = [Person(name, (at(name, 4.0),), start=fourth) for name in ("5", "6", "7", "8")]
    assert simulate(Lesson((*early, *late), 8, {"machine": machines})).last == makespan


def test_the_best_order_of_three_people_is_what_was_found_and_first_come_first_served_misses_it() -> None:
    # Tasks of 10, 6 and 5 minutes; the third takes half as long again: 38.5 served in turn, 36 at best.
    jobs = [(10.0, 6.0, 5.0), (10.0, 6.0, 5.0), (15.0, 9.0, 7.5)]
    assert simulate(at_one_tool(jobs)).last == pytest.approx(38.5)
    assert best(jobs) == pytest.approx(36.0, abs=0.01)
    assert lower_bound(at_one_tool(jobs)) <= best(jobs) + 1e-6


MINUTES = st.integers(0, 20).map(float)
JOBS = st.lists(st.tuples(MINUTES, st.integers(1, 12).map(float), MINUTES), min_size=1, max_size=5)


@given(JOBS)
@settings(deadline=None, max_examples=40)
def test_an_exact_optimum_lies_between_the_bound_and_what_the_class_takes(jobs: list[Job]) -> None:
    lesson = at_one_tool(jobs)
    optimum = best(jobs)
    # Whole minutes: what the solver is off by is far less than any true difference.
    assert lower_bound(lesson) - 0.01 <= optimum <= simulate(lesson).last + 0.01


@given(st.lists(st.integers(1, 30).map(float), min_size=1, max_size=14), st.integers(1, 5))
def test_no_queue_for_like_tools_ends_later_than_graham_allows(jobs: list[float], count: int) -> None:
    # Graham (1966): a list schedule takes at most 2 - 1/m times the optimum; work shared out evenly and the
    # longest job are no more than that optimum.
    least = max(sum(jobs) / count, max(jobs))
    last = simulate(at_one_tool([(0.0, job, 0.0) for job in jobs], count)).last
    assert least - 1e-6 <= last <= (2 - 1 / count) * least + 1e-6
