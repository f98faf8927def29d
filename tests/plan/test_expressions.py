"""Expressions of a technique: what they may say, and what they must not."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan import plain
from generator.plan.expressions import LENGTH_LIMIT, NUMBER_LIMIT, ExpressionError, Kind, parse
from generator.plan.facts import condition_kinds, condition_texts, domain, minute_kinds
from generator.plan.judged_expression import judged


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


NUMBERS = st.recursive(
    st.sampled_from(["p", "n", "0", "1", "2.5", "12", "1000000", "margin"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(" ".join),
        st.tuples(st.just("("), inner, st.just(")")).map("".join),
        inner.map(lambda text: f"-{text}"),
        st.tuples(inner, st.just("if kiss_cut else"), inner).map(" ".join),
    ),
    max_leaves=6,
)
TRUTHS = st.recursive(
    st.one_of(
        st.sampled_from(["kiss_cut", "hem", "use == 'table'", "outline in ('circle', 'square')"]),
        st.sampled_from(["outline not in ('circle',)", "use != 'pendant'", "people >= 2", "1 <= people < 2"]),
        st.tuples(NUMBERS, st.sampled_from(["<", "<=", "==", "!=", ">", ">="]), NUMBERS).map(" ".join),
    ),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from(["and", "or"]), inner).map(" ".join),
        inner.map(lambda text: f"not {text}"),
        st.tuples(st.just("("), inner, st.just(")")).map("".join),
    ),
    max_leaves=5,
)
# Parts set side by side without a plan, so that what is nearly an expression is tried too.
PIECES = st.lists(
    st.sampled_from([*"()+-*/,<>", "==", "in", "not", "and", "or", "if", "else", "p", "n", "use", "hem", "7"])
    | st.sampled_from(["'table'", "'pendant'", "1.5", "none", "True", "is", "**", "//", "0x1f", "1_0", "~"]),
    max_size=9,
).map(" ".join)


@given(
    text=st.one_of(NUMBERS, TRUTHS, PIECES),
    kiss_cut=st.booleans(),
    use=st.sampled_from(["table", "pendant"]),
    p=st.sampled_from([0.0, 0.5, 1.112, 3.0]),
)
def test_what_is_plain_is_taken_for_what_a_template_takes_it_for(
    text: str, kiss_cut: bool, use: str, p: float
) -> None:
    names, texts = minute_kinds(), condition_texts()
    values = {name: values[0] for name, values in domain().items()} | dict.fromkeys(minute_kinds(), 2.0)
    values |= {name: held[0] for name, held in domain().items()}
    values |= {"kiss_cut": kiss_cut, "use": use, "p": p}

    def outcome(work: Callable[..., Any], used: frozenset[str]) -> object:
        try:
            found = work(**{name: values[name] for name in used})
        except ArithmeticError as error:
            return type(error)
        return found, type(found)

    kinds: tuple[Kind, ...] = ("number", "truth")
    for kind in kinds:
        found = plain.read(text, kind, names, texts, NUMBER_LIMIT)
        if found is None:
            continue
        used, compiled = judged(text, kind, names, texts)
        assert found[0] == used
        assert outcome(found[1], used) == outcome(compiled, used)


def test_many_spaces_and_brackets_are_looked_at_but_once() -> None:
    for text in (" " * 199 + "!", "(" * 199, "- " * 99 + "!", "'" + "a" * 198):
        assert plain.read(text, "number", minute_kinds(), (), NUMBER_LIMIT) is None
