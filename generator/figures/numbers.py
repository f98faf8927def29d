"""Measures as they stand in a figure: the text of a dimension and its value."""

from __future__ import annotations

from generator.figures.model import Job


def shown(job: Job, measure: str) -> float:
    """Shown value of a measure."""
    return job.measures.shown(measure)


def text(job: Job, measure: str) -> str:
    """Shown value as this language writes it, without a unit: figures are in mm."""
    return job.words.number(job.measures.shown(measure))


def say(job: Job, noun: str) -> str:
    """A label's words."""
    return job.words.say(f"label.{noun}")
