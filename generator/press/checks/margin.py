"""No content stands beyond the margins of its page."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.press.advice import SHORTEN
from generator.press.sheet import Sheet
from generator.press.wish import Wish

ON_PRINT_SHEETS = False
"""Several pages stand on such a sheet, each with margins of its own."""
_SLACK = 1.0
"""Points: an overhanging letter, and the engine's own rounding."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Text beyond where the file says that margins begin; running lines and page numbers stand there."""
    for run in sheet.runs:
        thing = run.letters[0].thing
        if not thing.furniture and not sheet.margins.holds(run.box, _SLACK):
            yield sheet.fault("stands beyond the margin of its page", SHORTEN, run.box, run.text)
