"""No letter is covered by what is painted after it, or white on white."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import REPORT
from generator.press.geometry import meeting
from generator.press.sheet import Letter, Sheet
from generator.press.wish import Wish

if TYPE_CHECKING:
    from PIL.Image import Image

_CONTRAST = 40
"""Of 255: the least trace of a letter on its ground. The palest text of the palette leaves 120 on paper."""
_SOLID = 128
"""Of 255: from here a pixel belongs to the letter's body, not to its soft edge."""
_SHARE = 0.6
"""Least share of a letter's body that must be seen."""
_PALE = 0.7
"""Lightness from which a letter may be lost on paper."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Letters of which too little is seen: the page is painted with and without its text, and compared.

    Painting takes time, so only pages on which something may hide a letter are painted.
    """
    doubtful = _doubtful(sheet)
    if not doubtful:
        return
    seen, alone = _trace(sheet)
    for run in sheet.runs:
        lost = "".join(
            letter.sign
            for letter in run.letters
            if letter.thing.order in doubtful
            and _is_lost(_crop(seen, letter, sheet), _crop(alone, letter, sheet))
        )
        if lost:
            yield sheet.fault(message("cannot be seen at “{lost}”", lost=lost), REPORT, run.box, run.text)


def _doubtful(sheet: Sheet) -> set[int]:
    """Places in the order of painting of the texts that are pale, or that something later lies over."""
    texts = [thing for thing in sheet.things if thing.is_text]
    shapes = [thing for thing in sheet.things if not thing.is_text]
    pairs = meeting([thing.box for thing in texts], [thing.visible for thing in shapes])
    covered = {texts[one].order for one, two in pairs if shapes[two].order > texts[one].order}
    return covered | {thing.order for thing in texts if thing.light > _PALE}


def _trace(sheet: Sheet) -> tuple[Image, Image]:
    """What the text changes on the page, and what it would change on white paper, both in grey."""
    from PIL import ImageChops

    painting = sheet.painting
    return ImageChops.difference(painting.whole, painting.ground.convert("L")), painting.ink


def _crop(image: Image, letter: Letter, sheet: Sheet) -> bytes:
    return image.crop(sheet.painting.area(letter.box)).tobytes()


def _is_lost(seen: bytes, alone: bytes) -> bool:
    body = [trace for trace, ink in zip(seen, alone, strict=True) if ink >= _SOLID]
    if not body:  # a pale letter, which leaves no body on white: any trace will do
        return max(seen, default=0) < _CONTRAST
    return sum(trace >= _CONTRAST for trace in body) < _SHARE * len(body)
