"""Catalogues as they usually are, read in one go: Babel reads line by line, and takes several times as long.

Nothing is refused here. Whatever is written in another way, were it only an escape, gets no answer, and Babel
reads it and says what is wrong with it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_STRING = r'"[^"\\\n]*"\n'
_COMMENT = r"(?:#(?:[ .:][^\n]*)?\n)"
_HEADER = re.compile(rf'(?:{_COMMENT}|\n)*msgid ""\nmsgstr ""\n((?:"[^"\\\n]*\\n"\n)+)\n')
_PLURALS = re.compile(r'^"Plural-Forms: nplurals=([1-9]); plural=([^;"\\]+);\\n"$', re.MULTILINE)
_CHARSET = '"Content-Type: text/plain; charset=UTF-8\\n"'
_ENTRY = re.compile(
    rf'(?:{_COMMENT}|\n)*msgid "([^"\\\n]+)"\n(?:msgid_plural "([^"\\\n]+)"\nmsgstr\[0\] ((?:{_STRING})+)'
    rf"((?:msgstr\[[1-9]\] (?:{_STRING})+)*)|msgstr ((?:{_STRING})+))"
)
_END = re.compile(rf"(?:{_COMMENT}|\n)*")
_FURTHER = re.compile(rf"msgstr\[([1-9])\] ((?:{_STRING})+)")


@dataclass(frozen=True, slots=True)
class Entry:
    """A message: its key, the value that counts where there are several texts, and the texts."""

    key: str
    counted: str | None
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plain:
    """A catalogue: its messages in the order of the file, and how texts are chosen by number."""

    entries: tuple[Entry, ...]
    plurals: int
    """How many texts there are of what counts; 0 where the file does not say so, and nothing in it counts."""
    rule: str


def read_plain(text: str) -> Plain | None:
    """The messages of a catalogue; None if it is written in another way than the usual one."""
    header = _HEADER.match(text)
    if header is None or _CHARSET not in header[1]:
        return None
    told = _PLURALS.search(header[1])
    if told is None and "Plural-Forms" in header[1]:
        return None
    plurals, rule = (int(told[1]), told[2].strip()) if told else (0, "")
    found: list[Entry] = []
    place = header.end()
    while entry := _ENTRY.match(text, place):
        place = entry.end()
        if entry[2] is None:
            found.append(Entry(entry[1], None, (_joined(entry[5]),)))
            continue
        texts = [_joined(entry[3])]
        for number, said in _FURTHER.findall(entry[4]):
            if int(number) != len(texts):
                return None
            texts.append(_joined(said))
        if len(texts) != plurals:
            return None
        found.append(Entry(entry[1], entry[2], tuple(texts)))
    if not _END.fullmatch(text, place) or len({entry.key for entry in found}) < len(found):
        return None
    return Plain(tuple(found), plurals, rule)


def _joined(strings: str) -> str:
    """The strings of several lines as one."""
    return strings[1:-2].replace('"\n"', "")
