"""Catalogues of wording as they stand in files: gettext, one folder a language, within it one a tone.

Every ``.po`` file in ``templates/wording/<language>`` is read. What a language lacks comes from the
reference language and is named, so that it can be reported. ``templates/wording/<language>/<tone>`` holds
sentences that take the place of the plain ones in that tone.

A sentence that differs with a number has several texts, in gettext's way; its ``msgid_plural`` names the
value that counts::

    msgid "pick.size"
    msgid_plural "{boxes}"
    msgstr[0] "{name}: one box"
    msgstr[1] "{name}: {boxes} boxes"

Which text belongs to a number is said by ``Plural-Forms`` at the top of the file (GNU gettext manual, section
11.2.6, *Additional functions for plural forms*, from memory).
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.base.assets import data_folder, languages
from generator.base.edition import ENGLISH, Voice
from generator.base.errors import WordingError
from generator.base.words import PLACEHOLDER
from generator.sheets import pseudo
from generator.sheets.plain_catalogue import Entry, Plain, read_plain

FAULTS = "faults.po"
"""What is wrong with a file that a person wrote: read by itself, ``read_faults``."""
_MSGID = re.compile(r'^msgid "(.+)"$', re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Counted:
    """Texts for different numbers of one thing."""

    name: str
    """The value that counts."""
    texts: tuple[str, ...]
    which: Callable[[int], int]
    """Which of the texts belongs to a number."""


Text = str | Counted


@dataclass(frozen=True)
class Messages:
    """All texts of a voice by key, in the order of the reference language's files."""

    texts: Mapping[str, Text]
    borrowed: tuple[str, ...] = ()
    """Keys that the language lacks, whose texts are those of the reference language."""


@cache
def messages(voice: Voice) -> Messages:
    """The texts of a language in a tone. Raises WordingError if there are none, or a file is not sound."""
    language = voice.language
    if language in pseudo.LANGUAGES:
        plain = messages(Voice(tone=voice.tone)).texts
        return Messages({key: _each(key, text, pseudo.LANGUAGES[language]) for key, text in plain.items()})
    if language not in languages():
        raise WordingError(f"there is no wording in “{language}”; there is {', '.join(languages())}")
    own = read_folder(_folder(language))
    whole = Messages(own) if language == ENGLISH.language else completed(own, messages(ENGLISH).texts)
    if voice.tone == ENGLISH.tone:
        return whole
    return Messages({**whole.texts, **read_folder(_folder(language) / voice.tone)}, whole.borrowed)


def completed(own: Mapping[str, Text], reference: Mapping[str, Text]) -> Messages:
    """What a language says, and of the rest what the reference says.

    The reference's order of keys holds, since of equal variants the first counts.
    """
    return Messages({**reference, **own}, tuple(key for key in reference if key not in own))


def _each(key: str, text: Text, change: Callable[[str, str], str]) -> Text:
    if isinstance(text, str):
        return change(key, text)
    return Counted(text.name, tuple(change(key, each) for each in text.texts), text.which)


def _folder(language: str) -> Path:
    return data_folder("templates") / "wording" / language


def _several(text: object) -> tuple[str, ...]:
    """One text or, of what counts, all."""
    return tuple(str(each or "") for each in text) if isinstance(text, list | tuple) else (str(text or ""),)


def read_folder(folder: Path) -> dict[str, Text]:
    """Texts by key of all catalogues in a folder. Raises WordingError."""
    found: dict[str, Text] = {}
    for path in sorted(folder.glob("*.po")):
        if path.name == FAULTS:
            continue
        for key, text in _read(path):
            if key in found:
                raise WordingError(f"{path.name}: the key “{key}” stands in two catalogues")
            found[key] = text
    return found


def read_faults(language: str) -> dict[str, Text]:
    """What a language says of faults, by the English templates; nothing if it has no such catalogue.

    Raises WordingError for a catalogue that is not sound.
    """
    path = _folder(language) / FAULTS
    return dict(_read(path, braces=True)) if path.is_file() else {}


def _read(path: Path, *, braces: bool = False) -> Iterator[tuple[str, Text]]:
    """Keys and texts of one catalogue, in its order. ``braces``: they may stand in a text as such."""
    text = path.read_text(encoding="utf-8")
    written = _MSGID.findall(text)
    twice = (
        next((key for key in written if written.count(key) > 1), None)
        if len(set(written)) < len(written)
        else None
    )
    if twice:
        raise WordingError(f"{path.name}: the key “{twice}” stands twice")
    whole = read_plain(text) or _read_by_babel(path)
    which = _which(whole.rule)
    for entry in whole.entries:
        key = entry.key
        for said in entry.texts:
            if not said:
                raise WordingError(f"{path.name}: the key “{key}” has no text")
            stray = not braces and ("{" in said or "}" in said)
            if stray and re.search(r"[{}]", PLACEHOLDER.sub("", said)):
                raise WordingError(f"{path.name}: “{key}” has a brace that belongs to no placeholder")
        if entry.counted is None:
            yield key, entry.texts[0]
            continue
        counts = PLACEHOLDER.fullmatch(entry.counted)
        if counts is None or len(entry.texts) != whole.plurals:
            raise WordingError(
                f"{path.name}: “{key}” needs the value that counts as its msgid_plural, such as {{count}}, "
                f"and {whole.plurals} texts, as the Plural-Forms of the file say"
            )
        yield key, Counted(counts[1], entry.texts, which)


@cache
def _which(rule: str) -> Callable[[int], int]:
    """Which of several texts belongs to a number, by a rule of a catalogue."""
    return gettext.c2py(rule or "0")


def _read_by_babel(path: Path) -> Plain:
    """A catalogue that is not written as they usually are. Raises WordingError if it is none."""
    from babel.messages.pofile import PoFileError, read_po

    try:
        with path.open("rb") as stream:
            catalogue = read_po(stream, abort_invalid=True)
    except (PoFileError, ValueError) as error:
        raise WordingError(f"{path.name} cannot be read: {error}") from None
    found = []
    for message in catalogue:
        if message.id:
            key, *counted = _several(message.id)
            found.append(Entry(key, counted[0] if counted else None, _several(message.string)))
    return Plain(tuple(found), catalogue.num_plurals, catalogue.plural_expr)
