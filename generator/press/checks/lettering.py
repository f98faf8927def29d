"""Letters that can be read: none too small, none that no font has."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import Number, message
from generator.press.advice import REPORT
from generator.press.sheet import Sheet
from generator.press.wish import Wish

_ROUNDING = 0.02
"""Points: 8 pt comes back from the file as 7.9999."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Runs that hold a letter under ``wish.least_size``, or a sign without a glyph."""
    for run in sheet.runs:
        size = min(letter.thing.size for letter in run.letters)
        if size < wish.least_size - _ROUNDING:
            high, least = Number(f"{size:.1f} pt"), Number(f"{wish.least_size:g} pt")
            wrong = message("is {high} high, the least is {least}", high=high, least=least)
            yield sheet.fault(wrong, REPORT, run.box, run.text)
        if any(letter.spoiled for letter in run.letters):
            fix = message(
                "write it with other signs if it is yours (in a recipe or a list); if not, please report it"
            )
            yield sheet.fault(message("holds a sign that no font has"), fix, run.box, run.text)
