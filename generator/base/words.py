"""What a room that draws or prints needs of wording, without knowing where wording comes from."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Protocol

PLACEHOLDER = re.compile(r"\{([a-z_]+)(?::([a-z-]+))?\}")
"""A name in a sentence, and how its value is printed."""


INCH_SIGN = "″"
"""The inch in a drawing and where there is no room for its word, U+2033."""


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
