"""Where the pages of a folded document stand on its print sheets: pure geometry, no file is touched.

A way to fold is a file in ``folds/`` with a ``FOLD``. Lengths are in mm, counted from the lower left corner
of the trimmed sheet, y upwards.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from generator.base.errors import PressError, UsageError
from generator.base.message import message, together
from generator.base.registry import kinds, load_kind

A4, SRA4 = (210.0, 297.0), (225.0, 320.0)
"""Trimmed sheet (ISO 216) and the raw sheet that it is cut from (ISO 217), mm; both from memory."""
LETTER, LETTER_RAW = (215.9, 279.4), (228.6, 304.8)
"""Trimmed sheet (ANSI/ASME Y14.1, size A) and a raw sheet that it is cut from (9 × 12 in, the trade's size A
for architects), mm; both from memory."""
HALF_LETTER, QUARTER_LETTER = (139.7, 215.9), (107.95, 139.7)
A5, A6, A7 = (148.0, 210.0), (105.0, 148.0), (74.0, 105.0)
BLEED = 3.0
"""Colour may run so far beyond the trimmed edge."""
MARK_FROM, MARK_TO = 3.0, 7.0
"""Marks begin and end so far outside the trimmed edge: never within the bleed."""

PACKAGE = "generator.press.folds"

Size = tuple[float, float]
Row = Sequence[int]
"""Page numbers of a row of cells, from 1, as the printed side is seen; a page upside down is negative."""
Turn = Literal["short edge", "long edge", "one side"]


@dataclass(frozen=True, slots=True)
class Fold:
    """One way to fold a sheet."""

    page: Size
    """Width and height of a page, upright."""
    trim: Size
    """Width and height of the sheet when cut, as it is printed."""
    media: Size
    """Width and height of the sheet that goes through the press."""
    turn: Turn
    """The edge over which the sheet is turned to print its back."""
    multiple: int
    """Pages on one sheet of paper."""
    most: int | None
    """Most pages that there can be; None: as many sheets as it takes."""
    sides: Callable[[int], Iterator[Sequence[Row]]]
    """Rows of each printed side in turn, upper row first, for a whole number of sheets' pages."""
    slit: float = 0.0
    """Share of the width, in the middle of the sheet's middle line, that is slit before folding."""


@dataclass(frozen=True, slots=True)
class Place:
    """One page on a printed side."""

    page: int
    """Of the document, counted from 0."""
    middle: tuple[float, float]
    turned: bool
    """Printed upside down: it stands upright once the sheet is folded."""


@dataclass(frozen=True, slots=True)
class Line:
    """A mark for whoever cuts and folds."""

    start: tuple[float, float]
    end: tuple[float, float]
    kind: Literal["crop", "fold", "slit"]


def folds() -> tuple[str, ...]:
    """Names of the ways to fold that there are."""
    return tuple(kinds(PACKAGE))


def fold_named(name: str, paper: str = "A4") -> Fold:
    """One way to fold a paper: A4, or one of ``OTHERS`` in its file.

    Raises UsageError, naming those that there are, for another name, PressError for another paper.
    """
    if name not in folds():
        raise UsageError(
            message(
                "there is no way to fold called “{name}”; there is {known}",
                name=name,
                known=", ".join(folds()),
            )
        )
    module = load_kind(PACKAGE, name)
    known: Mapping[str, Fold] = {"A4": module.FOLD, **getattr(module, "OTHERS", {})}
    if paper not in known:
        raise PressError(
            message(
                "{paper} is not folded as “{name}”; {known} are",
                paper=paper,
                name=name,
                known=together(list(known)),
            )
        )
    return known[paper]


def padded(count: int, multiple: int) -> tuple[int | None, ...]:
    """Pages, counted from 0, filled up to whole sheets: blank ones stand before the last page.

    The last page is the back of the folded thing, the first one its front.
    """
    blank = (None,) * (-count % multiple)
    if count < 2:
        return (*range(count), *blank)
    return (*range(count - 1), *blank, count - 1)


def placed(fold: Fold, count: int) -> Iterator[tuple[Place, ...]]:
    """The pages of each printed side, blank ones left out, for a document of ``count`` pages."""
    pages = padded(count, fold.multiple)
    for rows in fold.sides(len(pages)):
        yield tuple(_side(fold, rows, pages))


def _side(fold: Fold, rows: Sequence[Row], pages: Sequence[int | None]) -> Iterator[Place]:
    width, height = fold.trim[0] / len(rows[0]), fold.trim[1] / len(rows)
    for down, row in enumerate(rows):
        for along, number in enumerate(row):
            page = pages[abs(number) - 1]
            if page is not None:
                middle = ((along + 0.5) * width, fold.trim[1] - (down + 0.5) * height)
                yield Place(page, middle, number < 0)


def marks(fold: Fold) -> Iterator[Line]:
    """Crop marks at the four corners and fold marks at both ends of each fold, alike on every side."""
    width, height = fold.trim
    rows = next(iter(fold.sides(fold.multiple)))
    for x in (0.0, width):
        yield from _upright(x, height, "crop")
    for y in (0.0, height):
        yield from _level(y, width, "crop")
    for along in range(1, len(rows[0])):
        yield from _upright(along * width / len(rows[0]), height, "fold")
    for down in range(1, len(rows)):
        yield from _level(down * height / len(rows), width, "fold")
    if fold.slit:
        half = fold.slit * width / 2
        yield Line((width / 2 - half, height / 2), (width / 2 + half, height / 2), "slit")


def _upright(x: float, height: float, kind: Literal["crop", "fold"]) -> Iterator[Line]:
    yield Line((x, -MARK_TO), (x, -MARK_FROM), kind)
    yield Line((x, height + MARK_FROM), (x, height + MARK_TO), kind)


def _level(y: float, width: float, kind: Literal["crop", "fold"]) -> Iterator[Line]:
    yield Line((-MARK_TO, y), (-MARK_FROM, y), kind)
    yield Line((width + MARK_FROM, y), (width + MARK_TO, y), kind)
