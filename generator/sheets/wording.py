"""Wording of one language, from gettext catalogues.

A msgid is a key, its msgstr what a reader sees. Nothing is translated by its English: keys are names,
``rolled-edge.dock.title``. ``catalogues`` says how the files are read.

Variants. ``key@table`` is used where the condition ``table`` holds, ``key@hem+no-kiss-cut`` where both do.
The key with the most conditions that all hold wins, then the first in the file; the key without ``@`` is for
everything else. ``tokens_of`` says which conditions a recipe makes hold.

Placeholders. ``{panel_length}`` is a value by name. A measure is printed with its unit, ``1112 mm``;
``{cloth_length:bare}`` leaves the unit out, so a pair is ``{cloth_length:bare} × {cloth_width}`` and comes
out as ``1155 × 270 mm``; ``{peel:range}`` prints a measure of two values as ``50 to 100 mm``;
``{step:dock}`` is the number of the step of a task. Any other value is a text or a number that the page
gives by name. No digit stands in a catalogue.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from generator.base.edition import Voice
from generator.base.errors import WordingError
from generator.base.words import PLACEHOLDER
from generator.measures.measure import Measure, Measures
from generator.plan.model import Phrase, Plan
from generator.sheets.catalogues import Text, messages
from generator.sheets.formatting import locale_of, number, quantity, value, with_unit

_INSTRUCTION = re.compile(r"(.+)\.(do|brief)\.(\d+)(?:@.*)?")
_JOINTS = (" × ", " ± ", " + ")

_GROUPS: Mapping[str, tuple[str, ...]] = {
    "oval": ("ellipse", "stadium"),
    "corners": ("rectangle", "square", "polygon"),
}
"""Outlines that share wording."""
_BY_NAME = ("fitter_ring", "plain_ring")
"""Conditions whose words alone would be another's: a taper's rings may differ from each other."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a sentence: literal text, or a value that was filled in."""

    text: str
    name: str | None = None
    """The placeholder's name; None for literal text."""
    measure: str | None = None
    """The measure that the number comes from, if it comes from one."""
    keep: bool = False
    """No line break before it: it belongs to the number before, as in ``1155 × 270 mm``."""


Sentence = tuple[Segment, ...]


def tokens_of(conditions: Mapping[str, Any]) -> frozenset[str]:
    """The conditions of variants that hold for a recipe.

    A true value gives its name (``hem``), a false one ``no-`` and its name (``no-kiss-cut``), a text itself
    and with its name (``table``, ``use-table``). Some outlines also give a group, ``oval`` or ``corners``;
    more makers than one give ``together``.
    """
    found: set[str] = set()
    for name, held in conditions.items():
        key = name.replace("_", "-")
        if isinstance(held, bool):
            found.add(key if held else f"no-{key}")
        elif isinstance(held, str):
            found.update((f"{key}-{held}",) if name in _BY_NAME else (held, f"{key}-{held}"))
    people = conditions.get("people")
    if isinstance(people, int) and people > 1:
        found.add("together")
    outline = conditions.get("outline")
    found.update(group for group, members in _GROUPS.items() if outline in members)
    return frozenset(found)


class Catalogue:
    """Wording of one language; it is the ``Words`` of the figures. ``bound`` ties it to one plan."""

    def __init__(
        self,
        voice: Voice,
        messages: Mapping[str, Text],
        tokens: frozenset[str] = frozenset(),
        values: Mapping[str, object] | None = None,
    ) -> None:
        self.voice = voice
        self.language = voice.language
        self._messages = messages
        self._tokens = tokens
        self._values = dict(values or {})
        self._keys: dict[str, list[tuple[frozenset[str], str]]] = {}
        self._numbers: dict[str, set[int]] = {}
        for key in messages:
            base, _, conditions = key.partition("@")
            tokens_needed = frozenset(conditions.split("+")) if conditions else frozenset()
            self._keys.setdefault(base, []).append((tokens_needed, key))
            if match := _INSTRUCTION.fullmatch(base):
                self._numbers.setdefault(f"{match[1]}.{match[2]}", set()).add(int(match[3]))

    def bound(self, plan: Plan, measures: Measures, **given: object) -> Catalogue:
        """The same wording for one plan: variants by its facts, values from its measures and step numbers."""
        values = {**measures, "step": plan.numbers, **given}
        return Catalogue(self.voice, self._with(plan.phrases), tokens_of(plan.facts), values)

    def _with(self, phrases: Iterable[Phrase]) -> Mapping[str, Text]:
        """The messages with a technique's own words in the place of those that they replace, variants too."""
        own = {phrase.key: phrase.text for phrase in phrases}
        if not own:
            return self._messages
        replaced = {_subject(key) for key in own}
        return {key: text for key, text in self._messages.items() if _subject(key) not in replaced} | own

    def variant(self, key: str, conditions: Mapping[str, Any] | None = None) -> str | None:
        """The key to use for a key where these conditions hold (by default the plan's); None if none fits."""
        tokens = self._tokens if conditions is None else tokens_of(conditions)
        fitting = [(len(needed), full) for needed, full in self._keys.get(key, ()) if needed <= tokens]
        # max keeps the first of equals: the order of the file.
        return max(fitting, key=lambda pair: pair[0])[1] if fitting else None

    def has(self, key: str) -> bool:
        """Whether there is wording for a key, here and now."""
        return self.variant(key) is not None

    def keys(self) -> Iterator[str]:
        """Every key with its variants, in the order of the files."""
        return iter(self._messages)

    def raw(self, key: str) -> str:
        """The text of an exact key, placeholders and all; the last one where they differ with a number.

        Raises WordingError if it is missing.
        """
        if key not in self._messages:
            raise WordingError(f"the wording “{self.language}” has no sentence “{key}”")
        return self.texts(key)[-1]

    def texts(self, key: str) -> tuple[str, ...]:
        """All texts of an exact key: one, or several where they differ with a number."""
        held = self._messages[key]
        return (held,) if isinstance(held, str) else held.texts

    def say(self, key: str, **values: object) -> str:
        """Plain text for a key, its placeholders filled. Raises WordingError if it or a value is missing."""
        return "".join(segment.text for segment in self.rich(key, **values))

    def number(self, value: float) -> str:
        """A number as this language writes it."""
        return number(value, self.voice)

    def rich(self, key: str, **values: object) -> Sentence:
        """The same in pieces, so that a page can set off the numbers and say which measure each one is.

        Raises WordingError for a sentence that is missing, or lacks a value.
        """
        full = self.variant(key)
        if full is None:
            raise WordingError(f"the wording “{self.language}” has no sentence “{key}”")
        everything = {**self._values, **values}
        text = self._text(full, everything)
        pieces: list[Segment] = []
        end = 0
        for match in PLACEHOLDER.finditer(text):
            if match.start() > end:
                pieces.append(Segment(text[end : match.start()]))
            pieces.append(self._filled(full, match[1], match[2], everything))
            end = match.end()
        if end < len(text):
            pieces.append(Segment(text[end:]))
        return tuple(_kept_together(pieces))

    def instructions(self, task_key: str, **values: object) -> tuple[Sentence, ...]:
        """A card's instructions in order: for each number the fitting variant, none if none fits.

        ``task_key`` is ``Task.key``, such as ``rolled-edge.dock``.
        """
        return self._numbered(f"{task_key}.do", values)

    def brief(self, task_key: str, **values: object) -> tuple[Sentence, ...]:
        """Instructions for a small place: the short ones if there are any, else those of the card."""
        return self._numbered(f"{task_key}.brief", values) or self.instructions(task_key, **values)

    def _numbered(self, prefix: str, values: Mapping[str, object]) -> tuple[Sentence, ...]:
        keys = (f"{prefix}.{number}" for number in sorted(self._numbers.get(prefix, ())))
        return tuple(self.rich(key, **values) for key in keys if self.has(key))

    def _text(self, key: str, values: Mapping[str, object]) -> str:
        held = self._messages[key]
        if isinstance(held, str):
            return held
        counted = values.get(held.name)
        if isinstance(counted, Measure):
            counted = counted.value
        if not isinstance(counted, int | float):
            raise WordingError(f"the sentence “{key}” needs a number for {{{held.name}}}")
        return held.texts[held.which(round(counted))]

    def _filled(self, key: str, name: str, how: str | None, values: Mapping[str, object]) -> Segment:
        if name not in values:
            raise WordingError(f"the sentence “{key}” needs a value for {{{name}}}")
        held = values[name]
        if isinstance(held, Measure):
            return Segment(self._measure(key, held, how), name, held.id)
        if isinstance(held, Mapping):
            if how not in held:
                raise WordingError(f"the sentence “{key}” speaks of {{{name}:{how}}}, which is not there")
            held = held[how]
        if isinstance(held, int | float):
            return Segment(self.number(held), name)
        return Segment(str(held), name)

    def _measure(self, key: str, measure: Measure, how: str | None) -> str:
        if how is None:
            return quantity(measure, self.voice)
        if how == "bare":
            return value(measure, self.voice)
        if how == "range":
            ends = measure.values
            first, last = self.number(min(ends)), self.number(max(ends))
            text = first if first == last else self.say("range", first=first, last=last)
            return with_unit(text, measure.unit)
        raise WordingError(f"the sentence “{key}” asks for {{{measure.id}:{how}}}; known are bare, range")


def _subject(key: str) -> str:
    """What a key speaks of, without its variant; a task's instructions, short ones too, are one subject."""
    base = key.partition("@")[0]
    match = _INSTRUCTION.fullmatch(base)
    return f"{match[1]}.do" if match else base


def _kept_together(pieces: list[Segment]) -> Iterator[Segment]:
    """Mark what must stay on one line with the number before it."""
    held = False
    for index, piece in enumerate(pieces):
        following = pieces[index + 1] if index + 1 < len(pieces) else None
        joint = (
            piece.text in _JOINTS
            and index > 0
            and pieces[index - 1].measure is not None
            and following is not None
            and following.measure is not None
        )
        yield replace(piece, keep=True) if joint or held else piece
        held = joint


@cache
def load_words(voice: Voice) -> Catalogue:
    """The wording of a voice. Raises WordingError if there is none, or if a catalogue is not sound."""
    texts = messages(voice).texts
    locale_of(voice.language)
    return Catalogue(voice, texts)
