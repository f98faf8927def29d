"""A recipe's text as the values of a form, and a form's values back into the text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.base.assets import languages
from generator.page import round_trip
from generator.page.fields import UNITS, Field, dimensions, heights, sections
from generator.page.look import root_of, values
from generator.recipe import nodes
from generator.recipe.walk import Place

SEPARATOR = "/"
VALUE, UNIT, NAME, TICKED = "v", "u", "n", "l"
"""What a form's field holds of a place: its value, the unit of that, the name of the place itself, or whether
a list there holds something."""
SPOKEN: Place = ("languages",)
"""The list of languages, of which each has a box to tick."""
ENDS = ("bottom", "top")
_LENGTH = re.compile(r"(?P<number>-?\s*[0-9][0-9 ./]*?)\s*(?P<unit>mm|cm|m|in)?")
OTHERS: tuple[Place, ...] = (
    ("outline",),
    ("makers", "ages", "0"),
    ("makers", "ages", "1"),
    ("class", "people"),
    ("class", "ages", "0"),
    ("class", "ages", "1"),
)
"""Values that a form has in ways of its own."""
ROWS = (
    ("name",), ("size",), ("recipe",), ("cloth", "name"), ("cloth", "width"), ("cloth", "length"),
    ("length",), ("depth",), ("count",),
)  # fmt: skip
"""Values in a row of people or of tables."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A field with what the recipe says there."""

    field: Field
    place: Place
    value: str = ""
    unit: str = ""

    @property
    def name(self) -> str:
        """Of the field in the form."""
        return named(VALUE, self.place)

    @property
    def unit_name(self) -> str:
        """Of its unit in the form."""
        return named(UNIT, self.place)

    @property
    def usual(self) -> tuple[str, str]:
        """What holds where nothing stands: number and unit."""
        return split(self.field.usual) if self.field.sort == "length" else (self.field.usual, "")


@dataclass(frozen=True, slots=True)
class ShownSize:
    """A size with its fields."""

    name: str
    outline: str
    tapered: bool
    fields: tuple[Shown, ...]
    ends: tuple[tuple[str, str, tuple[Shown, ...]], ...] = ()
    """Of a tapered size: name, outline and fields of each end."""


def named(what: str, place: Place) -> str:
    """The name of a form's field."""
    return SEPARATOR.join((what, *place))


def split(text: str) -> tuple[str, str]:
    """A length as it is written, in number and unit; what is none stays whole, without a unit."""
    found = _LENGTH.fullmatch(text.strip())
    return (found["number"].strip(), found["unit"] or "") if found else (text, "")


def shown(text: str) -> Mapping[str, tuple[Shown, ...]]:
    """All plain fields by section, with the values of a text."""
    known = values(text)
    return {
        name: tuple(_shown(field, field.place, known) for field in fields)
        for name, fields in sections().items()
    }


def sizes(text: str) -> tuple[ShownSize, ...]:
    """The sizes of a text, in their order; nothing for a text that has none."""
    known = values(text)
    return tuple(_size(name, known) for name in size_names(text))


def size_names(text: str) -> tuple[str, ...]:
    """Names of the sizes that are sections."""
    root = root_of(text)
    entry = root.get("sizes") if isinstance(root, nodes.Mapping) else None
    if entry is None or not isinstance(entry.node, nodes.Mapping):
        return ()
    return tuple(each.key for each in entry.node if isinstance(each.node, nodes.Mapping))


def unshown(text: str) -> tuple[str, ...]:
    """What the file holds and the form does not show: it is left as it is."""
    seen = set(form_values(text)) | {named(VALUE, ("rimfold",))}
    listed = ("people", "tables", "tools")
    return tuple(
        ".".join(place)
        for place in values(text)
        if named(VALUE, place) not in seen
        and place[:1] != SPOKEN
        and not (place[0] == "class" and place[1] in listed)
    )


def form_values(text: str) -> dict[str, str]:
    """What a form holds for a text, by the names of its fields."""
    found: dict[str, str] = {}
    known = values(text)
    there = {place[0] for place in known}
    everything = [
        each
        for name, fields in shown(text).items()
        if name not in ("kits", "class") or name in there
        for each in fields
    ]
    for size in sizes(text):
        everything += size.fields
        everything += [each for _, _, fields in size.ends for each in fields]
    for each in everything:
        found[each.name] = each.value
        if each.field.sort == "length":
            found[each.unit_name] = each.unit
    others = (place for place in OTHERS if place[0] != "class" or "class" in there)
    if any(place[:2] == ("class", "people") and len(place) > 2 for place in known):
        # People have rows of their own, and no number.
        others = (place for place in others if place != ("class", "people"))
    for place in (*others, *_listed_places(known)):
        found[named(VALUE, place)] = known.get(place, "")
    return found


def filled(text: str, posted: Mapping[str, str]) -> str:
    """The text with what a form says otherwise. Fields that no form of it has are passed over.

    Raises UsageError of the round trip for a text that cannot be kept.
    """
    before = form_values(text)
    wished: dict[Place, str | None] = {}
    for name, typed in posted.items():
        what, *place = name.split(SEPARATOR)
        at = tuple(place)
        if what != VALUE or (name not in before and not _of_a_list(at)):
            continue
        value, unit = " ".join(typed.split()), posted.get(named(UNIT, at), "")
        had = before.get(name, ""), before.get(named(UNIT, at), unit)
        if (value, unit) == had or (not value and not had[0]):
            continue
        if unit in UNITS and value and split(value)[1] == "" and _LENGTH.fullmatch(value):
            value = f"{value} {unit}"
        wished[at] = value or None
    changed = round_trip.changed(text, wished) if wished else text
    changed = _spoken(changed, posted)
    for old, new in _new_names(posted):
        names = size_names(changed)
        if old in names and new not in names:
            changed = round_trip.renamed(changed, ("sizes", old), new)
    return changed


def languages_of(text: str) -> tuple[str, ...]:
    """The languages that a text asks documents in, in its order."""
    return tuple(value for place, value in values(text).items() if place[:1] == SPOKEN)


def _spoken(text: str, posted: Mapping[str, str]) -> str:
    """The text with the languages that are ticked; those that were there stay in their order."""
    if named(TICKED, SPOKEN) not in posted:
        return text
    had, known = languages_of(text), languages()
    ticked = [code for code in known if named(TICKED, (*SPOKEN, code)) in posted]
    wished = [code for code in had if code in ticked or code not in known]
    wished += [code for code in ticked if code not in had]
    return text if tuple(wished) == had else round_trip.listed(text, SPOKEN, wished)


def _new_names(posted: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Sizes that are called otherwise in a form: old and new name."""
    for name, typed in posted.items():
        what, *place = name.split(SEPARATOR)
        if what == NAME and len(place) == 2 and place[0] == "sizes" and typed.strip() not in ("", place[1]):
            yield place[1], typed.strip()


def entries(text: str, place: Place) -> tuple[Mapping[str, str], ...]:
    """The entries of a list, each with its plain values by their dotted names within it."""
    node: nodes.Node | None = root_of(text)
    for key in place:
        found = node.get(key) if isinstance(node, nodes.Mapping) else None
        node = found.node if found else None
    count = len(node.items) if isinstance(node, nodes.Sequence) else 0
    known = values(text)
    return tuple(
        {
            ".".join(at[len(place) + 1 :]): value
            for at, value in known.items()
            if at[: len(place) + 1] == (*place, str(number))
        }
        for number in range(count)
    )


def _of_a_list(place: Place) -> bool:
    """Whether a form may put a value there that the text does not have yet."""
    if place[:2] in (("class", "people"), ("class", "tables")):
        return len(place) > 3 and place[2].isdecimal() and place[3:] in ROWS
    return len(place) == 3 and place[:2] in (("class", "tools"), ("kits", "count"))


def _listed_places(known: Mapping[Place, str]) -> Iterable[Place]:
    """Values within the lists of people, tables and tools, and of boxes."""
    return [place for place in known if _of_a_list(place)]


def _shown(field: Field, place: Place, known: Mapping[Place, str]) -> Shown:
    text = known.get(place, "")
    if field.sort != "length":
        return Shown(field, place, text)
    number, unit = split(text)
    return Shown(field, place, number, unit or split(field.usual)[1] or "mm")


def _size(name: str, known: Mapping[Place, str]) -> ShownSize:
    place: Place = ("sizes", name)
    ends = [end for end in ENDS if any(at[:3] == (*place, end) or at[:1] == (end,) for at in known)]
    outline = known.get((*place, "outline")) or known.get(("outline",), "")
    heighted = [key for key in ("slant", "height") if (*place, key) in known] or ["height"]
    high = tuple(_shown(heights()[key], (*place, key), known) for key in heighted)
    if not ends:
        fields = (_shown(field, (*place, *field.place), known) for field in dimensions().get(outline, ()))
        return ShownSize(name, outline, False, (*fields, *high))
    return ShownSize(name, outline, True, high, tuple(_ends(place, known)))


def _ends(place: Place, known: Mapping[Place, str]) -> Iterator[tuple[str, str, tuple[Shown, ...]]]:
    for end in ENDS:
        inside = (*place, end)
        outline = known.get((*inside, "outline"), "")
        fields = tuple(
            _shown(field, (*inside, *field.place), known) for field in dimensions().get(outline, ())
        )
        yield end, outline, fields
