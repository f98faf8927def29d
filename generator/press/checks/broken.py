"""A card stands whole on one page, so that nobody turns the page within a step."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import SHORTEN
from generator.press.sheet import Sheet
from generator.press.wish import Wish

ON_PRINT_SHEETS = False
"""Their pages have no tags, and so no cards; they are those of the file to read."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Cards, or cells of a leaflet, that began on a page before this one."""
    for part in sheet.reading.parts:
        if part.what == "card" and part.title in sheet.begun:
            words = sheet.words_of(part)
            wrong = message("belongs to a card that began on the page before and is broken here")
            yield sheet.fault(wrong, SHORTEN, sheet.box_of(part), words or "?")
