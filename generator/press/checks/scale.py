"""A full-scale document is printed at full size, and each page has the bar or bars that prove it."""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from generator.base.errors import PageFault
from generator.base.message import Message, Number, message
from generator.press.advice import REPORT
from generator.press.geometry import MM_PER_POINT
from generator.press.sheet import Sheet
from generator.press.wish import Wish

_SLACK = 0.05
"""Millimetres by which the bar in the file may be off."""
_THIN = 4.0
"""A bar is no higher than this, mm."""


def needs(wish: Wish) -> Message | None:
    """Whether a document is at full scale, its recipe knows."""
    return None if wish.bar is not None else message("it is for a document at full scale, and its recipe")


def find_in_file(pdf: pikepdf.Pdf, wish: Wish) -> Iterator[PageFault]:
    """A viewer that is free to fit the pages to its paper."""
    if wish.bar is None:
        return
    preferences = pdf.Root.get("/ViewerPreferences", pikepdf.Dictionary())
    if preferences.get("/PrintScaling") != pikepdf.Name("/None"):
        yield PageFault(message("the document does not ask to be printed at full size"), REPORT)


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """A page without a bar of the right length."""
    if wish.bar is None:
        return
    boxes = [thing.visible for thing in sheet.things if not thing.is_text]
    wide = [
        (box.right - box.left) * MM_PER_POINT
        for box in boxes
        if 0 < (box.top - box.bottom) * MM_PER_POINT < _THIN
    ]
    for bar in (wish.bar, wish.inch_bar):
        if bar is not None and not any(abs(width - bar) <= _SLACK for width in wide):
            yield sheet.fault(message("there is no bar of {length}", length=Number(f"{bar:g} mm")), REPORT)
