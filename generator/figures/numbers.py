"""Measures as they stand in a figure: the text of a dimension and its value."""

from __future__ import annotations

from generator.base.words import Words
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.pens import EM
from generator.measures.inches import inches_of
from generator.measures.measure import Measure


def shown(job: Job, measure: str) -> float:
    """Shown value of a measure."""
    return job.measures.shown(measure)


def text(job: Job, measure: str, index: int = 0) -> str:
    """Shown value of a measure as a drawing has it: millimetres without a unit, or inches with their sign.

    ``index`` is the place in a list of values.
    """
    return length(job.words, job.measures[measure], index)


def wider(job: Job, *measures: str) -> float:
    """How much wider than its millimetres the widest of these values is on paper, mm; 0 in metric."""
    each = (text_width(text(job, m), EM) - text_width(job.words.number(shown(job, m)), EM) for m in measures)
    return max(0.0, *each)


def length(words: Words, measure: Measure, index: int = 0) -> str:
    """The same for a measure of any origin."""
    inches = inches_of(measure)
    return words.length(measure.values[index], inches[index] if inches else None)


def say(job: Job, noun: str) -> str:
    """A label's words."""
    return job.words.say(f"label.{noun}")
