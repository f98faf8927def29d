"""Recipes written for one test, read as files."""

from __future__ import annotations

from pathlib import Path

from generator.base.errors import RecipeError
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe, read_recipe
from generator.shape.build import outline_keys

ROOT = Path(__file__).parents[2]
SAMPLES = sorted((ROOT / "recipes").glob("*.yaml"))
BAD = sorted((ROOT / "tests" / "recipe" / "bad").glob("*.yaml"))
STARTER = ROOT / "templates" / "starter.yaml"

HEAD = "rimfold: 1\ntitle: Test\noutline: circle\n"
PLAIN = f"{HEAD}sizes:\n  25: {{diameter: 250 mm, height: 180 mm}}\n"
LAMP = "lamp: {diameter: 60 mm, kind: LED, watts: 6}\n"


def read_file(path: Path, house: Path | None = None) -> Recipe:
    """Read a file with every outline that there is."""
    return read_recipe(path, outline_keys(), house)


def read_text(folder: Path, text: str | bytes, house: Path | None = None) -> Recipe:
    """Write a recipe into a folder and read it."""
    path = folder / "recipe.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
    return read_file(path, house)


def read_size(folder: Path, text: str) -> SizeRecipe:
    """The first size of a recipe."""
    return read_text(folder, text).sizes[0]


def refusal(path: Path) -> RecipeError | None:
    """The error of a file that cannot be read, None if it reads."""
    try:
        read_file(path)
    except RecipeError as error:
        return error
    return None
