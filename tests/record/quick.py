"""A recipe and a way of working that are as quick to make as can be, as files in a folder of their own."""

from __future__ import annotations

import shutil
from pathlib import Path

WAY = Path(__file__).parent.parent / "trust" / "short-way.yaml"
RECIPE = """\
rimfold: 1
title: Quick drum
technique: ./short-way.yaml
outline: circle
sizes:
  20: {diameter: 200 mm, height: 160 mm}
  25: {diameter: 250 mm, height: 180 mm}
lamp: {diameter: 60 mm, kind: LED, watts: 6}
maker: {name: Gannetry Steps Workroom}
"""


def quick_recipe(folder: Path, name: str = "quick.yaml") -> Path:
    """Write both into a folder; the recipe's path."""
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(WAY, folder / WAY.name)
    recipe = folder / name
    recipe.write_text(RECIPE, encoding="utf-8")
    return recipe
