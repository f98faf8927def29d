"""The outlines to choose from: a picture of each, and a usual size to begin with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.examine import outlines
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
