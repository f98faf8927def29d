"""The fields of a recipe on the page: made from the models that read it, as the schema for editors is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from generator.base.assets import data_folder
from generator.examine import outlines
from generator.page.look import values
from generator.plan.build import load_technique
from generator.recipe.fields import LENGTH_PATTERN, SHIFTED_PATTERN
from generator.recipe.read import house_file
from generator.recipe.schema import json_schema
from generator.recipe.walk import Place

Sort = Literal["length", "choice", "truth", "count", "number", "text"]
UNITS = ("mm", "cm", "m", "in")
SECTIONS = (
    "covering", "panel", "ring", "tape", "lamp", "makers", "seam", "braid", "maker", "print",
)  # fmt: skip
"""Sections of a shade, in the order of the form."""
TOP = ("title", "use", "technique", "units", "paper", "tone", "link")
FIRST: Mapping[str, tuple[str, ...]] = {
    "covering": ("name", "width", "direction", "repeat"),
    "ring": ("struts", "hole", "wire"),
}
"""Keys of a section that people change most: they stand first."""
KITS = ("lot", "edition", "link", "format", "parts")
IN_CLASS = ("start", "length", "skill", "cloth", "swap", "blades", "adult", "adults", "seed", "stock")
INNER = (
    ("covering", "repeat"),
    ("panel", "supplied"),
    ("kits", "overlap"),
    ("class", "break"),
    ("class", "costs"),
)
"""Sections that stand within another."""


def _techniques() -> tuple[str, ...]:
    folder = data_folder("recipes") / "techniques"
    return tuple(sorted(path.stem for path in folder.glob("*.yaml")))


def _stages() -> tuple[str, ...]:
    """Stages of all techniques, in the order of the work."""
    folder = data_folder("recipes")
    named = (load_technique(name, folder).stages for name in _techniques())
    return tuple(dict.fromkeys(stage.id for stages in named for stage in stages))


KNOWN: Mapping[Place, Callable[[], tuple[str, ...]]] = {
    ("technique",): _techniques,
    ("class", "break", "after"): _stages,
}
"""Values that are names of files of ours; a file of one's own may be named too, and stays."""


@dataclass(frozen=True, slots=True)
class Field:
    """One value of a recipe as a form asks for it."""

    place: Place
    sort: Sort
    help: str
    """What the schema says of it."""
    choices: tuple[str, ...] = ()
    usual: str = ""
    """What the house says where the recipe says nothing."""
    least: int | None = None
    most: int | None = None
    longest: int | None = None
    """So many characters at most."""

    @property
    def key(self) -> str:
        """Its dotted name, as in ``rimfold schema``."""
        return ".".join(self.place)


@cache
def schema() -> Mapping[str, Any]:
    """What ``rimfold schema`` prints."""
    return json_schema(outlines())


@cache
def sections() -> Mapping[str, tuple[Field, ...]]:
    """All fields by the section that they stand in; those at the top of a recipe under an empty name."""
    top = schema()["properties"]
    found = {"": tuple(_fields((), {key: top[key] for key in TOP}))}
    for name in SECTIONS:
        found[name] = tuple(_of_section((name,)))
    for name, keys in (("kits", KITS), ("class", IN_CLASS)):
        found[name] = tuple(
            field for field in _of_section((name,)) if field.place[1] in keys or len(field.place) > 2
        )
    return found


@cache
def dimensions() -> Mapping[str, tuple[Field, ...]]:
    """The fields of a size by outline, without its place: ``diameter`` of a circle."""
    size = schema()["$defs"]["SizeLayer"]["properties"]
    return {
        name: tuple(_fields((), {key: size[key] for key in keys.all})) for name, keys in outlines().items()
    }


@cache
def heights() -> Mapping[str, Field]:
    """Height and slant of a size."""
    size = schema()["$defs"]["SizeLayer"]["properties"]
    return {field.place[0]: field for field in _fields((), {key: size[key] for key in ("height", "slant")})}


def _of_section(place: Place) -> Iterator[Field]:
    properties = _resolved(_at(place))["properties"]
    found = list(_fields(place, properties))
    for outer, inner in INNER:
        if (outer,) == place:
            found += _fields((outer, inner), _resolved(properties[inner])["properties"])
    first = FIRST.get(place[0], ())
    yield from sorted(found, key=lambda each: first.index(each.place[1]) if each.place[1] in first else 99)


def _at(place: Place) -> Mapping[str, Any]:
    node: Mapping[str, Any] = schema()
    for key in place:
        node = _resolved(node)["properties"][key]
    return node


def _resolved(node: Mapping[str, Any]) -> Mapping[str, Any]:
    name = node.get("$ref", "")
    return schema()["$defs"][name.rpartition("/")[2]] if name else node


def _fields(place: Place, properties: Mapping[str, Any]) -> Iterator[Field]:
    for key, node in properties.items():
        found = _field((*place, key), node)
        if found is not None:
            yield found


def _field(place: Place, node: Mapping[str, Any]) -> Field | None:
    """The field of a plain value; None for a section, a list or a mapping."""
    told, usual = node.get("description", ""), _house().get(place, "")
    options = node.get("anyOf", [node])
    whole = next((each for each in options if each.get("type") == "integer"), None)
    if "enum" in node and True in node["enum"]:
        return Field(place, "truth", told, usual=usual)
    if place in KNOWN:
        return Field(place, "choice", told, KNOWN[place](), usual)
    if "enum" in node:
        return Field(place, "choice", told, tuple(map(str, node["enum"])), usual)
    if node.get("pattern") in (LENGTH_PATTERN, SHIFTED_PATTERN):
        return Field(place, "length", told, usual=usual)
    if whole is not None:
        return Field(place, "count", told, usual=usual, least=whole.get("minimum"), most=whole.get("maximum"))
    if any(each.get("type") == "number" for each in options):
        return Field(place, "number", told, usual=usual)
    if node.get("type") in ("string", ["string", "number"]):
        return Field(place, "text", told, usual=usual, longest=node.get("maxLength"))
    return None


@cache
def _house() -> Mapping[Place, str]:
    """The house defaults by place, as they are written."""
    return values(house_file().read_text(encoding="utf-8"))
