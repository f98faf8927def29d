"""What the command line tells of a plan: a pair, faults, the graph, measured times, an order not proved."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.base.assets import data_folder
from generator.build import document_kinds
from tests.cli.test_commands import rimfold

RECIPES = data_folder("recipes")
DRUM = RECIPES / "pier-drum.yaml"


def test_a_pair_is_told_who_does_what_when_and_what_it_saves() -> None:
    answer = rimfold("steps", DRUM, "--size", "35", "--pair")
    assert answer.returncode == 0, answer.stderr
    # Found by trial, twice: 88.360 of 120.376 minutes the first time, 39.680 of 54.688 practised.
    assert "88 min instead of 120: 32 min saved" in answer.stdout
    assert "40 min instead of 55: 15 min saved" in answer.stdout.replace("\n", " ")
    assert "critical path" in answer.stdout
    assert "second person" in answer.stdout


def test_a_pair_stands_in_json_too() -> None:
    answer = rimfold("steps", DRUM, "--size", "35", "--pair", "--json")
    pair = json.loads(answer.stdout)["sizes"]["35"]["pair"]
    assert pair["first_time"]["saved"] == pytest.approx(32.0, abs=0.05)
    assert pair["practised"]["saved"] == pytest.approx(15.0, abs=0.05)
    assert {turn["step"] for turn in pair["first_time"]["steps"]} == set(range(1, 27))
    assert "pair" not in json.loads(rimfold("steps", DRUM, "--size", "35", "--json").stdout)["sizes"]["35"]


def test_the_graph_is_written_as_a_drawing(tmp_path: Path) -> None:
    path = tmp_path / "plan.svg"
    answer = rimfold("steps", DRUM, "--size", "35", "--graph", path)
    assert answer.returncode == 0, answer.stderr
    assert str(path) in answer.stdout
    assert "88 min" in answer.stdout
    assert ElementTree.parse(path).getroot().get("data-figure") == "plan-graph"


def test_a_drawing_of_several_sizes_or_of_another_kind_is_refused(tmp_path: Path) -> None:
    several = rimfold("steps", DRUM, "--graph", tmp_path / "plan.svg")
    assert several.returncode == 2
    assert "choose one of 25, 35, 45 with --size" in several.stderr
    other = rimfold("steps", DRUM, "--size", "35", "--graph", tmp_path / "plan.png")
    assert other.returncode == 2
    assert list(tmp_path.iterdir()) == []


def test_faults_tell_what_is_seen_what_went_wrong_how_to_mend_it_and_until_when() -> None:
    answer = rimfold("faults", DRUM, "--size", "35", "--json")
    faults = json.loads(answer.stdout)["sizes"]["35"]["faults"]
    hub = next(fault for fault in faults if fault["task"] == "stop-and-orient")
    assert hub["see"] == "The hub sticks out of the shade"
    assert hub["mistake"] == "Hub leans outwards"
    assert hub["mend"] == "turn the fitter ring round now"
    assert (hub["moment"], hub["before"], hub["until"]) == ("before", 19, "before step 19")
    assert {fault["step"] for fault in faults} == set(range(1, 27))


def test_faults_are_a_readable_table() -> None:
    answer = rimfold("faults", RECIPES / "bell-hex.yaml")
    assert answer.returncode == 0
    for head in ("you see", "what went wrong", "mend it", "last moment"):
        assert head in answer.stdout


def test_a_work_plan_is_made_only_if_it_is_asked_for() -> None:
    unasked = document_kinds(())
    assert "work-plan" not in unasked
    assert "step-sheet" in unasked
    assert document_kinds(("work-plan",)) == ("work-plan",)


def test_a_work_plan_is_printed_on_request_and_nothing_else_with_it(tmp_path: Path) -> None:
    answer = rimfold("make", DRUM, "--size", "35", "--document", "work-plan", "--out", tmp_path)
    assert answer.returncode == 0, answer.stderr
    folder = tmp_path / "pier-drum" / "35"
    assert [path.name for path in folder.glob("*.pdf")] == ["work-plan.en.pdf"]
    assert "work-plan.en.pdf (7 pages)" in answer.stdout


def timed(tmp_path: Path, line: str) -> Path:
    path = tmp_path / "drum.yaml"
    text = DRUM.read_text(encoding="utf-8")
    path.write_text(
        text.replace("technique: rolled-edge", f"technique: rolled-edge\n{line}"), encoding="utf-8"
    )
    return path


def test_measured_times_are_said_to_be_measured(tmp_path: Path) -> None:
    recipe = timed(tmp_path, "times: gannetry-steps")
    assert "measured on 7 shades, Gannetry Steps Workroom, ±" in rimfold("steps", recipe).stdout.replace(
        "\n", " "
    )
    times = json.loads(rimfold("steps", recipe, "--json").stdout)["sizes"]["35"]["times"]
    assert times["source"] == "measured"
    assert times["spread"]["first_time"] > 0
    assert "(estimates)" in rimfold("steps", DRUM).stdout


def test_a_form_that_is_not_there_is_told_at_its_line(tmp_path: Path) -> None:
    answer = rimfold("steps", timed(tmp_path, "times: gannetry-step"))
    assert answer.returncode == 2
    assert ":6:8: there is no form of times" in answer.stderr
    assert "did you mean gannetry-steps?" in answer.stderr


def test_an_order_that_could_not_be_proved_is_said_so(tmp_path: Path) -> None:
    # Fourteen tasks that need nothing of one another have 2^14 feasible sets, more than the search looks at.
    # The first three take rule, pins and rule again, so that two changes of tool are the least there is, and
    # the bound, one for two tools, is not reached.
    needs = {"b": "piece a", "c": "piece b"}
    tasks = "".join(
        f"""
  - id: part-{letter}
    stage: all
    needs: [{needs.get(letter, "cloth")}]
    gives: [piece {letter}]
    minutes: {{first_time: "1", practised: "1"}}
    tools: [{"rule" if number % 2 else "pins"}]
    figure: inspect
    mend_until: any-time
    words: {{title: Part {letter}, do: [Hold it., Look at it.], check: right, mistake: m, rescue: r, see: s}}
"""
        for number, letter in enumerate("abcdefghijklmnop")
    )
    names = ", ".join(f"piece {letter}" for letter in "cdefghijklmnop")
    head = f"technique: 1\nmaterials: [cloth]\nfinish: [{names}]\ntools: [rule, pins]\nstages: [all]\n"
    stage = "words: {stage.all: All}\n"
    (tmp_path / "many.yaml").write_text(f"{head}{stage}tasks:{tasks}", encoding="utf-8")
    recipe = tmp_path / "drum.yaml"
    # Its class names stages and tools that this technique does not have.
    text, _, _ = DRUM.read_text(encoding="utf-8").partition("\nclass:")
    recipe.write_text(text.replace("technique: rolled-edge", "technique: ./many.yaml"), encoding="utf-8")
    answer = rimfold("steps", recipe, "--size", "35")
    assert answer.returncode == 0, answer.stderr
    order = json.loads(rimfold("steps", recipe, "--size", "35", "--json").stdout)["sizes"]["35"]["order"]
    assert order["bound"]["tools"] == 1
    assert order["cost"]["tools"] == 2
    assert not order["proved"]
    assert "not proved to be the best" in answer.stdout.replace("\n", " ")
