"""Languages that nobody speaks, for a trial of the layout before a translator begins.

Their codes are those of the Unicode CLDR project's pseudo-locales (UTS #35, part 1, *Unicode locale
identifiers*, from memory): ``en-XA`` is English four tenths longer, with accents; ``ar-XB`` is English from
right to left.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from generator.base.words import PLACEHOLDER

LONGER = 0.4
"""German and French are at most about so much longer than English (common practice, no source)."""
_ACCENTS = str.maketrans("aceinouyACEINOUY", "àçéîñöûýÀÇÉÎÑÖÛÝ")
_FILL = "löng wörds hére "
_SHORT = 2
"""Signs and units of so many letters stay as they are."""
_IN_FIGURES = ("label.", "alt.", "desc.", "graph.", "pair.", "stage.")
_OVERRIDE, _END = "\u202e", "\u202c"


def long(key: str, text: str) -> str:
    """A text four tenths longer, its letters accented; what is in braces stays."""
    pieces: list[str] = []
    end = letters = 0
    for match in PLACEHOLDER.finditer(text):
        pieces += [text[end : match.start()].translate(_ACCENTS), match[0]]
        letters += match.start() - end
        end = match.end()
    tail = text[end:]
    letters += len(tail)
    stop = tail[-1:] if tail[-1:] in {".", ":", ";", "?", "!", ","} else ""
    body = tail[: len(tail) - len(stop)].translate(_ACCENTS)
    if letters <= _SHORT:
        return "".join((*pieces, body, stop))
    more = round(LONGER * letters)
    fill = (_FILL * (more // len(_FILL) + 1))[:more].rstrip()
    return "".join((*pieces, body, " " if more > 4 and body else "", fill, stop))


def backwards(key: str, text: str) -> str:
    """A text whose words run from right to left; what is in braces stays as it is.

    Lettering in figures stays as it is: it is set sign by sign, from left to right.
    """
    if key.startswith(_IN_FIGURES):
        return text
    pieces: list[str] = []
    end = 0
    for match in PLACEHOLDER.finditer(text):
        pieces += [_turned(text[end : match.start()]), match[0]]
        end = match.end()
    return "".join((*pieces, _turned(text[end:])))


def _turned(text: str) -> str:
    return f"{_OVERRIDE}{text}{_END}" if any(sign.isalpha() for sign in text) else text


LANGUAGES: Mapping[str, Callable[[str, str], str]] = {"en-XA": long, "ar-XB": backwards}
"""What is done to an English sentence with its key, by code."""
