"""A command loads what it uses. What is heavy waits for the first page, figure or class that needs it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.record.quick import quick_recipe

ROOT = Path(__file__).parents[2]

HEAVY = {
    "weasyprint",
    "pikepdf",
    "pypdfium2",
    "shapely",
    "networkx",
    "numpy",
    "highspy",
    "simpy",
    "svgwrite",
    "segno",
    "PIL",
    "fontTools",
    "distributed",
    "dask",
}
READING = {"pydantic", "jinja2", "babel", "rich", "watchfiles"}
"""What reads recipes, techniques and wording, draws tables, and watches files."""

EVENING = """
class:
  people: 2
  start: "18:00"
  length: 6 h
  tables: [{length: 180 cm, depth: 75 cm, count: 4}]
"""

_TELL = """
import sys
from generator.cli.run import run
code = run(sys.argv[1:])
print("loaded:", *sorted({name.partition(".")[0] for name in sys.modules}))
sys.exit(code)
"""


def loaded(*arguments: str) -> set[str]:
    """Every library that is loaded when a command is through."""
    command = [sys.executable, "-c", _TELL, *arguments]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    return set(answer.stdout.rpartition("loaded:")[2].split())


def test_the_names_asked_for_are_those_under_which_libraries_are_loaded() -> None:
    code = f"import {', '.join(sorted(HEAVY | READING))}"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True).returncode == 0


@pytest.mark.parametrize("asked", [("--help",), ("make", "--help"), ("completion", "bash")])
def test_help_loads_nothing_but_what_reads_the_command_line(asked: tuple[str, ...]) -> None:
    found = loaded(*asked)
    assert "click" in found
    assert sorted(found & (HEAVY | READING | {"yaml"})) == []


@pytest.mark.parametrize("command", ["measures", "steps", "check"])
@pytest.mark.parametrize("sample", ["tide-drum", "coble-oval", "customs-rect"])
def test_a_recipe_without_kits_and_class_is_judged_without_anything_heavy(command: str, sample: str) -> None:
    found = loaded(command, f"recipes/{sample}.yaml")
    assert "pydantic" in found
    assert sorted(found & HEAVY) == []


@pytest.mark.parametrize("asked", [(), ("--json",)])
def test_measures_off_a_terminal_need_no_template_no_language_and_no_table_of_a_library(
    asked: tuple[str, ...],
) -> None:
    found = loaded("measures", "recipes/tide-drum.yaml", *asked)
    assert sorted(found & (HEAVY | READING)) == ["pydantic"]


def test_a_recipe_is_checked_without_templates_and_without_what_knows_languages() -> None:
    assert sorted(loaded("check", "recipes/tide-drum.yaml") & {"jinja2", "babel", "rich"}) == []


def test_measures_of_a_class_load_what_cuts_the_cloth_that_people_bring_and_draw_nothing() -> None:
    found = loaded("measures", "recipes/pier-drum.yaml", "--size", "35", "--json")
    assert sorted(found & HEAVY) == ["highspy", "numpy"]


def test_measures_of_a_class_that_brings_no_cloth_load_nothing_heavy(tmp_path: Path) -> None:
    recipe = tmp_path / "evening.yaml"
    sample = (ROOT / "recipes" / "tide-drum.yaml").read_text(encoding="utf-8")
    recipe.write_text(sample + EVENING, encoding="utf-8")
    found = loaded("measures", str(recipe))
    assert sorted(found & HEAVY) == []


def test_only_who_asks_for_other_machines_loads_what_speaks_to_them(tmp_path: Path) -> None:
    sample = ("make", "recipes/tide-drum.yaml", "--document", "steps-text", "--out", str(tmp_path))
    assert sorted(loaded(*sample) & {"distributed", "dask", "tornado", "msgpack"}) == []


def test_a_recipe_that_is_not_made_anew_loads_neither_yaml_nor_what_makes_pages(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path)
    make = ("make", str(recipe), "--document", "steps-text", "--size", "20", "--out", str(tmp_path / "out"))
    assert "yaml" in loaded(*make)
    found = loaded(*make)
    assert sorted(found & (HEAVY | {"yaml", "jinja2", "babel", "rich", "watchfiles"})) == []
