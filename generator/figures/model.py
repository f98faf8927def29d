"""What a figure is drawn from, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass

from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.labels import Label
from generator.measures.measure import Measures
from generator.plan.model import Plan, Step
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade


@dataclass(frozen=True, slots=True)
class Slot:
    """The place on a page that a figure is drawn for, mm: its width, and as much height as it needs."""

    name: str
    width: float
    height: float
    """Wished height."""
    max_height: float


HALF_A4 = Slot("half-a4", 80.0, 42.0, 66.0)
"""Beside the text of a step card on A4."""


@dataclass(frozen=True)
class Job:
    """Everything that one figure may look at."""

    size: SizeRecipe
    shade: Shade
    measures: Measures
    plan: Plan
    step: Step
    words: Words
    slot: Slot


@dataclass(frozen=True)
class Picture:
    """What a figure's file returns: the drawing, and the labels that are still to be set."""

    canvas: Canvas
    labels: list[Label]


@dataclass(frozen=True)
class Figure:
    """One finished drawing. ``svg`` stands alone: title, viewBox in mm, named groups, its own font names."""

    id: str
    """The task's name, or ``silhouette``."""
    number: int
    """The step's number; 0 for a picture of the whole."""
    svg: str
    width: float
    """mm."""
    height: float
    """mm."""
    alt: str
    """One sentence: action, part, count."""
    measures: tuple[str, ...] = ()
    """Measures whose values stand in the picture, in drawing order."""
