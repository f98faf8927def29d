"""No text runs out of the box that was made for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import SHORTEN
from generator.press.layout import MM_PER_PX

_SLACK = 1.0
"""CSS px: an overhanging letter, and the engine's own rounding."""


def find_in_layout(document: Any) -> Iterator[PageFault]:
    """Lines and words that reach beyond their block, on a document that is laid out but not printed."""
    for number, page in enumerate(document.pages, 1):
        for words, box in _beyond(page._page_box, None):
            left, top = box.position_x * MM_PER_PX, box.position_y * MM_PER_PX
            yield PageFault(message("runs out of its box"), SHORTEN, words, (left, top), number)


def _beyond(box: Any, block: Any) -> Iterator[tuple[str, Any]]:
    """Text below or above its block, told by its line, and text beside its block, told by its words."""
    kinds = {kind.__name__ for kind in type(box).__mro__}
    if "TextBox" in kinds:
        if box.text.strip() and block is not None and not _within(box, block, "x"):
            yield " ".join(box.text.split()), box
        return
    if "LineBox" in kinds and block is not None and not _within(box, block, "y"):
        words = " ".join(_words(box).split())
        if words:
            yield words, box
    # Inline boxes are made to fit their content; a block, a cell or a page margin has its own size.
    if kinds & {"BlockContainerBox", "FlexContainerBox", "GridContainerBox"}:
        block = box
    for child in getattr(box, "children", ()):
        yield from _beyond(getattr(child, "_box", child), block)


def _within(box: Any, block: Any, axis: str) -> bool:
    if axis == "x":
        low, size = block.border_box_x(), block.border_width()
        start, length = box.position_x, box.width
    else:
        low, size = block.border_box_y(), block.border_height()
        start, length = box.position_y, box.height
    return bool(start >= low - _SLACK and start + length <= low + size + _SLACK)


def _words(box: Any) -> str:
    inside = (_words(getattr(child, "_box", child)) for child in getattr(box, "children", ()))
    return str(getattr(box, "text", "")) + " ".join(inside)
