"""The best order, against every order there is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan import order as module
from generator.plan.order import Job, Order, best_order

Whole = tuple[int, int, int, int, tuple[int, ...]]


def random_jobs(random: Random, count: int) -> list[Job]:
    """Jobs with precedence, faces, places, tools, stages and things that must follow at once."""
    stages = sorted(random.randrange(2) for _ in range(count)) if random.random() < 0.5 else [0] * count
    hidden = list(range(count))
    random.shuffle(hidden)
    hidden.sort(key=lambda index: stages[index])
    jobs = []
    for index in range(count):
        position = hidden.index(index)
        before = frozenset(b for b in hidden[:position] if random.random() < 0.25)
        then = hidden[position + 1] if position + 1 < count and random.random() < 0.15 else None
        jobs.append(
            Job(
                stage=stages[index],
                before=before,
                face=random.choice([None, "up", "down"]),
                place=random.choice([None, "bench", "board"]),
                tool=random.choice([None, "shears", "rule", "iron"]),
                irreversible=random.random() < 0.3,
                then=then,
            )
        )
    return jobs


def cost_of(jobs: Sequence[Job], way: Sequence[int], start: str | None) -> Whole:
    """The cost as the rules say it, counted along one order; the order itself breaks ties."""
    face, place, tool = None, start, None
    changes = [0, 0, 0]
    late = 0
    for position, index in enumerate(way, start=1):
        job = jobs[index]
        if job.face is not None:
            changes[0] += face is not None and face != job.face
            face = job.face
        if job.place is not None:
            changes[1] += place is not None and place != job.place
            place = job.place
        if job.tool is not None:
            changes[2] += tool is not None and tool != job.tool
            tool = job.tool
        late += position if job.irreversible else 0
    return (changes[0], changes[1], changes[2], -late, tuple(way))


def every_order(jobs: Sequence[Job], way: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Every valid order, by trying everything."""
    if len(way) == len(jobs):
        yield way
        return
    left = [index for index in range(len(jobs)) if index not in way]
    stage = min(jobs[index].stage for index in left)
    for index in left:
        job = jobs[index]
        forced = jobs[way[-1]].then if way else None
        if forced is not None and forced not in way and forced != index:
            continue
        if job.stage == stage and job.before <= set(way):
            yield from every_order(jobs, (*way, index))


@pytest.mark.parametrize("seed", range(300))
def test_no_order_of_a_small_graph_costs_less(seed: int) -> None:
    random = Random(seed)
    jobs = random_jobs(random, random.randint(1, 7))
    start = random.choice([None, "bench"])
    best = min((cost_of(jobs, way, start) for way in every_order(jobs)), default=None)
    found = best_order(jobs, start)
    if best is None:
        assert found is None
    else:
        assert found is not None
        assert (*found.cost, found.jobs) == best
        assert found.proved


@pytest.mark.parametrize("seed", range(100))
def test_a_search_that_is_cut_short_keeps_between_its_bound_and_a_valid_order(seed: int) -> None:
    random = Random(1000 + seed)
    jobs = random_jobs(random, 8)
    exact = best_order(jobs, "bench")
    short = best_order(jobs, "bench", limit=1)
    if exact is None:
        assert short is None
        return
    assert short is not None
    assert short.jobs in set(every_order(jobs))
    assert (*short.cost, short.jobs) == cost_of(jobs, short.jobs, "bench")
    assert short.cost >= exact.cost
    assert all(bound <= cost for bound, cost in zip(short.bound, exact.cost, strict=True))
    assert not short.proved or short.cost == exact.cost


@given(st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_no_random_valid_order_costs_less_than_the_best(seed: int, chance: Random) -> None:
    jobs = [
        Job(j.stage, j.before, j.face, j.place, j.tool, j.irreversible) for j in random_jobs(Random(seed), 12)
    ]
    way: list[int] = []
    while len(way) < len(jobs):
        left = [index for index in range(len(jobs)) if index not in way]
        stage = min(jobs[index].stage for index in left)
        way.append(chance.choice([i for i in left if jobs[i].stage == stage and jobs[i].before <= set(way)]))
    found = best_order(jobs, "bench")
    assert found is not None
    assert (*found.cost, found.jobs) <= cost_of(jobs, way, "bench")


def test_the_set_of_tasks_done_is_not_enough_as_a_state() -> None:
    # The tool in hand after the same two jobs decides what the third one costs.
    jobs = [Job(0, tool="rule"), Job(0, tool="iron"), Job(0, frozenset({0, 1}), tool="rule")]
    found = best_order(jobs)
    assert found is not None
    assert found.jobs == (1, 0, 2)
    assert found.cost == (0, 0, 1, 0)


def test_a_task_without_a_face_carries_the_last() -> None:
    jobs = [Job(0, face="up"), Job(0, frozenset({0})), Job(0, frozenset({1}), face="up")]
    found = best_order(jobs)
    assert found is not None
    assert found.cost[0] == 0


def test_what_cannot_follow_at_once_has_no_order() -> None:
    # 0 must be followed by 1 at once, but 1 needs 2, which needs 0.
    jobs = [Job(0, then=1), Job(0, frozenset({0, 2})), Job(0, frozenset({0}))]
    assert best_order(jobs) is None
    assert best_order(jobs, limit=0) is None


def test_ten_thousand_sets_are_searched_and_more_are_not() -> None:
    free = [Job(0, tool=str(index % 3)) for index in range(13)]
    assert module.SET_LIMIT == 10_000
    found = best_order(free)
    assert isinstance(found, Order)
    assert (found.proved, found.sets) == (True, 2**13)
    more = best_order([*free, Job(0)])
    assert isinstance(more, Order)
    assert more.sets > module.SET_LIMIT
    assert more.cost[:3] == (0, 0, 2)
