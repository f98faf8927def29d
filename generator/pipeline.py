"""The rooms called in the order of the flow: one value travels and each stage adds to it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

from generator import __version__
from generator.base.errors import (
    FAULT_LIMIT,
    ClassError,
    Fault,
    GeometryError,
    KitError,
    TechniqueError,
    Warning_,
)
from generator.base.outline_keys import OutlineKeys
from generator.cutting.batch import cut_batch
from generator.cutting.roll_numbers import batch_numbers
from generator.figures.cut_layout import cut_figures
from generator.figures.draw import draw, draw_one
from generator.figures.glance import glance_drawings
from generator.figures.model import Figure, slot_named
from generator.figures.model import Job as FigureJob
from generator.figures.outlook import drawings
from generator.figures.part_icons import part_icons
from generator.figures.pattern.draw import draw_pattern
from generator.figures.pattern.model import Pattern
from generator.figures.room_plan import room_plan
from generator.figures.silhouette import silhouette, silhouette_at
from generator.figures.thumbnail import thumbnail
from generator.lesson.attend import as_attended, chosen_work
from generator.lesson.pack import class_numbers
from generator.lesson.prices import load_prices
from generator.lesson.roster import Guest, Roster, roster
from generator.measures.build import measure
from generator.measures.full_scale import full_scale_measures
from generator.measures.judge import judge
from generator.measures.measure import Measures
from generator.plan.build import all_parts, contradictions, load_technique, plan
from generator.plan.glance import Glance, glance
from generator.plan.kit import kit_contents, kit_faults, kit_notes
from generator.plan.kit_list import KitList, load_kit
from generator.plan.outlook import outlook
from generator.plan.times import load_times
from generator.plan.work import Work as Work
from generator.press import layout as places
from generator.press.press import Pressed, label_sheets, press, print_file
from generator.press.wish import Wish
from generator.recipe.beside import find_file
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe, parse_recipe, read_recipe
from generator.recipe.taught_class import TaughtClass
from generator.shape.build import build_shade, outline_keys
from generator.shape.shade import Shade
from generator.sheets.cards import card_id
from generator.sheets.compose import compose
from generator.sheets.document import Subject, document_kind, kind_for
from generator.sheets.handout import figures_of_all
from generator.sheets.one_side import on_one_side
from generator.sheets.spoken import unspoken
from generator.sheets.step_cards import StepCard, step_cards
from generator.sheets.wall import wall_figures
from generator.sheets.wording import Catalogue, load_words

T = TypeVar("T")

REFERENCE = "en"
"""The language that has every sentence: a technique is judged against it."""


@cache
def outlines() -> dict[str, OutlineKeys]:
    """The outlines that shapes know, with their keys in a recipe."""
    return outline_keys()


@dataclass(frozen=True)
class Examined:
    """A recipe that reads clean and whose shades can be made."""

    recipe: Recipe
    works: tuple[Work, ...]
    warnings: tuple[Warning_, ...]
    roster: Roster | None = None
    """Who is in the class and makes what, where the recipe has one."""

    def work(self, name: str) -> Work | None:
        """The size of this name."""
        return next((work for work in self.works if work.size.name == name), None)


def examine(path: Path, text: str | None = None, *, alone: bool = False) -> Examined:
    """Read, shape, measure, judge and plan every size of a recipe; ``text`` is read in the file's place.

    ``alone``: its class is left out, since it is somebody's shade in another recipe's class. Raises
    RecipeError for what does not read clean; GeometryError with the faults of all sizes for shades that
    cannot or must not be made; TechniqueError for a technique that cannot be used, or has no words; KitError
    for a list of parts that cannot be used, or for kits that do not fit it; ClassError for a class that
    cannot be held so.
    """
    recipe = read_recipe(path, outlines()) if text is None else parse_recipe(text, path, outlines())
    ways = _Ways(path.parent, recipe.sizes)
    first = recipe.sizes[0]
    listed = None
    if recipe.kits:
        listed = load_kit(recipe.kits.parts, path.parent, first.span("kits.parts"))
        wrong = kit_faults(first, listed, all_parts(ways.techniques.values()))
        if wrong:
            raise KitError(wrong)
    works, warnings = ways.worked_out(recipe.sizes, listed)
    warnings = [*recipe.warnings, *warnings]
    if listed:
        warnings += kit_notes(first, [work.kit for work in works if work.kit])
    called = None
    if recipe.taught and not alone:
        called, more = _roster(recipe.taught, path, works, ways)
        warnings += more
    return Examined(recipe, tuple(works), tuple(_once(warnings)), called)


class _Ways:
    """The techniques and forms of times of some sizes, read once."""

    def __init__(self, folder: Path, sizes: Sequence[SizeRecipe]) -> None:
        self.folder = folder
        self.techniques = {
            name: load_technique(name, folder, size.span("technique"))
            for name, size in {size.technique: size for size in sizes}.items()
        }
        first = sizes[0]
        self.times = {
            technique.name: load_times(first.times, technique, folder, first.span("times"))
            for technique in self.techniques.values()
        }

    def worked_out(
        self, sizes: Sequence[SizeRecipe], listed: KitList | None = None
    ) -> tuple[list[Work], list[Warning_]]:
        """Shape, measure, judge and plan sizes. Raises GeometryError with all faults, TechniqueError."""
        faults: list[Fault] = []
        warnings: list[Warning_] = []
        judged: list[tuple[SizeRecipe, Shade, Measures]] = []
        for size in sizes:
            try:
                shade = build_shade(size)
            except GeometryError as error:
                faults.extend(error.faults)
                continue
            measures = measure(size, shade)
            judgement = judge(size, shade, measures)
            against = contradictions(size, measures, self.techniques[size.technique])
            faults.extend([*against, *judgement.faults])
            warnings.extend(judgement.warnings)
            judged.append((size, shade, measures))
            if len(faults) >= FAULT_LIMIT:
                break
        if faults:
            raise GeometryError(_once(faults))
        # Planning takes longest, and is in vain where a size is refused.
        works: list[Work] = []
        unsaid: list[Fault] = []
        for size, shade, measures in judged:
            technique = self.techniques[size.technique]
            planned = plan(size, measures, technique, self.times[technique.name])
            kit = kit_contents(size, shade, measures, planned, listed) if listed else None
            works.append(Work(size, shade, measures, planned, kit))
            unsaid += unspoken(planned, load_words(REFERENCE).bound(planned, measures))
        if unsaid:
            raise TechniqueError(_once(unsaid))
        return works, warnings


def _roster(
    taught: TaughtClass, path: Path, works: Sequence[Work], ways: _Ways
) -> tuple[Roster, list[Warning_]]:
    """Everybody in a class with what they make. Raises what ``examine`` raises."""
    first = works[0].size
    prices = load_prices(taught.stock, path.parent, first.span("class.stock"))
    others: dict[str, tuple[Sequence[Work], _Ways]] = {}
    guests: list[Guest] = []
    warnings: list[Warning_] = []
    made: dict[tuple[str, str], Work] = {}
    for place, attendee in enumerate(taught.attendees):
        key = f"class.people.{place}" if f"class.people.{place}" in first.spans else "class.people"
        known, own = works, ways
        if attendee.recipe:
            if attendee.recipe not in others:
                found = find_file(attendee.recipe, "", "recipe", path.parent, first.span(f"{key}.recipe"))
                if isinstance(found, Fault):
                    raise ClassError([found])
                other = examine(found, alone=True)
                others[attendee.recipe] = other.works, _Ways(found.parent, other.recipe.sizes)
            known, own = others[attendee.recipe]
        work = chosen_work(known, attendee, first.span(key))
        size = as_attended(work.size, attendee, taught, first, key)
        if size is not work.size:
            # People who make the same on the same cloth share one plan.
            same = (work.size.recipe, repr(size.model_dump(exclude={"spans", "stated", "kits", "taught"})))
            if same not in made:
                (worked,), more = own.worked_out([size])
                made[same] = worked
                warnings += more
            work = replace(made[same], size=size)
        guests.append(Guest(place + 1, attendee.name, work, attendee.cloth))
    tools = {tool for guest in guests for tool in guest.work.plan.tools}
    return roster(taught, guests, prices, _tool_names(tools)), warnings


def _tool_names(tools: Iterable[str]) -> dict[str, str]:
    """Every name by which a recipe may call a tool: its own, or how the sheets call it."""
    words = load_words(REFERENCE)
    names: dict[str, str] = {}
    for tool in sorted(tools):
        own = tool.replace("-", " ")
        called = words.say(f"tool.{tool}") if words.has(f"tool.{tool}") else own
        names |= {own: tool, called.lower(): tool, called.lower().partition(" and ")[0]: tool}
    return names


@dataclass(frozen=True)
class Drawn:
    """A work with its figures in one language: the picture of the whole first, then one a step.

    Or, with its ``pattern``, the figures of the full-scale pattern. Or, with a ``batch``, several sizes of a
    recipe: ``work`` is then the first of them, with the measures of all together. Or, with its ``glance``,
    the figures of the steps that are pictured there.
    """

    work: Work
    words: Catalogue
    figures: tuple[Figure, ...]
    pattern: Pattern | None = None
    batch: tuple[Work, ...] = ()
    glance: Glance | None = None
    roster: Roster | None = None
    """The class, for documents that tell of it."""
    _places: dict[tuple[str, ...], tuple[Figure, ...]] = field(default_factory=dict, compare=False)

    def placed(self, slots: tuple[str, ...]) -> tuple[Figure, ...]:
        """The figures for places of these names: of the whole, of a step, of a step below a caution.

        Each place is drawn once for all documents that use it. Raises FigureError where one has no room.
        """
        if slots not in self._places:
            work, (whole, step, *below) = self.work, (slot_named(name) for name in slots)
            given = (work.size, work.shade, work.measures)
            cover = silhouette(*given, self.words, work.plan, whole)
            steps = draw(*given, work.plan, self.words, step, *below)
            self._places[slots] = (cover, *steps)
        return self._places[slots]

    def redrawn(self, subject: Subject, places: Mapping[str, str]) -> Subject:
        """The same with the figures of some cards drawn for other places: card and name of the place.

        Raises FigureError where one has no room.
        """
        work = self.work
        anew = {
            step.number: draw_one(
                FigureJob(
                    work.size, work.shade, work.measures, work.plan, step, self.words,
                    slot_named(places[card_id(step)]),
                )
            )
            for step in work.plan.steps
            if card_id(step) in places
        }  # fmt: skip
        return replace(subject, figures=tuple(anew.get(figure.number, figure) for figure in subject.figures))

    @cached_property
    def members(self) -> tuple[Drawn, ...]:
        """What is made in the class, each shade once, in the order of the list. People who make the same
        share one plan."""
        guests = self.roster.guests if self.roster else ()
        works = {id(guest.work.plan): guest.work for guest in reversed(guests)}
        ordered = dict.fromkeys(id(guest.work.plan) for guest in guests)
        return tuple(gather([works[plan]], self.words.language).alone for plan in ordered)

    @property
    def alone(self) -> Drawn:
        """One size by itself."""
        return replace(self, batch=())

    @cached_property
    def small(self) -> tuple[Figure, ...]:
        """The figures of the steps as small as stamps."""
        return tuple(thumbnail(figure) for figure in self.figures if figure.number)

    @property
    def digest(self) -> str:
        """SHA-256 over recipe, house defaults, technique, the program's version and all that was drawn."""
        works = self.batch or (self.work,)
        parts = (
            self.work.size.digest,
            *(part for work in works for part in (work.size.name, work.plan.digest)),
            *(work.kit.digest for work in works if work.kit),
            *(self.roster.digests if self.roster else ()),
            __version__,
            *(figure.svg for figure in self.figures),
        )
        return sha256("\0".join(parts).encode()).hexdigest()


def illustrate(work: Work, language: str) -> Drawn:
    """Draw all figures of a work, once for all documents. Raises FigureError where a figure has no room."""
    words = load_words(language).bound(work.plan, work.measures)
    whole = silhouette(work.size, work.shade, work.measures, words, work.plan)
    return Drawn(work, words, (whole, *draw(work.size, work.shade, work.measures, work.plan, words)))


def outline_of(work: Work, kind: str, language: str) -> Drawn:
    """Draw the picture of the whole alone, for a kind of document that shows no step. Raises FigureError."""
    words = load_words(language).bound(work.plan, work.measures)
    place = document_kind(kind).silhouette
    whole = silhouette_at(place, work.size, work.shade, work.measures, words, work.plan)
    return Drawn(work, words, (whole,))


def gather(works: Sequence[Work], language: str, roster: Roster | None = None) -> Drawn:
    """Several sizes of a recipe together, one at least, for a document of the whole recipe; with its class
    for documents of that."""
    first = roster.guests[0].work if roster else works[0]
    words = load_words(language).bound(first.plan, first.measures)
    return Drawn(first, words, (), batch=tuple(works), roster=roster)


def subject_of(drawn: Drawn, kind: str | None = None) -> Subject:
    """All that a document of this kind may tell, or a step's card without one.

    Raises UsageError for an unknown kind, FigureError.
    """
    work, figures = drawn.work, drawn.figures
    slots = kind_for(kind, work.size).slots if kind else ()
    if slots:
        figures = drawn.placed(slots)
    if kind and document_kind(kind).of_kits:
        work = work.with_kit
        if slots and work.kit:
            figures += part_icons(
                work.size, work.shade, work.measures, work.plan, drawn.words,
                [part.name for part in work.kit.supplied],
            )  # fmt: skip
    inner = document_kind(kind).members if kind else None
    members = tuple(subject_of(member, inner) for member in drawn.members) if inner else ()
    figures += figures_of_all(members)
    if kind and document_kind(kind).wall:
        figures += wall_figures(drawn.batch, drawn.words.language)
    ahead = outlook(work.plan) if kind and document_kind(kind).outlook else None
    if ahead is not None:
        figures += drawings(work.size, work.shade, work.measures, ahead, drawn.words)
    cut = batch_numbers(cut_batch(drawn.batch)) if kind and document_kind(kind).cutting else None
    if cut is not None:
        figures += cut_figures(cut, drawn.words)
    course = class_numbers(drawn.roster) if drawn.roster and kind and document_kind(kind).by_clock else None
    if course is not None:
        figures += (room_plan(course.room, drawn.words), *cut_figures(course.buying.cutting, drawn.words))
        cut = course.buying.cutting
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
        # Only step by step are the steps shown in small too.
        drawn.small if ahead is None and not slots and drawn.glance is None else (),
        drawn.pattern,
        work.kit if kind and document_kind(kind).of_kits else None,
        drawn.batch,
        cut,
        drawn.glance,
        drawn.roster,
        course,
        members,
    )


def sketch(work: Work, language: str) -> Drawn:
    """Draw a plan at a glance: a picture for some of its steps. Raises FigureError where one has no room."""
    words = load_words(language).bound(work.plan, work.measures)
    seen = glance(work.plan)
    figures = glance_drawings(work.size, work.shade, work.measures, work.plan, seen, words)
    return Drawn(work, words, figures, glance=seen)


def trace(work: Work, language: str) -> Drawn:
    """Draw the full-scale pattern of a work. Raises FigureError where a name has no room."""
    measures = full_scale_measures(work.shade, work.measures)
    words = load_words(language).bound(work.plan, measures)
    pattern = draw_pattern(work.size, work.shade, measures, words)
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
    if document_kind(kind).gives_up:
        document = on_one_side(kind, subject, lambda tried: places.heights(tried.html, svgs))
        return press(document.html, svgs, Wish(numbers=document.numbers))
    loose = compose(kind, subject)
    if not loose.blocks:
        return press(loose.html, svgs, Wish(numbers=loose.numbers))
    layout = loose.arrange(places.measure(loose.html, svgs).placed)
    lower = kind_for(kind, subject.size).slots[-1] if layout.low else ""
    anew = {**dict.fromkeys(layout.low, lower), **layout.redrawn}
    if anew:
        subject = drawn.redrawn(subject, anew)
    if layout.parts:
        each = zip(drawn.members, subject.members, layout.parts, strict=True)
        members = tuple(member.redrawn(shown, part.redrawn) for member, shown, part in each)
        subject = replace(subject, members=members, figures=figures_of_all(members))
    svgs = subject.drawings
    document = compose(kind, subject, layout)
    bar = drawn.work.measures.shown("bar") if drawn.pattern else None
    return press(document.html, svgs, Wish(numbers=document.numbers, bar=bar))


def print_sheets(kind: str, work: Work, document: Pressed) -> Pressed | None:
    """The file for a printer that goes with a document, if its kind has one.

    Raises UsageError for a fold that is not there, PressError for pages that it does not take.
    """
    how = document_kind(kind).print_file
    if how == "labels":
        return label_sheets(document, work.size.boxes)
    if how == "kits":
        how = work.size.kits.format if work.size.kits else None
    return print_file(document, how) if how else None


def draw_cards(drawn: Drawn) -> tuple[StepCard, ...]:
    """Each step's card as a drawing of its own. Raises FigureError for a word that is wider than a card."""
    return step_cards(subject_of(drawn))


def _once(things: Iterable[T]) -> list[T]:
    return list(dict.fromkeys(things))
