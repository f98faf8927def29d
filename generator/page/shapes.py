"""The outlines to choose from: a picture of each, and a usual size to begin with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.examine import outlines
from generator.page import round_trip
from generator.page.silhouettes import small_picture
from generator.recipe.draft import Draft
from generator.recipe.read import parse_recipe

HEIGHT = "22 cm"
USUAL: Mapping[str, tuple[str, str]] = {
    "length": ("36", "36 cm"),
    "width": ("24", "24 cm"),
    "corner_radius": ("", "3 cm"),
    "sides": ("", "6"),
}
"""Name's part and value of a dimension; every other is that of a middling shade (no rule, a beginning)."""
MIDDLING = ("30", "30 cm")
NARROW = "18 cm"


@dataclass(frozen=True, slots=True)
class Sketch:
    """An outline with a picture of a middling shade."""

    outline: str
    title: str
    name: str
    dimensions: Mapping[str, str]
    height: str
    picture: str


@cache
def sketches() -> Mapping[str, Sketch]:
    """Every outline that shapes know, in the order in which they are offered: round ones first."""
    found = [_sketch(name) for name in outlines()]
    return {
        each.outline: each for each in sorted(found, key=lambda each: (len(each.dimensions), each.outline))
    }


@cache
def taper() -> str:
    """A picture of a shade that is narrower at its top: a round one, whatever outline is tapered."""
    across = {"outline": "circle", "diameter": MIDDLING[1]}
    narrow = {**across, "diameter": NARROW}
    lines = Draft("Taper", "circle", MIDDLING[0], {"diameter": MIDDLING[1]}, HEIGHT).text()
    recipe = parse_recipe(round_trip.changed(lines, _ends(across, narrow)), Path("taper.yaml"), outlines())
    return small_picture(recipe.sizes[0])


def _ends(bottom: Mapping[str, str], top: Mapping[str, str]) -> dict[tuple[str, ...], str | None]:
    size = ("sizes", MIDDLING[0])
    wished: dict[tuple[str, ...], str | None] = {("outline",): None, (*size, "diameter"): None}
    for end, values in (("bottom", bottom), ("top", top)):
        wished |= {(*size, end, key): value for key, value in values.items()}
    return wished


def usual(key: str) -> str:
    """A value to begin with, for a dimension."""
    return USUAL.get(key, MIDDLING)[1]


def _sketch(outline: str) -> Sketch:
    keys = outlines()[outline].all
    dimensions = {key: usual(key) for key in keys}
    name = "x".join(part for key in keys if (part := USUAL.get(key, MIDDLING)[0]))
    title = f"My {outline}"
    text = Draft(title, outline, name, dimensions, HEIGHT).text()
    recipe = parse_recipe(text, Path("sketch.yaml"), outlines())
    return Sketch(outline, title, name, dimensions, HEIGHT, small_picture(recipe.sizes[0]))
