"""No content stands beyond the margins of its page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import SHORTEN
from generator.press.sheet import Sheet
from generator.press.wish import Wish

ON_PRINT_SHEETS = False
"""Several pages stand on such a sheet, each with margins of its own."""
_SLACK = 1.0
"""Points: the engine's own rounding, and an overhanging letter of small print."""
_ROUNDING, _OVERHANG = 0.6, 0.055
"""Points, and the share of its size by which a letter may stand out sideways before its place: in our bold
font the j does by 0.051, the i with a grave by 0.053 (its glyph table)."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Text beyond where the file says that margins begin; running lines and page numbers stand there."""
    for run in sheet.runs:
        thing = run.letters[0].thing
        out = max(0.0, _ROUNDING + _OVERHANG * thing.size - _SLACK)
        place = replace(run.box, left=run.box.left + out, right=run.box.right - out)
        if not thing.furniture and not sheet.margins.holds(place, _SLACK):
            yield sheet.fault(message("stands beyond the margin of its page"), SHORTEN, run.box, run.text)
