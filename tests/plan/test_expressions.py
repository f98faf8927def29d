"""Expressions of a technique: what they may say, and what they must not."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan.expressions import LENGTH_LIMIT, ExpressionError, Kind, parse
from generator.plan.facts import condition_kinds, condition_texts, domain, minute_kinds


def condition(text: str) -> bool:
    facts = {name: values[0] for name, values in domain().items()}
    return parse(text, "truth", condition_kinds(), condition_texts()).holds(facts)


def minutes(text: str, **values: float) -> float:
    return float(parse(text, "number", minute_kinds(), condition_texts()).value(values))


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("use == 'pendant'", True),
        ("not kiss_cut", False),
        ("kiss_cut and use != 'table'", True),
        ("outline in ('square', 'rectangle') or hem", True),
        ("outline not in ('square', 'rectangle')", True),
        ("people >= 2", False),
        ("1 <= people < 2", True),
    ],
)
def test_a_condition_asks_for_the_recipes_values(text: str, held: bool) -> None:
    assert condition(text) is held


@pytest.mark.parametrize(
    ("text", "value"),
    [("3", 3), ("2 + 4 * p", 6), ("(2 + p) / 2 - -n", 4.5), ("1 if p > 2 else n", 3)],
)
def test_minutes_are_worked_out_from_measures(text: str, value: float) -> None:
    assert minutes(text, p=1.0, n=3.0) == value


@pytest.mark.parametrize(
    "text",
    [
        "p.__class__",
        "p | string",
        "range(10)",
        "[p]",
        "p ** 9",
        "p // 2",
        "'a' * 1000000",
        "use * 1000000",
        "9999999 * p",
        "p ~ p",
        "p is defined",
        "p }} {{ p",
        "{% for x in y %}",
        "",
        "2 +",
        "(" * 150 + "p" + ")" * 20,
        "p == 1",
        "true + 1",
        "1 if p else 2",
        "1 if p > 2",
        "x" * (LENGTH_LIMIT + 1),
    ],
)
def test_minutes_refuse_what_is_no_arithmetic(text: str) -> None:
    with pytest.raises(ExpressionError):
        parse(text, "number", minute_kinds(), condition_texts())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("kis_cut", "did you mean “kiss_cut”?"),
        ("use == 'pendent'", "did you mean “pendant”?"),
        ("use < 'table'", "compare with == or !="),
        ("use == 3", "a comparison"),
        ("use in 'table'", "in needs a list"),
        ("use", "does not yield a condition"),
    ],
)
def test_a_condition_that_cannot_be_judged_says_why(text: str, told: str) -> None:
    with pytest.raises(ExpressionError, match=re.escape(told)):
        condition(text)


def test_a_division_by_zero_is_an_error_of_the_expression() -> None:
    with pytest.raises(ExpressionError, match="cannot be worked out"):
        minutes("1 / (p - 1)", p=1.0)


@given(st.text(max_size=60))
def test_any_text_is_either_understood_or_refused(text: str) -> None:
    kinds: tuple[Kind, ...] = ("number", "truth")
    for kind in kinds:
        try:
            found = parse(text, kind, minute_kinds(), condition_texts())
        except ExpressionError:
            continue
        assert found.names <= set(minute_kinds())


@given(st.from_regex(r"\A(0|[1-9][0-9]{0,4})(\.[0-9]{1,6})?\Z", fullmatch=True))
def test_a_bare_number_is_the_number_that_a_template_makes_of_it(text: str) -> None:
    bare, through_a_template = parse(text, "number", {}).value({}), parse(f"({text})", "number", {}).value({})
    assert (bare, type(bare)) == (through_a_template, type(through_a_template))
