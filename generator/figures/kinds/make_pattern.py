"""Make the pattern: two arcs drawn from one pin, or printed sheets laid together cross on cross."""

from __future__ import annotations

from generator.figures.model import Job, Picture
from generator.figures.pattern_arcs import pattern_arcs
from generator.figures.pattern_sheets import pattern_sheets


def draw(job: Job) -> Picture:
    """With a strip of card where both rings are circles over one middle; printed otherwise."""
    return pattern_arcs(job) if job.plan.facts["cone"] else pattern_sheets(job)
