"""Expressions of a technique as they usually are, read by Python's own grammar and worked out step by step.

Nothing is refused here: whatever is not plain gets no answer, and ``judged_expression`` judges it. Only signs
and words that mean the same in Python and in a template are plain, and of Python's tree only the parts named
here are taken; nothing of it is compiled or run.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable, Collection, Mapping
from typing import Any

Values = Mapping[str, Any]
Work = Callable[[Values], Any]
"""Works out a part of an expression from the values of names."""

_PLAIN = re.compile(
    r"(?: |[a-z_][a-z0-9_]*(?![A-Za-z0-9_'])|(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?![A-Za-z0-9_.'])"
    r"|'[a-z0-9 -]*'|[=!<>]=|[()+*/<>,-])+"
)
_ARITHMETIC: Mapping[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
_SIGNED: Mapping[type[ast.unaryop], Callable[[Any], Any]] = {ast.USub: operator.neg, ast.UAdd: operator.pos}
_SAME: Mapping[type[ast.cmpop], Callable[[Any, Any], bool]] = {ast.Eq: operator.eq, ast.NotEq: operator.ne}
_ORDER: Mapping[type[ast.cmpop], Callable[[Any, Any], bool]] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
}


class _NotPlainError(Exception):
    """Something stands there that is not plain."""


def read(
    text: str, kind: str, names: Mapping[str, str], texts: Collection[str], most: float
) -> tuple[frozenset[str], Callable[..., Any]] | None:
    """The names that an expression asks for, and what works it out; None if it is not plain, or not sound.

    ``kind``, ``names`` and ``texts`` are those of ``expressions.parse``; ``most`` is the greatest number that
    may stand in it.
    """
    if not _PLAIN.fullmatch(text):
        return None
    reader = _Reader(names, texts, most)
    try:
        found, work = reader.part(ast.parse(text.strip(), mode="eval").body)
    except (_NotPlainError, SyntaxError, RecursionError, MemoryError, ValueError):
        return None
    if found != kind:
        return None
    return frozenset(reader.used), lambda **values: work(values)


class _Reader:
    """Walks an expression's tree: the kind of each part, and what works it out."""

    def __init__(self, names: Mapping[str, str], texts: Collection[str], most: float) -> None:
        self.names, self.texts, self.most = names, texts, most
        self.used: set[str] = set()

    def part(self, node: ast.expr) -> tuple[str, Work]:
        """Kind of a part and its work. Raises _NotPlainError."""
        match node:
            case ast.Constant(value=value):
                return self.constant(value), lambda _: value
            case ast.Name(id=name) if name in self.names:
                self.used.add(name)
                return self.names[name], operator.itemgetter(name)
            case ast.BinOp(left=first, op=sign, right=second) if type(sign) in _ARITHMETIC:
                return "number", _both(
                    _ARITHMETIC[type(sign)], self.of("number", first), self.of("number", second)
                )
            case ast.UnaryOp(op=ast.Not(), operand=inner):
                held = self.of("truth", inner)
                return "truth", lambda values: not held(values)
            case ast.UnaryOp(op=sign, operand=inner) if type(sign) in _SIGNED:
                signed, number = _SIGNED[type(sign)], self.of("number", inner)
                return "number", lambda values: signed(number(values))
            case ast.BoolOp(op=ast.And(), values=parts):
                all_of = [self.of("truth", each) for each in parts]
                return "truth", lambda values: all(each(values) for each in all_of)
            case ast.BoolOp(op=ast.Or(), values=parts):
                any_of = [self.of("truth", each) for each in parts]
                return "truth", lambda values: any(each(values) for each in any_of)
            case ast.Compare():
                return "truth", self.compared(node)
            case ast.IfExp(test=asked, body=yes, orelse=no):
                test, (kind, then) = self.of("truth", asked), self.part(yes)
                other = self.of(kind, no)
                return kind, lambda values: then(values) if test(values) else other(values)
        raise _NotPlainError

    def of(self, kind: str, node: ast.expr) -> Work:
        """The work of a part that must be of a kind. Raises _NotPlainError."""
        found, work = self.part(node)
        if found != kind:
            raise _NotPlainError
        return work

    def constant(self, value: object) -> str:
        """Kind of a number or a word. Raises _NotPlainError."""
        if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= self.most:
            return "number"
        if isinstance(value, str) and (not self.texts or value in self.texts):
            return "text"
        raise _NotPlainError

    def compared(self, node: ast.Compare) -> Work:
        """A comparison of two parts, or whether a part is in a list. Raises _NotPlainError."""
        if len(node.ops) != 1:
            raise _NotPlainError
        sign, other = node.ops[0], node.comparators[0]
        kind, first = self.part(node.left)
        if isinstance(sign, ast.In | ast.NotIn) and isinstance(other, ast.Tuple):
            listed, wanted = [self.of(kind, each) for each in other.elts], isinstance(sign, ast.In)
            return lambda values: (first(values) in [each(values) for each in listed]) is wanted
        how = _SAME.get(type(sign)) or (_ORDER.get(type(sign)) if kind == "number" else None)
        if how is None:
            raise _NotPlainError
        return _both(how, first, self.of(kind, other))


def _both(how: Callable[[Any, Any], Any], first: Work, second: Work) -> Work:
    return lambda values: how(first(values), second(values))
