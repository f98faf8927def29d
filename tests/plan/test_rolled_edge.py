"""The rolled-edge technique: the plan that a practitioner would follow, in every variant."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan.facts import domain
from generator.plan.graph import follower, graph_of
from generator.plan.model import Link, Reason
from tests.plan.samples import PLAIN, rolled, rolled_edge

# The order of work of the trade (common practice, no source).
ORDER = [
    "choose-use",
    "prove-rings",
    "press-cloth",
    "place-motif",
    "rough-cut",
    "lay-face-down",
    "position-panel",
    "anchor",
    "laminate",
    "burnish",
    "trim",
    "break-kiss-cuts",
    "release-margins",
    "prepare-seam",
    "mark-rings",
    "tape-rings",
    "wrap-tape",
    "stop-and-orient",
    "dock",
    "roll",
    "close-seam",
    "notch",
    "turn-and-snip",
    "tuck-plain-end",
    "tuck-fitter-end",
    "inspect",
]

RECIPES = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in domain().items()})


def ids(**changes: Any) -> list[str]:
    return [step.id for step in rolled(**changes).steps]


def test_the_plain_case_comes_out_in_the_trades_own_order() -> None:
    plan = rolled()
    assert [step.id for step in plan.steps] == ORDER
    assert [step.number for step in plan.steps] == list(range(1, 27))
    assert plan.proved


def test_stages_stand_in_their_order() -> None:
    assert [(stage.id, stage.steps[0].number, stage.steps[-1].number) for stage in rolled().stages] == [
        ("prepare", 1, 5),
        ("laminate", 6, 10),
        ("trim", 11, 11),
        ("release", 12, 14),
        ("tape", 15, 17),
        ("roll", 18, 21),
        ("tuck", 22, 25),
        ("finish", 26, 26),
    ]


def test_the_minutes_of_a_round_350_are_those_found_by_adding_up() -> None:
    # Added up by hand for p 1.112 and three struts.
    minutes = rolled().minutes
    assert minutes.first_time == pytest.approx(120.376)
    assert minutes.practised == pytest.approx(54.688)
    assert sum(stage.minutes.first_time for stage in rolled().stages) == pytest.approx(120.376)


@pytest.mark.parametrize(
    ("facts", "sets"), [({}, 66), ({"kiss_cut": False}, 58), ({"hem": True}, 70), ({"two_panels": True}, 86)]
)
def test_the_graph_has_the_feasible_sets_that_were_counted(facts: dict[str, Any], sets: int) -> None:
    # Counted by trial for the graph alone, without stages, with what must go on at once.
    tasks = rolled_edge().tasks_for({**PLAIN, **facts})
    before = {task.id: set(graph_of(tasks).predecessors(task.id)) for task in tasks}
    then = {task.id: follower(task, tasks) for task in tasks}
    seen: set[frozenset[str]] = set()
    ahead = [frozenset[str]()]
    while ahead:
        done = ahead.pop()
        if done in seen:
            continue
        seen.add(done)
        forced = [then[name] for name in done if then[name] is not None and then[name] not in done]
        ready = forced or [name for name in before if name not in done and before[name] <= done]
        ahead.extend(done | {name} for name in ready if name is not None)
    assert len(seen) == sets


def test_the_graph_alone_has_the_orders_that_were_counted() -> None:
    # Counted by trial: 2 366 orders hold, if nothing must go on at once and stages are ignored.
    tasks = rolled_edge().tasks_for(PLAIN)
    before = {task.id: frozenset(graph_of(tasks).predecessors(task.id)) for task in tasks}

    @cache
    def ways(done: frozenset[str]) -> int:
        if len(done) == len(before):
            return 1
        return sum(ways(done | {n}) for n in before if n not in done and before[n] <= done)

    assert ways(frozenset()) == 2366


def test_what_must_go_on_at_once_does() -> None:
    plan = rolled()
    assert [step.number for step in plan.steps if step.task.after == "at-once"] == [7, 8, 18, 19, 20]
    tasks = [step.task for step in plan.steps]
    assert {task.id: follower(task, tasks) for task in tasks if task.after == "at-once"} == {
        "position-panel": "anchor",
        "anchor": "laminate",
        "stop-and-orient": "dock",
        "dock": "roll",
        "roll": "close-seam",
    }


def test_pauses_gates_and_what_cannot_be_undone_stand_where_the_trade_has_them() -> None:
    steps = rolled().steps
    assert [step.number for step in steps if step.task.after == "safe-pause"] == [5, 11, 14, 17, 21]
    assert [step.number for step in steps if step.task.irreversible] == [5, 9, 11, 13, 21, 22, 23]
    assert [step.number for step in steps if step.task.gate] == [18]


def test_without_kiss_cuts_trimming_gives_the_margins() -> None:
    plan = rolled(kiss_cut=False)
    assert [step.id for step in plan.steps] == [
        name for name in ORDER if name not in ("break-kiss-cuts", "release-margins")
    ]
    trim, seam = plan.step("trim"), plan.step("prepare-seam")
    assert trim is not None
    assert seam is not None
    assert "cloth margins" in trim.task.gives
    assert seam.from_steps["cloth margins"] == trim.number
    assert "gauge" in plan.tools
    assert "snips" not in plan.tools


def test_a_hem_is_folded_before_its_tape() -> None:
    order = ids(hem=True)
    assert order.index("fold-hem") + 1 == order.index("prepare-seam")
    assert [name for name in order if name != "fold-hem"] == ORDER


def test_a_braid_is_glued_after_the_tuck_and_dry_before_the_inspection() -> None:
    plan = rolled(braid=True)
    assert [step.id for step in plan.steps][-2:] == ["glue-braid", "inspect"]
    assert plan.steps[-1].from_steps["cured braid"] == plan.steps[-2].number
    assert {"braid", "glue"} <= set(plan.consumables)


def test_cloth_that_frays_much_keeps_its_margin_strips_until_it_is_rolled() -> None:
    stages = [stage.id for stage in rolled(frays="much").stages]
    assert stages.index("tape") < stages.index("release") == stages.index("roll") - 1
    assert "fray-sealant" in rolled(frays="much").consumables


def test_a_named_adult_does_what_burns_or_cuts_for_young_learners() -> None:
    assert [s.number for s in rolled(young=True).steps if s.adult] == [3, 5, 11, 22, 23]
    assert not any(step.adult for step in rolled().steps)


def test_large_work_wants_a_helper_from_the_cut_to_the_bond_and_for_the_roll() -> None:
    assert [s.number for s in rolled(large=True).steps if s.helper] == [5, 6, 7, 8, 9, 19, 20, 21]


def test_the_hand_changes_nothing_in_the_plan() -> None:
    assert ids(hand="left") == ids(hand="right")


@given(RECIPES)
def test_no_step_uses_what_has_not_been_given(facts: dict[str, Any]) -> None:
    plan = rolled(**facts)
    materials = {item.name for item in rolled_edge().materials}
    for step in plan.steps:
        assert set(step.task.needs) <= plan.given_before(step.number) | materials
        assert all(number < step.number for number in step.from_steps.values())


@given(RECIPES)
def test_the_lists_of_tools_and_consumables_are_what_the_steps_use(facts: dict[str, Any]) -> None:
    plan = rolled(**facts)
    assert set(plan.tools) == {tool for step in plan.steps for tool in step.task.tools}
    assert set(plan.consumables) == {one for step in plan.steps for one in step.task.consumables}
    assert len(set(plan.tools)) == len(plan.tools)


@given(RECIPES)
def test_every_variant_has_a_proved_plan_that_ends_with_the_inspection(facts: dict[str, Any]) -> None:
    plan = rolled(**facts)
    assert plan.proved
    assert plan.cost == plan.bound
    assert plan.steps[-1].id == "inspect"
    for step, following in zip(plan.steps, plan.steps[1:], strict=False):
        if step.task.after == "at-once":
            assert set(step.task.gives) & set(following.task.needs)


@given(RECIPES)
def test_every_mishap_can_be_mended_before_a_later_step_or_at_a_moment(facts: dict[str, Any]) -> None:
    plan = rolled(**facts)
    assert {mishap.task for mishap in plan.mishaps} == {step.id for step in plan.steps}
    for mishap in plan.mishaps:
        assert (mishap.before is None) == (mishap.until != "before")
        assert mishap.before is None or mishap.before > mishap.step


def test_every_step_can_say_why_it_stands_where_it_stands() -> None:
    plan = rolled()
    assert plan.steps[18].why == (
        Reason("needs", links=(Link("oriented rings", (18,)),)),
        Reason("waits", links=(Link("docked rings", (20,)),)),
        Reason("earlier", links=(Link("oriented rings", (18,)),)),
        Reason("later", links=(Link("docked rings", (20,)),)),
        Reason("follows", step=18),
        Reason("followed", step=20),
        Reason("beside", step=18, same=("face", "place")),
    )
    for step in plan.steps:
        kinds = [reason.kind for reason in step.why]
        assert kinds[:2] == ["needs", "waits"]
        assert kinds[2] in ("earlier", "free")
        assert ("undone" in kinds) == step.task.irreversible


def test_the_printed_plan_has_the_whole_minutes_of_the_pages_and_their_sum() -> None:
    plan = rolled()
    for step, printed in zip(plan.steps, plan.printed.steps, strict=True):
        assert (printed.minutes.first_time, printed.minutes.practised) == step.whole
        assert printed.number == step.number
    assert plan.printed.minutes.first_time == round(plan.minutes.first_time)
