"""The trimmed edge: a second technique, told by its file alone."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.base.errors import GeometryError
from generator.examine import examine
from generator.plan.build import load_technique, plan_for
from generator.plan.facts import domain
from generator.plan.model import Plan
from generator.plan.technique import Technique
from tests.plan.samples import PLAIN, ROUND_350, rolled_edge

RECIPES = Path(str(data_folder("recipes")))
BOUND = {**PLAIN, "kiss_cut": False, "margins": False, "braid": True}

# Common practice, no source: as the trade makes a rolled shade up to the closed seam, then both edges bound.
ORDER = [
    "choose-use", "prove-rings", "press-cloth", "place-motif", "rough-cut",
    "lay-face-down", "position-panel", "anchor", "laminate", "burnish",
    "trim", "prepare-seam",
    "mark-rings", "tape-rings", "wrap-tape",
    "stop-and-orient", "dock", "roll", "close-seam",
    "fold-binding", "bind-plain-end", "bind-fitter-end",
    "inspect",
]  # fmt: skip
TUCKED = {
    "break-kiss-cuts", "release-margins", "notch", "turn-and-snip", "tuck-plain-end", "tuck-fitter-end",
    "glue-braid",
}  # fmt: skip


@cache
def technique() -> Technique:
    return load_technique("trimmed-edge")


def bound(**changes: Any) -> Plan:
    return plan_for(technique(), {**BOUND, **changes}, ROUND_350)


def test_the_plain_case_comes_out_in_the_trades_own_order() -> None:
    plan = bound()
    assert [step.id for step in plan.steps] == ORDER
    assert plan.proved


def test_nothing_is_released_notched_snipped_or_tucked() -> None:
    assert TUCKED.isdisjoint(task.id for task in technique().tasks)
    assert {task.id for task in rolled_edge().tasks} >= TUCKED
    for name in ("gauge", "snips", "tucking-tool"):
        assert name not in bound().tools


def test_what_is_done_as_in_the_other_technique_has_its_words_from_there() -> None:
    words = {task.id: task.wording for task in technique().tasks}
    own = {name for name, wording in words.items() if wording == "trimmed-edge"}
    assert own == {
        "position-panel", "trim", "fold-hem", "prepare-seam", "dock",
        "fold-binding", "bind-plain-end", "bind-fitter-end",
    }  # fmt: skip
    assert {words[name] for name in words if name not in own} == {"rolled-edge"}


def test_a_hem_is_folded_before_its_tape() -> None:
    order = [step.id for step in bound(hem=True).steps]
    assert order.index("fold-hem") + 1 == order.index("prepare-seam")


def test_the_binding_is_folded_and_the_seam_closed_before_an_edge_is_bound() -> None:
    plan = bound()
    step = plan.step("bind-plain-end")
    assert step is not None
    assert set(step.from_steps) == {"closed shade", "folded binding"}
    assert all(number < step.number for number in step.from_steps.values())


@given(st.fixed_dictionaries({name: st.sampled_from(values) for name, values in domain().items()}))
def test_no_step_uses_what_has_not_been_given(facts: dict[str, Any]) -> None:
    plan = plan_for(technique(), facts, ROUND_350)
    there = {item.name for item in technique().materials}
    for step in plan.steps:
        assert set(step.task.needs) <= there | plan.given_before(step.number)
    assert plan.proved


def test_the_sample_is_planned_with_it() -> None:
    (work,) = examine(RECIPES / "tide-drum.yaml").works
    assert work.plan.technique == "trimmed-edge"
    assert [step.id for step in work.plan.steps] == ORDER


def changed(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = (RECIPES / "tide-drum.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "drum.yaml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("change", "place", "wrong"),
    [
        (("margin: 0 mm", "margin: 15 mm"), "panel: {margin", "there is nothing to turn in"),
        (("braid: {width: 16 mm, cures: 1 h}", ""), "", "the recipe has no braid"),
        (("technique: trimmed-edge", "technique: rolled-edge"), "panel: {margin", "no margin to turn in"),
    ],
    ids=["a margin", "no braid", "the other technique"],
)
def test_a_recipe_that_contradicts_its_technique_is_refused_at_its_line(
    tmp_path: Path, change: tuple[str, str], place: str, wrong: str
) -> None:
    path = changed(tmp_path, change)
    with pytest.raises(GeometryError) as caught:
        examine(path)
    (fault,) = caught.value.faults
    assert wrong in fault.wrong
    lines = path.read_text(encoding="utf-8").splitlines()
    assert place in lines[fault.span.line - 1]


def test_a_copy_beside_the_recipe_folds_the_binding_while_the_rings_are_taped(tmp_path: Path) -> None:
    """The example of the developers' page: one file, one line of it changed, and other sheets."""
    text = (RECIPES / "techniques" / "trimmed-edge.yaml").read_text(encoding="utf-8")
    old, new = "  - id: fold-binding\n    stage: bind\n", "  - id: fold-binding\n    stage: tape\n"
    assert old in text
    (tmp_path / "fold-first.yaml").write_text(text.replace(old, new), encoding="utf-8")
    plan = plan_for(load_technique("./fold-first.yaml", tmp_path), BOUND, ROUND_350)
    order = [step.id for step in plan.steps]
    assert sorted(order) == sorted(ORDER)
    assert order.index("prepare-seam") < order.index("fold-binding") < order.index("stop-and-orient")
    # A result that is needed later than in the next step still goes to the step that needs it.
    step = plan.step("fold-binding")
    assert step is not None
    assert step.to_steps["folded binding"] == (order.index("bind-plain-end") + 1,)
