"""A shade's plan becomes a route through a class; two other programs agree on what it takes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from generator.lesson.bound import lower_bound
from generator.lesson.model import Block, Gate, Lesson, Person
from generator.lesson.route import Terms, route, swappable
from generator.lesson.simulate import simulate
from generator.measures.build import measure
from generator.plan.build import load_technique, plan
from generator.plan.model import Plan
from generator.shape.build import build_shade
from tests.figures.jobs import planned, size_of

TERMS = Terms(practised=False, pre_cut=True, shared=frozenset({"cutter", "seam-roller"}))
TOOLS = {"cutter": 2, "seam-roller": 2}
SAMPLE = "ferry-square"


@cache
def four_struts() -> Plan:
    """Panel 0.975 m, four struts: the class of the values below."""
    size = size_of(SAMPLE)
    size = size.model_copy(update={"ring": size.ring.model_copy(update={"struts": 4})})
    return plan(size, measure(size, build_shade(size)), load_technique(size.technique))


def class_of(count: int, stations: int, *, swapped: bool = False) -> Lesson:
    order, terms = four_struts(), replace(TERMS, swapped=swapped)
    half = -(-count // 2)
    people = [
        Person(str(number), route(order, terms, free_first=swapped and number >= half))
        for number in range(count)
    ]
    return Lesson(tuple(people), stations, TOOLS)


@pytest.mark.parametrize(
    ("count", "stations", "last", "bound"),
    [(5, 8, 173.75, 173.75), (8, 8, 182.65, 182.65), (8, 4, 200.525, 191.625)],
)
def test_a_class_takes_what_two_other_programs_found(
    count: int, stations: int, last: float, bound: float
) -> None:
    lesson = class_of(count, stations)
    assert simulate(lesson).last == pytest.approx(last, abs=0.01)
    assert lower_bound(lesson) <= bound + 0.01
    if bound == last:
        assert lower_bound(lesson) == pytest.approx(bound, abs=0.01)


@pytest.mark.parametrize(("stations", "saved"), [(8, 11.8), (4, 15.8)])
def test_halving_the_class_saves_what_two_other_programs_found(stations: int, saved: float) -> None:
    whole, halved = (simulate(class_of(8, stations, swapped=swapped)).last for swapped in (False, True))
    assert whole - halved == pytest.approx(saved, abs=0.051)


def test_each_task_of_the_plan_is_done_once_and_what_comes_cut_is_left_out() -> None:
    order = planned(SAMPLE)[2]
    for swapped in (False, True):
        for first in (False, True):
            items = route(order, replace(TERMS, swapped=swapped, pre_cut=False), free_first=first)
            done = [name for item in items if isinstance(item, Block) for name in item.name.split()]
            assert sorted(done) == sorted(step.id for step in order.steps)
    precut = [name for item in route(order, TERMS) if isinstance(item, Block) for name in item.name.split()]
    left_out = {step.id for step in order.steps} - set(precut)
    assert left_out == {"try-cloth", "press-cloth", "place-motif", "rough-cut"}


def test_both_halves_of_a_class_pass_the_same_gates() -> None:
    order, terms = planned(SAMPLE)[2], replace(TERMS, swapped=True)
    gates = [
        [item.name for item in route(order, terms, free_first=first) if isinstance(item, Gate)]
        for first in (False, True)
    ]
    assert gates[0] == gates[1]
    assert gates[0] == ["welcome", "laminate", "seam", "rings", "break", "roll", "tuck", "finish"]


def test_a_result_is_never_used_before_it_is_given_in_either_half() -> None:
    for sample in ("ferry-square", "pier-drum", "bell-hex", "tide-drum", "fog-cone", "slipway-45"):
        order = planned(sample)[2]
        assert swappable(order)
        for first in (False, True):
            given = {need for step in order.steps for need in step.task.needs if need not in step.from_steps}
            for item in route(order, replace(TERMS, swapped=True, pre_cut=False), free_first=first):
                for name in item.name.split() if isinstance(item, Block) else ():
                    step = order.step(name)
                    assert step is not None
                    assert set(step.task.needs) <= given, (sample, first, name)
                    given.update(step.task.gives)
