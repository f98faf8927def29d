"""The figures of a shade of several panels: joining them, the joint marks, docking and rolling them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from shapely import LineString

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas
from generator.figures.draw import PACKAGE, draw_one
from generator.figures.pens import CLOTH_CUT
from generator.figures.silhouette import silhouette
from generator.figures.wall import standing
from generator.shape.development import other_end
from tests.figures.drawings import check_texts_stand_apart, parts
from tests.figures.jobs import figure, job, planned

STRAIGHT = ("slipway-45", "joined-left", "joined-long", "joined-tall", "joined-trimmed", "joined-hem")
TAPERED = ("joined-cone", "joined-capstan")
SAMPLES = (*STRAIGHT, *TAPERED, "three-panels", "three-oblong")
FIGURES = ("join-panels", "mark-joints", "dock", "roll")
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s in SAMPLES for f in FIGURES]


def recorded(sample: str, name: str) -> Canvas:
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_what_is_new_and_what_to_do_is_shown_and_texts_stand_apart(sample: str, name: str) -> None:
    made = figure(sample, name)
    assert {"new", "action", "context"} <= {part.role for part in parts(made)}
    check_texts_stand_apart(made)


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_next_start_end_comes_down_over_the_outside_end_that_carries_the_tape(sample: str) -> None:
    canvas = recorded(sample, "join-panels")
    tape = next(mark.shape for mark in canvas.marks() if mark.group.part == "seam-tape")
    arrow = [mark.shape for mark in canvas.marks() if mark.group.role == "action"]
    left, top, right, bottom = tape.bounds
    x0, y0, x1, y1 = arrow[-1].bounds
    assert left - 6 <= (x0 + x1) / 2 <= right + 6
    assert y1 - y0 > x1 - x0
    assert top < (y0 + y1) / 2 < bottom


@pytest.mark.parametrize("sample", STRAIGHT)
def test_each_ring_has_one_joint_mark_straight_under_the_other(sample: str) -> None:
    canvas = recorded(sample, "mark-joints")
    ticks = [mark.shape for mark in canvas.marks() if mark.group.part == "joint-mark"]
    assert len(ticks) == 2
    assert all(isinstance(tick, LineString) for tick in ticks)
    below, above = (tick.centroid for tick in ticks)
    assert above.x == pytest.approx(below.x)
    assert above.y < below.y
    seam = [mark.shape for mark in canvas.marks() if mark.group.part == "seam-mark"]
    # It is shorter than the seam mark, so that nobody docks at it.
    assert max(t.length for t in ticks) < min(s.length for s in seam)


@pytest.mark.parametrize("sample", TAPERED)
def test_rings_of_two_sizes_are_measured_each_by_itself(sample: str) -> None:
    canvas, made = recorded(sample, "mark-joints"), job(sample, "mark-joints")
    ticks = [mark.shape for mark in canvas.marks() if mark.group.part == "joint-mark"]
    assert len(ticks) == 2
    for end, measure in (
        (made.shade.fitter_end, "joint_marks"),
        (other_end(made.shade.fitter_end), "plain_joint_marks"),
    ):
        # Two panels of one form: the joint stands half way round each ring.
        half = made.shade.rim(end).length / 2
        assert made.measures[measure].exact == pytest.approx((half,))
        assert measure in figure(sample, "mark-joints").measures


@pytest.mark.parametrize("sample", TAPERED)
def test_what_is_done_to_each_panel_shows_one_and_what_follows_shows_both(sample: str) -> None:
    whole = planned(sample)[0]
    for name in ("make-pattern", "place-motif", "rough-cut", "position-panel", "prepare-seam"):
        shade = job(sample, name).shade
        assert shade.panels == 1
        assert shade.pieces == 2
        assert shade.wrapped_length == pytest.approx(whole.wrapped_length / 2)
    for name in ("prove-rings", "join-panels", "dock", "roll", "notch", "inspect"):
        assert job(sample, name).shade.panels == 2


@pytest.mark.parametrize("sample", ["slipway-45", "three-panels", "three-oblong", "joined-left"])
@pytest.mark.parametrize("name", ["silhouette", "inspect"])
def test_the_finished_shade_shows_its_joints_and_names_one(sample: str, name: str) -> None:
    """Lines from rim to rim, as many as there are joints: those behind are seen through the opening."""
    work = job(sample, "inspect")
    shade = work.shade
    drawn = (
        silhouette(work.size, shade, work.measures, work.words, work.plan)
        if name == "silhouette"
        else figure(sample, name)
    )
    ends = [p for part in parts(drawn) if part.name in ("joint-outside", "joint-inside") for p in part.points]
    assert len(shade.joints) <= len(ends) / 2 <= 2 * len(shade.joints)
    assert "joint" in {text for part in parts(drawn) for text in part.texts}
    plain = job("pier-drum/35", "inspect")
    whole = silhouette(plain.size, plain.shade, plain.measures, plain.words, plain.plan)
    for other in (whole, figure("pier-drum/35", "inspect")):
        assert not any(part.name.startswith("joint") for part in parts(other))


@pytest.mark.parametrize("sample", ["slipway-45", "three-panels"])
def test_a_joint_stands_as_far_round_the_shade_as_the_panels_are_long(sample: str) -> None:
    """Seen from above, equal panels of a round shade meet at equal angles (elementary)."""
    shade = job(sample, "inspect").shade
    wall = standing(shade)
    angles = [math.atan2(*wall.point(x, 0.0)[:2]) for x in (0.0, *shade.joints)]
    steps = [(b - a) % math.tau for a, b in pairwise([*angles, angles[0]])]
    assert all(min(step, math.tau - step) == pytest.approx(math.tau / shade.panels) for step in steps)


def test_a_hemmed_joint_has_its_hem_under_the_tape() -> None:
    canvas = recorded("joined-hem", "join-panels")
    shapes = {mark.group.part: mark.shape for mark in canvas.marks() if mark.fill is not None}
    assert shapes["hem"].intersects(shapes["seam-tape"])
    assert "hem" not in {mark.group.part for mark in recorded("slipway-45", "join-panels").marks()}
    # In the section the cloth of the hemmed end reaches above its own PVC, where the tape lies on it.
    tape = shapes["section-seam-tape"].bounds
    cloth = max(
        (m.shape for m in canvas.marks() if m.group.part == "section-outside-end" and m.fill == CLOTH_CUT),
        key=lambda shape: shape.area,
    )
    assert cloth.bounds[1] == pytest.approx(tape[3], abs=0.02)


def test_the_joints_are_notched_where_the_joint_is_and_the_seam_where_the_seam_is() -> None:
    """The picture of the seam serves once more: then the shade is turned so that a joint is in front."""
    work = job("slipway-45", "notch")
    assert work.step.id == "notch"
    again = next(step for step in work.plan.steps if step.id == "notch-joints")
    assert draw_one(replace(work, step=again)).svg != figure("slipway-45", "notch").svg
    for step in (work.step, again):
        marks = [p for p in parts(draw_one(replace(work, step=step))) if p.name == "notch-place"]
        assert len(marks) == 1


def test_what_is_not_joined_shows_no_joint() -> None:
    for name in ("dock", "roll"):
        assert {"joint", "joint-mark"}.isdisjoint(
            mark.group.part for mark in recorded("pier-drum/35", name).marks()
        )
        assert "joint-mark" in {mark.group.part for mark in recorded("slipway-45", name).marks()}


def test_the_joint_lies_ahead_at_one_quarter_of_two_panels() -> None:
    dashed = [mark.shape for mark in recorded("slipway-45", "roll").marks() if mark.group.part == "joint"]
    # Ahead at one quarter, under the rings at two; not yet in sight at the start, rolled up at three.
    assert len(dashed) == 2
