"""In which language the command line tells what is wrong, warns, and says what was made."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextvars import ContextVar
from typing import TYPE_CHECKING

from generator.base.edition import REFERENCE

if TYPE_CHECKING:
    from generator.base.errors import RimfoldError

ORDER = ("LC_ALL", "LC_MESSAGES", "LANG")
"""Where a system says in which language programs speak: the first that says anything holds (POSIX.1-2017,
Base Definitions, section 8.2, from memory)."""

_SPOKEN: ContextVar[str] = ContextVar("spoken", default=REFERENCE)


def language_of(environment: Mapping[str, str]) -> str:
    """The language that the environment asks for; English where it asks for none, or for one unknown here."""
    asked = next((value for name in ORDER if (value := environment.get(name))), "")
    return known(re.split(r"[_.@-]", asked, maxsplit=1)[0])


def known(code: str, otherwise: str = REFERENCE) -> str:
    """A code of a language, or another one where there are no words in it."""
    from generator.base.assets import languages

    return code.lower() if code.lower() in languages() else otherwise


def speak(language: str) -> None:
    """From here on tell faults and warnings in this language."""
    _SPOKEN.set(language)


def speaking() -> str:
    """The language of faults and warnings."""
    return _SPOKEN.get()


def said(text: str) -> str:
    """A message in that language."""
    if speaking() == REFERENCE:
        return str(text)
    # Who is told in English needs no catalogue.
    from generator.sheets.said import said_in

    return said_in(text, speaking())


def told(error: RimfoldError) -> str:
    """All that an error says, line by line, in that language."""
    return "\n".join(map(said, error.lines))
