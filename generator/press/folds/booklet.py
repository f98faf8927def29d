"""Pages of half a sheet, A5 on A4, stitched through the fold: a booklet of as many sheets as it takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.press.folding import A4, A5, HALF_LETTER, LETTER, LETTER_RAW, SRA4, Fold, Row


def sides(pages: int) -> Iterator[Sequence[Row]]:
    """Sheet by sheet from the outermost, front and back, for a number of pages that is a multiple of four."""
    for sheet in range(pages // 4):
        yield ((pages - 2 * sheet, 1 + 2 * sheet),)
        yield ((2 + 2 * sheet, pages - 1 - 2 * sheet),)


FOLD = Fold(
    page=A5,
    trim=(A4[1], A4[0]),
    media=(SRA4[1], SRA4[0]),
    turn="short edge",
    multiple=4,
    most=None,
    sides=sides,
)
OTHERS = {
    "Letter": replace(
        FOLD, page=HALF_LETTER, trim=(LETTER[1], LETTER[0]), media=(LETTER_RAW[1], LETTER_RAW[0])
    ),
}
