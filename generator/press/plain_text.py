"""HTML that is well-formed XML, as plain text of 72 columns for a voice or a braille line.

Headings are underlined, list entries begin with a hyphen or their number, and a row of a table is one
entry that says the heading of each column before its cell: a table's columns are of no use to somebody who
hears it. What stands between is said by the body's ``data-colon`` and ``data-semicolon``.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

WIDTH = 72
_UNDERLINES = {"h1": "=", "h2": "-", "h3": "~", "h4": "."}
_BLOCKS = frozenset({"p", "ul", "ol", "dl", "table", *_UNDERLINES})
_HOLDERS = frozenset({"html", "body", "header", "main", "section", "div"})
_SKIPPED = frozenset({"head", "nav"})
"""Links to places are of no use where nothing can be followed."""
_HOLD = "\u00a0"
"""Stands for a space at which no line ends."""
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=[a-z]{1,3}\b)")


@dataclass(frozen=True, slots=True)
class _Between:
    """What stands between words that a page keeps apart by their places: signs differ with the language."""

    colon: str
    semicolon: str


def plain_text(html: str) -> str:
    """The text of a page.

    Raises ValueError for a page that is not well-formed, or has an element that this does not know.
    """
    try:
        root = ElementTree.fromstring(html)
    except ElementTree.ParseError as error:
        raise ValueError(f"the page is not well-formed: {error}") from error
    body = root.find("body")
    signs = {} if body is None else body.attrib
    between = _Between(signs.get("data-colon", ": "), signs.get("data-semicolon", "; "))
    blocks = (block for block in _blocks(root, between) if block)
    return "\n\n".join(blocks).replace(_HOLD, " ") + "\n"


def _blocks(element: Element, between: _Between) -> Iterator[str]:
    """Headings, paragraphs, lists and tables in order."""
    for child in element:
        if child.tag in _BLOCKS:
            yield _block(child, between)
        elif child.tag in _HOLDERS:
            yield from _blocks(child, between)
        elif child.tag not in _SKIPPED:
            raise ValueError(f"the element <{child.tag}> has no form in plain text")


def _block(element: Element, between: _Between) -> str:
    tag = element.tag
    if tag in _UNDERLINES:
        text = _wrapped(_words(element))
        return f"{text}\n{_UNDERLINES[tag] * max(map(len, text.splitlines()))}"
    if tag == "p":
        # A link within the page alone, such as one that skips the contents, leads nowhere here.
        return "" if _only_link(element) else _wrapped(_words(element))
    if tag == "table":
        return _table(element, between)
    if tag == "dl":
        terms, meanings = element.iterfind("dt"), element.iterfind("dd")
        pairs = zip(terms, meanings, strict=True)
        return "\n".join(
            _wrapped(f"{_words(term)}{between.colon}{_words(means)}", "- ") for term, means in pairs
        )
    marks = (f"{number}. " if tag == "ol" else "- " for number in range(1, len(element) + 1))
    return "\n".join(_wrapped(_words(entry), mark) for mark, entry in zip(marks, element, strict=True))


def _only_link(element: Element) -> bool:
    return [child.tag for child in element] == ["a"] and not (element.text or "").strip()


def _table(table: Element, between: _Between) -> str:
    heads = [_words(cell) for cell in table.iterfind("thead/tr/th")]
    return "\n".join(_wrapped(_row(row, heads, between), "- ") for row in table.iterfind("tbody/tr"))


def _row(row: Element, heads: list[str], between: _Between) -> str:
    cells = [_words(cell) for cell in row]
    if not heads:
        return f"{cells[0]}{between.colon}{between.semicolon.join(cells[1:])}"
    # A row of sums may have fewer cells than there are headings.
    told = (
        f"{head}{between.colon}{cell.removesuffix('.')}." for head, cell in zip(heads, cells, strict=False)
    )
    return " ".join(told)


def _words(element: Element) -> str:
    """All words of an element, one space between; a number and its unit hold together."""
    joined = "".join(_pieces(element)).replace("\n", " ")
    return _BEFORE_UNIT.sub(_HOLD, " ".join(part for part in joined.split(" ") if part))


def _pieces(element: Element) -> Iterator[str]:
    held = element.get("class") == "m"
    pieces = [element.text or ""]
    for child in element:
        pieces += [*_pieces(child), child.tail or ""]
    yield from (piece.replace(" ", _HOLD) if held else piece for piece in pieces)


def _wrapped(text: str, mark: str = "") -> str:
    """Lines that end at spaces alone, the first beginning with a mark, the others below its text."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=mark,
        subsequent_indent=" " * len(mark),
        break_long_words=False,
        break_on_hyphens=False,
    )
