"""No letter is cut off by the frame of its figure or of its box."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import SHORTEN
from generator.press.sheet import Sheet
from generator.press.wish import Wish

_SLACK = 0.2
"""Points: a round letter leans over its box by less than this, and no eye sees it."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Runs of letters with ink beyond what clips them: an SVG's viewport, a box with hidden overflow."""
    for run in sheet.runs:
        cut = "".join(
            letter.sign
            for letter in run.letters
            if letter.thing.clip is not None and not letter.thing.clip.holds(letter.box, _SLACK)
        )
        if cut:
            yield sheet.fault(message("is cut off at “{cut}”", cut=cut), SHORTEN, run.box, run.text)
