"""What is wrong with a person's file, and what they should know of it, said in their language.

``faults.po`` of a language has the templates of ``base/message.py`` as its msgids. It is read by itself: a
sheet needs none of it, and who checks a recipe needs nothing else. A sentence that differs with a number
names it as its ``msgid_plural``, as in all catalogues. What a catalogue lacks is said in English.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from babel.numbers import get_decimal_symbol

from generator.base.edition import REFERENCE, Voice
from generator.base.errors import in_a_line, shortened
from generator.base.message import Message, Name, Number, filled
from generator.sheets.catalogues import Text, messages, read_faults
from generator.sheets.formatting import locale_of

_CAPITALS = frozenset(("de",))
"""Languages that write a noun with a capital even within a sentence."""
_POINT = re.compile(r"(?<=[0-9])\.(?=[0-9])")


def _nothing(key: str) -> str | None:
    return None


@dataclass(frozen=True)
class Tongue:
    """One language as faults are told in it."""

    texts: Mapping[str, Text]
    """What it says, by the English template."""
    point: str
    """What it writes in a number where English has a point."""
    called: Callable[[str], str | None] = _nothing
    """What the sheets call something, by the key of its name."""

    def say(self, text: str) -> str:
        """A message with its values in this language; a text that is none as it stands."""
        if isinstance(text, Number):
            return _POINT.sub(self.point, text)
        if not isinstance(text, Message):
            return text
        if isinstance(text, Name):
            return self.called(text.key) or str(text)
        template = self._template(text)
        if not text.values:
            return template
        return filled(template, {name: self._value(held) for name, held in text.values.items()})

    def has(self, text: str) -> bool:
        """Whether it has words of its own for a message; of several that are joined, for each."""
        if not isinstance(text, Message):
            return False
        if isinstance(text, Name):
            return self.called(text.key) is not None
        if text.joins:
            return all(self.has(part) for part in text.values.values() if isinstance(part, Message))
        return text.template in self.texts

    def _value(self, value: object) -> str:
        if isinstance(value, Message):
            # Its own values stand in a line already, and spaces that hold the words of a language together
            # would be lost: French has them within its quotation marks. Of one that is made of others each of
            # those is no longer than anybody reads.
            said = self.say(value)
            composed = value.joins or any(isinstance(held, Message) for held in value.values.values())
            return said if composed else shortened(said)
        return in_a_line(self.say(value) if isinstance(value, str) else str(value))

    def _template(self, said: Message) -> str:
        held = self.texts.get(said.template)
        if isinstance(held, str):
            return held
        counted = said.values.get("count")
        if held is None and said.joins:
            return said.template
        if held is None:
            return in_a_line(said.one if said.one and counted == 1 else said.template)
        return held.texts[held.which(counted) if isinstance(counted, int) else -1]


@cache
def tongue(language: str) -> Tongue:
    """That of a language. Raises WordingError for a catalogue that is not sound."""

    def called(key: str) -> str | None:
        # Only who is told of a name needs all that is on the sheets.
        found = messages(Voice(language)).texts.get(key)
        if not isinstance(found, str):
            return None
        return found if language in _CAPITALS else found[:1].lower() + found[1:]

    return Tongue(read_faults(language), get_decimal_symbol(locale_of(language)), called)


def said_in(text: str, language: str) -> str:
    """A message in a language, its numbers as that writes them; a text that is none as it stands."""
    return str(text) if language == REFERENCE else tongue(language).say(text)


def is_said_in(text: str, language: str) -> bool:
    """Whether a language has words of its own for a message."""
    return language == REFERENCE or tongue(language).has(text)
