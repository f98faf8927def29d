"""Variants that change the plan, and laws that hold for all of them together."""

from __future__ import annotations

from itertools import pairwise
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan.facts import ADULT_TOOLS, domain
from generator.plan.model import Plan, Task
from tests.plan.samples import PLAIN, rolled, rolled_edge

VALUES = {name: st.sampled_from(values) for name, values in domain().items()}
RECIPES = st.fixed_dictionaries(VALUES)


def ids(**changes: Any) -> list[str]:
    return [step.id for step in rolled(**changes).steps]


def test_sharp_corners_are_relieved_after_the_notch_and_before_the_slits() -> None:
    plan = rolled(outline="square", sharp=True, relief=True)
    order = [step.id for step in plan.steps]
    assert order.index("notch") + 1 == order.index("relief-cuts") == order.index("turn-and-snip") - 1
    step = plan.step("relief-cuts")
    assert step is not None
    assert step.task.irreversible
    assert "relief-cuts" not in ids(outline="square")


def test_a_hexagons_corners_are_bent_before_the_rolling_that_cannot_wait() -> None:
    order = ids(outline="polygon")
    assert order.index("prepare-seam") < order.index("pre-bend") < order.index("stop-and-orient")
    assert "pre-bend" in ids(outline="rectangle", sharp=True)
    assert "pre-bend" not in ids(outline="rectangle")


@pytest.mark.parametrize(
    ("fact", "task"), [({"own_cloth": True}, "press-cloth"), ({"repeat": True}, "place-motif")]
)
def test_cloth_of_ones_own_and_a_pattern_take_more_time(fact: dict[str, Any], task: str) -> None:
    more, plain = rolled(**fact).step(task), rolled().step(task)
    assert more is not None
    assert plain is not None
    assert more.minutes.first_time > plain.minutes.first_time
    assert more.minutes.practised > plain.minutes.practised


def test_braid_must_dry_before_anyone_can_go_on() -> None:
    step = rolled(braid=True).step("glue-braid")
    assert step is not None
    # The sample's facts say 100 minutes for every measure.
    assert step.rest == 100
    assert any("rests for 100 minutes" in sentence for sentence in step.why)


@given(RECIPES)
def test_blades_and_irons_are_never_a_childs(facts: dict[str, Any]) -> None:
    for step in rolled(**{**facts, "young": True}).steps:
        if ADULT_TOOLS & set(step.task.tools):
            assert step.adult


def cost_of(order: list[Task]) -> tuple[int, int, int, int]:
    """Changes of face, place and tool, and minus the positions of what cannot be undone."""
    face, place, tool = None, "bench", None
    changes = [0, 0, 0]
    late = 0
    for position, task in enumerate(order, start=1):
        first = task.tools[0] if task.tools else None
        changes[0] += bool(task.face and face and task.face != face)
        changes[1] += bool(task.place and place and task.place != place)
        changes[2] += bool(first and tool and first != tool)
        face, place, tool = task.face or face, task.place or place, first or tool
        late += position if task.irreversible else 0
    return (changes[0], changes[1], changes[2], -late)


def random_order(plan: Plan, random: Random) -> list[Task]:
    """Some valid order: needs met, stages together, what must follow at once following."""
    order: list[Task] = []
    for stage in plan.stages:
        left = [step.task for step in stage.steps]
        blocks: list[list[Task]] = []
        held = False
        for task in left:
            blocks.append([*blocks.pop(), task] if held else [task])
            held = task.after == "at-once"
        givers = {give: index for index, block in enumerate(blocks) for task in block for give in task.gives}
        done: set[int] = set()
        while len(done) < len(blocks):
            ready = [
                index
                for index, block in enumerate(blocks)
                if index not in done
                and all(givers.get(need, index) in done | {index} for task in block for need in task.needs)
            ]
            chosen = random.choice(ready)
            done.add(chosen)
            order += blocks[chosen]
    return order


@given(RECIPES, st.integers(0, 10_000))
def test_no_random_valid_order_costs_less(facts: dict[str, Any], seed: int) -> None:
    plan = rolled(**facts)
    own = [step.task for step in plan.steps]
    faces, places, tools, late = plan.cost
    assert cost_of(own) == (faces, places, tools, -late)
    for draw in range(5):
        other = random_order(plan, Random(f"{seed} {draw}"))
        assert sorted(task.id for task in other) == sorted(task.id for task in own)
        assert cost_of(own) <= cost_of(other)


@given(RECIPES, st.sampled_from(sorted(domain())), st.data())
def test_a_further_condition_breaks_no_other_variant(
    facts: dict[str, Any], name: str, data: st.DataObject
) -> None:
    """Changing one thing leaves a whole plan, and what has nothing to do with it in its order."""
    plan = rolled(**facts)
    changed = rolled(**{**facts, name: data.draw(VALUES[name])})
    materials = {item.name for item in rolled_edge().materials}
    for step in changed.steps:
        assert set(step.task.needs) <= changed.given_before(step.number) | materials
    for before, after in pairwise(changed.steps):
        if before.task.after == "at-once":
            assert set(before.task.gives) & set(after.task.needs)
    assert changed.proved
    if name != "frays":
        kept = {step.id for step in plan.steps} & {step.id for step in changed.steps}
        assert [s.id for s in plan.steps if s.id in kept] == [s.id for s in changed.steps if s.id in kept]


def test_every_variant_is_known_to_the_samples() -> None:
    assert set(PLAIN) == set(domain())
