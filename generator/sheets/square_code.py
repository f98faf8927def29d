"""An address as a square code, drawn in vectors, with the white border that a reader needs."""

from __future__ import annotations

from dataclasses import dataclass

import segno

from generator.sheets.wording import Catalogue

LEAST_MODULE = 0.4
"""A square of the code is at least so wide on paper, mm: what a common printer and telephone still tell apart
(common practice, no source)."""
QUIET = 4
"""White squares all round (ISO/IEC 18004, from memory; restated on a public page that was read)."""


@dataclass(frozen=True, slots=True)
class SquareCode:
    """A code of a fixed size."""

    data: str
    """Data URI of the drawing, white border included."""
    alt: str
    side: float
    """Width and height on paper with the border, mm."""


def square_code(address: str | None, words: Catalogue, wish: float) -> SquareCode | None:
    """The code of an address, ``wish`` mm wide with its border, or wider for squares that can be read."""
    if not address:
        return None
    code = segno.make(address, error="m", micro=False)
    if code.symbol_size(border=QUIET)[0] * LEAST_MODULE > wish:
        # A long address: less to spare for dirt, so that there are fewer squares.
        code = segno.make(address, error="l", micro=False)
    modules = code.symbol_size(border=QUIET)[0]
    data: str = code.svg_data_uri(border=QUIET, omitsize=True, dark="#1B1B1B")
    return SquareCode(data, words.say("page.link", link=address), max(wish, modules * LEAST_MODULE))
