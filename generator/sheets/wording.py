"""Wording of one language, from gettext catalogues.

A msgid is a key, its msgstr what a reader sees. Nothing is translated by its English: keys are names,
``rolled-edge.dock.title``. ``catalogues`` says how the files are read.

Variants. ``key@table`` is used where the condition ``table`` holds, ``key@hem+no-kiss-cut`` where both do.
The key with the most conditions that all hold wins, then the first in the file; the key without ``@`` is for
everything else. ``tokens_of`` says which conditions a recipe makes hold; ``units-inch`` and ``units-both``
hold in a voice that tells lengths so.

Placeholders. ``{panel_length}`` is a value by name. A measure is printed with its unit, ``1112 mm``;
``{cloth_length:bare}`` leaves the unit out, so a pair is ``{cloth_length:bare} × {cloth_width}`` and comes
out as ``1155 × 270 mm``; ``{peel:range}`` prints a measure of two values as ``50 to 100 mm``;
``{step:dock}`` is the number of the step of a task. Any other value is a text or a number that the page
gives by name. No digit stands in a catalogue.

Units. Where a voice tells lengths in two units, a measure is printed in both, ``45⅜ in (1155 mm)``, and so is
a pair as a whole, ``45⅜ × 10¾ in (1155 × 270 mm)``: from the first ``:bare`` to the unit that they share,
with what stands between them. A ``:bare`` that no unit follows is for narrow places: it is printed once,
inches with their sign.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import Any

from generator.base.edition import ENGLISH, Voice
from generator.base.errors import WordingError
from generator.base.words import PLACEHOLDER
from generator.measures.measure import Measure, Measures
from generator.plan.model import Phrase, Plan
from generator.sheets.catalogues import Text, messages
from generator.sheets.formatting import Told, alone, in_drawing, locale_of, number, quantity, told
from generator.sheets.segments import Segment as Segment
from generator.sheets.segments import Sentence as Sentence
from generator.sheets.segments import aside, kept_together, together

_INSTRUCTION = re.compile(r"(.+)\.(do|brief)\.(\d+)(?:@.*)?")
_STOPS = (". ", ": ", "; ")
"""What ends a run of lengths that share a unit."""

_GROUPS: Mapping[str, tuple[str, ...]] = {
    "oval": ("ellipse", "stadium"),
    "corners": ("rectangle", "square", "polygon"),
}
"""Outlines that share wording."""
_BY_NAME = ("fitter_ring", "plain_ring")
"""Conditions whose words alone would be another's: a taper's rings may differ from each other."""


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


class _Index:
    """Which variants each key has, and which numbers of instructions each task."""

    def __init__(self, messages: Mapping[str, Text]) -> None:
        self.keys: dict[str, list[tuple[frozenset[str], str]]] = {}
        self.numbers: dict[str, set[int]] = {}
        for key in messages:
            base, _, conditions = key.partition("@")
            tokens_needed = frozenset(conditions.split("+")) if conditions else frozenset()
            self.keys.setdefault(base, []).append((tokens_needed, key))
            if match := _INSTRUCTION.fullmatch(base):
                self.numbers.setdefault(f"{match[1]}.{match[2]}", set()).add(int(match[3]))


class Catalogue:
    """Wording of one language; it is the ``Words`` of the figures. ``bound`` ties it to one plan."""

    def __init__(
        self,
        voice: Voice,
        messages: Mapping[str, Text],
        tokens: frozenset[str] = frozenset(),
        values: Mapping[str, object] | None = None,
        index: _Index | None = None,
    ) -> None:
        self.voice = voice
        self.language = voice.language
        self._messages = messages
        self._tokens = tokens
        self._values = dict(values or {})
        self._index = index or _Index(messages)

    def bound(self, plan: Plan, measures: Measures, **given: object) -> Catalogue:
        """The same wording for one plan: variants by its facts, values from its measures and step numbers."""
        values = {**measures, "step": plan.numbers, **given}
        tokens = tokens_of(plan.facts) | {f"units-{self.voice.units}"}
        messages = self._with(plan.phrases)
        # A catalogue has some thousand keys, and is bound several times for each size.
        index = self._index if messages is self._messages else None
        return Catalogue(self.voice, messages, tokens, values, index)

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
        fitting = [(len(needed), full) for needed, full in self._index.keys.get(key, ()) if needed <= tokens]
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
            raise self._missing(key)
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

    def length(self, shown: float, inches: Fraction | None) -> str:
        """A length in a drawing: millimetres, or inches with their sign where this voice has them first."""
        return in_drawing(shown, inches, self.voice)

    def rich(self, key: str, **values: object) -> Sentence:
        """The same in pieces, so that a page can set off the numbers and say which measure each one is.

        Raises WordingError for a sentence that is missing, or lacks a value.
        """
        full = self.variant(key)
        if full is None:
            raise self._missing(key)
        everything = {**self._values, **values}
        tokens = list(_tokens(self._text(full, everything)))
        pieces: list[Segment] = []
        place = 0
        while place < len(tokens):
            if run := self._run(tokens, place, everything):
                last = pieces[-1].text if pieces and pieces[-1].name is None else ""
                pieces += together(run, self.voice, "Ø " if last.endswith("Ø ") else "")
                place += 2 * len(run) - 1
                continue
            text, name, how = tokens[place]
            if name is None:
                pieces.append(Segment(text))
            else:
                pieces += self._filled(full, name, how, everything)
            place += 1
        return tuple(kept_together(pieces))

    def judge(self, key: str) -> None:
        """Raise the WordingError that ``rich`` would raise; nothing is written out."""
        full = self.variant(key)
        if full is None:
            raise self._missing(key)
        for _, name, how in _tokens(self._text(full, self._values)):
            if name is not None:
                self._held(full, name, how, self._values)
                if how == "range" and not self.has("range"):
                    raise self._missing("range")

    def _missing(self, key: str) -> WordingError:
        return WordingError(f"the wording “{self.language}” has no sentence “{key}”")

    def _run(
        self, tokens: Sequence[_Token], place: int, values: Mapping[str, object]
    ) -> list[tuple[str, Measure]]:
        """Measures from here to the one behind which a unit stands, each with the text before it.

        Nothing where lengths are told in one unit, or where no unit follows.
        """
        if self.voice.units == "metric":
            return []
        run: list[tuple[str, Measure]] = []
        before = ""
        for text, name, how in tokens[place:]:
            if name is None:
                if not run or any(stop in text for stop in _STOPS):
                    return []
                before = text
                continue
            held = values.get(name)
            if not isinstance(held, Measure) or how not in (None, "bare") or held.unit != "mm":
                return []
            run.append((before, held))
            if how is None:
                return run
        return []

    def instructions(self, task_key: str, **values: object) -> tuple[Sentence, ...]:
        """A card's instructions in order: for each number the fitting variant, none if none fits.

        ``task_key`` is ``Task.key``, such as ``rolled-edge.dock``.
        """
        return self._numbered(f"{task_key}.do", values)

    def brief(self, task_key: str, **values: object) -> tuple[Sentence, ...]:
        """Instructions for a small place: the short ones if there are any, else those of the card."""
        return self._numbered(f"{task_key}.brief", values) or self.instructions(task_key, **values)

    def _numbered(self, prefix: str, values: Mapping[str, object]) -> tuple[Sentence, ...]:
        keys = (f"{prefix}.{number}" for number in sorted(self._index.numbers.get(prefix, ())))
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

    def _filled(
        self, key: str, name: str, how: str | None, values: Mapping[str, object]
    ) -> tuple[Segment, ...]:
        held = self._held(key, name, how, values)
        if isinstance(held, Measure):
            return self._measure(key, held, name, how)
        if isinstance(held, int | float):
            return (Segment(self.number(held), name),)
        return (Segment(str(held), name),)

    def _held(self, key: str, name: str, how: str | None, values: Mapping[str, object]) -> object:
        """The value of a placeholder, of several the one that it asks for. Raises WordingError."""
        if name not in values:
            raise WordingError(f"the sentence “{key}” needs a value for {{{name}}}")
        held = values[name]
        if isinstance(held, Mapping):
            if how not in held:
                raise WordingError(f"the sentence “{key}” speaks of {{{name}:{how}}}, which is not there")
            held = held[how]
        elif isinstance(held, Measure) and how not in (None, "bare", "range"):
            raise WordingError(f"the sentence “{key}” asks for {{{held.id}:{how}}}; known are bare, range")
        return held

    def _measure(self, key: str, measure: Measure, name: str, how: str | None) -> tuple[Segment, ...]:
        if how == "bare":
            text = alone(measure, self.voice, drawn=key.startswith("label."))
            return (Segment(text, name, measure.id),)
        if how == "range":
            first, *other = (self._range(way) for way in told(measure, self.voice))
            return (Segment(first, name, measure.id), *aside(other, measure.id))
        return (Segment(quantity(measure, self.voice), name, measure.id),)

    def _range(self, way: Told) -> str:
        first, last = way.parts[0], way.parts[-1]
        return (first if first == last else self.say("range", first=first, last=last)) + way.unit


_Token = tuple[str, str | None, str | None]
"""Literal text, or nothing and a placeholder's name and manner."""


def _tokens(text: str) -> Iterator[_Token]:
    end = 0
    for match in PLACEHOLDER.finditer(text):
        if match.start() > end:
            yield text[end : match.start()], None, None
        yield "", match[1], match[2]
        end = match.end()
    if end < len(text):
        yield text[end:], None, None


def _subject(key: str) -> str:
    """What a key speaks of, without its variant; a task's instructions, short ones too, are one subject."""
    base = key.partition("@")[0]
    match = _INSTRUCTION.fullmatch(base)
    return f"{match[1]}.do" if match else base


@cache
def load_words(voice: Voice) -> Catalogue:
    """The wording of a voice. Raises WordingError if there is none, or if a catalogue is not sound."""
    texts = messages(voice).texts
    if voice.language != ENGLISH.language:
        # English is there; of another language it is told at once that nobody knows how it writes numbers.
        locale_of(voice.language)
    return Catalogue(voice, texts)
