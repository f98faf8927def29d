"""What a room that draws or prints needs of wording, without knowing where wording comes from."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Protocol

PLACEHOLDER = re.compile(r"\{([a-z_]+)(?::([a-z-]+))?\}")
"""A name in a sentence, and how its value is printed."""


INCH_SIGN = "″"
"""The inch in a drawing and where there is no room for its word, U+2033."""


# Raised and lowered figures on both sides of a stroke; a raised figure alone is a power, as in mm².
_SMALL = re.compile(r"([⁰¹²³⁴⁵⁶⁷⁸⁹]+)[/⁄]([₀₁₂₃₄₅₆₇₈₉]+)")


def on_the_line(text: str) -> str:
    """A text with small fractions as they are written on the line: ``11³/₁₆`` is ``11 3/16``."""
    return _SMALL.sub(_set_down, text)


def _set_down(match: re.Match[str]) -> str:
    fraction = unicodedata.normalize("NFKC", f"{match[1]}/{match[2]}")
    return f" {fraction}" if match.string[: match.start()][-1:].isdigit() else fraction


class Words(Protocol):
    """Wording of one language. The sheets room implements it; the figures room uses it."""

    language: str

    def say(self, key: str, **values: object) -> str:
        """Plain text for a key, its named placeholders filled. Raises WordingError if it is missing."""
        ...

    def number(self, value: float) -> str:
        """A number as this language writes it, without trailing zeros."""
        ...

    def length(self, shown: float, inches: Fraction | None) -> str:
        """A length in a drawing: ``shown`` millimetres, or inches where this voice has them first."""
        ...
