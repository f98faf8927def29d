"""rimfold class: the table, the JSON, and what it says of a class that cannot be."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.test_commands import RECIPES, rimfold
from tests.lesson.classes import CLASS, SQUARE, written

KEYS = [
    "median_minutes", "p80_minutes", "last_minutes", "deterministic_minutes", "lower_bound_minutes", "waits",
    "stations", "ways_out", "buy", "cost_per_head",
]  # fmt: skip


def test_the_json_has_its_keys_and_nothing_else_is_printed() -> None:
    answer = rimfold("class", RECIPES / "ferry-square.yaml", "--json")
    assert answer.returncode == 0, answer.stderr
    found = json.loads(answer.stdout)
    assert list(found) == KEYS
    assert set(found["waits"]) == {"rotary cutter", "seam roller"}
    assert found["stations"] == 8
    assert all(set(way) == {"change", "minutes_saved"} for way in found["ways_out"])
    assert all(set(item) == {"item", "needed", "packs", "left_over", "cost"} for item in found["buy"])
    # Median, eight in ten and bound in the order that they must have.
    assert found["lower_bound_minutes"] <= found["deterministic_minutes"] <= found["median_minutes"]
    assert found["median_minutes"] <= found["p80_minutes"]


def test_the_table_says_when_it_ends_what_to_borrow_and_what_a_head_costs() -> None:
    answer = rimfold("class", RECIPES / "pier-drum.yaml")
    assert answer.returncode == 0, answer.stderr
    for part in (
        "a class of 11, 6 places at the tables", "the last is done, in eight classes of ten",
        "at the latest.", "iron", "more: then", "What to buy", "EUR a head.", "people on.",
    ):  # fmt: skip
        assert part in answer.stdout, part


def test_the_same_class_gives_the_same_minutes_twice() -> None:
    first, again = (rimfold("class", RECIPES / "ferry-square.yaml", "--json").stdout for _ in range(2))
    assert first == again


def test_a_class_that_cannot_end_in_time_names_three_ways_out_and_exits_2(tmp_path: Path) -> None:
    path = written(tmp_path, SQUARE + CLASS.replace("4 h", "3 h"))
    for command in (("class", path), ("class", path, "--json"), ("check", path)):
        answer = rimfold(*command)
        assert answer.returncode == 2
        assert answer.stdout == ""
        assert "three ways out: " in answer.stderr
        assert answer.stderr.partition("three ways out: ")[2].count(";") == 2


def test_no_pack_is_printed_of_a_class_that_cannot_end_in_time(tmp_path: Path) -> None:
    path = written(tmp_path, SQUARE + CLASS.replace("4 h", "3 h"))
    answer = rimfold("make", path, "--document", "class-pack", "--out", tmp_path / "out")
    assert answer.returncode == 2
    assert "three ways out: " in answer.stderr
    assert not list((tmp_path / "out").rglob("*.pdf"))


def test_a_recipe_without_a_class_is_told_how_to_write_one(tmp_path: Path) -> None:
    answer = rimfold("class", written(tmp_path, SQUARE))
    assert answer.returncode == 2
    assert "has no class; write class: {people: 8" in answer.stderr


def test_a_blade_for_a_young_learner_of_the_class_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path, SQUARE + CLASS + "  ages: [9, 11]\n  blades: learner\n")
    answer = rimfold("class", path)
    assert answer.returncode == 2
    assert "a blade is given to a young learner (the youngest in the class is 9)" in answer.stderr
