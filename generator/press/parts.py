"""Cards, cautions and what is to be done: the parts of a page as its tags name them."""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium


@dataclass(frozen=True, slots=True)
class Part:
    """One part, as far as it stands on one page."""

    what: str
    """``card``, ``caution`` or ``do``."""
    title: str
    """Its own name, the same on every page that it stands on."""
    marks: tuple[int, ...]
    """Numbers of its marked content, in reading order."""
    card: str | None
    """Title of the card that it stands in, if it does."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One page as it is read out."""

    marks: tuple[int, ...]
    """Numbers of all marked content, in reading order."""
    parts: tuple[Part, ...]
    """In reading order, what stands within a part after it."""
    pictures: frozenset[int] = frozenset()
    """Those of the marks that are pictures."""


def reading_of(page: pypdfium2.PdfPage) -> Reading:
    """The tags of one page. Empty for a page without tags."""
    tree = pdfium.FPDF_StructTree_GetForPage(page)
    if not tree:
        return Reading((), ())
    try:
        parts: list[Part] = []
        marks: list[int] = []
        pictures: set[int] = set()
        for index in range(pdfium.FPDF_StructTree_CountChildren(tree)):
            child = pdfium.FPDF_StructTree_GetChildAtIndex(tree, index)
            if child:
                marks.extend(_walk(child, None, parts, pictures, 0))
        return Reading(tuple(marks), tuple(parts), frozenset(pictures))
    finally:
        pdfium.FPDF_StructTree_Close(tree)


_DEEPEST = 200
"""Tags within one another: no page that a person reads has more."""


def _walk(element: Any, card: str | None, parts: list[Part], pictures: set[int], depth: int) -> Iterator[int]:
    """The marks below an element in reading order; its parts and pictures are added to those known."""
    if depth > _DEEPEST:
        return
    title = _told(pdfium.FPDF_StructElement_GetTitle, element)
    what, _, number = title.partition(" ")
    is_part = what in ("card", "caution", "do") and number.isdecimal()
    at = len(parts)
    if is_part:
        parts.append(Part(what, title, (), card))
    marks: list[int] = []
    for index in range(pdfium.FPDF_StructElement_CountChildren(element)):
        child = pdfium.FPDF_StructElement_GetChildAtIndex(element, index)
        if child:
            marks.extend(
                _walk(child, title if what == "card" and is_part else card, parts, pictures, depth + 1)
            )
        else:
            mark = pdfium.FPDF_StructElement_GetChildMarkedContentID(element, index)
            if mark >= 0:
                marks.append(mark)
    if _told(pdfium.FPDF_StructElement_GetType, element) == "Figure":
        pictures.update(marks)
    if is_part:
        parts[at] = Part(what, title, tuple(marks), card)
    yield from marks


_BUFFER = 64
"""Bytes: our own titles and types are shorter, and others are none of ours."""


def _told(ask: Callable[[Any, Any, int], int], element: Any) -> str:
    """What an element says where it is asked for its title or its type."""
    buffer = ctypes.create_string_buffer(_BUFFER)
    used = ask(element, buffer, _BUFFER)
    if not 2 < used <= _BUFFER:
        return ""
    return buffer.raw[: used - 2].decode("utf-16-le", "replace")
