"""Every number on a page comes from somewhere."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from generator.base.errors import PageFault
from generator.base.message import Message, message
from generator.base.words import on_the_line
from generator.press.advice import REPORT
from generator.press.sheet import Sheet
from generator.press.wish import Wish

# Digits with what may stand inside a number: a thin space before three of them, a decimal sign, a fraction
# stroke. Vulgar fractions count too.
_NUMBER = re.compile(r"\d+(?:\u202f\d{3})*(?:[.,/⁄]\d+)*[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]")
# As a page is read back, its thin spaces are spaces like others.
_IN_THREES = re.compile(r"(?<!\d)\d{1,3}(?:\s\d{3})+(?!\d)")

_FIX = message(
    "if the recipe was changed since, make the file anew; if it is of another recipe or size, name that; if "
    "neither, {report}",
    report=REPORT,
)


def needs(wish: Wish) -> Message | None:
    """Without a recipe nobody knows where a number could come from."""
    return None if wish.numbers is not None else message("it needs the recipe")


def numbers_in(text: str) -> set[str]:
    """The numbers in a text, as they are written: ``11 3/4 in`` has ``11`` and ``3/4``."""
    return set(_NUMBER.findall(on_the_line(text)))


def untraceable_numbers(text: str, allowed: Iterable[str]) -> list[str]:
    """Numbers in a text that stand in none of the ``allowed`` texts, in order of appearance."""
    return _untraceable(text, frozenset(number for each in allowed for number in numbers_in(each)))


def _untraceable(text: str, known: frozenset[str]) -> list[str]:
    plain = on_the_line(text)
    if not _NUMBER.search(plain):
        return []

    def without_known(found: re.Match[str]) -> str:
        """Only what is known as one number is read as one: a table may have ``5 120`` in two columns."""
        parts = found[0].split()
        for count in range(len(parts), 1, -1):
            for first in range(len(parts) - count + 1):
                if "\u202f".join(parts[first : first + count]) in known:
                    return " ".join((*parts[:first], "", *parts[first + count :]))
        return found[0]

    read = _IN_THREES.sub(without_known, plain)
    return list(dict.fromkeys(number for number in _NUMBER.findall(read) if number not in known))


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Runs with a number that ``wish.numbers`` does not have."""
    if wish.numbers is None:
        return
    known = frozenset(number for each in wish.numbers for number in numbers_in(each))
    for run in sheet.runs:
        for number in _untraceable(run.text, known):
            # Counting pages is the engine's work: it cannot be known before.
            if all(letter.thing.furniture for letter in run.letters) and number.isdecimal():
                continue
            wrong = message("has the number {number}, which comes from no measure", number=number)
            yield sheet.fault(wrong, _FIX, run.box, run.text)
