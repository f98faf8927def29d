"""Drawings for cards on a wall: one picture that serves several sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.base.words import Words
from generator.figures.draw import draw_one
from generator.figures.model import WALL, Figure, Job, Slot
from generator.plan.model import Step
from generator.plan.work import Work


def bare(slot: Slot) -> Slot:
    """The same place for a picture whose numbers would be those of one size alone."""
    return replace(slot, name="wall-bare", most_values=0)


def wall_figure(works: Sequence[Work], step: Step, words: Words, name: str, slot: Slot = WALL) -> Figure:
    """The picture of a step of the first of some works, under a name of its own.

    It shows lengths only where they are the same in all works. Raises FigureError where it has no room.
    """
    work = works[0]
    job = Job(work.size, work.shade, work.measures, work.plan, step, words, slot)
    drawn = draw_one(job)
    if any(differs(works, measure) for measure in drawn.measures):
        drawn = draw_one(replace(job, slot=bare(slot)))
    return replace(drawn, id=name)


def differs(works: Sequence[Work], measure: str) -> bool:
    """Whether the works print different values for a measure, or some have none."""
    shown = {work.measures[measure].values if measure in work.measures else () for work in works}
    return len(shown) > 1
