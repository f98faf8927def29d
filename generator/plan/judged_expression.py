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
from generator.plan.expressions import NUMBER_LIMIT, ExpressionError, Kind

_ARITHMETIC = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div)


def judged(
    text: str, kind: Kind, names: Mapping[str, Kind], texts: Collection[str]
) -> tuple[frozenset[str], Callable[..., Any]]:
    """The names that an expression asks for, and what works it out. Raises ExpressionError."""
    tree = _tree(text)
    checker = _Checker(text, names, frozenset(texts))
    found = checker.kind_of(tree)
    if found != kind:
        wanted = {"number": "a number", "text": "a word", "truth": "a condition, true or false"}[kind]
        raise ExpressionError(f"“{text}” does not yield {wanted}", wanted, "see the technique rolled-edge")
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
        raise _unreadable(text, "it stands too deep in brackets") from None
    except (TemplateSyntaxError, SyntaxError, ValueError) as error:
        # The last two for numbers in signs of other scripts, which the template's reader takes for digits.
        raise _unreadable(
            text, getattr(error, "message", None) or "a number is not in plain digits"
        ) from None
    if len(outputs) == 1 and isinstance(outputs[0], nodes.Output) and len(outputs[0].nodes) == 1:
        return outputs[0].nodes[0]
    raise ExpressionError(f"“{text}” is not one expression", "one expression", "remove the braces")


def _unreadable(text: str, reason: str) -> ExpressionError:
    return ExpressionError(
        f"“{text}” cannot be read ({reason})",
        "an expression",
        "write it as in the technique rolled-edge",
    )


class _Checker:
    """Walks an expression's tree, names the kind of each part and refuses what is not allowed."""

    def __init__(self, text: str, names: Mapping[str, Kind], texts: frozenset[str]) -> None:
        self.text, self.names, self.texts = text, names, texts
        self.used: set[str] = set()

    def refuse(self, what: str, expected: str, fix: str) -> ExpressionError:
        return ExpressionError(f"“{self.text}”: {what}", expected, fix)

    def kind_of(self, node: nodes.Node) -> Kind:
        if isinstance(node, nodes.Const):
            return self.constant(node.value)
        if isinstance(node, nodes.Name):
            return self.name(node.name)
        if isinstance(node, _ARITHMETIC):
            return self.all_are("number", (node.left, node.right), "arithmetic")
        if isinstance(node, nodes.Neg | nodes.Pos):
            return self.all_are("number", (node.node,), "arithmetic")
        if isinstance(node, nodes.And | nodes.Or):
            return self.all_are("truth", (node.left, node.right), "and, or")
        if isinstance(node, nodes.Not):
            return self.all_are("truth", (node.node,), "not")
        if isinstance(node, nodes.Compare):
            return self.compare(node)
        if isinstance(node, nodes.CondExpr) and node.expr2 is not None:
            self.all_are("truth", (node.test,), "if")
            kind = self.kind_of(node.expr1)
            return self.all_are(kind, (node.expr2,), "both sides of if and else")
        raise self.refuse(
            f"{type(node).__name__.lower()} is not allowed here",
            "numbers, words in quotes, names, + - * /, comparisons, and, or, not, in, if else",
            "write it with these",
        )

    def constant(self, value: object) -> Kind:
        if isinstance(value, bool):
            return "truth"
        if isinstance(value, int | float) and abs(value) <= NUMBER_LIMIT:
            return "number"
        if isinstance(value, str):
            if self.texts and value not in self.texts:
                close = nearest(value, sorted(self.texts))
                fix = f"did you mean “{close}”?" if close else "see the words that a recipe may use"
                raise self.refuse(f"no recipe says “{value}”", "a word that a recipe may say", fix)
            return "text"
        raise self.refuse("this constant is not allowed", f"a number up to {NUMBER_LIMIT}", "change it")

    def name(self, name: str) -> Kind:
        if name not in self.names:
            close = nearest(name, sorted(self.names))
            fix = f"did you mean “{close}”?" if close else "see the names at the top of rolled-edge.yaml"
            raise self.refuse(f"“{name}” is no known name", "a known name", fix)
        self.used.add(name)
        return self.names[name]

    def all_are(self, kind: Kind, parts: tuple[nodes.Node, ...], where: str) -> Kind:
        for part in parts:
            if self.kind_of(part) != kind:
                raise self.refuse(f"{where} need a {kind} on every side", f"a {kind}", "change that side")
        return "truth" if kind == "truth" else kind

    def compare(self, node: nodes.Compare) -> Kind:
        kind = self.kind_of(node.expr)
        for operand in node.ops:
            other = operand.expr
            if operand.op in ("in", "notin"):
                if not isinstance(other, nodes.Tuple | nodes.List):
                    raise self.refuse("in needs a list", "a list such as ('circle', 'ellipse')", "write one")
                for item in other.items:
                    self.all_are(kind, (item,), "in and its list")
                continue
            self.all_are(kind, (other,), "a comparison")
            if kind != "number" and operand.op not in ("eq", "ne"):
                raise self.refuse("only numbers are less or greater", "== or !=", "compare with == or !=")
        return "truth"
