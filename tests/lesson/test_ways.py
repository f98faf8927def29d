"""A class that is too long is told what would help, in minutes that another run of the class confirms."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.lesson.bound import lower_bound
from generator.lesson.route import Terms
from generator.lesson.runs import RUNS, forget, outlook, percentile
from generator.lesson.setup import Member, Setup
from generator.lesson.simulate import simulate
from generator.lesson.ways import ways_out
from tests.figures.jobs import planned

TERMS = Terms(practised=False, pre_cut=False, shared=frozenset({"cutter", "seam-roller"}))


def eight(**more: object) -> Setup:
    members = tuple(Member(f"Person {number}", planned("ferry-square")[2]) for number in range(8))
    setup = Setup(members, TERMS, 4, {"cutter": 1, "seam-roller": 2})
    return replace(setup, **more)  # type: ignore[arg-type]


def test_a_second_cutter_and_cloth_cut_ahead_help_a_class_that_shares_one() -> None:
    ways = ways_out(eight(), seed=7, runs=20)
    found = {(way.kind, way.what): way.saves for way in ways}
    assert found["tool", "cutter"] > 5
    assert found["pre-cut", ""] > 10
    assert [way.saves for way in ways] == sorted((way.saves for way in ways), reverse=True)
    more = outlook(eight(tools={"cutter": 2, "seam-roller": 2}).lesson, 7, 20).last_p80
    assert outlook(eight().lesson, 7, 20).last_p80 - more == pytest.approx(found["tool", "cutter"])


def test_nothing_more_is_lent_to_a_class_that_has_enough() -> None:
    setup = eight(stations=8, tools={"cutter": 8, "seam-roller": 8})
    assert not {way.kind for way in ways_out(setup, seed=7, runs=5)} & {"tool", "station"}


def test_the_same_seed_gives_the_same_outlook_and_another_seed_another() -> None:
    lesson = eight().lesson
    first, other = (outlook(lesson, seed, 10) for seed in (7, 8))
    forget()
    again = outlook(lesson, 7, 10)
    assert again is not first
    assert first == again
    assert first.median != other.median


def test_the_usual_run_lies_between_the_bound_and_the_slowest() -> None:
    lesson = eight().lesson
    view = outlook(lesson, 7, 30)
    assert lower_bound(lesson) <= simulate(lesson).last
    assert view.deterministic == simulate(lesson)
    assert view.median <= view.p80 <= view.last_p80
    assert view.last <= view.last_p80
    assert RUNS == 200


def test_a_percentile_is_one_of_the_values() -> None:
    assert percentile([5, 1, 4, 2, 3], 0.8) == 4
    assert percentile([5, 1, 4, 2, 3], 0.5) == 3
    assert percentile([1], 0.8) == 1
    with pytest.raises(ValueError, match="no value"):
        percentile([], 0.5)


def test_people_with_other_sizes_share_the_demonstrations() -> None:
    members = (Member("a", planned("pier-drum/25")[2]), Member("b", planned("pier-drum/45")[2]))
    lesson = Setup(members, TERMS, 2).lesson
    tucked = {each.person: each.stop for each in simulate(lesson).done if each.block == "tuck-fitter-end"}
    assert tucked[0] < tucked[1]
    assert lesson.gates[-1].name == "finish"
