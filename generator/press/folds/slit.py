"""One A4 sheet printed on one side, slit once: a booklet of eight A7 pages without a stitch.

It is folded lengthwise, the print outside; its ends are pushed together so that the slit opens, and the
leaves are wrapped round the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.press.folding import A4, A7, SRA4, Fold, Row


def sides(pages: int) -> Iterator[Sequence[Row]]:
    """The one printed side: its upper row is printed upside down."""
    yield ((-1, -8, -7, -6), (2, 3, 4, 5))


FOLD = Fold(
    page=A7,
    trim=(A4[1], A4[0]),
    media=(SRA4[1], SRA4[0]),
    turn="one side",
    multiple=8,
    most=8,
    sides=sides,
    slit=0.5,
)
