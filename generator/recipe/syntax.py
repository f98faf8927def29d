"""What a YAML parser's complaint means to a person who has never heard of YAML."""

from __future__ import annotations

import re

import yaml

from generator.base.errors import Fault
from generator.base.message import message
from generator.base.spans import Span

_CLOSING = {"flow mapping": ("{", "}"), "flow sequence": ("[", "]")}


def explain(error: yaml.MarkedYAMLError, file: str, text: str) -> Fault:
    """A located fault in plain words for a syntax error of a text."""
    problem, context = error.problem or "", error.context or ""
    here = _span(file, error.problem_mark or error.context_mark)
    opened = _span(file, error.context_mark or error.problem_mark)
    for kind, (opening, closing) in _CLOSING.items():
        if kind in context and problem.startswith("expected ','"):
            return _unclosed(opened, here, opening, closing, "<stream end>" in problem)
    if "quoted scalar" in context:
        return _quoting(problem, opened, here)
    if "could not find expected ':'" in problem:
        return Fault(
            opened,
            message("there is no colon after this"),
            message("a key, a colon and a value"),
            message("write it as key: value"),
        )
    if "mapping values are not allowed" in problem:
        return _colon(here, text)
    if "expected <block end>" in problem:
        return _block_end(here, problem)
    if "expected the node content" in problem:
        return _no_content(here, problem)
    if "cannot start any token" in problem:
        sign = _sign(text, here)
        return Fault(
            here,
            message("a value cannot begin with {sign}", sign=sign),
            message("a plain value"),
            message("put the value in quotes"),
        )
    if any(word in context for word in ("an anchor", "an alias", "a tag")):
        sign = _sign(text, opened)
        return Fault(
            opened,
            message("a value cannot begin with {sign}", sign=sign),
            message("a plain value"),
            message("put the value in quotes"),
        )
    if "sequence entries are not allowed" in problem:
        return Fault(
            here,
            message("a dash stands where a value should be"),
            message("a value"),
            message("put a dash in quotes"),
        )
    if "block scalar" in context:
        return Fault(
            opened,
            message("a value cannot begin with | or >"),
            message("a plain value"),
            message("put the value in quotes"),
        )
    if "YAML document" in problem or "document start" in problem or "directive" in context:
        lines = re.split(r"\r\n|\r|\n", text)
        number = next((n for n, line in enumerate(lines, start=1) if line.startswith("%")), None)
        if number is None:
            return _block_end(here, problem)
        place = Span(file, number, 1)
        return Fault(
            place,
            message("a line that begins with % is not used"),
            message("keys and values"),
            message("remove the line"),
        )
    return Fault(
        here,
        message("this cannot be read here"),
        message("keys and values"),
        message("compare this line with a sample recipe"),
    )


def _unclosed(opened: Span, here: Span, opening: str, closing: str, at_end: bool) -> Fault:
    if at_end or here.line > opened.line:
        return Fault(
            opened,
            message(
                "the bracket {opening} opened here is not closed, or a comma is missing behind it",
                opening=opening,
            ),
            message("entries with a comma between them, and {closing} after the last", closing=closing),
            message("add {closing} where the entries end", closing=closing),
        )
    return Fault(
        here,
        message(
            "a comma or {closing} is missing before this (the bracket {opening} is in column {column})",
            closing=closing,
            opening=opening,
            column=opened.column,
        ),
        message("a comma between two entries, and {closing} after the last", closing=closing),
        message("put in a comma, or quotes round a text that holds a colon"),
    )


def _quoting(problem: str, opened: Span, here: Span) -> Fault:
    if "end of stream" in problem or "document separator" in problem:
        return Fault(
            opened,
            message("the quotation mark opened here is never closed"),
            message("a second quotation mark of the same kind"),
            message("add it at the end of the text"),
        )
    return Fault(
        here,
        message("a backslash in double quotes begins a special character that does not exist"),
        message("text without backslashes"),
        message("put the text in single quotes"),
    )


def _colon(here: Span, text: str) -> Fault:
    lines = re.split(r"\r\n|\r|\n", text)
    line = lines[here.line - 1] if here.line <= len(lines) else ""
    if re.search(r":\s", line[: here.column - 1]):
        return Fault(
            here,
            message("a second colon stands in this line"),
            message("one key, one colon and one value in a line"),
            message("put quotes round a text that holds a colon"),
        )
    indent = len(line) - len(line.lstrip())
    start = Span(here.file, here.line, indent + 1)
    above = [number for number in range(here.line - 1, 0, -1) if _has_words(lines[number - 1])]
    if above and indent <= len(lines[above[0] - 1]) - len(lines[above[0] - 1].lstrip()):
        number = above[0]
        before = lines[number - 1]
        return Fault(
            Span(here.file, number, len(before) - len(before.lstrip()) + 1),
            message("there is no colon after this"),
            message("a key, a colon and a value"),
            message("write it as key: value"),
        )
    return Fault(
        start,
        message("this line is indented below a key that already has a value"),
        message("lines that belong together to begin in the same column"),
        message("move the line to the left, or remove the value above it"),
    )


def _has_words(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _block_end(here: Span, problem: str) -> Fault:
    found = problem.rpartition("found ")[2].strip("'")
    if found == "<block mapping start>":
        return Fault(
            here,
            message("this line begins in another column than the lines that it belongs with"),
            message("lines that belong together to begin in the same column"),
            message("move the line to the left or to the right"),
        )
    if found in ("-", "?"):
        return Fault(
            here,
            message("a list and keys are mixed here"),
            message("either keys, or entries that begin with a dash"),
            message("make them one kind, beginning in the same column"),
        )
    if found in ("}", "]", ","):
        return Fault(
            here,
            message("there is one {found} too many, or its opening bracket is missing", found=found),
            message("brackets in pairs"),
            message("remove it, or open the bracket before it"),
        )
    if found == ":":
        return _no_key(here)
    return Fault(
        here,
        message("something stands after a closing quotation mark or bracket"),
        message("nothing more in this line"),
        message("put the quotation marks round the whole text, or remove what stands here"),
    )


def _no_key(here: Span) -> Fault:
    return Fault(
        here,
        message("a key is missing before the colon"),
        message("a key, a colon and a value"),
        message("write the key"),
    )


def _no_content(here: Span, problem: str) -> Fault:
    found = problem.rpartition("found ")[2].strip("'")
    if found == "<stream end>":
        return Fault(
            here,
            message("a bracket is opened but never closed"),
            message("brackets in pairs"),
            message("close the bracket"),
        )
    if found == ":":
        return _no_key(here)
    return Fault(
        here,
        message("a value is missing before the sign {found}", found=found),
        message("a value"),
        message("write the value, remove the sign, or put quotes round a text that begins with it"),
    )


def _sign(text: str, span: Span) -> str:
    lines = re.split(r"\r\n|\r|\n", text)
    line = lines[span.line - 1] if span.line <= len(lines) else ""
    return line[span.column - 1 : span.column] or "this sign"


def _span(file: str, mark: yaml.Mark | None) -> Span:
    return Span(file, mark.line + 1, mark.column + 1) if mark else Span(file, 1, 1)
