"""No text stands on other text."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import REPORT, SHORTEN
from generator.press.geometry import meeting, overlap_depth
from generator.press.sheet import Run, Sheet
from generator.press.wish import Wish

_DEPTH = 0.06
"""Share of the smaller letter's size by which ink boxes of two lines may enter each other."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Pairs of runs whose letters lie over each other, and text that is printed twice on one spot."""
    boxes = [run.box for run in sheet.runs]
    for one, two in meeting(boxes, boxes):
        first, second = sheet.runs[one], sheet.runs[two]
        if one < two and _touch(first, second):
            wrong = message("is printed over “{text}”", text=first.text.strip())
            yield sheet.fault(wrong, SHORTEN, boxes[two], second.text)
    # The reader drops a text that repeats another on the same spot, but it still counts the object.
    read = {id(letter.thing) for run in sheet.runs for letter in run.letters}
    for thing in sheet.things:
        if thing.is_text and not thing.box.empty and id(thing) not in read:
            yield sheet.fault(message("a text is printed twice on the same spot"), REPORT, thing.box)


def _touch(first: Run, second: Run) -> bool:
    for one in first.letters:
        for two in second.letters:
            if one.box.meets(two.box) and overlap_depth(one.quad, two.quad) > _DEPTH * min(
                one.thing.size, two.thing.size
            ):
                return True
    return False
