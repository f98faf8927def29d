"""The figures of a shade of several panels: joining them, the joint marks, docking and rolling them."""

from __future__ import annotations

import pytest
from shapely import LineString

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas
from generator.figures.draw import PACKAGE
from generator.shape.development import other_end
from tests.figures.drawings import check_texts_stand_apart, parts
from tests.figures.jobs import figure, job, planned

STRAIGHT = ("slipway-45", "joined-left", "joined-long", "joined-tall", "joined-trimmed")
TAPERED = ("joined-cone", "joined-capstan")
SAMPLES = (*STRAIGHT, *TAPERED)
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
