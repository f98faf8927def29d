"""Changes of a recipe that are more than one value: another outline, a size more or less, a class, boxes."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from generator.examine import outlines
from generator.page import round_trip
from generator.page.form import ENDS, size_names, split
from generator.page.look import values
from generator.page.shapes import usual
from generator.recipe.walk import Place

_MEASURED = re.compile(r"[0-9]+(x[0-9]+)?")
"""A size that is called after how wide it is, in centimetres."""
PER_CENTIMETRE = {"mm": 10.0, "cm": 1.0, "m": 0.01}
ACROSS = ("diameter", "length", "side", "across_flats")
"""How wide a shade is, by what its outline calls it."""
OVAL = 2 / 3
"""Width of a shade that becomes oval, as a share of its length (a beginning, no rule)."""
NARROWER = 0.6
"""The upper ring of a shade that becomes tapered, as a share of the lower one (a beginning, no rule)."""


def outlined(text: str, outline: str) -> str:
    """The recipe with another outline for all sizes: what both have stays, the rest begins as usual."""
    if outline not in outlines():
        return text
    wished: dict[Place, str | None] = {("outline",): outline}
    known = values(text)
    keys = outlines()[outline].all
    every = {key for each in outlines().values() for key in each.all}
    for name in size_names(text):
        place: Place = ("sizes", name)
        inside = (place, (*place, "bottom"))
        across = [known[(*at, key)] for at in inside for key in ACROSS if (*at, key) in known]
        if (*place, "outline") in known:
            wished[*place, "outline"] = None
        for key in keys:
            if (*place, key) not in known:
                wished[*place, key] = _begun(key, across)
        for key in every - set(keys):
            if (*place, key) in known:
                wished[*place, key] = None
        for end in ENDS:
            if any(at[:3] == (*place, end) for at in known):
                text = round_trip.without(text, (*place, end))
        if (*place, "slant") in known:
            wished[*place, "slant"] = None
            wished[*place, "height"] = known[(*place, "slant")]
    return round_trip.changed(text, wished)


def _begun(key: str, across: list[str]) -> str:
    """A dimension that a size did not have, to begin with."""
    if across and key in ACROSS:
        return across[0]
    return _scaled(across[0], OVAL) if across and key == "width" else usual(key)


def tapered(text: str) -> str:
    """The recipe with a narrower ring at the top of every straight size."""
    known = values(text)
    outline = known.get(("outline",), "")
    wished: dict[Place, str | None] = {}
    for name in size_names(text):
        place: Place = ("sizes", name)
        own = known.get((*place, "outline"), outline)
        if own not in outlines() or any((*place, end) == at[:3] for end in ENDS for at in known):
            continue
        for end, share in (("bottom", 1.0), ("top", NARROWER)):
            wished[*place, end, "outline"] = own
            for key in outlines()[own].all:
                if (*place, key) in known:
                    wished[*place, end, key] = _scaled(known[(*place, key)], share)
        for key in outlines()[own].all:
            if (*place, key) in known:
                wished[*place, key] = None
    if wished and outline:
        wished[("outline",)] = None
    return round_trip.changed(text, wished)


def with_size(text: str) -> str:
    """One size more: like the last, under a name that is free."""
    names = size_names(text)
    if not names:
        return text
    known = values(text)
    last: Place = ("sizes", names[-1])
    name = next(f"{names[-1]}-{number}" for number in range(2, 1000) if f"{names[-1]}-{number}" not in names)
    wished: dict[Place, str | None] = {
        ("sizes", name, *place[2:]): value for place, value in known.items() if place[:2] == last
    }
    return round_trip.changed(text, wished)


def without_size(text: str, name: str) -> str:
    """One size less, if another is left; what counts its boxes goes with it."""
    names = size_names(text)
    if name not in names or len(names) < 2:
        return text
    return round_trip.without(round_trip.without(text, ("sizes", name)), ("kits", "count", name))


def better_name(text: str, name: str) -> str:
    """What a size could be called that is called after its measures, and no longer has them; else nothing."""
    known = values(text)
    outline = known.get(("sizes", name, "outline"), known.get(("outline",), ""))
    if outline not in outlines() or not _MEASURED.fullmatch(name):
        return ""
    keys = [key for key in outlines()[outline].all if key in (*ACROSS, "width")]
    across = [_centimetres(known.get(("sizes", name, key), "")) for key in keys]
    better = "x".join(across)
    return better if all(across) and better != name and better not in size_names(text) else ""


def _centimetres(value: str) -> str:
    number, unit = split(value)
    if unit not in PER_CENTIMETRE or not number.replace(".", "", 1).isdecimal():
        return ""
    return f"{float(number) / PER_CENTIMETRE[unit]:.0f}"


def called(text: str, names: str) -> str:
    """The recipe with a size under another name, ``old:new``; what counts its boxes follows it."""
    old, _, new = names.partition(":")
    if old not in size_names(text) or new in size_names(text) or not new:
        return text
    for place in (("sizes", old), ("kits", "count", old)):
        text = round_trip.renamed(text, place, new)
    makes = [place for place, value in values(text).items() if value == old and _is_made(place)]
    return round_trip.changed(text, dict.fromkeys(makes, new))


def _is_made(place: Place) -> bool:
    return place[:2] == ("class", "people") and place[-1] == "size"


def with_class(text: str) -> str:
    """The recipe with a class of eight, to begin with."""
    wished: dict[Place, str | None] = {
        ("class", "people"): "8",
        ("class", "start"): "10:00",
        ("class", "length"): "4 h",
    }
    text = round_trip.changed(text, wished)
    return round_trip.appended(
        text, ("class", "tables"), {"length": "180 cm", "depth": "75 cm", "count": "4"}
    )


def with_kits(text: str) -> str:
    """The recipe with ten boxes of its first size, to begin with."""
    names = size_names(text)
    return round_trip.changed(text, {("kits", "count", names[0]): "10"}) if names else text


def with_entry(text: str, place: Place, entry: Mapping[str, str]) -> str:
    """One entry more in a list."""
    return round_trip.appended(text, place, entry)


def with_people_listed(text: str) -> str:
    """People by name where only their number stood."""
    known = values(text)
    count = known.get(("class", "people"), "")
    many = int(count) if count.isdecimal() else 0
    text = round_trip.without(text, ("class", "people"))
    size = size_names(text)[0]
    for _ in range(min(many, 40) or 1):
        text = round_trip.appended(text, ("class", "people"), {"size": size})
    return text


def _scaled(value: str, share: float) -> str:
    number, unit = split(value)
    if share == 1.0 or not unit or not number.replace(".", "", 1).isdecimal():
        return value
    return f"{round(float(number) * share, 1):g} {unit}"


ACTIONS: Mapping[str, Callable[[str, str], str]] = {
    "outline": lambda text, name: outlined(text, name),
    "taper": lambda text, _: tapered(text),
    "add-size": lambda text, _: with_size(text),
    "remove-size": without_size,
    "call-size": called,
    "add-class": lambda text, _: with_class(text),
    "remove-class": lambda text, _: round_trip.without(text, ("class",)),
    "list-people": lambda text, _: with_people_listed(text),
    "add-person": lambda text, _: with_entry(text, ("class", "people"), {"size": size_names(text)[0]}),
    "remove-person": lambda text, at: round_trip.without(text, ("class", "people", at)),
    "add-table": lambda text, _: with_entry(
        text, ("class", "tables"), {"length": "180 cm", "depth": "75 cm"}
    ),
    "remove-table": lambda text, at: round_trip.without(text, ("class", "tables", at)),
    "add-tool": lambda text, tool: round_trip.changed(text, {("class", "tools", tool): "2"}),
    "remove-tool": lambda text, tool: round_trip.without(text, ("class", "tools", tool)),
    "add-kits": lambda text, _: with_kits(text),
    "remove-kits": lambda text, _: round_trip.without(text, ("kits",)),
}
"""What a button of the form does to a recipe's text."""
