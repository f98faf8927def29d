"""Two lengths written together, as people name a piece of cloth: ``108 x 60 cm``."""

from __future__ import annotations

import re

from generator.base.message import Message, in_three, message
from generator.base.units import LengthError, parse_length, quoted

_BETWEEN = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[^0-9./\s,-].*$")
EXPECTED = message("two lengths with their unit, the width first")
EXAMPLE = message("write such as {text}", text='"108 x 60 cm"')


class SidesError(ValueError):
    """A text is no such pair; it says in words what is wrong and what to write."""

    def __init__(self, wrong: Message, fix: Message = EXAMPLE) -> None:
        super().__init__(wrong)
        self.wrong = wrong
        self.expected = EXPECTED
        self.fix = fix

    @property
    def said(self) -> Message:
        """All three in one line."""
        return in_three(self.wrong, self.expected, self.fix)


def parse_sides(text: str) -> tuple[float, float]:
    """Millimetres of ``108 x 60 cm``, ``1.08 m × 600 mm`` or ``42 1/2 by 24 in``: the unit may stand once.

    Raises SidesError, a ValueError, for anything else and for a length of 0.
    """
    parts = _BETWEEN.split(text.strip())
    if len(parts) != 2 or not all(parts):
        raise SidesError(message("{text} is not a size of a piece of cloth", text=quoted(text)))
    first, second = parts
    unit = _UNIT.search(second)
    if unit is not None and not _UNIT.search(first):
        first = f"{first} {unit[0]}"
    found = []
    for part in (first, second):
        try:
            length = parse_length(part)
        except LengthError as error:
            raise SidesError(error.wrong, error.fix) from error
        if length == 0:
            raise SidesError(message("{text} is zero", text=quoted(part)))
        found.append(length)
    return found[0], found[1]
