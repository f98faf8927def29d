"""A full-scale document is printed at full size, and each page has the bar that proves it."""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from generator.press.geometry import MM_PER_POINT
from generator.press.reading import Sheet
from generator.press.wish import Wish

_SLACK = 0.05
"""Millimetres by which the bar in the file may be off."""
_THIN = 4.0
"""A bar is no higher than this, mm."""


def find_in_file(pdf: pikepdf.Pdf, wish: Wish) -> Iterator[str]:
    """A viewer that is free to fit the pages to its paper."""
    if wish.bar is None:
        return
    preferences = pdf.Root.get("/ViewerPreferences", pikepdf.Dictionary())
    if preferences.get("/PrintScaling") != pikepdf.Name("/None"):
        yield "the document does not ask to be printed at full size"


def find(sheet: Sheet, wish: Wish) -> Iterator[str]:
    """A page without a bar of the right length."""
    if wish.bar is None:
        return
    boxes = [thing.visible for thing in sheet.things if not thing.is_text]
    wide = [
        (box.right - box.left) * MM_PER_POINT
        for box in boxes
        if 0 < (box.top - box.bottom) * MM_PER_POINT < _THIN
    ]
    if not any(abs(width - wish.bar) <= _SLACK for width in wide):
        yield f"there is no bar of {wish.bar:g} mm"
