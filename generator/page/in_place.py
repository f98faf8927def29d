"""A value put in another's place in a recipe's text, and nothing else touched: what most changes are.

It is some ten times as quick as to read the whole text with all that stands round its values and to write it
again (``round_trip.py``), which remains for whatever is not as plain as this.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from generator.page.look import root_of, values
from generator.recipe import nodes
from generator.recipe.draft import written
from generator.recipe.walk import Place, walk

_AFTER = re.compile(r"\s*(?:[,}\]]|\s#|$)")
"""What may stand behind a value in its line: what ends it, a comment, or nothing."""
_LETTER = re.compile("[A-Za-z]")
TRUTHS = ("true", "false")
_COMMENT = re.compile(r"\s+#.*")


def replaced(text: str, wished: Mapping[Place, str | None]) -> str | None:
    """The text with other values at some places; None where one of them is not plainly a value in one line.

    A comment behind a value keeps its column as far as the value lets it.
    """
    found = {place: node for place, node in walk(root_of(text)) if place in wished}
    lines = text.split("\n")
    if "\r" in text or text.startswith("\ufeff") or len(found) < len(wished):
        return None
    # The last of a line goes first, so that what stands before it keeps its column.
    places = sorted(wished, key=lambda place: found[place].span.order, reverse=True)
    for place in places:
        node, value = found[place], wished[place]
        if value is None or not value.isprintable() or not isinstance(node, nodes.Scalar):
            return None
        line = _put(lines[node.span.line - 1], node, value)
        if line is None:
            return None
        lines[node.span.line - 1] = line
    after = "\n".join(lines)
    # What it has become is read once more, as everything is that is saved.
    return after if values(after) == {**values(text), **wished} else None


def token_of(value: str) -> str:
    """A value as it is written in a recipe: true and false without quotes, as words of the format."""
    return value if value in TRUTHS else written(value)


def _put(line: str, node: nodes.Scalar, value: str) -> str | None:
    """A line with a value in another's place; None where that is not written there as it reads."""
    begin, token = node.span.column - 1, token_of(value)
    ways = [f"'{node.text}'", f'"{node.text}"'] if node.quoted else [node.text]
    if not node.text or (node.quoted and re.search(r"['\"\\]", node.text)):
        return None
    old = next((way for way in ways if line.startswith(way, begin)), None)
    if old is None:
        return None
    if node.quoted and token == value and _LETTER.search(value) and value not in TRUTHS:
        # It was in quotes and stays so, though it needs none.
        token = f"{old[0]}{token}{old[0]}"
    rest = line[begin + len(old) :]
    if not _AFTER.match(rest) or ("#" in rest and re.search(r"['\"]", rest.partition(" #")[0])):
        return None
    front, comment = line[:begin] + token, _COMMENT.search(rest)
    if comment is None:
        return front + rest
    between, said = rest[: comment.start()], comment[0].lstrip()
    column = len(line) - len(said)
    return (front + between + " ").ljust(column) + said
