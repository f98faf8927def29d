"""``rimfold quick``: numbers from one line, the same as those of the recipe that it writes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.recipe.ring_size import example
from generator.shape.build import outline_keys
from tests.cli.test_commands import rimfold

ASKED = ("rectangle", "28x17cm", "--radius", "2cm", "--height", "19cm", "--use", "table")
LAMP = ("--lamp", "60mm", "--watts", "6")


def test_the_five_numbers_what_is_needed_and_the_minutes_are_printed_with_a_drawing() -> None:
    answer = rimfold("quick", *ASKED, *LAMP)
    assert answer.returncode == 0, answer.stderr
    assert answer.stderr == ""
    # By hand: 2 × (280 + 170) − (8 − 2π) × 20 = 865.66 once round; the panel + 2π × 0.325 + 10 long and
    # 190 + 2 × 15 high; cloth 2 × 20 longer, 2 × 10 wider, up to the next 5; the seam in the middle of 280.
    for shown in (
        "866 mm  round the ring",
        "878 × 220 mm  panel",
        "920 × 240 mm  cloth to cut",
        "140 mm  side",
    ):
        assert shown in answer.stdout
    assert "280 × 170 × 190 mm" in answer.stdout
    for word in ("Lay out:", "Tools:", "iron", "first time", "estimates"):
        assert word in answer.stdout
    assert any(0x2800 <= ord(sign) < 0x2900 or sign == "#" for sign in answer.stdout)
    assert max(map(len, answer.stdout.splitlines())) <= 80


@pytest.mark.parametrize("outline", outline_keys())
def test_every_outline_is_a_shape_with_a_size_of_its_own_keys(outline: str) -> None:
    answer = rimfold("quick", outline, example(outline_keys()[outline]), "--height", "20cm", "--json", *LAMP)
    assert answer.returncode == 0, answer.stderr
    assert json.loads(answer.stdout)["outline"] == outline


def test_help_lists_every_shape_what_its_size_looks_like_and_every_optional_measure() -> None:
    said = rimfold("quick", "--help").stdout
    for name, keys in outline_keys().items():
        assert f"such as {name} {example(keys)}" in " ".join(said.split())
        for key in keys.optional:
            assert f"--{key.replace('_', '-')}" in said
    assert "number of sides, then across its flats" in " ".join(said.split())


def test_the_size_may_stand_in_several_words_and_hold_the_radius() -> None:
    one = rimfold("quick", *ASKED, *LAMP, "--json").stdout
    other = rimfold(
        "quick",
        "rectangle",
        "28",
        "x",
        "17",
        "x",
        "2",
        "cm",
        "--height",
        "19cm",
        "--use",
        "table",
        *LAMP,
        "--json",
    ).stdout
    assert json.loads(one)["measures"] == json.loads(other)["measures"]


def test_json_stands_alone_and_has_the_numbers_of_the_recipe_that_is_saved(tmp_path: Path) -> None:
    recipe = tmp_path / "mine.yaml"
    answer = rimfold("quick", *ASKED, *LAMP, "--json", "--save", recipe)
    found = json.loads(answer.stdout)
    assert rimfold("check", recipe).stdout == f"{recipe}: good; sizes 28x17cm\n"
    sizes = json.loads(rimfold("measures", recipe, "--json").stdout)["sizes"]
    assert found["measures"] == sizes["28x17cm"]["measures"]
    steps = json.loads(rimfold("steps", recipe, "--json").stdout)["sizes"]["28x17cm"]["steps"]
    assert found["steps"] == len(steps)
    assert set(found["five"]) == {"cloth", "panel", "perimeter", "tape", "seam"}
    assert all(key in found["measures"] for keys in found["five"].values() for key in keys)


def test_the_saved_recipe_explains_its_keys_and_is_never_written_over_another(tmp_path: Path) -> None:
    recipe = tmp_path / "mine.yaml"
    assert rimfold("quick", *ASKED, "--save", recipe).returncode == 0
    text = recipe.read_text(encoding="utf-8")
    assert text.count("#") > 30
    assert "28x17cm: {length: 28 cm, width: 17 cm, corner_radius: 2cm, height: 19cm}" in text
    assert "# lamp:" in text
    again = rimfold(
        "quick", "circle", "30cm", "--height", "20cm", "--save", recipe, "--print", "--out", tmp_path
    )
    assert again.returncode == 2
    assert "already there" in again.stderr
    assert recipe.read_text(encoding="utf-8") == text
    assert list(tmp_path.iterdir()) == [recipe]


def test_the_crib_sheet_is_written_and_nothing_else(tmp_path: Path) -> None:
    answer = rimfold("quick", *ASKED, *LAMP, "--print", "--out", tmp_path / "out")
    assert answer.returncode == 0, answer.stderr
    kept = tmp_path / "out" / ".rimfold"
    files = {path for path in (tmp_path / "out").rglob("*") if path.is_file()}
    made = {path for path in files if not path.is_relative_to(kept)}
    sheet = tmp_path / "out" / "quick-rectangle" / "28x17cm" / "crib-sheet.en.pdf"
    assert made == {sheet, tmp_path / "out" / "quick-rectangle" / "manifest.json"}
    assert str(sheet) in answer.stdout
    assert sheet.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("sqare", "28cm", "--height", "20cm"), ["sqare", "polygon", "write square"]),
        (("circle", "28", "--height", "20cm"), ["“28” has no unit", "mm, cm, m or in", "28cm"]),
        (("rectangle", "28cm", "--height", "20cm"), ["1 of the measures", "LENGTHxWIDTH", "28x17cm"]),
        (("circle", "28cm", "--height", "20"), ["“20” has no unit", "20 cm"]),
        (("circle", "28cm", "--height", "35,5cm"), ["comma", "35.5 cm"]),
        (("circle", "28cm", "--radius", "2cm", "--height", "20cm"), ["a circle has no corner radius"]),
        (("square", "28x3cm", "--radius", "2cm", "--height", "20cm"), ["said twice"]),
        (("square", "28cm", "--radius", "20cm", "--height", "20cm"), ["corner radius of 200 mm", "140 mm"]),
        (("circle", "28cm", "--height", "20cm", "--use", "tabel"), ["tabel", "write table"]),
        (("circle", "12cm", "--height", "20cm", "--lamp", "95mm"), ["gap of at least 30 mm", "use a lamp"]),
        (("circle", "28cm", "--height", "20cm", "--watts", "6"), ["--lamp"]),
        (("circle", "30mm", "--height", "20cm"), ["looks like centimetres given as millimetres"]),
        (("polygon", "2x28cm", "--height", "20cm"), ["“2”", "3"]),
    ],
)
def test_what_is_wrong_is_told_without_a_place_and_nothing_is_written(
    asked: tuple[str, ...], said: list[str], tmp_path: Path
) -> None:
    answer = rimfold("quick", *asked, "--print", "--out", tmp_path / "out", "--save", tmp_path / "mine.yaml")
    assert answer.returncode == 2
    assert answer.stdout == ""
    for words in said:
        assert words in answer.stderr
    assert ".yaml:" not in answer.stderr
    assert "Traceback" not in answer.stderr
    assert list(tmp_path.iterdir()) == []


def test_warnings_stand_on_the_error_stream_and_say_what_to_add() -> None:
    answer = rimfold("quick", "circle", "35cm", "--height", "22cm", "--json")
    assert answer.stderr.startswith("warning: no lamp is stated")
    assert "--lamp 60mm" in answer.stderr
    json.loads(answer.stdout)
    assert "wattage is not stated" in rimfold("quick", "circle", "35cm", "--height", "22cm", *LAMP[:2]).stderr


def test_options_reach_the_recipe(tmp_path: Path) -> None:
    recipe = tmp_path / "mine.yaml"
    options = (
        "--cloth",
        "120cm",
        "--one-way",
        "--struts",
        "4",
        "--hand",
        "left",
        "--title",
        "Quay: one",
        *LAMP,
    )
    assert rimfold("quick", "circle", "25cm", "--height", "20cm", *options, "--save", recipe).returncode == 0
    text = recipe.read_text(encoding="utf-8")
    for line in (
        "width: 120cm",
        "direction: one-way",
        "struts: 4",
        "hand: left",
        "title: 'Quay: one'",
        "watts: 6",
    ):
        assert line in text
