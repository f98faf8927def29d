"""Letters that can be read: none too small, none that no font has."""

from __future__ import annotations

from collections.abc import Iterator

from generator.press.reading import Sheet
from generator.press.wish import Wish

_ROUNDING = 0.02
"""Points: 8 pt comes back from the file as 7.9999."""


def find(sheet: Sheet, wish: Wish) -> Iterator[str]:
    """Runs that hold a letter under ``wish.least_size``, or a sign without a glyph."""
    for run in sheet.runs:
        size = min(letter.thing.size for letter in run.letters)
        if size < wish.least_size - _ROUNDING:
            yield (
                f'the text "{run.text.strip()}" is {size:.1f} pt high, the least is {wish.least_size:g} pt '
                f"({sheet.where(run.box)})"
            )
        if any(letter.spoiled for letter in run.letters):
            yield f'the text "{run.text.strip()}" holds a sign that no font has ({sheet.where(run.box)})'
