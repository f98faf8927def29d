"""The rooms called in the order of the flow: one value travels and each stage adds to it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from hashlib import sha256

from generator import __version__
from generator.base.collecting import collected_later
from generator.base.edition import ENGLISH, USUAL, Edition, Form
from generator.base.message import NOTHING, Message
from generator.cutting.batch import cut_batch
from generator.cutting.roll_numbers import batch_numbers
from generator.figures.cut_layout import cut_figures
from generator.figures.draw import draw, draw_one
from generator.figures.glance import glance_drawings
from generator.figures.model import WALL, Figure, Slot, slot_named
from generator.figures.model import Job as FigureJob
from generator.figures.outlook import drawings
from generator.figures.part_icons import part_icons
from generator.figures.pattern.draw import draw_pattern
from generator.figures.pattern.model import LETTERINGS, Pattern
from generator.figures.room_plan import room_plan
from generator.figures.silhouette import silhouette, silhouette_at
from generator.figures.thumbnail import thumbnail
from generator.lesson.pack import class_numbers
from generator.lesson.roster import Roster
from generator.measures.full_scale import full_scale_measures
from generator.plan.glance import Glance, glance
from generator.plan.outlook import outlook
from generator.plan.work import Work as Work
from generator.press import layout as places
from generator.press.press import Pressed, label_sheets, press, print_file
from generator.press.texts import Texts
from generator.press.texts import write as write_texts
from generator.press.wish import Wish
from generator.recipe.content import content_digest
from generator.sheets.cards import card_id
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject, document_kind, kind_for
from generator.sheets.forms import form_of
from generator.sheets.handout import figures_of_all
from generator.sheets.high_cards import settle
from generator.sheets.one_side import on_one_side
from generator.sheets.packing import Layout, Part, summed
from generator.sheets.step_cards import StepCard, step_cards
from generator.sheets.wall import wall_figures
from generator.sheets.wording import Catalogue, load_words


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
    form: Form = USUAL
    """What the pages of its documents are like."""
    pattern: Pattern | None = None
    batch: tuple[Work, ...] = ()
    glance: Glance | None = None
    roster: Roster | None = None
    """The class, for documents that tell of it."""
    instead: Message = NOTHING
    """That it is drawn for another paper than the one wished for, and why."""
    _places: dict[tuple[str, ...], tuple[Figure, ...]] = field(default_factory=dict, compare=False)
    _anew: dict[tuple[int, str], Figure] = field(default_factory=dict, compare=False)
    """Figures that were drawn for other places, by step and place."""

    def placed(self, slots: tuple[str, ...]) -> tuple[Figure, ...]:
        """The figures for places of these names: of the whole, of a step, of a step below a caution.

        Each place is drawn once for all documents that use it. Raises FigureError where one has no room.
        """
        if slots not in self._places:
            self._places[slots] = self._drawn_for(tuple(slot_named(name) for name in slots))
        return self._places[slots]

    def _drawn_for(self, slots: tuple[Slot, ...]) -> tuple[Figure, ...]:
        work, words = self.work, self.words
        given = (work.size, work.shade, work.measures)
        if self.glance is not None:
            return glance_drawings(*given, work.plan, self.glance, words, slots)
        whole, step, *below = slots
        cover = silhouette(*given, words, work.plan, whole)
        return (cover, *draw(*given, work.plan, words, step, *below))

    def redrawn(self, subject: Subject, places: Mapping[str, str]) -> Subject:
        """The same with the figures of some cards drawn for other places: card and name of the place.

        Each is drawn once for a place. Raises FigureError where one has no room.
        """
        work = self.work
        given = (work.size, work.shade, work.measures, work.plan)
        anew = {}
        for step in work.plan.steps:
            place = places.get(card_id(step))
            if place is None:
                continue
            known = (step.number, place)
            if known not in self._anew:
                self._anew[known] = draw_one(FigureJob(*given, step, self.words, slot_named(place)))
            anew[step.number] = self._anew[known]
        return replace(subject, figures=tuple(anew.get(figure.number, figure) for figure in subject.figures))

    @cached_property
    def members(self) -> tuple[Drawn, ...]:
        """What is made in the class, each shade once, in the order of the list. People who make the same
        share one plan."""
        guests = self.roster.guests if self.roster else ()
        works = {id(guest.work.plan): guest.work for guest in reversed(guests)}
        ordered = dict.fromkeys(id(guest.work.plan) for guest in guests)
        return tuple(gather([works[plan]], self.edition).alone for plan in ordered)

    @property
    def edition(self) -> Edition:
        """The edition that it was drawn for."""
        return Edition(self.words.voice, self.form)

    @property
    def alone(self) -> Drawn:
        """One size by itself."""
        return replace(self, batch=())

    @cached_property
    def small(self) -> tuple[Figure, ...]:
        """The figures of the steps as small as stamps."""
        return tuple(thumbnail(figure) for figure in self.figures if figure.number)

    def digest(self, *, kits: bool) -> str:
        """SHA-256 over what the sizes say, techniques, the program's version and all that was drawn.

        ``kits``: with what is packed. The drawings tell a language and its units; a tone, which is in words
        alone, counts by its name. What a recipe says of other sizes changes no sheet.
        """
        works = self.batch or (self.work,)
        kits = kits or bool(self.batch)
        taught = self.roster is not None
        tone = self.words.voice.tone
        parts = (
            *(content_digest(work.size, kits=kits, taught=taught) for work in works),
            *(work.plan.digest for work in works),
            *(work.kit.digest for work in works if work.kit and kits),
            *(self.roster.digests if self.roster else ()),
            __version__,
            *(figure.svg for figure in self.figures),
            *(() if tone == ENGLISH.tone else (tone,)),
        )
        return sha256("\0".join(parts).encode()).hexdigest()


def illustrate(work: Work, edition: Edition) -> Drawn:
    """Draw all figures of a work, once for all documents. Raises FigureError where a figure has no room."""
    words = load_words(edition.voice).bound(work.plan, work.measures)
    whole = silhouette(work.size, work.shade, work.measures, words, work.plan)
    figures = draw(work.size, work.shade, work.measures, work.plan, words)
    return Drawn(work, words, (whole, *figures), edition.form)


def outline_of(work: Work, kind: str, edition: Edition) -> Drawn:
    """Draw the picture of the whole alone, for a kind of document that shows no step. Raises FigureError."""
    words = load_words(edition.voice).bound(work.plan, work.measures)
    place = document_kind(kind).silhouette
    whole = silhouette_at(place, work.size, work.shade, work.measures, words, work.plan)
    return Drawn(work, words, (whole,), edition.form)


def gather(works: Sequence[Work], edition: Edition, roster: Roster | None = None) -> Drawn:
    """Several sizes of a recipe together, one at least, for a document of the whole recipe; with its class
    for documents of that."""
    first = roster.guests[0].work if roster else works[0]
    words = load_words(edition.voice).bound(first.plan, first.measures)
    return Drawn(first, words, (), edition.form, batch=tuple(works), roster=roster)


def subject_of(drawn: Drawn, kind: str | None = None) -> Subject:
    """All that a document of this kind may tell, or a step's card without one.

    Raises UsageError for an unknown kind, FigureError.
    """
    work, figures = drawn.work, drawn.figures
    form = form_of(kind_for(kind, work.size), drawn.form) if kind else USUAL
    slots = kind_for(kind, work.size, form).slots if kind else ()
    if slots and not (kind and document_kind(kind).wall):
        figures = drawn.placed(slots)
    if kind and kind_for(kind, work.size, form).silhouette != document_kind(kind).silhouette:
        place = kind_for(kind, work.size, form).silhouette
        given = (work.size, work.shade, work.measures, drawn.words, work.plan)
        figures = (silhouette_at(place, *given),)
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
        # Their place is the one that the kind names, on A3 that for which they are drawn.
        figures += wall_figures(drawn.batch, drawn.words.voice, slot_named(slots[0]) if slots else WALL)
    ahead = outlook(work.plan) if kind and document_kind(kind).outlook else None
    if ahead is not None:
        figures += drawings(work.size, work.shade, work.measures, ahead, drawn.words, form)
    cut = batch_numbers(cut_batch(drawn.batch), form) if kind and document_kind(kind).cutting else None
    if cut is not None:
        figures += cut_figures(cut, drawn.words)
    by_clock = bool(kind) and document_kind(kind or "").by_clock
    course = class_numbers(drawn.roster, form) if drawn.roster and by_clock else None
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
        drawn.digest(kits=bool(kind) and document_kind(kind or "").of_kits),
        ahead,
        drawn.small if kind and kind_for(kind, work.size, form).contents else (),
        drawn.pattern,
        work.kit if kind and document_kind(kind).of_kits else None,
        drawn.batch,
        cut,
        drawn.glance,
        drawn.roster,
        course,
        members,
        form,
    )


def sketch(work: Work, edition: Edition) -> Drawn:
    """Draw a plan at a glance: a picture for some of its steps. Raises FigureError where one has no room."""
    words = load_words(edition.voice).bound(work.plan, work.measures)
    seen = glance(work.plan)
    figures = glance_drawings(work.size, work.shade, work.measures, work.plan, seen, words)
    return Drawn(work, words, figures, edition.form, glance=seen)


def traced(work: Work, edition: Edition) -> Drawn:
    """Draw the full-scale pattern of a work in this form. Raises FigureError where a name has no room."""
    made = form_of(document_kind("pattern"), edition.form)
    measures = full_scale_measures(work.shade, work.measures)
    words = load_words(edition.voice).bound(work.plan, measures)
    inches = edition.voice.units != "metric"
    given = (work.size, work.shade, measures, words, made.sheet)
    pattern = draw_pattern(*given, inches=inches, lettering=LETTERINGS[made.print_size])
    return Drawn(replace(work, measures=measures), words, pattern.figures, edition.form, pattern)


def cutter_drawing(drawn: Drawn) -> str:
    """The pattern as SVG for a cutting machine."""
    assert drawn.pattern is not None
    return drawn.pattern.svg


@collected_later()
def print_document(kind: str, drawn: Drawn) -> Pressed:
    """Compose, lay out, pack, compose again, press and prove one document.

    Raises UsageError for an unknown kind, WordingError, PressError, or ProofError for a page that fails.
    """
    subject = subject_of(drawn, kind)
    svgs = subject.drawings
    if kind_for(kind, subject.size, subject.form).gives_up:
        document = on_one_side(kind, subject, lambda tried: places.heights(tried.html, svgs))
        return press(document.html, svgs, Wish(numbers=document.numbers))
    loose = compose(kind, subject)
    if not loose.blocks:
        return press(loose.html, svgs, Wish(numbers=loose.numbers))
    layout = _arranged(loose, drawn, subject)
    lower = kind_for(kind, subject.size, subject.form).slots[-1] if layout.low else ""
    anew = {**dict.fromkeys(layout.low, lower), **layout.redrawn}
    if anew:
        subject = drawn.redrawn(subject, anew)
    if layout.parts:
        each = zip(drawn.members, subject.members, layout.parts, strict=True)
        members = tuple(member.redrawn(shown, part.redrawn) for member, shown, part in each)
        subject = replace(subject, members=members, figures=figures_of_all(members))
    svgs = subject.drawings
    document = compose(kind, subject, layout)
    return press(document.html, svgs, _wish(drawn, document.numbers))


def _arranged(loose: Document, drawn: Drawn, subject: Subject) -> Layout:
    """Where pages end; which cards have lower pictures and which stand on two pages, as the kind allows.

    Raises NoRoomError for a card that is too high in any way, and what ``compose`` raises.
    """
    placed = places.measure(loose.html, subject.drawings).placed
    if not kind_for(loose.kind, subject.size, subject.form).lower:
        return loose.arrange(placed)

    def heights(document: Document, shown: Subject, names: Collection[str]) -> Mapping[str, float]:
        return places.heights(document.html, shown.drawings, names)

    settled = settle(loose, subject, summed(placed), partial(drawn.redrawn, subject), heights)
    layout = loose.arrange([Part(name, height) for name, height in settled.heights.items()])
    return replace(layout, redrawn=settled.redrawn, turned=settled.turned)


def tell_document(kind: str, drawn: Drawn) -> Texts:
    """Compose one document of words alone, and ask where its numbers come from.

    Raises UsageError for an unknown kind, WordingError, or ProofError for a number that comes from nowhere.
    """
    document = compose(kind, subject_of(drawn, kind))
    return write_texts(document.html, Wish(numbers=document.numbers))


def wish_for(kind: str, drawn: Drawn) -> Wish:
    """What the proof asks of one document, without making it: its numbers, and its bar if it is full scale.

    Raises UsageError for an unknown kind, WordingError, FigureError.
    """
    return _wish(drawn, compose(kind, subject_of(drawn, kind)).numbers)


def _wish(drawn: Drawn, numbers: frozenset[str]) -> Wish:
    if drawn.pattern is None:
        return Wish(numbers=numbers)
    bar = drawn.work.measures.shown("bar")
    return Wish(numbers=numbers, bar=bar, inch_bar=drawn.pattern.inch_bar)


def print_sheets(kind: str, work: Work, document: Pressed, form: Form = USUAL) -> Pressed | None:
    """The file for a printer that goes with a document in its form, if its kind has one.

    Raises UsageError for a fold that is not there, PressError for pages that it does not take.
    """
    how = kind_for(kind, work.size, form).print_file
    if how == "labels":
        return label_sheets(document, work.size.boxes, form.paper)
    if how == "kits":
        how = work.size.kits.format if work.size.kits else None
    return print_file(document, how, form.paper) if how else None


def draw_cards(drawn: Drawn) -> tuple[StepCard, ...]:
    """Each step's card as a drawing of its own. Raises FigureError for a word that is wider than a card."""
    return step_cards(subject_of(drawn))
