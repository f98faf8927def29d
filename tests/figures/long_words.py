"""A language that nobody speaks: every word of a picture four tenths longer, with accents."""

from __future__ import annotations

from fractions import Fraction

from generator.base.words import Words

LONGER = 0.4
"""German and French are about so much longer than English (common practice of translators, no source)."""
FILL = "öàéîçñ lögen wörten drüm"


class LongWords:
    """The words of another language, each label lengthened; numbers as that language writes them."""

    def __init__(self, words: Words) -> None:
        self.words, self.language = words, words.language

    def say(self, key: str, **values: object) -> str:
        """The text of a key."""
        text = self.words.say(key, **values)
        if not key.startswith("label.") or len(text) < 2:
            return text
        return text + FILL[: round(len(text) * LONGER)].rstrip()

    def number(self, value: float) -> str:
        """A number as the language writes it."""
        return self.words.number(value)

    def length(self, shown: float, inches: Fraction | None) -> str:
        """A length as the language writes it."""
        return self.words.length(shown, inches)
