"""The command line as a person uses it: what is printed where, and with which exit code."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.build import document_kinds
from generator.cli.run import run

RECIPES = data_folder("recipes")
REFUSED = Path(__file__).parent.parent / "recipe" / "refused"
SAMPLES = sorted(RECIPES.glob("*.yaml"))


@dataclass
class Answer:
    returncode: int
    stdout: str
    stderr: str


def rimfold(*arguments: object) -> Answer:
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = run([str(argument) for argument in arguments])
    return Answer(code, out.getvalue(), err.getvalue())


def test_the_module_is_the_command() -> None:
    answer = subprocess.run([sys.executable, "-m", "generator", "--version"], capture_output=True, text=True)
    assert answer.returncode == 0
    assert answer.stdout.startswith("rimfold")


@pytest.mark.parametrize("recipe", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_good(recipe: Path) -> None:
    answer = rimfold("check", recipe)
    assert answer.returncode == 0, answer.stderr
    assert "good" in answer.stdout


def test_measures_as_json_stand_alone_on_the_output() -> None:
    answer = rimfold("measures", RECIPES / "pier-drum.yaml", "--size", "35", "--json")
    sizes = json.loads(answer.stdout)["sizes"]
    # The demonstration: panel 1112 x 250, cloth 1155 x 270 (common practice, no source).
    measures = sizes["35"]["measures"]
    assert list(sizes) == ["35"]
    assert {
        key: measures[key]["shown"] for key in ("panel_length", "panel_height", "cloth_length", "cloth_width")
    } == {
        "panel_length": 1112,
        "panel_height": 250,
        "cloth_length": 1155,
        "cloth_width": 270,
    }
    assert abs(measures["panel_length"]["exact"] - 1111.599) < 0.001
    assert set(measures["panel_length"]) >= {"exact", "shown", "unit", "label", "formula", "source"}


def test_lists_stand_as_lists_in_json() -> None:
    answer = rimfold("measures", RECIPES / "ferry-square.yaml", "--json")
    (size,) = json.loads(answer.stdout)["sizes"].values()
    struts = size["measures"]["struts"]["shown"]
    for key, count in (("corner_stations", 4), ("strut_stations", struts)):
        assert len(size["measures"][key]["exact"]) == len(size["measures"][key]["shown"]) == count


def test_steps_as_json_tell_needs_gives_minutes_and_why() -> None:
    answer = rimfold("steps", RECIPES / "pier-drum.yaml", "--size", "35", "--json")
    steps = json.loads(answer.stdout)["sizes"]["35"]["steps"]
    assert len(steps) == 26
    assert {"id", "stage", "needs", "gives", "tools", "minutes", "cautions", "why"} <= set(steps[0])
    given: set[str] = set()
    for step in steps:
        assert step["why"]
        assert step["minutes"]["first_time"] >= step["minutes"]["practised"] > 0
        given |= set(step["gives"])
    assert "release record" in given


@pytest.mark.parametrize("command", [["measures"], ["steps"], ["steps", "--why"]])
def test_tables_are_readable(command: list[str]) -> None:
    answer = rimfold(*command, RECIPES / "bell-hex.yaml")
    assert answer.returncode == 0, answer.stderr
    assert "Bell hexagon" in answer.stdout
    assert max(len(line.rstrip()) for line in answer.stdout.splitlines()) <= 160


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("pebble-15", ["blade", "learner", "adult"]),
        ("skiff-oval", ["within 4 mm", "30 mm"]),
        ("gull-square", ["1015", "980", "251"]),
    ],
)
def test_refused_recipes_say_where_and_why_and_write_nothing(
    name: str, said: list[str], tmp_path: Path
) -> None:
    recipe = REFUSED / f"{name}.yaml"
    answer = rimfold("make", recipe, "--out", tmp_path / "out")
    assert answer.returncode == 2
    assert answer.stderr.startswith(f"{recipe}:")
    line, column = answer.stderr.removeprefix(f"{recipe}:").split(":")[:2]
    assert line.isdigit()
    assert column.isdigit()
    for word in said:
        assert word in answer.stderr
    assert not (tmp_path / "out").exists()
    assert "Traceback" not in answer.stderr


def test_a_pattern_is_made_when_asked_for_on_tiles_on_one_sheet_and_for_a_cutter(tmp_path: Path) -> None:
    assert "pattern" not in document_kinds(())
    answer = rimfold(
        "make", RECIPES / "pier-drum.yaml", "--size", "25", "--document", "pattern", "--out", tmp_path
    )
    assert answer.returncode == 0, answer.stderr
    folder = tmp_path / "pier-drum" / "25"
    assert {path.name for path in folder.iterdir()} == {"pattern.en.pdf", "pattern-whole.pdf", "pattern.svg"}
    for name in ("pattern.en.pdf", "pattern-whole.pdf", "pattern.svg"):
        assert str(folder / name) in answer.stdout
    assert "figures" not in answer.stdout


def test_a_size_that_is_not_there_is_named_with_those_that_are() -> None:
    answer = rimfold("measures", RECIPES / "pier-drum.yaml", "--size", "36")
    assert answer.returncode == 2
    assert answer.stdout == ""
    assert "36" in answer.stderr
    assert "25, 35, 45" in answer.stderr


def test_a_recipe_that_is_not_there_is_told_without_a_traceback(tmp_path: Path) -> None:
    answer = rimfold("check", tmp_path / "none.yaml")
    assert answer.returncode == 2
    assert "none.yaml" in answer.stderr
    assert "Traceback" not in answer.stderr


def test_a_bad_recipe_among_several_stops_only_itself(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("rimfold: 1\ntitle: Bad\n", encoding="utf-8")
    answer = rimfold("check", bad, RECIPES / "pier-drum.yaml")
    assert answer.returncode == 2
    assert "pier-drum.yaml: good" in answer.stdout
    assert str(bad) in answer.stderr


def test_two_recipes_with_one_file_name_are_refused(tmp_path: Path) -> None:
    twin = tmp_path / "pier-drum.yaml"
    twin.write_text((RECIPES / "pier-drum.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    answer = rimfold("check", twin, RECIPES / "pier-drum.yaml")
    assert answer.returncode == 2
    assert answer.stderr.count("also called pier-drum") == 2


def test_new_writes_a_recipe_that_is_good_and_never_writes_over_one(tmp_path: Path) -> None:
    assert rimfold("new", tmp_path / "mine.yaml").returncode == 0
    assert rimfold("check", tmp_path / "mine.yaml").returncode == 0
    before = (tmp_path / "mine.yaml").read_bytes()
    again = rimfold("new", tmp_path / "mine.yaml")
    assert again.returncode == 2
    assert "already there" in again.stderr
    assert (tmp_path / "mine.yaml").read_bytes() == before


def test_the_schema_is_json_schema_of_the_recipe() -> None:
    schema = json.loads(rimfold("schema").stdout)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert {"rimfold", "title", "sizes", "covering", "panel"} <= set(schema["properties"])


def test_warnings_go_to_the_error_stream_with_the_word() -> None:
    answer = rimfold("measures", RECIPES / "net-loft.yaml", "--json")
    assert "warning" in answer.stderr
    # 930.36 mm once round leave 10.36 mm over 23 stripes of 40 mm (arithmetic).
    assert "10 mm" in answer.stderr
    json.loads(answer.stdout)


def test_a_traceback_shows_only_with_debug() -> None:
    recipe = REFUSED / "gull-square.yaml"
    assert "Traceback" not in rimfold("check", recipe).stderr
    assert "Traceback" in rimfold("--debug", "check", recipe).stderr


def test_fit_names_the_largest_shade_and_the_recipe_written_with_it_passes_check(tmp_path: Path) -> None:
    gull = REFUSED / "gull-square.yaml"
    assert rimfold("check", gull).returncode == 2
    answer = rimfold("fit", gull, "--cloth", "98 x 30 cm", "--json")
    assert (answer.returncode, answer.stderr) == (0, "")
    size = json.loads(answer.stdout)["sizes"]["26"]
    assert not size["fits"]
    shade = size["largest"]["shade"]
    # 4 × side - (8 - 2π) × corner + 2π × 0.325 + 10 + 40 ≤ 980 holds for 250 and 43, and not for 251 and 43.
    assert (shade["side"], shade["corner_radius"]) == (250, 43)
    text = gull.read_text(encoding="utf-8")
    for old, new in (("side: 260 mm", "side: 250 mm"), ("radius: 45 mm", "radius: 43 mm")):
        assert old in text
        text = text.replace(old, new)
    (tmp_path / "gull.yaml").write_text(text, encoding="utf-8")
    checked = rimfold("check", tmp_path / "gull.yaml")
    assert checked.returncode == 0, checked.stderr


def test_fit_tells_what_lies_how_and_what_is_missing() -> None:
    answer = rimfold(
        "fit", RECIPES / "pier-drum.yaml", "--cloth", "30 x 120 cm", "--size", "35", "--size", "45"
    )
    assert answer.returncode == 0
    assert "Pier drum on a cloth 300 mm wide and 1200 mm long" in answer.stdout
    # 1155 × 270 turned leaves 30 and 45; 1470 × 310 turned is 10 too wide and 270 too long.
    line = next(line for line in answer.stdout.splitlines() if "1155 × 270" in line)
    assert "turned" in line
    assert "30 of width, 45 of length" in line
    assert "10 mm too wide and 270 mm too long" in answer.stdout
    one_way = rimfold(
        "fit", RECIPES / "pier-drum.yaml", "--cloth", "30 x 120 cm", "--size", "35", "--one-way"
    )
    assert "its print one way" in one_way.stdout
    assert "855 mm too wide" in one_way.stdout


@pytest.mark.parametrize(("cloth", "wrong"), [("108", "no size"), ("108 x 60", "has no unit")])
def test_a_cloth_that_cannot_be_read_is_told_in_words(cloth: str, wrong: str) -> None:
    answer = rimfold("fit", RECIPES / "pier-drum.yaml", "--cloth", cloth)
    assert (answer.returncode, answer.stdout) == (2, "")
    assert answer.stderr.startswith("--cloth: ")
    assert wrong.replace("no size", "is not a size") in answer.stderr


@pytest.mark.parametrize(
    ("asked", "wrong"),
    [
        (("--paper", "foolscap"), "'foolscap' is not one of 'a5', 'a4', 'a3', 'letter'"),
        (("--units", "ells"), "'ells' is not one of 'metric', 'inch', 'both'"),
        (("--print-size", "huge"), "'huge' is not one of 'normal', 'large', 'larger'"),
        (("--tone", "gruff"), "'gruff' is not one of 'plain', 'young'"),
        (("--lang", "en,xx"), "there is no wording in “xx”; there is de, en, es, fr"),
    ],
)
def test_an_edition_that_there_is_not_is_told_with_those_that_there_are(
    asked: tuple[str, ...], wrong: str, tmp_path: Path
) -> None:
    answer = rimfold("make", RECIPES / "fog-cone.yaml", *asked, "--out", tmp_path)
    assert (answer.returncode, answer.stdout) == (2, "")
    assert wrong in answer.stderr
    assert not any(tmp_path.iterdir())
