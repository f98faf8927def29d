"""Expressions in a technique: conditions on a recipe, minutes from measures.

They are read and evaluated by Jinja2's immutable sandbox, but only after every part of them has been
checked: numbers, texts, known names, arithmetic, comparisons, ``and``, ``or``, ``not``, ``in`` and
``a if b else c``. There are no calls, no attributes, no filters and no powers, so what is left always
ends at once and cannot grow.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Literal

from jinja2 import TemplateSyntaxError, nodes
from jinja2.environment import TemplateExpression
from jinja2.sandbox import ImmutableSandboxedEnvironment

from generator.base.errors import nearest
from generator.base.message import Message, message

Kind = Literal["number", "text", "truth"]
"""What a part of an expression yields."""

_WANTED: Mapping[Kind, Message] = {
    "number": message("a number"),
    "text": message("a word"),
    "truth": message("a condition, true or false"),
}

LENGTH_LIMIT = 200
"""How many characters an expression may have."""

NUMBER_LIMIT = 1_000_000
"""The greatest number that an expression may hold."""

# Most minutes are nothing but a number. Read without a template it is the same number in a tenth of the time.
_NUMBER = re.compile(r"(0|[1-9][0-9]{0,4})(\.[0-9]{1,6})?")

_ARITHMETIC = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div)


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


@cache
def _environment() -> ImmutableSandboxedEnvironment:
    return ImmutableSandboxedEnvironment()


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
    tree = _tree(text)
    checker = _Checker(text, names, frozenset(texts))
    found = checker.kind_of(tree)
    if found != kind:
        wanted = _WANTED[kind]
        raise ExpressionError(
            message("“{text}” does not yield {wanted}", text=text, wanted=wanted),
            wanted,
            message("see the technique rolled-edge"),
        )
    try:
        compiled = _compiled(text)
    except TemplateSyntaxError as error:
        # Brackets that close what was opened round the text to read it: “1) + (2”.
        raise _unreadable(text, error.message or "") from None
    return Expression(text, kind, frozenset(checker.used), compiled)


@lru_cache(maxsize=1000)
def _number(text: str) -> Callable[..., Any]:
    value = float(text) if "." in text else int(text)
    return lambda: value


@lru_cache(maxsize=1000)
def _compiled(text: str) -> TemplateExpression:
    return _environment().compile_expression(text, undefined_to_none=False)


def _tree(text: str) -> nodes.Expr:
    try:
        outputs = _environment().parse("{{ (" + text + ") }}").body
    except RecursionError:
        raise _unreadable(text, message("it stands too deep in brackets")) from None
    except (TemplateSyntaxError, SyntaxError, ValueError) as error:
        # The last two for numbers in signs of other scripts, which the template's reader takes for digits.
        raise _unreadable(
            text, getattr(error, "message", None) or message("a number is not in plain digits")
        ) from None
    if len(outputs) == 1 and isinstance(outputs[0], nodes.Output) and len(outputs[0].nodes) == 1:
        return outputs[0].nodes[0]
    raise ExpressionError(
        message("“{text}” is not one expression", text=text),
        message("one expression"),
        message("remove the braces"),
    )


def _unreadable(text: str, reason: str) -> ExpressionError:
    return ExpressionError(
        message("“{text}” cannot be read ({reason})", text=text, reason=reason),
        message("an expression"),
        message("write it as in the technique rolled-edge"),
    )


class _Checker:
    """Walks an expression's tree, names the kind of each part and refuses what is not allowed."""

    def __init__(self, text: str, names: Mapping[str, Kind], texts: frozenset[str]) -> None:
        self.text, self.names, self.texts = text, names, texts
        self.used: set[str] = set()

    def refuse(self, what: Message, expected: Message, fix: Message) -> ExpressionError:
        return ExpressionError(message("“{text}”: {what}", text=self.text, what=what), expected, fix)

    def kind_of(self, node: nodes.Node) -> Kind:
        if isinstance(node, nodes.Const):
            return self.constant(node.value)
        if isinstance(node, nodes.Name):
            return self.name(node.name)
        if isinstance(node, _ARITHMETIC):
            return self.all_are("number", (node.left, node.right), message("arithmetic"))
        if isinstance(node, nodes.Neg | nodes.Pos):
            return self.all_are("number", (node.node,), message("arithmetic"))
        if isinstance(node, nodes.And | nodes.Or):
            return self.all_are("truth", (node.left, node.right), message("and, or"))
        if isinstance(node, nodes.Not):
            return self.all_are("truth", (node.node,), message("not"))
        if isinstance(node, nodes.Compare):
            return self.compare(node)
        if isinstance(node, nodes.CondExpr) and node.expr2 is not None:
            self.all_are("truth", (node.test,), message("if"))
            kind = self.kind_of(node.expr1)
            return self.all_are(kind, (node.expr2,), message("both sides of if and else"))
        raise self.refuse(
            message("{name} is not allowed here", name=type(node).__name__.lower()),
            message("numbers, words in quotes, names, + - * /, comparisons, and, or, not, in, if else"),
            message("write it with these"),
        )

    def constant(self, value: object) -> Kind:
        if isinstance(value, bool):
            return "truth"
        if isinstance(value, int | float) and abs(value) <= NUMBER_LIMIT:
            return "number"
        if isinstance(value, str):
            if self.texts and value not in self.texts:
                close = nearest(value, sorted(self.texts))
                fix = message("see the words that a recipe may use")
                if close:
                    fix = message("did you mean {text}?", text=message("“{text}”", text=close))
                raise self.refuse(
                    message("no recipe says “{text}”", text=value),
                    message("a word that a recipe may say"),
                    fix,
                )
            return "text"
        raise self.refuse(
            message("this constant is not allowed"),
            message("a number up to {most}", most=NUMBER_LIMIT),
            message("change it"),
        )

    def name(self, name: str) -> Kind:
        if name not in self.names:
            close = nearest(name, sorted(self.names))
            fix = message("see the names at the top of rolled-edge.yaml")
            if close:
                fix = message("did you mean {text}?", text=message("“{text}”", text=close))
            raise self.refuse(message("“{text}” is no known name", text=name), message("a known name"), fix)
        self.used.add(name)
        return self.names[name]

    def all_are(self, kind: Kind, parts: tuple[nodes.Node, ...], where: Message) -> Kind:
        for part in parts:
            if self.kind_of(part) != kind:
                raise self.refuse(
                    message("{where} need {kind} on every side", where=where, kind=_WANTED[kind]),
                    _WANTED[kind],
                    message("change that side"),
                )
        return "truth" if kind == "truth" else kind

    def compare(self, node: nodes.Compare) -> Kind:
        kind = self.kind_of(node.expr)
        for operand in node.ops:
            other = operand.expr
            if operand.op in ("in", "notin"):
                if not isinstance(other, nodes.Tuple | nodes.List):
                    raise self.refuse(
                        message("in needs a list"),
                        message("a list such as ('circle', 'ellipse')"),
                        message("write one"),
                    )
                for item in other.items:
                    self.all_are(kind, (item,), message("in and its list"))
                continue
            self.all_are(kind, (other,), message("a comparison"))
            if kind != "number" and operand.op not in ("eq", "ne"):
                raise self.refuse(
                    message("only numbers are less or greater"),
                    message("== or !="),
                    message("compare with == or !="),
                )
        return "truth"
