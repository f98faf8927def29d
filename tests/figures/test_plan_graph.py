"""The plan as a drawing: every step and need is there, nothing overlaps, the critical path is heavy."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import networkx as nx
import pytest
from shapely import LineString, box

from generator.base.edition import ENGLISH
from generator.figures.lettering import ASCENT
from generator.figures.model import Figure
from generator.figures.pens import EM, HEAVY
from generator.figures.plan_graph import MOST_HEIGHT, WIDTH, plan_graph
from generator.figures.plan_lines import needs
from generator.plan.critical import critical_path
from generator.plan.model import Plan
from generator.plan.outlook import chains
from generator.sheets.wording import load_words
from tests.figures import drawings
from tests.figures.jobs import job

SAMPLES = ("pier-drum/35", "pier-drum/45", "ferry-square", "net-loft", "customs-rect", "bell-hex")


@cache
def plan_of(sample: str) -> Plan:
    return job(sample, "dock").plan.printed


@cache
def graph_of(sample: str) -> Figure:
    one = job(sample, "dock")
    return plan_graph(one.plan, load_words(ENGLISH).bound(one.plan, one.measures))


def boxes(figure: Figure) -> dict[str, drawings.Part]:
    return {part.name: part for part in drawings.parts(figure) if part.name.startswith("step-")}


def hull(part: drawings.Part) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in part.points], [y for _, y in part.points]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("sample", SAMPLES)
def test_every_step_has_a_box_with_its_number_and_title_and_its_minutes_beside_it(sample: str) -> None:
    found = {part.name: part.texts for part in drawings.parts(graph_of(sample))}
    path = critical_path(plan_of(sample))
    words = load_words(ENGLISH).bound(plan_of(sample), job(sample, "dock").measures)
    for step in plan_of(sample).steps:
        assert found[f"step-{step.id}"] == (str(step.number), words.say(f"{step.task.key}.title"))
        waits = () if step.number in path.steps else (f"{path.slack[step.number]:.0f}",)
        assert found[f"times-{step.id}"] == (str(step.whole[0]), *waits)


@pytest.mark.parametrize("sample", SAMPLES)
def test_what_must_go_on_at_once_has_a_bar_and_a_pause_a_mark(sample: str) -> None:
    plan = plan_of(sample)
    parts = {part.name: part for part in drawings.parts(graph_of(sample))}
    tops = {step.number: hull(parts[f"step-{step.id}"]) for step in plan.steps}
    assert chains(plan)
    for chain in chains(plan):
        left, top, right, bottom = hull(parts[f"at-once-{chain[0].id}"])
        assert top == pytest.approx(tops[chain[0].number][1], abs=0.02)
        assert bottom == pytest.approx(tops[chain[-1].number][3], abs=0.02)
        assert left < right < tops[chain[0].number][0]
    paused = {f"pause-{s.id}" for s in plan.steps if s.task.after == "safe-pause" or s.rest}
    assert {name for name in parts if name.startswith("pause-")} == paused


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_drawing_fits_on_a_page_below_a_heading(sample: str) -> None:
    figure = graph_of(sample)
    assert figure.width == pytest.approx(WIDTH)
    assert figure.height <= MOST_HEIGHT + 0.01


@pytest.mark.parametrize("sample", SAMPLES)
def test_no_two_boxes_and_no_two_lines_of_lettering_overlap(sample: str) -> None:
    figure = graph_of(sample)
    areas = [box(*hull(part)) for part in boxes(figure).values()]
    assert not any(a.intersects(b) for a, b in combinations(areas, 2))
    texts = list(drawings.words(figure))
    assert not [(a.text, b.text) for a, b in combinations(texts, 2) if a.box.intersection(b.box).area > 0.01]
    assert all(drawings.paper(figure).contains(text.box) for text in texts)


@pytest.mark.parametrize("sample", SAMPLES)
def test_no_line_runs_through_a_box_or_through_lettering(sample: str) -> None:
    figure = graph_of(sample)
    areas = {name: box(*hull(part)) for name, part in boxes(figure).items()}
    texts = list(drawings.words(figure))
    for part in drawings.parts(figure):
        if part.name.startswith("need-"):
            line = LineString(part.points[: len(part.points) - 3])
            assert not [
                name for name, area in areas.items() if line.intersection(area.buffer(-0.3)).length > 0
            ]
            assert not [text.text for text in texts if line.intersects(text.box)]


@pytest.mark.parametrize("sample", SAMPLES)
def test_each_need_is_drawn_or_follows_from_those_that_are(sample: str) -> None:
    plan = plan_of(sample)
    drawn = {part.name for part in drawings.parts(graph_of(sample)) if part.name.startswith("need-")}
    assert drawn == {f"need-{a}-{b}" for a, b in needs(plan)}
    graph: nx.DiGraph[int] = nx.DiGraph(needs(plan))
    for step in plan.steps:
        assert all(nx.has_path(graph, giver, step.number) for giver in step.from_steps.values())


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_critical_path_is_heavy_and_nothing_else_is(sample: str) -> None:
    plan = plan_of(sample)
    path = critical_path(plan)
    heavy = {part.name for part in drawings.parts(graph_of(sample)) if part.role in ("new", "action")}
    ids = {f"step-{step.id}" for step in plan.steps if step.number in path.steps}
    assert {name for name in heavy if name.startswith("step-")} == ids
    chain = [name.split("-")[1:] for name in heavy if name.startswith("need-")]
    graph: nx.DiGraph[int] = nx.DiGraph((int(a), int(b)) for a, b in chain)
    assert nx.has_path(graph, path.steps[0], path.steps[-1])
    assert set(graph) == set(path.steps)


def test_lettering_is_large_enough_to_read() -> None:
    # Capitals of 2.5 mm (ISO 3098-1, series, from memory).
    sizes = {
        float(t.get("font-size", "0"))
        for t in drawings.root(graph_of("pier-drum/35")).iter(f"{drawings.SVG}text")
    }
    assert min(sizes) >= EM
    assert ASCENT * EM > 2.5
    assert HEAVY.width >= 0.7
