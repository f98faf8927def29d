"""Tasks that are done once for each panel: how often, how long, and what the plan says of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.plan.build import load_technique, plan_for
from generator.plan.model import Reason, Step
from generator.plan.pair import pair_plan
from generator.plan.times import read_times
from tests.plan.samples import PLAIN, ROUND_350, ROUND_450, rolled, rolled_edge

# The trade's own list (common practice, no source): from laying the cloth down to preparing the seam.
EACH = [
    "lay-face-down", "position-panel", "anchor", "laminate", "burnish", "trim", "break-kiss-cuts",
    "release-margins", "prepare-seam",
]  # fmt: skip


def step(name: str, **facts: Any) -> Step:
    found = rolled(**facts).step(name)
    assert found is not None
    return found


def test_what_is_done_for_each_panel_is_done_twice_for_two() -> None:
    plan = rolled(two_panels=True)
    assert [s.id for s in plan.steps if s.times == 2] == EACH
    assert {s.times for s in rolled().steps} == {1}
    assert step("fold-hem", two_panels=True, hem=True).times == 2


def test_its_minutes_are_those_of_one_panel_as_often() -> None:
    # By hand: twice 2 + 4 × 0.718 to laminate; once 2 + 4 × 1.426 to roll, since all is rolled at once.
    assert step("laminate", two_panels=True).minutes.first_time == pytest.approx(2 * (2 + 4 * 0.718))
    assert step("laminate", two_panels=True).minutes.practised == pytest.approx(2 * (1 + 2 * 0.718))
    assert step("roll", two_panels=True).minutes.first_time == pytest.approx(2 + 4 * 1.426)
    assert step("anchor", two_panels=True).minutes.first_time == pytest.approx(2 * 2)


def test_measured_minutes_are_taken_as_often(tmp_path: Path) -> None:
    form = tmp_path / "form.yaml"
    shade = "{p: 1.0, n: 3, skill: first-time, minutes: {anchor: 3, roll: 4}}"
    form.write_text(
        f"times: 1\ntechnique: rolled-edge\nworkroom: Here\nshades:\n  - {shade}\n  - {shade}\n", "utf-8"
    )
    times = read_times(form, rolled_edge())
    plan = plan_for(rolled_edge(), {**PLAIN, "two_panels": True}, ROUND_450, times)
    minutes = {s.id: s.minutes.first_time for s in plan.steps}
    assert minutes["anchor"] == pytest.approx(6)
    assert minutes["roll"] == pytest.approx(4)


def test_panels_are_joined_flat_marked_twice_and_notched_twice() -> None:
    plan = rolled(two_panels=True)
    order = [s.id for s in plan.steps]
    for before, after in (
        ("prepare-seam", "join-panels"),
        ("mark-rings", "mark-joints"),
        ("notch", "notch-joints"),
    ):
        assert order.index(after) == order.index(before) + 1
    assert {"join-panels", "mark-joints", "notch-joints"}.isdisjoint(s.id for s in rolled().steps)
    join = step("join-panels", two_panels=True)
    assert join.task.face == "down"
    assert join.task.irreversible
    # Corners are bent on what has been joined.
    bent = [s.id for s in rolled(two_panels=True, outline="polygon").steps]
    assert bent.index("join-panels") + 1 == bent.index("pre-bend")


def test_a_plan_says_how_often_and_a_pair_can_share_it() -> None:
    assert Reason("times-panels", count=2) in step("laminate", two_panels=True).why
    pair = pair_plan(rolled(two_panels=True))
    assert pair.proved
    assert pair.minutes < pair.alone


def test_a_trimmed_edge_is_joined_and_marked_but_not_notched() -> None:
    bound = {**PLAIN, "margins": False, "kiss_cut": False, "braid": True, "two_panels": True}
    order = [s.id for s in plan_for(load_technique("trimmed-edge"), bound, ROUND_450).steps]
    assert order.index("join-panels") == order.index("prepare-seam") + 1
    assert order.index("mark-joints") == order.index("mark-rings") + 1
    assert "notch-joints" not in order


def test_a_task_may_be_done_once_for_each_strut(tmp_path: Path) -> None:
    text = (Path(__file__).parent / "good-technique.yaml").read_text(encoding="utf-8")
    assert text.count("  - id: roll\n") == 1
    (tmp_path / "each.yaml").write_text(text.replace("  - id: roll\n", "  - id: roll\n    times: struts\n"))
    (made,) = plan_for(load_technique("./each.yaml", tmp_path), PLAIN, ROUND_350).steps
    assert made.times == 3
    assert made.minutes.practised == pytest.approx(3)
