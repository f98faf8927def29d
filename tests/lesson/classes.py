"""Classes written as recipes, and read as a person's file is."""

from __future__ import annotations

from pathlib import Path

from generator.base.assets import data_folder
from generator.examine import examine
from generator.lesson.roster import Roster

RECIPES = data_folder("recipes")
SQUARE = """\
rimfold: 1
title: Ferry square
use: table
outline: square
sizes: {26: {side: 260 mm, corner_radius: 45 mm, height: 190 mm}}
covering: {name: Kelp print, width: 137 cm, direction: one-way}
lamp: {diameter: 60 mm, kind: LED, watts: 5}
"""
CLASS = """\
class:
  people: 8
  start: "10:00"
  length: 4 h
  tables: [{length: 180 cm, depth: 75 cm, count: 4}]
  tools: {rotary cutter: 2, seam roller: 2}
"""


def written(folder: Path, text: str, name: str = "shade.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def roster_of(path: Path) -> Roster:
    found = examine(path).roster
    assert found is not None
    return found


def class_of(folder: Path, taught: str = CLASS) -> Roster:
    return roster_of(written(folder, SQUARE + taught))
