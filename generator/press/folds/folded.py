"""One sheet folded twice, A4 to A6, without a slit: cover, a pair within, four panels when it is laid open.

The eight pages are in reading order: cover, the left page of the pair, the four panels from left to right
and from top to bottom, the right page of the pair, back. With the panels up it is folded top over bottom,
then left over right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.press.folding import A4, A6, LETTER, LETTER_RAW, QUARTER_LETTER, SRA4, Fold, Row


def sides(pages: int) -> Iterator[Sequence[Row]]:
    """The outer side, whose upper row is printed upside down, and the inner one."""
    yield ((-7, -2), (8, 1))
    yield ((3, 4), (5, 6))


FOLD = Fold(page=A6, trim=A4, media=SRA4, turn="long edge", multiple=8, most=8, sides=sides)
OTHERS = {"Letter": replace(FOLD, page=QUARTER_LETTER, trim=LETTER, media=LETTER_RAW)}
