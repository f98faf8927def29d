"""A caution stands before the step that it guards, and on the same page."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import Message, message
from generator.press.advice import REPORT
from generator.press.parts import Part
from generator.press.sheet import Sheet
from generator.press.wish import Wish

ON_PRINT_SHEETS = False
"""Their pages have no tags, and so no cautions; they are those of the file to read."""
_SLACK = 0.5
"""Points by which boxes that touch may lie in each other."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Cautions read or printed after what is to be done, or parted from it by the end of the page."""
    parts = sheet.reading.parts
    for caution in (part for part in parts if part.what == "caution" and part.marks):
        guarded = [part for part in parts if part.what == "do" and part.card == caution.card and part.marks]
        if caution.card is None:
            if sheet.reading.marks[-1] == caution.marks[-1] and not sheet.is_last:
                wrong = message("is a caution at the end of its page, what it guards is overleaf")
                yield _fault(sheet, caution, wrong)
        elif not guarded:
            wrong = message("is a caution, and nothing that is to be done stands on its page")
            yield _fault(sheet, caution, wrong)
        elif any(_is_late(sheet, caution, part) for part in guarded):
            yield _fault(sheet, caution, message("is a caution that stands after what it guards"))


def _is_late(sheet: Sheet, caution: Part, guarded: Part) -> bool:
    """Whether a caution is heard or seen after the words that it guards."""
    order = sheet.reading.marks
    if order.index(caution.marks[0]) > order.index(guarded.marks[0]):
        return True
    above, below = sheet.box_of(caution), sheet.box_of(guarded)
    return above is not None and below is not None and above.bottom < below.top - _SLACK


def _fault(sheet: Sheet, caution: Part, wrong: Message) -> PageFault:
    return sheet.fault(wrong, REPORT, sheet.box_of(caution), sheet.words_of(caution))
