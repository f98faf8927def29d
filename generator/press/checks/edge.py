"""Nothing stands where a printer cannot print, or off the sheet."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import Number, message
from generator.press.advice import REPORT, SHORTEN
from generator.press.geometry import MM_PER_POINT
from generator.press.sheet import Sheet, Thing
from generator.press.wish import Wish

_SLACK = 0.05
"""Points: rounding of the file's own numbers."""

ON_PRINT_SHEETS = False
"""Marks to cut and to fold by stand at the edge of the sheet on purpose."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Text and shapes nearer than ``wish.edge`` to the sheet's edge."""
    safe = sheet.box.shrunk(wish.edge / MM_PER_POINT)
    words = {id(letter.thing): run.text.strip() for run in sheet.runs for letter in run.letters}
    for thing in sheet.things:
        # What lies wholly outside is empty when cut by a clip, but text off the page must still be told.
        box = thing.box if thing.is_text else thing.visible
        if box.empty and not _is_line(thing):
            continue
        if not safe.holds(box, _SLACK):
            edge = Number(f"{wish.edge:g} mm")
            if thing.is_text:
                wrong = message(
                    "is within {edge} of the sheet's edge, where many printers cannot print", edge=edge
                )
                yield sheet.fault(wrong, SHORTEN, box, words.get(id(thing), "?"))
            else:
                wrong = message(
                    "a line or a shape is within {edge} of the sheet's edge, where many printers cannot "
                    "print",
                    edge=edge,
                )
                yield sheet.fault(wrong, REPORT, box)


def _is_line(thing: Thing) -> bool:
    """Whether it is an unstroked or hairline rule: no area, yet to be seen."""
    box = thing.visible
    return (
        not thing.is_text
        and (box.right > box.left or box.top > box.bottom)
        and box.right >= box.left
        and (box.top >= box.bottom)
    )
