"""No content stands beyond the margins of its page."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.press.advice import SHORTEN
from generator.press.sheet import Sheet
from generator.press.wish import Wish

ON_PRINT_SHEETS = False
"""Several pages stand on such a sheet, each with margins of its own."""
_SLACK, _OVERHANG = 0.6, 0.055
"""Points for the engine's own rounding; and the share of its size by which a letter may stand out before its
place: in our bold font the j does by 0.051, the i with a grave by 0.053 (its glyph table)."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Text beyond where the file says that margins begin; running lines and page numbers stand there."""
    for run in sheet.runs:
        thing = run.letters[0].thing
        slack = _SLACK + _OVERHANG * thing.size
        if not thing.furniture and not sheet.margins.holds(run.box, slack):
            yield sheet.fault("stands beyond the margin of its page", SHORTEN, run.box, run.text)
