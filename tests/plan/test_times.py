"""Actual times: a form is read, fitted by least squares, and takes the place of estimates."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import TechniqueError
from generator.base.spans import Span
from generator.plan.build import plan_for
from generator.plan.times import Shade, fitted, load_times, read_times
from tests.plan.samples import PLAIN, ROUND_350, rolled_edge

FORM = """times: 1
technique: rolled-edge
workroom: Test room
shades:
  - {shade: a, p: 1, n: 3, skill: first-time, minutes: {roll: 6, dock: 4}}
  - {shade: b, p: 2, n: 3, skill: first-time, minutes: {roll: 10, dock: 4}}
  - {shade: c, p: 3, n: 3, skill: first-time, minutes: {roll: 14}}
"""


def form(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = FORM
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / "ours.yaml"
    path.write_text(text, encoding="utf-8")
    return path


@given(
    st.lists(st.floats(0.5, 5), min_size=4, max_size=4),
    st.lists(
        st.tuples(st.floats(0.3, 3), st.integers(2, 8), st.booleans()), min_size=8, max_size=12, unique=True
    ),
)
def test_times_that_follow_a_rule_give_the_rule_back(
    terms: list[float], seen: list[tuple[float, int, bool]]
) -> None:
    def rule(p: float, n: float, practised: bool) -> float:
        return terms[0] + terms[1] * practised + terms[2] * p + terms[3] * n

    fit = fitted([Shade(p, n, s, {"roll": rule(p, n, s)}) for p, n, s in seen])["roll"]
    assert fit.spread == pytest.approx(0, abs=1e-6)
    for p, n, s in seen:
        assert fit.minutes(p, n, s) == pytest.approx(rule(p, n, s))


@given(
    st.lists(
        st.tuples(st.floats(0.3, 3), st.floats(1, 30)),
        min_size=4,
        max_size=10,
        unique_by=lambda t: round(t[0], 1),
    )
)
def test_the_fit_is_the_line_of_least_squares(seen: list[tuple[float, float]]) -> None:
    # Against numpy's polynomial fit, another algorithm for a straight line.
    fit = fitted([Shade(p, 3, False, {"roll": minutes}) for p, minutes in seen])["roll"]
    ps, ys = np.array([p for p, _ in seen]), np.array([y for _, y in seen])
    slope, base = np.polyfit(ps, ys, 1)
    assert fit.terms == pytest.approx((base, 0, slope, 0), rel=1e-5, abs=1e-5)
    left = ys - (base + slope * ps)
    assert fit.spread == pytest.approx(np.sqrt(np.sum(left**2) / (len(seen) - 2)), rel=1e-5, abs=1e-5)


def test_two_shades_alike_give_a_mean_and_a_spread() -> None:
    # By hand: 4 and 6 have the mean 5 and the standard deviation √2.
    fit = fitted([Shade(1, 3, False, {"roll": 4}), Shade(1, 3, False, {"roll": 6})])["roll"]
    assert fit.minutes(1, 3, False) == pytest.approx(5)
    assert fit.spread == pytest.approx(2**0.5)


def test_one_shade_is_too_few() -> None:
    assert fitted([Shade(1, 3, False, {"roll": 4})]) == {}


def test_measured_minutes_take_the_place_of_estimates_and_the_plan_says_so(tmp_path: Path) -> None:
    times = read_times(form(tmp_path), rolled_edge())
    plan = plan_for(rolled_edge(), PLAIN, ROUND_350, times)
    roll, dock = plan.step("roll"), plan.step("dock")
    assert roll is not None
    assert dock is not None
    # 2 + 4p, and the mean of 4 and 4; nobody practised was timed, so that stays an estimate.
    assert roll.minutes.first_time == pytest.approx(2 + 4 * 1.112)
    assert roll.minutes.practised == pytest.approx(1 + 1.112)
    assert dock.minutes.first_time == pytest.approx(4)
    assert plan.measured is not None
    assert plan.measured.first_time == {roll.number, dock.number}
    assert plan.measured.practised == frozenset()
    assert len(plan.estimated) == len(plan.steps)
    assert times.digest in plan.digest


def test_without_a_form_all_minutes_are_estimates() -> None:
    plan = plan_for(rolled_edge(), PLAIN, ROUND_350)
    assert plan.measured is None
    assert len(plan.estimated) == len(plan.steps)


def test_the_sample_form_measures_every_step_of_the_plain_case() -> None:
    times = load_times("gannetry-steps", rolled_edge())
    plan = plan_for(rolled_edge(), PLAIN, ROUND_350, times)
    assert plan.estimated == ()
    assert all(step.minutes.first_time > 0 for step in plan.steps)


def test_a_recipe_that_asks_for_no_form_or_for_none_has_estimates() -> None:
    assert load_times("none", rolled_edge()) is None
    assert load_times("", rolled_edge()) is None


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("roll: 6", "rol: 6", ":5:.* there is no task rol.*did you mean roll"),
        ("technique: rolled-edge", "technique: other-way", ":2:12: these are times of other-way"),
        ("roll: 6", "roll: six", ":5:.*roll cannot be six"),
        ("p: 1,", "p: 1112,", ":5:.*p cannot be 1112"),
        ("skill: first-time", "skill: first time", "did you mean first-time"),
        ("times: 1", "time: 1", "does not begin as a form of times"),
        ("n: 3, skill", "skill", "a shade has no n"),
        ("workroom: Test room\n", "", "has no workroom"),
    ],
)
def test_a_fault_of_a_form_is_told_at_its_line(old: str, new: str, said: str, tmp_path: Path) -> None:
    with pytest.raises(TechniqueError, match=said):
        read_times(form(tmp_path, (old, new)), rolled_edge())


def test_a_form_that_is_not_there_is_told_at_the_recipes_line(tmp_path: Path) -> None:
    form(tmp_path)
    with pytest.raises(TechniqueError, match=r"r.yaml:2:8: .*did you mean ./ours.yaml"):
        load_times("./our.yaml", rolled_edge(), tmp_path, Span("r.yaml", 2, 8))
