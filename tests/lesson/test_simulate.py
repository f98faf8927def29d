"""A class runs as the rules say: against values worked out by two other programs, and against laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lesson.bound import lower_bound
from generator.lesson.model import STATION, Block, Enter, Gate, Item, Leave, Lesson, Person, Use
from generator.lesson.simulate import simulate


def chain(name: str, *parts: tuple[float, str | None]) -> Block:
    """A block of parts in a row, some of them with a tool."""
    uses, gone = [], 0.0
    for minutes, tool in parts:
        if tool:
            uses.append(Use(tool, gone, minutes))
        gone += minutes
    return Block(name, gone, tuple(uses))


def crowd(count: int, *route: Item) -> tuple[Person, ...]:
    return tuple(Person(f"person {number}", route) for number in range(count))


def stages(*parts: tuple[float, str | None]) -> tuple[Item, ...]:
    return tuple(chain(f"stage {index}", part) for index, part in enumerate(parts))


def test_three_people_share_one_cutter_and_finish_one_after_the_other() -> None:
    """Two independent programs: 21, 27, 33."""
    lesson = Lesson(crowd(3, *stages((10, None), (6, "cutter"), (5, None))), 3, {"cutter": 1})
    assert simulate(lesson).finish == (21, 27, 33)


def test_the_slower_person_finishes_later_than_the_best_order_would_let_them() -> None:
    """First come, first served: 21, 27, 38.5; the best order needs 36."""
    route = stages((10, None), (6, "cutter"), (5, None))
    people = tuple(Person(str(f), route, f) for f in (1.0, 1.0, 1.5))
    assert simulate(Lesson(people, 3, {"cutter": 1})).finish == pytest.approx((21, 27, 38.5))


@pytest.mark.parametrize(("stations", "finish"), [(3, (28, 32, 36)), (2, (28, 32, 41))])
def test_a_chain_reserves_its_tool_so_that_nobody_waits_inside_it(
    stations: int, finish: tuple[float, ...]
) -> None:
    """Gate 5, then a chain 3 + 6 + 4 in a station with one roller on the last, then 10."""
    route = (
        Gate("demonstration", 5),
        Enter(),
        chain("chain", (3, None), (6, None), (4, "roller")),
        Leave(),
        Block("after", 10),
    )
    course = simulate(Lesson(crowd(3, *route), stations, {"roller": 1}))
    assert course.finish == finish
    assert all(each.stop - each.start == 13 for each in course.done if each.block == "chain")


# Fisher and Thompson (1963), 6 × 6: machine and minutes of each job's operations, as in public collections of
# job-shop instances (from memory). The optimum is 55; this rule reaches 65.
FT06 = (
    ((2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)),
    ((1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)),
    ((2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)),
    ((1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)),
    ((2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)),
    ((1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)),
)


def test_a_published_job_shop_is_never_beaten_and_the_rule_reaches_what_is_known_of_it() -> None:
    people = tuple(
        Person(str(job), stages(*((minutes, f"machine {machine}") for machine, minutes in row)))
        for job, row in enumerate(FT06)
    )
    lesson = Lesson(people, 6, {f"machine {machine}": 1 for machine in range(6)})
    assert simulate(lesson).last == 65
    assert lower_bound(lesson) <= 55


@pytest.mark.parametrize(
    ("n", "k", "before", "tool", "after"), [(10, 2, 15, 8, 25), (12, 5, 20, 6, 30), (6, 6, 10, 9, 15)]
)
def test_people_alike_who_share_a_tool_finish_as_the_closed_form_says(
    n: int, k: int, before: float, tool: float, after: float
) -> None:
    lesson = Lesson(crowd(n, *stages((before, None), (tool, "tool"), (after, None))), n, {"tool": k})
    assert simulate(lesson).last == before + math.ceil(n / k) * tool + after
    assert lower_bound(lesson) == pytest.approx(simulate(lesson).last)


@pytest.mark.parametrize(
    ("n", "parts", "finish", "bound"),
    [
        (8, ((5, 0), (10, 2), (15, 3), (20, 0)), 85, 80),
        (10, ((0, 0), (6, 2), (20, 0), (12, 3), (10, 0)), 84, 84),
        (12, ((10, 0), (8, 4), (8, 3), (5, 0)), 55, 55),
    ],
)
def test_two_kinds_of_tools(
    n: int, parts: tuple[tuple[float, int], ...], finish: float, bound: float
) -> None:
    """A queue simulation and a tick simulation agree on these; so does a bound for one tool alone."""
    tools = {f"tool {index}": count for index, (_, count) in enumerate(parts) if count}
    route = stages(
        *((minutes, f"tool {index}" if count else None) for index, (minutes, count) in enumerate(parts))
    )
    lesson = Lesson(crowd(n, *route), n, tools)
    assert simulate(lesson).last == finish
    assert bound - 1e-9 <= lower_bound(lesson) <= finish + 1e-9


def test_a_wait_is_charged_to_the_tool_that_was_free_last() -> None:
    route = (chain("both", (2, "first"), (3, "second")),)
    course = simulate(Lesson(crowd(2, *route), 2, {"first": 1, "second": 1}))
    # The second person could have the first tool after 2 minutes, the second one only 2 + 3 minutes on.
    assert course.finish == (5, 8)
    assert dict(course.waits) == {"second": 3}


def test_one_who_waits_for_a_station_keeps_nobody_from_work_without_one() -> None:
    people = (
        Person("first", (Enter(), Block("long", 30), Leave())),
        Person("second", (Enter(), Block("long", 5), Leave())),
        Person("third", (Block("elsewhere", 4),)),
    )
    course = simulate(Lesson(people, 1))
    assert course.finish == (30, 35, 4)
    assert dict(course.waits) == {STATION: 30}


def test_people_who_pass_other_gates_are_refused() -> None:
    with pytest.raises(ValueError, match="same gates"):
        Lesson((Person("a", (Gate("x", 1),)), Person("b", ())), 1)


MINUTES = st.integers(1, 12).map(float)
TOOLS = st.sampled_from([None, "cutter", "roller"])


@st.composite
def lessons(draw: st.DrawFn) -> Lesson:
    """A class of up to six with gates, stations and two kinds of tools."""
    gates = [Gate(str(index), draw(MINUTES)) for index in range(draw(st.integers(0, 2)))]
    people = []
    for number in range(draw(st.integers(1, 6))):
        route: list[Item] = []
        for gate in [None, *gates]:
            if gate:
                route.append(gate)
            inside = draw(st.booleans())
            route += [Enter()] if inside else []
            for _ in range(draw(st.integers(0, 3))):
                parts = draw(st.lists(st.tuples(MINUTES, TOOLS), min_size=1, max_size=3))
                route.append(chain(f"{number}.{len(route)}", *parts))
            route += [Leave()] if inside else []
        people.append(Person(str(number), tuple(route), draw(st.sampled_from([0.8, 1.0, 1.5]))))
    tools = {"cutter": draw(st.integers(1, 3)), "roller": draw(st.integers(1, 3))}
    return Lesson(tuple(people), draw(st.integers(1, 6)), tools)


@given(lessons())
def test_no_class_is_faster_than_its_bound(lesson: Lesson) -> None:
    assert simulate(lesson).last >= lower_bound(lesson) - 1e-6


@given(lessons())
def test_no_tool_is_in_more_hands_than_there_are(lesson: Lesson) -> None:
    blocks = {(n, item.name): item for n, person in enumerate(lesson.people) for item in person.route
              if isinstance(item, Block)}  # fmt: skip
    course = simulate(lesson)
    for tool, count in lesson.tools.items():
        spans = []
        for each in course.done:
            factor = lesson.people[each.person].factor
            for use in blocks[each.person, each.block].uses:
                if use.tool == tool:
                    start = each.start + use.offset * factor
                    spans.append((start, start + use.minutes * factor))
        for moment in (start + 1e-6 for start, _ in spans):
            assert sum(start < moment < stop - 1e-6 for start, stop in spans) <= count


@given(lessons())
def test_nobody_waits_inside_a_block(lesson: Lesson) -> None:
    minutes = {(n, item.name): item.minutes for n, person in enumerate(lesson.people) for item in person.route
               if isinstance(item, Block)}  # fmt: skip
    for each in simulate(lesson).done:
        length = minutes[each.person, each.block] * lesson.people[each.person].factor
        assert each.stop - each.start == pytest.approx(length)
