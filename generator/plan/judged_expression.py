"""Expressions of a technique, judged part by part: what a fault is, and what to do about it.

Jinja2 reads them and its immutable sandbox works them out, but only after every part has been checked.
``plain`` reads the usual ones first; this is for all others, and for everything that is to be refused.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import cache, lru_cache
from typing import Any

from jinja2 import TemplateSyntaxError, nodes
from jinja2.environment import TemplateExpression
from jinja2.sandbox import ImmutableSandboxedEnvironment

from generator.base.errors import nearest
from generator.base.message import Message, message
from generator.plan.expressions import NUMBER_LIMIT, ExpressionError, Kind

_WANTED: Mapping[Kind, Message] = {
    "number": message("a number"),
    "text": message("a word"),
    "truth": message("a condition, true or false"),
}

_ARITHMETIC = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div)


def judged(
    text: str, kind: Kind, names: Mapping[str, Kind], texts: Collection[str]
) -> tuple[frozenset[str], Callable[..., Any]]:
    """The names that an expression asks for, and what works it out. Raises ExpressionError."""
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
    return frozenset(checker.used), compiled


@cache
def _environment() -> ImmutableSandboxedEnvironment:
    return ImmutableSandboxedEnvironment()


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
