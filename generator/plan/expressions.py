"""Expressions in a technique: conditions on a recipe, minutes from measures.

They hold numbers, texts, known names, arithmetic, comparisons, ``and``, ``or``, ``not``, ``in`` and
``a if b else c``. There are no calls, no attributes, no filters and no powers, so what is left always
ends at once and cannot grow. The usual ones are read by ``plain``; all others, and everything that is to be
refused, are judged part by part by ``judged_expression`` before a sandbox evaluates them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from generator.base.message import Message, message
from generator.plan import plain

Kind = Literal["number", "text", "truth"]
"""What a part of an expression yields."""

LENGTH_LIMIT = 200
"""How many characters an expression may have."""

NUMBER_LIMIT = 1_000_000
"""The greatest number that an expression may hold."""

# Most minutes are nothing but a number. Read without a template it is the same number in a tenth of the time.
_NUMBER = re.compile(r"(0|[1-9][0-9]{0,4})(\.[0-9]{1,6})?")


class ExpressionError(ValueError):
    """An expression cannot be used: what is wrong, what was expected, what to do."""

    def __init__(self, wrong: Message, expected: Message, fix: Message) -> None:
        self.wrong, self.expected, self.fix = wrong, expected, fix
        super().__init__(f"{wrong}; expected {expected}; {fix}")


@dataclass(frozen=True)
class Expression:
    """A checked expression: its text, what it yields, the names that it asks for."""

    text: str
    kind: Kind
    names: frozenset[str]
    compiled: Callable[..., Any]

    def value(self, values: Mapping[str, Any]) -> Any:
        """Its value. Raises ExpressionError where the numbers allow none, such as a division by zero."""
        try:
            result: Any = self.compiled(**{name: values[name] for name in self.names})
        except (ArithmeticError, TypeError, ValueError) as error:
            raise ExpressionError(
                message("“{text}” cannot be worked out ({reason})", text=self.text, reason=str(error)),
                message("a value for every recipe"),
                message("avoid dividing by something that can be zero"),
            ) from None
        if self.kind == "number" and not math.isfinite(result):
            raise ExpressionError(
                message("“{text}” is not a finite number", text=self.text),
                message("a number"),
                message("make it smaller"),
            )
        return result

    def holds(self, values: Mapping[str, Any]) -> bool:
        """Whether a condition is true for these values."""
        return bool(self.value(values))


def parse(text: str, kind: Kind, names: Mapping[str, Kind], texts: Collection[str] = ()) -> Expression:
    """Check an expression and make it ready.

    ``kind`` is what it must yield, ``names`` what it may ask for, ``texts`` the words that a text may be
    compared with (none given: any). Raises ExpressionError.
    """
    if len(text) > LENGTH_LIMIT:
        raise ExpressionError(
            message("this expression is too long"),
            message("at most {most} signs", most=LENGTH_LIMIT),
            message("shorten it"),
        )
    if kind == "number" and _NUMBER.fullmatch(text):
        return Expression(text, kind, frozenset(), _number(text))
    found = plain.read(text, kind, names, texts, NUMBER_LIMIT)
    if found is None:
        # Most techniques hold nothing of this kind; loading a template engine takes longer than reading one.
        from generator.plan.judged_expression import judged

        found = judged(text, kind, names, texts)
    return Expression(text, kind, *found)


@lru_cache(maxsize=1000)
def _number(text: str) -> Callable[..., Any]:
    value = float(text) if "." in text else int(text)
    return lambda: value
