"""A commented recipe with values filled in: what ``rimfold quick`` saves and ``rimfold new`` writes.

The starter recipe is the form. Each of its lines is a key and a value, or a key that is switched off by a #.
Values are put into them, lines are switched on or off, and every comment stays. What nobody says comes from
the house defaults, so that the recipe says what was computed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from generator.recipe.nodes import Node, parse_document, read_document
from generator.recipe.read import house_file
from generator.recipe.starter import starter
from generator.recipe.walk import plain_values

_HEAD = re.compile(r"(?P<key>[a-z_]+):\s*(?:#.*)?")
_LINE = re.compile(
    r"(?P<indent>(?:  )?)(?P<off># )?(?P<key>[a-z_]+):(?P<gap>\s+)(?P<value>[^#\s](?:[^#]*[^#\s])?)"
    r"(?P<pad>\s*)(?P<comment>#.*)?"
)
_PLAIN = re.compile(r"[A-Za-z0-9]([A-Za-z0-9 ./_-]*[A-Za-z0-9])?")
_OF_THE_FORM = ("covering.name",)
"""Keys whose value in the form is an example, whatever the house says."""
_TAKEN = frozenset(("null", "true", "false", "yes", "no", "on", "off", "y", "n"))
"""Words that readers of YAML take for something else than text."""


@dataclass(frozen=True)
class Draft:
    """A recipe of one size that is being put together; all values as a person writes them."""

    title: str = "My first drum"
    outline: str = "circle"
    name: str = "30"
    """The size's name."""
    dimensions: Mapping[str, str] = field(default_factory=lambda: {"diameter": "30 cm"})
    height: str = "21 cm"
    stated: Mapping[str, str | None] = field(default_factory=dict)
    """Values by dotted key, ``covering.width``; ``None`` switches a key or a section off."""

    def saying(self, values: Mapping[str, str | None]) -> Draft:
        """The same with more values stated."""
        return replace(self, stated={**self.stated, **values})

    def value(self, key: str) -> str:
        """What the recipe says at a dotted key: what is stated, or the house's value. Raises KeyError."""
        return _dotted(parse_document(self.text(), self.name).root)[key]

    def text(self) -> str:
        """The commented recipe."""
        return "".join(f"{line}\n" for line in _filled(self))


def written(value: str) -> str:
    """A value so that YAML reads it as the text that it is."""
    text = value.strip()
    if _PLAIN.fullmatch(text) and text.lower() not in _TAKEN:
        return text
    return "'" + text.replace("'", "''") + "'"


def _filled(draft: Draft) -> Iterator[str]:
    """The lines of the form, filled in."""
    house = _house()
    stated = {"title": draft.title, "outline": draft.outline, **draft.stated}
    section = ""
    for line in starter().splitlines():
        match, head = _LINE.fullmatch(line), _HEAD.fullmatch(line)
        if head or (match and not match["indent"]):
            section = head["key"] if head else ""
        gone = bool(section) and section in stated and stated[section] is None
        if section == "sizes" and line.startswith("  "):
            yield _size(draft)
        elif gone and line.strip():
            yield f"# {line}"
        elif match:
            key = f"{section}.{match['key']}" if match["indent"] else match["key"]
            yield (
                _said(line, match, stated[key]) if key in stated else _by_default(line, match, house.get(key))
            )
        else:
            yield line


def _said(line: str, match: re.Match[str], value: str | None) -> str:
    """A line of the form with what is said of its key."""
    if value is None:
        return line if match["off"] else f"{match['indent']}# {match['key']}:{line.partition(':')[2]}"
    return _with(line, match, value)


def _by_default(line: str, match: re.Match[str], value: str | None) -> str:
    """A line of the form of which nobody says anything: the house's value, where the form has one."""
    return line if value is None or match["off"] else _with(line, match, value)


def _with(line: str, match: re.Match[str], value: str) -> str:
    text = _truth(value) or written(value)
    if text == match["value"] and not match["off"]:
        return line
    front = f"{match['indent']}{match['key']}:{match['gap']}{text}"
    if not match["comment"]:
        return front
    # The comment keeps its column as far as the value lets it.
    return front.ljust(match.start("comment") - 2) + "  " + match["comment"]


def _truth(value: str) -> str:
    """True and false are words of the format, and stand without quotes."""
    return value if value in ("true", "false") else ""


def _size(draft: Draft) -> str:
    values = {**draft.dimensions, "height": draft.height}
    return f"  {draft.name}: {{{', '.join(f'{key}: {written(value)}' for key, value in values.items())}}}"


def _house() -> dict[str, str]:
    """Values of the house defaults by dotted key, as they are written. Their faults are told elsewhere."""
    found = _dotted(read_document(house_file()).root)
    return {key: text for key, text in found.items() if key not in _OF_THE_FORM}


def _dotted(root: Node | None) -> dict[str, str]:
    """Plain values by their dotted keys."""
    return {".".join(place): text for place, text in plain_values(root)}
