"""Spaces that the engine leaves out of what is read aloud: at the end of a line, and between parts of a text.

The engine strips the space at which it breaks a line, and draws no text that is nothing but a space. On paper
nothing is missing; read in the order of the tags, two words become one, "theother hand". A tagged file has
the white space that parts words even where nobody sees it (ISO 32000-1, 14.8.2.5, from memory). So a space is
put after the word, in the word's own font, where there is nothing to its right but the next line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from generator.base.errors import PressError
from generator.base.message import message

_TEXTS = ("p", "h1", "h2", "h3", "h4", "h5", "h6", "th", "td", "li", "dt", "dd", "caption")
"""Elements that are read as one text."""
_DASHES = "-\u2010"
"""What stands where a word is broken."""
_SPACES = (" ", "\u00a0")
_KERNING = b"-.0123456789"
"""What may stand behind the last letter of a piece."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """What the engine drew in one go, and where it belongs."""

    words: str
    element: Any
    whole: int
    """The element that is read as one text."""
    lines: tuple[int, ...]
    """The line that it stands in; before it those that hold that one."""


def put_word_breaks(document: Any, pdf: Any, numbered: dict[bytes, Any]) -> None:
    """Put the spaces into the pages' streams.

    Raises PressError if pieces of text and tags do not go together.
    """
    pieces = [piece for page in document.pages for piece in _pieces(page._page_box, whole=0, lines=())]
    # The engine tags the pieces on its way through the boxes, so their order is the same.
    places = [place for tag in numbered.values() for place in _places(tag)]
    if len(pieces) != len(places):
        raise PressError(
            message("the document engine did not tag its texts one by one, so words cannot be parted")
        )
    drawn = [number for number, piece in enumerate(pieces) if piece.words.strip()]
    after: dict[bytes, set[int]] = {}
    for one, other in pairwise(drawn):
        if _run_together(pieces[one], pieces[other], apart=other - one > 1):
            page, mark = places[one]
            after.setdefault(page, set()).add(mark)
    fonts = document.fonts.values()
    spaces = {font.hash.encode(): b"%04x" % glyph for font in fonts if (glyph := _space(font)) is not None}
    for page, marks in after.items():
        _append(numbered[numbered[page]["Contents"]].stream, marks, spaces)


def _places(tag: Any) -> Iterator[tuple[bytes, int]]:
    """Page and number of what was drawn for a tag itself, but for a picture."""
    if isinstance(tag, dict) and tag.get("Type") == "/StructElem" and tag["S"] != "/Figure":
        yield from ((tag["Pg"], kid) for kid in tag["K"] if isinstance(kid, int))


def _pieces(box: Any, *, whole: int, lines: tuple[int, ...]) -> Iterator[_Piece]:
    kind = type(box).__name__
    if kind == "TextBox":
        yield _Piece(box.text, box.element, whole, lines)
        return
    if kind == "LineBox":
        lines = (*lines, id(box))
    elif box.element is not None and box.element_tag in _TEXTS:
        whole = id(box.element)
    for child in getattr(box, "children", ()):
        # A placeholder stands where an absolute box would have been, and holds it.
        yield from _pieces(getattr(child, "_box", child), whole=whole, lines=lines)


def _run_together(one: _Piece, other: _Piece, *, apart: bool) -> bool:
    """Whether two words of one text are drawn without the space between them."""
    if not one.whole or one.whole != other.whole:
        return False
    if one.words[-1].isspace() or other.words[0].isspace():
        return False
    common = min(len(one.lines), len(other.lines))
    same_line = one.lines[:common] == other.lines[:common] and common > 0
    return apart or (not same_line and not _is_one_word(one, other))


def _is_one_word(one: _Piece, other: _Piece) -> bool:
    """Whether a word or an address is broken between two lines: no space was there."""
    last, first = one.words.split()[-1], other.words.split()[0]
    if one.element is not other.element:
        return last[-1] in _DASHES and len(last) > 1
    written = " ".join("".join(_written(one.element)).split())
    unbroken = [last + first, *([last[:-1] + first] if last[-1] in _DASHES else [])]
    return f"{last} {first}" not in written and any(word in written for word in unbroken)


def _written(element: Any) -> Iterator[str]:
    """The words of an element as they stand in the document."""
    yield (element.text or "").replace("\u00ad", "")
    for child in element:
        yield " " if child.tag == "br" else ""
        yield from _written(child)
        yield (child.tail or "").replace("\u00ad", "")


def _space(font: Any) -> int | None:
    """The number of a font's space, if any word of the document has it drawn."""
    return next((glyph for glyph, text in font.to_unicode.items() if text in _SPACES), None)


def _append(operators: list[Any], marks: set[int], spaces: dict[bytes, bytes]) -> None:
    """Draw a space after the last letter of each of these pieces."""
    font, size, mark, last = b"", b"", -1, -1
    for at, operator in enumerate(operators):
        if operator == b"BDC" and isinstance(operators[at - 1], dict):
            mark, last = operators[at - 1].get("MCID", -1), -1
        elif operator == b"EMC":
            if mark in marks and last >= 0:
                operators[last] = _with_space(operators[last], font, size, spaces)
            mark = -1
        elif isinstance(operator, bytes) and operator.endswith(b" Tf"):
            font, size, _ = operator.removeprefix(b"/").split(b" ")
        elif isinstance(operator, bytes) and operator.endswith(b"] TJ"):
            last = at


def _with_space(shown: bytes, font: bytes, size: bytes, spaces: dict[bytes, bytes]) -> bytes:
    drawn = shown.removesuffix(b"] TJ")
    if font in spaces:
        # Some that the engine stripped from its text it draws nevertheless. A glyph has four digits.
        there = drawn.rstrip(_KERNING).endswith(spaces[font] + b">")
        return shown if there else drawn + b"<" + spaces[font] + b">] TJ"
    # A face that no space was drawn in: any other has one. Each piece names its font anew.
    for other, space in spaces.items():
        return shown + b"\n/" + other + b" " + size + b" Tf\n[<" + space + b">] TJ"
    return shown
