"""A plan at a glance: boxes, cells and pictures by rule, whatever the technique and the recipe."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.plan.build import load_technique, plan_for
from generator.plan.facts import domain
from generator.plan.glance import ACROSS, BOXES, Glance, glance
from generator.plan.model import Plan
from tests.plan.samples import PLAIN, ROUND_350, rolled

RECIPES = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in domain().items()})
PLAIN_FILE = Path(__file__).parent / "good-technique.yaml"


def trimmed() -> Plan:
    facts = {**PLAIN, "margins": False, "kiss_cut": False, "braid": True}
    return plan_for(load_technique("trimmed-edge"), facts, ROUND_350)


def told(seen: Glance) -> list[int]:
    """Numbers of the steps in the order in which they stand."""
    before = [step.number for box in seen.before for step in box.steps]
    after = [step.number for box in seen.after for step in box.steps]
    return [*before, *([seen.gate.number] if seen.gate else []), *after]


@settings(max_examples=40)
@given(facts=RECIPES)
def test_every_step_stands_once_and_in_order_in_at_most_six_boxes_of_two_cells(
    facts: dict[str, object],
) -> None:
    plan = rolled(**facts)
    seen = glance(plan)
    assert told(seen) == [step.number for step in plan.steps]
    assert len(seen.boxes) <= BOXES
    assert len(seen.before) % ACROSS == 0
    for box in seen.boxes:
        assert 1 <= len(box.cells) <= 2
        for cell in box.cells:
            assert cell.shown in cell.steps
            assert cell.shown.task.teaches == max(step.task.teaches for step in cell.steps)


@settings(max_examples=40)
@given(facts=RECIPES)
def test_no_other_place_to_part_a_box_shows_more(facts: dict[str, object]) -> None:
    for box in glance(rolled(**facts)).boxes:
        weights = [step.task.teaches for step in box.steps]
        most = max(
            (max(weights[:at]) + max(weights[at:]) for at in range(1, len(weights))), default=weights[0]
        )
        assert sum(cell.shown.task.teaches for cell in box.cells) == most


def test_a_plain_shade_has_four_boxes_before_the_stop_and_two_after() -> None:
    # The printed system: prepare, laminate, trim and release, tape; stop; roll, tuck and finish.
    seen = glance(rolled())
    assert [box.stages for box in seen.before] == [
        ("prepare",),
        ("laminate",),
        ("trim", "release"),
        ("tape",),
    ]
    assert seen.gate is not None
    assert seen.gate.id == "stop-and-orient"
    assert [box.stages for box in seen.after] == [("roll",), ("tuck", "finish")]
    assert len(seen.pictured) == 13


def test_another_technique_gets_boxes_of_its_own_stages() -> None:
    seen = glance(trimmed())
    assert [box.stages for box in seen.boxes] == [
        ("prepare",),
        ("laminate",),
        ("trim", "seam"),
        ("tape",),
        ("roll",),
        ("bind", "finish"),
    ]
    assert "bind-plain-end" in {step.id for step in seen.pictured}


def test_a_technique_without_a_stop_has_all_its_boxes_in_a_row() -> None:
    seen = glance(plan_for(load_technique("./good-technique.yaml", PLAIN_FILE.parent), PLAIN, ROUND_350))
    assert seen.gate is None
    assert seen.after == ()
    assert [[step.id for step in box.steps] for box in seen.before] == [["roll"]]
    assert len(seen.pictured) == 1


def test_the_three_mistakes_that_cannot_be_undone_are_those_of_cutting_laminating_and_closing() -> None:
    # The craft: 5 short → a smaller shade, 9 set crease → replace, 21 once it is pressed (common practice).
    assert [(each.task, each.until) for each in glance(rolled()).undone] == [
        ("rough-cut", "never"),
        ("laminate", "never"),
        ("close-seam", "at-once"),
    ]


@settings(max_examples=40)
@given(facts=RECIPES)
def test_what_is_called_beyond_mending_belongs_to_a_step_that_cannot_be_undone(
    facts: dict[str, object],
) -> None:
    plan = rolled(**facts)
    undone = glance(plan).undone
    irreversible = {step.number for step in plan.steps if step.task.irreversible}
    assert {each.step for each in undone} <= irreversible
    assert len({each.step for each in undone}) == len(undone) <= 3
    never = {each.step for each in plan.mishaps if each.until == "never"} & irreversible
    assert len(never & {each.step for each in undone}) == min(3, len(never))


@pytest.mark.parametrize(
    ("said", "expected"), [("", 1), ("    teaches: 3\n", 3), ("    irreversible: true\n", 2)]
)
def test_a_task_teaches_what_its_file_says_or_more_if_it_cannot_be_undone(
    said: str, expected: int, tmp_path: Path
) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(PLAIN_FILE.read_text(encoding="utf-8") + said, encoding="utf-8")
    assert (
        plan_for(load_technique("./mine.yaml", tmp_path), PLAIN, ROUND_350).steps[0].task.teaches == expected
    )
