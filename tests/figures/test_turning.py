"""Turn marks: where the work itself turns between two steps, and nowhere else."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from generator.figures.canvas import Canvas
from generator.figures.draw import draw_one
from generator.figures.model import Job
from generator.figures.turning import small_shade, turned
from generator.figures.view import Box
from tests.figures.drawings import parts
from tests.figures.jobs import figure, job, planned

SAMPLES = (
    "pier-drum/35",
    "ferry-square",
    "net-loft",
    "customs-rect",
    "slipway-45",
    "bell-hex",
    "fog-cone",
    "capstan",
    "tide-drum",
    "trimmed-square",
)
ROLLED_EDGE = {"lay-face-down", "burnish", "trim", "notch", "tuck-plain-end", "tuck-fitter-end"}
TRIMMED_EDGE = {"lay-face-down", "burnish", "trim", "bind-plain-end", "bind-fitter-end"}


def marked(sample: str) -> set[str]:
    """The steps of a sample in whose picture a turn mark stands."""
    ids = set()
    for step in planned(sample)[2].steps:
        work = replace(job(sample, step.task.figure), step=step)
        if any(part.name == "turn-mark" for part in parts(draw_one(work))):
            ids.add(step.id)
    return ids


@pytest.mark.parametrize("sample", SAMPLES)
def test_turn_marks_stand_where_the_storyboard_has_the_work_turned_and_nowhere_else(sample: str) -> None:
    """Cloth face down, panel face up, panel on its back; on end, and between the ends for tucking."""
    technique = (
        TRIMMED_EDGE if any(s.id == "bind-plain-end" for s in planned(sample)[2].steps) else ROLLED_EDGE
    )
    # What is notched at both rims ends with the other end up: for the joints the shade is turned over again.
    joints = {s.id for s in planned(sample)[2].steps if s.id == "notch-joints"}
    assert marked(sample) == technique | joints


@pytest.mark.parametrize("sample", SAMPLES)
def test_flat_work_is_turned_where_the_face_in_the_plan_changes(sample: str) -> None:
    work = job(sample, "burnish")
    flat = [s for s in work.plan.steps if s.task.face in ("up", "down")]
    for before, step in pairwise(flat):
        change = turned(replace(work, step=step))
        assert (change is not None) == (before.task.face != step.task.face), step.id


def without(work: Job, *ids: str) -> Job:
    """The same step in a plan in which some steps before it are left out."""
    kept = [
        replace(stage, steps=tuple(step for step in stage.steps if step.id not in ids))
        for stage in work.plan.stages
    ]
    return replace(work, plan=replace(work.plan, stages=tuple(kept)))


def test_a_plan_in_which_the_work_stays_as_it_lies_has_no_mark() -> None:
    """Whoever does not burnish trims on the back on which the panel was laminated."""
    still = without(job("pier-drum/35", "trim"), "burnish")
    assert turned(still) is None
    assert "turn-mark" not in {part.name for part in parts(draw_one(still))}
    assert "turn-mark" in {part.name for part in parts(figure("pier-drum/35", "trim"))}


def test_the_shade_is_turned_from_the_end_that_the_step_before_left_up() -> None:
    """Both rims are notched and snipped, the plain one first; without that it comes from its side."""
    work = job("pier-drum/35", "tuck-plain-end")
    assert turned(work) == ("fitter-end-up", "plain-end-up")
    assert turned(without(work, "turn-and-snip")) == ("fitter-end-up", "plain-end-up")
    assert turned(without(work, "turn-and-snip", "notch")) == ("rolled", "plain-end-up")


def test_a_small_shade_shows_the_end_that_is_up() -> None:
    """The capstan's plain end is its narrow top: up, it is the smaller loop and stands above the other."""
    shade = planned("capstan")[0]
    place = Box(0.0, 0.0, 12.0, 12.0)
    for face, above in (("plain-end-up", "top"), ("fitter-end-up", "bottom")):
        small = small_shade(Canvas(20.0, 20.0), shade, place, face)
        mean = {end: sum(p[1] for p in loop) / len(loop) for end, loop in small.rims.items()}
        wide = {end: max(x for x, _ in loop) - min(x for x, _ in loop) for end, loop in small.rims.items()}
        assert min(mean, key=lambda end: mean[end]) == above
        assert wide["top"] < wide["bottom"]


def test_the_seam_is_in_front_of_a_small_shade_that_stands_and_on_top_of_one_on_its_side() -> None:
    shade = planned("pier-drum/35")[0]
    for face in ("plain-end-up", "rolled"):
        small = small_shade(Canvas(20.0, 20.0), shade, Box(0.0, 0.0, 12.0, 12.0), face)
        for end, loop in small.rims.items():
            y = small.front[end][1]
            low, high = min(p[1] for p in loop), max(p[1] for p in loop)
            assert abs(y - (low if face == "rolled" else high)) < 0.2 * (high - low), (face, end)
