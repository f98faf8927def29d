"""The plan of a tapered shade: the order that a practitioner would follow (common practice, no source)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.base.errors import GeometryError
from generator.examine import examine
from generator.plan.build import contradictions, load_technique
from tests.measures.tapers import capstan, fog_cone
from tests.plan.samples import rolled
from tests.plan.test_rolled_edge import ORDER
from tests.shape.samples import measured

RECIPES = Path(__file__).parents[2] / "recipes"
CONE: dict[str, Any] = {"taper": True, "cone": True, "relief": True}
TRANSITION: dict[str, Any] = {
    "taper": True,
    "outline": "square",
    "fitter_ring": "circle",
    "plain_ring": "square",
    "relief": True,
}


def ids(**changes: Any) -> list[str]:
    return [step.id for step in rolled(**changes).steps]


def test_a_cone_is_made_in_the_trades_order_with_a_pattern_and_reliefs() -> None:
    order = list(ORDER)
    order.insert(order.index("prove-rings") + 1, "make-pattern")
    order.insert(order.index("notch") + 1, "relief-cuts")
    assert ids(**CONE) == order


def test_a_curved_panel_without_kiss_cuts_is_cut_after_the_cloth_and_before_it_is_laid() -> None:
    order = ids(**TRANSITION, kiss_cut=False)
    assert order.index("rough-cut") + 1 == order.index("cut-panel") == order.index("lay-face-down") - 1
    assert "cut-panel" not in ids(**TRANSITION)
    assert "cut-panel" not in ids(kiss_cut=False)
    assert "make-pattern" not in ids(kiss_cut=False)


def test_the_cut_of_the_panel_is_an_adults_and_cannot_be_undone() -> None:
    step = rolled(**CONE, kiss_cut=False, young=True).step("cut-panel")
    assert step is not None
    assert step.adult
    assert step.task.irreversible
    assert "rotary-blade" in step.task.cautions


def test_a_compass_draws_a_cone_and_nothing_else() -> None:
    for facts, compass in ((CONE, True), (TRANSITION, False)):
        step = rolled(**facts).step("make-pattern")
        assert step is not None
        assert ("strip-compass" in step.task.tools) == compass
        assert "pattern-paper" in step.task.consumables


def test_the_pattern_is_the_window() -> None:
    plain, cone = rolled().step("place-motif"), rolled(**CONE).step("place-motif")
    assert plain is not None
    assert cone is not None
    assert "viewfinder" in plain.task.tools
    assert "viewfinder" not in cone.task.tools
    assert "pattern" in cone.task.needs
    assert any(link.result == "pattern" for reason in cone.why for link in reason.links)


@pytest.mark.parametrize(("ring", "tool"), [("circle", "paper-strip"), ("square", "set-square")])
def test_the_mark_is_measured_as_the_fitter_ring_asks(ring: str, tool: str) -> None:
    step = rolled(**{**TRANSITION, "fitter_ring": ring}).step("mark-rings")
    assert step is not None
    assert tool in step.task.tools


def test_relief_cuts_take_longer_the_more_there_are() -> None:
    # The sample's facts say 100 for every measure: 1 + 100 / 2 minutes, and 1 + 100 / 4 practised.
    step = rolled(**CONE).step("relief-cuts")
    assert step is not None
    assert step.minutes.first_time == pytest.approx(51)
    assert step.minutes.practised == pytest.approx(26)


def test_the_samples_have_the_tasks_of_their_shapes() -> None:
    (cone,) = examine(RECIPES / "fog-cone.yaml").works
    (transition,) = examine(RECIPES / "capstan.yaml").works
    assert {"taper", "cone", "relief"} <= {name for name, held in cone.plan.facts.items() if held is True}
    assert transition.plan.facts["cone"] is False
    assert (transition.plan.facts["fitter_ring"], transition.plan.facts["plain_ring"]) == ("square", "circle")
    assert cone.plan.proved
    assert transition.plan.proved
    tasks = [step.id for step in transition.plan.steps]
    assert "cut-panel" in tasks
    assert "break-kiss-cuts" not in tasks


@pytest.mark.parametrize("size", [fog_cone(), capstan()], ids=["cone", "transition"])
def test_trimmed_edges_want_two_rings_alike(size: Any) -> None:
    against = contradictions(size, measured(size), load_technique("trimmed-edge"))
    (fault,) = [fault for fault in against if "slope" in fault.wrong]
    assert fault.span == size.span("top")
    assert "rolled-edge" in fault.fix


def test_a_tapered_recipe_that_asks_for_trimmed_edges_is_refused(tmp_path: Path) -> None:
    text = (RECIPES / "fog-cone.yaml").read_text(encoding="utf-8")
    place = tmp_path / "cone.yaml"
    place.write_text(text.replace("technique: rolled-edge", "technique: trimmed-edge"), encoding="utf-8")
    with pytest.raises(GeometryError, match="the rings differ, and a folded binding"):
        examine(place)
