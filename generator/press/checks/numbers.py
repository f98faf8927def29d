"""Every number on a page comes from somewhere."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from generator.base.errors import PageFault
from generator.base.words import on_the_line
from generator.press.advice import REPORT
from generator.press.sheet import Sheet
from generator.press.wish import Wish

# Digits with what may stand inside a number: a decimal sign, a fraction stroke. Vulgar fractions count too.
_NUMBER = re.compile(r"\d+(?:[.,/⁄]\d+)*[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]")

_FIX = (
    "if the recipe was changed since, make the file anew; if it is of another recipe or size, name that; if "
    f"neither, {REPORT}"
)


def needs(wish: Wish) -> str:
    """Without a recipe nobody knows where a number could come from."""
    return "" if wish.numbers is not None else "it needs the recipe"


def numbers_in(text: str) -> set[str]:
    """The numbers in a text, as they are written: ``11 3/4 in`` has ``11`` and ``3/4``."""
    return set(_NUMBER.findall(on_the_line(text)))


def untraceable_numbers(text: str, allowed: Iterable[str]) -> list[str]:
    """Numbers in a text that stand in none of the ``allowed`` texts, in order of appearance."""
    known: set[str] = set()
    for each in allowed:
        known |= numbers_in(each)
    return list(dict.fromkeys(number for number in _NUMBER.findall(on_the_line(text)) if number not in known))


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Runs with a number that ``wish.numbers`` does not have."""
    if wish.numbers is None:
        return
    known = frozenset(number for each in wish.numbers for number in numbers_in(each))
    for run in sheet.runs:
        for number in untraceable_numbers(run.text, known):
            # Counting pages is the engine's work: it cannot be known before.
            if all(letter.thing.furniture for letter in run.letters) and number.isdecimal():
                continue
            wrong = f"has the number {number}, which comes from no measure"
            yield sheet.fault(wrong, _FIX, run.box, run.text)
