"""Reading and judging technique files: each fault at its line, in words that a tutor understands."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.errors import TechniqueError
from generator.plan.build import load_technique, plan_for
from generator.plan.facts import domain
from tests.plan.samples import PLAIN, ROUND_350
from tests.recipe.expected import differences, expected_faults

HERE = Path(__file__).parent
BAD = sorted((HERE / "bad").glob("*.yaml"))


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_technique_is_refused_with_the_faults_that_it_announces(path: Path) -> None:
    expected = expected_faults(path)
    assert expected
    with pytest.raises(TechniqueError) as caught:
        load_technique(f"./{path.name}", path.parent)
    assert differences(expected, caught.value.faults) == []


def test_the_smallest_technique_is_sound_and_plans() -> None:
    technique = load_technique("./good-technique.yaml", HERE)
    plan = plan_for(technique, PLAIN, ROUND_350)
    assert [(step.number, step.id, step.minutes.practised) for step in plan.steps] == [(1, "roll", 1.0)]


def test_an_unknown_technique_is_told_with_the_closest_known() -> None:
    with pytest.raises(TechniqueError, match="did you mean rolled-edge"):
        load_technique("rolled-egde")


def test_a_technique_that_is_not_there_is_told() -> None:
    with pytest.raises(TechniqueError, match="there is no such file"):
        load_technique("./nothing-here.yaml", HERE)


def test_a_tutor_can_change_a_task_in_a_copy(tmp_path: Path) -> None:
    text = (HERE / "good-technique.yaml").read_text(encoding="utf-8")
    changed = text.replace('first_time: "1"', "first_time: 2 + 3 * p")
    (tmp_path / "my-way.yaml").write_text(changed, encoding="utf-8")
    plan = plan_for(load_technique("./my-way.yaml", tmp_path), PLAIN, ROUND_350)
    assert plan.technique == "my-way"
    assert plan.steps[0].minutes.first_time == pytest.approx(2 + 3 * 1.112)


def test_minutes_below_nothing_are_refused_for_the_size_that_has_them(tmp_path: Path) -> None:
    text = (HERE / "good-technique.yaml").read_text(encoding="utf-8")
    (tmp_path / "short.yaml").write_text(
        text.replace('first_time: "1"', "first_time: 1 - p"), encoding="utf-8"
    )
    technique = load_technique("./short.yaml", tmp_path)
    with pytest.raises(TechniqueError, match="less than no time"):
        plan_for(technique, PLAIN, ROUND_350)


def test_every_outline_that_a_recipe_may_have_is_known_to_conditions() -> None:
    assert {"circle", "ellipse", "stadium", "rectangle", "square", "polygon"} <= set(domain()["outline"])
    assert set(domain()) == set(PLAIN)
