"""The rooms called in the order of the flow: one value travels and each stage adds to it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache, cached_property
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

from generator import __version__
from generator.base.errors import Fault, GeometryError, TechniqueError, Warning_
from generator.base.outline_keys import OutlineKeys
from generator.figures.draw import draw
from generator.figures.model import Figure
from generator.figures.outlook import drawings
from generator.figures.pattern.draw import draw_pattern
from generator.figures.pattern.model import Pattern, paper_of
from generator.figures.silhouette import silhouette
from generator.figures.thumbnail import thumbnail
from generator.measures.build import measure
from generator.measures.fit import Fit, Remnant, fit
from generator.measures.full_scale import full_scale_measures
from generator.measures.judge import judge
from generator.measures.measure import Measures
from generator.plan.build import contradictions, load_technique, plan
from generator.plan.model import Plan
from generator.plan.outlook import outlook
from generator.plan.times import load_times
from generator.press import layout as places
from generator.press.press import Pressed, press
from generator.press.wish import Wish
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe, read_recipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.shade import Shade
from generator.sheets.compose import compose
from generator.sheets.document import Subject, document_kind
from generator.sheets.packing import arrange
from generator.sheets.spoken import unspoken
from generator.sheets.step_cards import StepCard, step_cards
from generator.sheets.wording import Catalogue, load_words

T = TypeVar("T")

REFERENCE = "en"
"""The language that has every sentence: a technique is judged against it."""


@cache
def outlines() -> dict[str, OutlineKeys]:
    """The outlines that shapes know, with their keys in a recipe."""
    return outline_keys()


@dataclass(frozen=True)
class Work:
    """One size, computed and planned, ready to be drawn."""

    size: SizeRecipe
    shade: Shade
    measures: Measures
    plan: Plan


@dataclass(frozen=True)
class Examined:
    """A recipe that reads clean and whose shades can be made."""

    recipe: Recipe
    works: tuple[Work, ...]
    warnings: tuple[Warning_, ...]

    def work(self, name: str) -> Work | None:
        """The size of this name."""
        return next((work for work in self.works if work.size.name == name), None)


def examine(path: Path) -> Examined:
    """Read, shape, measure, judge and plan every size of a recipe.

    Raises RecipeError for what does not read clean; GeometryError with the faults of all sizes for shades
    that cannot or must not be made; TechniqueError for a technique that cannot be used, or has no words.
    """
    recipe = read_recipe(path, outlines())
    techniques = {
        size.technique: load_technique(size.technique, path.parent, size.span("technique"))
        for size in recipe.sizes
    }
    first = recipe.sizes[0]
    times = {
        technique.name: load_times(first.times, technique, path.parent, first.span("times"))
        for technique in techniques.values()
    }
    faults: list[Fault] = []
    warnings: list[Warning_] = list(recipe.warnings)
    works: list[Work] = []
    unsaid: list[Fault] = []
    for size in recipe.sizes:
        try:
            shade = build_shade(size)
        except GeometryError as error:
            faults.extend(error.faults)
            continue
        measures = measure(size, shade)
        judgement = judge(size, shade, measures)
        against = contradictions(size, measures, techniques[size.technique])
        faults.extend([*against, *judgement.faults])
        warnings.extend(judgement.warnings)
        if not against and not judgement.faults:
            technique = techniques[size.technique]
            works.append(Work(size, shade, measures, plan(size, measures, technique, times[technique.name])))
            unsaid += unspoken(works[-1].plan, load_words(REFERENCE).bound(works[-1].plan, measures))
    if faults:
        raise GeometryError(_once(faults))
    if unsaid:
        raise TechniqueError(_once(unsaid))
    return Examined(recipe, tuple(works), tuple(_once(warnings)))


@dataclass(frozen=True)
class Fitted:
    """A recipe that reads clean, and what a remnant makes of each of its sizes."""

    recipe: Recipe
    remnant: Remnant
    fits: tuple[Fit, ...]


def fit_remnant(path: Path, remnant: Remnant) -> Fitted:
    """Read a recipe and lay each size on a remnant. Raises RecipeError for what does not read clean."""
    recipe = read_recipe(path, outlines())
    return Fitted(recipe, remnant, tuple(fit(size, remnant) for size in recipe.sizes))


@dataclass(frozen=True)
class Drawn:
    """A work with its figures in one language: the picture of the whole first, then one a step.

    Or, with its ``pattern``, the figures of the full-scale pattern.
    """

    work: Work
    words: Catalogue
    figures: tuple[Figure, ...]
    pattern: Pattern | None = None

    @cached_property
    def small(self) -> tuple[Figure, ...]:
        """The figures of the steps as small as stamps."""
        return tuple(thumbnail(figure) for figure in self.figures if figure.number)

    @property
    def digest(self) -> str:
        """SHA-256 over recipe, house defaults, technique, the program's version and all that was drawn."""
        parts = (
            self.work.size.digest,
            self.work.size.name,
            self.work.plan.digest,
            __version__,
            *(figure.svg for figure in self.figures),
        )
        return sha256("\0".join(parts).encode()).hexdigest()


def illustrate(work: Work, language: str) -> Drawn:
    """Draw all figures of a work, once for all documents. Raises FigureError where a figure has no room."""
    words = load_words(language).bound(work.plan, work.measures)
    whole = silhouette(work.size, work.shade, work.measures, words, work.plan)
    return Drawn(work, words, (whole, *draw(work.size, work.shade, work.measures, work.plan, words)))


def subject_of(drawn: Drawn, kind: str | None = None) -> Subject:
    """All that a document of this kind may tell, or a step's card without one.

    Raises UsageError for an unknown kind, FigureError.
    """
    work, figures = drawn.work, drawn.figures
    ahead = outlook(work.plan) if kind and document_kind(kind).outlook else None
    if ahead is not None:
        figures += drawings(work.size, work.shade, work.measures, ahead, drawn.words)
    return Subject(
        work.size,
        work.shade,
        work.measures,
        work.plan,
        figures,
        drawn.words,
        __version__,
        drawn.digest,
        ahead,
        # Only step by step are the steps shown at a glance.
        drawn.small if ahead is None else (),
        drawn.pattern,
    )


def trace(work: Work, language: str, paper: str | None = None) -> Drawn:
    """Draw the full-scale pattern of a work; ``paper`` takes the place of the recipe's.

    Raises FigureError where a name has no room, UsageError for an unknown paper.
    """
    measures = full_scale_measures(work.shade, work.measures)
    words = load_words(language).bound(work.plan, measures)
    pattern = draw_pattern(work.size, work.shade, measures, words, paper_of(paper or work.size.paper))
    return Drawn(replace(work, measures=measures), words, pattern.figures, pattern)


def cutter_drawing(drawn: Drawn) -> str:
    """The pattern as SVG for a cutting machine."""
    assert drawn.pattern is not None
    return drawn.pattern.svg


def print_document(kind: str, drawn: Drawn) -> Pressed:
    """Compose, lay out, pack, compose again, press and prove one document.

    Raises UsageError for an unknown kind, WordingError, PressError, or ProofError for a page that fails.
    """
    subject = subject_of(drawn, kind)
    svgs = subject.drawings
    loose = compose(kind, subject)
    layout = arrange(loose.blocks, places.measure(loose.html, svgs).placed, loose.rooms, loose.most_pages)
    document = compose(kind, subject, layout)
    bar = drawn.work.measures.shown("bar") if drawn.pattern else None
    return press(document.html, svgs, Wish(numbers=document.numbers, bar=bar))


def draw_cards(drawn: Drawn) -> tuple[StepCard, ...]:
    """Each step's card as a drawing of its own. Raises FigureError for a word that is wider than a card."""
    return step_cards(subject_of(drawn))


def _once(things: Iterable[T]) -> list[T]:
    return list(dict.fromkeys(things))
