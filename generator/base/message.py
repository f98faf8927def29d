"""A sentence to a person about a file of theirs: English as it stands, and what it was made of.

``message("{part} is {width} wide", part="the panel", width="12 mm")`` *is* the text “the panel is 12 mm
wide” and goes wherever a text goes. It also remembers its template and its values, so that whoever shows
it may say the same in another language (``sheets/said.py``); values that are messages are said there too.
Nothing in a value is ever read as a placeholder. The templates stand in ``templates/wording/*/faults.po``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from generator.base.words import PLACEHOLDER

_NOTHING: Mapping[str, object] = MappingProxyType({})


class Number(str):
    """A number as English writes it, ``12.5``: another language has another sign in it."""

    __slots__ = ()


class Message(str):
    """An English sentence, or a part of one, that knows what it was made of."""

    __slots__ = ("joins", "one", "template", "values")
    template: str
    """The sentence with names in the places of its values; a catalogue has it in other languages."""
    values: Mapping[str, object]
    """Texts, whole numbers, Numbers and Messages by their names in the template."""
    one: str | None
    """The template for a count of 1, where that differs."""
    joins: bool
    """It only sets its values one after another: no catalogue has such a template."""

    def __new__(
        cls,
        text: str,
        template: str,
        values: Mapping[str, object] = _NOTHING,
        one: str | None = None,
        joins: bool = False,
    ) -> Message:
        """``text`` is the template, filled."""
        made = super().__new__(cls, text)
        made.template, made.values, made.one, made.joins = template, values, one, joins
        return made

    def __reduce__(self) -> tuple[Any, ...]:
        return (Message, (str(self), self.template, dict(self.values), self.one, self.joins))

    def about(self, new: str, old: str) -> Message:
        """The same sentence with another value in the place of one."""
        values = {name: new if value == old else value for name, value in self.values.items()}
        return Message(filled(self.template, values), self.template, values)

    def shown_as(self, text: str) -> Message:
        """The same sentence whose English is shown otherwise, such as shortened."""
        return Message(text, self.template, self.values, self.one, self.joins)


class Name(Message):
    """A name that the catalogues of the sheets have, such as that of a kind of document.

    English has it as people type it; another language, as it stands on a page.
    """

    __slots__ = ("key",)
    key: str
    """What the catalogues know it by."""

    def __reduce__(self) -> tuple[Any, ...]:
        return (catalogued, (self.key, str(self)))


def catalogued(key: str, typed: str) -> Name:
    """A name by its key in the catalogues, and as people type it."""
    made = Name(typed, typed)
    made.key = key
    return made


def message(template: str, /, **values: object) -> Message:
    """A sentence with its values filled in. Raises KeyError for a value that is not given."""
    return Message(filled(template, values), template, values) if values else Message(template, template)


def as_written(text: str) -> Message:
    """A sentence from a file, such as a technique's: said as it stands where no catalogue has it."""
    return Message(text, text)


def plural(many: str, /, one: str, *, count: int, **values: object) -> Message:
    """A sentence that differs with a number, ``count`` in it: ``one`` where that is 1, else ``many``.

    Raises KeyError for a value that is not given.
    """
    everything = {**values, "count": count}
    return Message(filled(one if count == 1 else many, everything), many, everything, one)


def filled(template: str, values: Mapping[str, object]) -> str:
    """A template with the values in their places. Raises KeyError for one that is not given."""
    return PLACEHOLDER.sub(lambda match: str(values[match[1]]), template)


def joined(parts: Iterable[str], between: str = ", ") -> Message:
    """Sentences or words one after another; each is said by itself."""
    values: dict[str, object] = {_letters(place): part for place, part in enumerate(parts)}
    template = between.join(f"{{{name}}}" for name in values)
    return Message(between.join(map(str, values.values())), template, values, joins=True)


NOTHING = joined(())
"""No message."""


def under(name: str, said: str) -> Message:
    """What is said of something, after its name."""
    return message("{name}: {said}", name=name, said=said)


def in_two(wrong: Message, fix: Message) -> Message:
    """What is wrong and what to do, in one line."""
    return message("{wrong}; {fix}", wrong=wrong, fix=fix)


def in_three(wrong: Message, expected: Message, fix: Message) -> Message:
    """What is wrong, what was expected and what to do, in one line."""
    return message("{wrong}; expected {expected}; {fix}", wrong=wrong, expected=expected, fix=fix)


def either(names: Sequence[str]) -> Message:
    """One name, or several with ``or`` before the last."""
    if len(names) < 2:
        return joined(names)
    return message("{names} or {last}", names=joined(names[:-1]), last=names[-1])


def together(names: Sequence[str]) -> Message:
    """One name, or several with ``and`` between them."""
    made = joined(names[:1])
    for name in names[1:]:
        made = message("{names} and {last}", names=made, last=name)
    return made


def _letters(place: int) -> str:
    """A name for a place: a, b, and so on to z, then ba."""
    before, last = divmod(place, 26)
    return (_letters(before) if before else "") + chr(ord("a") + last)


def written_down(value: object) -> object:
    """A text, a message or a value of one, for JSON."""
    if isinstance(value, Name):
        return {"key": value.key, "text": str(value)}
    if isinstance(value, Message):
        values = {name: written_down(held) for name, held in value.values.items()}
        kept = {"text": str(value), "template": value.template, "values": values}
        return {**kept, "one": value.one, "joins": value.joins}
    return {"number": str(value)} if isinstance(value, Number) else value


def read_back(kept: Any) -> Any:
    """What was written down. Raises KeyError, TypeError or AttributeError for anything else."""
    if not isinstance(kept, dict):
        return kept
    if "number" in kept:
        return Number(kept["number"])
    if "key" in kept:
        return catalogued(kept["key"], kept["text"])
    values = {name: read_back(held) for name, held in kept["values"].items()}
    filled(kept["template"], values)
    return Message(kept["text"], kept["template"], values, kept["one"], kept["joins"])
