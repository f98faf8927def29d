"""What a page says of itself: where its minutes come from, and whether its order is proved."""

from __future__ import annotations

import re
from dataclasses import replace

from generator.plan.model import Measured, Plan
from generator.sheets.compose import compose
from tests.sheets.subjects import Texts, sample


def page(plan: Plan) -> tuple[str, frozenset[str]]:
    document = compose("step-sheet", replace(sample("pier-drum"), plan=plan))
    return Texts(document.html).text, document.numbers


def measured(plan: Plan, first: set[int], practised: set[int]) -> Plan:
    return replace(
        plan, measured=Measured("Test room", 17, frozenset(first), frozenset(practised), (4.4, 2.2))
    )


def test_a_page_of_estimates_says_so() -> None:
    text, _ = page(sample("pier-drum").plan)
    assert "All times are estimates." in text


def test_a_page_of_measured_times_says_on_how_many_shades_and_with_which_spread() -> None:
    plan = sample("pier-drum").plan
    every = {step.number for step in plan.steps}
    text, numbers = page(measured(plan, every, every))
    assert "Times measured on 17 shades, ± 4 min in all." in text
    assert "estimates" not in re.sub(r"Times measured.*?all\.", "", text)
    assert {"17", "4"} <= numbers


def test_a_page_of_partly_measured_times_names_the_steps_that_are_estimates() -> None:
    plan = sample("pier-drum").plan
    every = {step.number for step in plan.steps}
    text, _ = page(measured(plan, every - {3, 4, 9}, every))
    assert "estimates: steps 3–4, 9" in text


def test_an_order_that_is_not_proved_is_told_with_its_bound() -> None:
    plan = sample("pier-drum").plan
    assert "better one may exist" not in page(plan)[0]
    text, numbers = page(replace(plan, proved=False, cost=(71, 72, 73, 74), bound=(61, 62, 63, 64)))
    assert "better one may exist" in text
    assert "turns the work 71 times, at least 61" in text
    assert {"71", "72", "73", "61", "62", "63"} <= numbers
