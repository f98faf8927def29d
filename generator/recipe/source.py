"""From a file to text: what must be right before YAML can be read, each fault at its place."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from dataclasses import dataclass
from os import fspath
from pathlib import Path

from generator.base.errors import FAULT_LIMIT, Fault, nearest
from generator.base.message import Message, message
from generator.base.readings import read_as, will_read
from generator.base.spans import Span

BYTE_LIMIT = 256 * 1024
"""The largest file that is read."""

# Controls, line separators, zero-width and direction marks, tags, non-characters, and the mark of lost text.
# The joiners U+200C and U+200D stay: several scripts need them.
_HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f"
    "\ufeff\ufff0-\uffff\ud800-\udfff\U000e0000-\U000e0fff\U0001fffe\U0001ffff\U0002fffe-\U0010ffff]"
)
PLACEHOLDER = "\ufffd"
"""Stands in the text where a hidden character was, so that columns hold; nodes leave it out."""

_LINE_END = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True)
class Source:
    """The text of a file (None if there is none to read), its faults and its digest."""

    file: str
    text: str | None
    faults: tuple[Fault, ...]
    digest: str
    """SHA-256 of the bytes, hex."""


def read_source(path: Path | str, noun: Message) -> Source:
    """Read a file that a person wrote. ``noun`` names what it should hold, such as ``a recipe``.

    Raises nothing: whatever goes wrong is a fault of the source.
    """
    file = _printable(fspath(path))
    start = Span(file, 1, 1)

    def unreadable(wrong: Message, fix: Message) -> Source:
        return Source(file, None, (Fault(start, wrong, message("a file with {noun}", noun=noun), fix),), "")

    try:
        place = Path(path)
        will_read(place)
        if place.is_dir():
            return unreadable(message("this is a folder"), _name_inside(place))
        if not place.exists():
            return unreadable(message("there is no such file"), _name_beside(place))
        if not place.is_file():
            return unreadable(message("this is not an ordinary file"), message("name an ordinary file"))
        with place.open("rb") as stream:
            data = stream.read(BYTE_LIMIT + 1)
    except PermissionError:
        return unreadable(message("this file may not be read"), message("give yourself the right to read it"))
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        reason = getattr(error, "strerror", None) or message("its name cannot be used")
        return unreadable(
            message("this file cannot be read ({reason})", reason=reason),
            message("check the name and the disk"),
        )
    source = source_of(data, file, noun)
    if len(data) <= BYTE_LIMIT:
        read_as(place, source.digest)
    return source


def source_of(data: bytes, file: str, noun: Message) -> Source:
    """The same for bytes that are at hand."""
    start = Span(file, 1, 1)
    digest = hashlib.sha256(data).hexdigest()

    def refused(span: Span, wrong: Message, expected: Message, fix: Message) -> Source:
        return Source(file, None, (Fault(span, wrong, expected, fix),), digest)

    if len(data) > BYTE_LIMIT:
        kilobytes = BYTE_LIMIT // 1024
        return refused(
            start,
            message("this file is too large"),
            message("at most {kilobytes} kB", kilobytes=kilobytes),
            message("split it, or shorten it"),
        )
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return refused(
            start,
            message("this file is saved as UTF-16"),
            message("text saved as UTF-8"),
            message("save it again with encoding UTF-8"),
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # The error's positions count from after a byte order mark, in the bytes that it carries itself.
        before = error.object[: error.start].decode("utf-8")
        span = _span_at(file, before)
        wrong = message("the byte 0x{byte} is not UTF-8 text", byte=f"{error.object[error.start]:02X}")
        return refused(
            span, wrong, message("text saved as UTF-8"), message("save the file again with encoding UTF-8")
        )
    faults = _hidden_faults(text, file)
    text = _HIDDEN.sub(PLACEHOLDER, text)
    tabs = _indenting_tabs(text, file)
    # A tab elsewhere is a space to the eye, and never needed; its width does not matter there.
    cleaned = None if tabs else text.replace("\t", " ")
    return Source(file, cleaned, tuple((faults + tabs)[:FAULT_LIMIT]), digest)


def hidden_in(text: str) -> str | None:
    """Name of the first hidden character in a text, such as one written as an escape, or None."""
    match = _HIDDEN.search(text.replace(PLACEHOLDER, ""))
    return _name(match[0]) if match else None


def _hidden_faults(text: str, file: str) -> list[Fault]:
    faults = []
    for match in _HIDDEN.finditer(text):
        faults.append(
            Fault(
                _span_at(file, text[: match.start()]),
                message("a hidden character stands here ({name})", name=_name(match[0])),
                message("text without hidden characters"),
                message("delete it, or type the line again"),
            )
        )
        if len(faults) == FAULT_LIMIT:
            break
    return faults


def _indenting_tabs(text: str, file: str) -> list[Fault]:
    faults = []
    for number, line in enumerate(_LINE_END.split(text), start=1):
        body = line.lstrip(" \t")
        indent = line[: len(line) - len(body)]
        if body and "\t" in indent:
            span = Span(file, number, indent.index("\t") + 1)
            faults.append(
                Fault(
                    span,
                    message("this line is indented with a tab"),
                    message("spaces"),
                    message("put two spaces for each tab"),
                )
            )
    return faults


def _span_at(file: str, before: str) -> Span:
    lines = _LINE_END.split(before)
    return Span(file, len(lines), len(lines[-1]) + 1)


def _name(character: str) -> str:
    name = unicodedata.name(character, "a control character").lower()
    return f"U+{ord(character):04X}, {name}"


def _printable(name: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in name)


def _name_inside(folder: Path) -> Message:
    inside = sorted(path.name for path in folder.glob("*.yaml"))
    if inside:
        return message("name a file in it, such as {text}", text=_printable(inside[0]))
    return message("name a file")


def _name_beside(place: Path) -> Message:
    beside = [path.name for path in place.parent.glob("*.yaml")] if place.parent.is_dir() else []
    close = nearest(place.name, sorted(beside))
    return (
        message("did you mean {text}?", text=_printable(close))
        if close
        else message("check its name and folder")
    )
