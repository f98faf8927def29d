"""What a document is made from, what it comes out as, and which kinds there are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from generator.base.assets import data_folder
from generator.base.edition import PAPERS, PRINT_SIZES, USUAL, Form, PaperName, PrintSize
from generator.base.errors import FigureError, UsageError
from generator.base.message import Message, catalogued, message
from generator.cutting.roll_numbers import BatchNumbers
from generator.figures.model import Figure
from generator.figures.pattern.model import Pattern
from generator.lesson.pack import ClassNumbers
from generator.lesson.roster import Roster
from generator.measures.measure import Measures
from generator.plan.glance import Glance
from generator.plan.kit import KitContents
from generator.plan.model import Plan, Step
from generator.plan.outlook import Outlook
from generator.plan.work import Work
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade
from generator.sheets.packing import Block, Layout, Measured, Rooms
from generator.sheets.settings import DEFAULT_PAPER, listed, room, settings_of, yes
from generator.sheets.style import greyed
from generator.sheets.wording import Catalogue

DIGEST_SIGNS = 6
"""First characters of the recipe's digest that an edition line prints."""


@dataclass(frozen=True)
class Subject:
    """All that a document may tell: one size, computed, planned and drawn, in one language."""

    size: SizeRecipe
    shade: Shade
    measures: Measures
    plan: Plan
    figures: tuple[Figure, ...]
    """One for each step; with number 0 the picture of the whole, and drawings of the plan."""
    words: Catalogue
    version: str
    """Rimfold's version."""
    digest: str
    """Hash of everything that the sheet is made from, hex; its first characters stand in the edition line."""
    outlook: Outlook | None = None
    """What follows from the plan as a whole, for documents that need it."""
    small: tuple[Figure, ...] = ()
    """The same figures as small as stamps, where a document shows all steps at a glance."""
    pattern: Pattern | None = None
    """The full-scale pattern, for documents that show it."""
    kit: KitContents | None = None
    """One kit of this size, for documents of kits."""
    batch: tuple[Work, ...] = ()
    """Sizes of the recipe, for documents that tell of several; size, shade and plan are then the first one's,
    and ``measures`` those of all together."""
    cutting: BatchNumbers | None = None
    """What is cut from what for all kits, for documents that tell it."""
    glance: Glance | None = None
    """Which steps stand together and which are pictured, for documents that show no more than those."""
    roster: Roster | None = None
    """Who is in the class and makes what, for documents of a class."""
    course: ClassNumbers | None = None
    """The class by the clock, for documents that tell it."""
    members: tuple[Subject, ...] = ()
    """What is made in the class, each shade once, for documents that tell all of it to everybody."""
    form: Form = USUAL
    """What its pages are like."""

    @property
    def edition(self) -> str:
        """The part of the digest that is printed."""
        return self.digest[:DIGEST_SIGNS]

    @property
    def silhouette(self) -> Figure | None:
        """The picture of the whole, if it was drawn."""
        return next((figure for figure in self.figures if figure.number == 0), None)

    @property
    def drawings(self) -> dict[str, str]:
        """Every drawing that a page may show, SVG by id."""
        inks = greyed if self.form.grey else str
        return {figure.id: inks(figure.svg) for figure in (*self.figures, *self.small)}

    def figure_of(self, step: Step) -> Figure:
        """The drawing of a step. Raises FigureError if there is none."""
        for figure in self.figures:
            if figure.number == step.number:
                return figure
        raise FigureError(message("step {number}, {id}, has no figure", number=step.number, id=step.id))

    def drawing(self, name: str) -> Figure:
        """A drawing that belongs to no step. Raises FigureError if there is none."""
        for figure in self.figures:
            if figure.id == name and figure.number == 0:
                return figure
        raise FigureError(message("there is no drawing {name}", name=name))


@dataclass(frozen=True)
class Document:
    """One document of one size in one language, ready for the press."""

    kind: str
    html: str
    title: str
    language: str
    numbers: frozenset[str]
    """Texts whose numbers may stand on the pages: what the press's proof of numbers asks for."""
    blocks: tuple[Block, ...]
    """What stands whole on a page, in order, with the rules for where a page may end."""
    rooms: Rooms
    """Height for blocks on the first page and on every other, mm."""
    most_pages: int
    """Pages beyond which blocks that can be spared are left out."""
    arrange: Callable[[Iterable[Measured]], Layout]
    """Where pages end, from the heights of the blocks as the press measures them."""


Scope = Literal["size", "recipe"]
"""Whether there is one document for each size, or one for all sizes of a recipe."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of document: a file in ``templates/documents`` and the settings at its top."""

    name: str
    template: str
    title: str
    """Wording key of what the kind is called."""
    rooms: Rooms
    most_pages: int
    only_if_asked: bool = False
    """Not made where no document is named."""
    outlook: bool = False
    """It tells of the plan as a whole: ``Subject.outlook`` and its drawings must be there."""
    full_scale: bool = False
    """It shows the full-scale pattern, no steps, and must be printed without scaling."""
    scope: Scope = "size"
    steps: bool = True
    """It shows steps, so that their figures must be drawn; without, only the picture of the whole is."""
    silhouette: str = "sheet"
    """The place that its picture of the whole is drawn for, where it shows no steps."""
    of_kits: bool = False
    """It is made for sizes of which the recipe counts kits, and for no other."""
    of_class: bool = False
    """It is made for a recipe that has a class: ``Subject.roster`` must be there."""
    by_clock: bool = False
    """It tells the class by the clock, what is bought and cut: ``Subject.course`` must be there."""
    members: str | None = None
    """It has, for everybody in a class, a document of this kind: ``Subject.members`` must be there."""
    duplex: bool = False
    """It is printed on both sides of the paper, whatever the recipe says."""
    papers: tuple[PaperName, ...] = (DEFAULT_PAPER,)
    """Papers that it is laid out for; none: it has a sheet of its own."""
    unasked: PaperName | None = None
    """Paper that it is printed on where nobody asks for one; None: the usual."""
    print_sizes: tuple[PrintSize, ...] = ("normal",)
    """Sizes of lettering that it is laid out for."""
    wall: bool = False
    """Its figures are those of cards for the wall, which hold for several sizes."""
    cutting: bool = False
    """It tells what is cut from what: ``Subject.cutting`` and its drawings must be there. It looks at all
    sizes of a recipe, since offcuts may make one of which no kits are counted."""
    print_file: str | None = None
    """What its file for a printer is laid out by: the name of a fold; ``kits`` for the fold that the recipe's
    kits ask for; ``labels`` for as many as there are boxes. None: it has no such file."""
    slots: tuple[str, ...] = ()
    """Places that its figures are drawn for, by name: of the whole, of a step, of a step below a caution.
    None: those of a step sheet."""
    glance: bool = False
    """It shows the plan at a glance: ``Subject.glance`` and its drawings must be there."""
    lower: tuple[str, ...] = ()
    """Places for the figure of a card that no page would hold, by name, tried in this order."""
    turns: bool = False
    """A card that no page holds even so stands on two."""
    contents: bool = False
    """It shows all steps in small: ``Subject.small`` must be there."""
    gives_up: tuple[str, ...] = ()
    """It has one side; these parts of it are left out, the first one first, until it fits."""
    press: bool = True
    """It is printed; without, it is written as a text: a page of the web and a plain one."""

    @property
    def called(self) -> Message:
        """Its name in every language; English has the one by which people ask for it."""
        return catalogued(self.title, self.name)

    @property
    def all_sizes(self) -> bool:
        """One document of a recipe tells of all its sizes, not of those alone that are packed."""
        return self.cutting or not self.of_kits


@cache
def document_kinds() -> dict[str, Kind]:
    """Kinds by name, found by file name."""
    folder = data_folder("templates") / "documents"
    return {path.stem: _formed(f"documents/{path.name}", USUAL) for path in sorted(folder.glob("*.html"))}


def document_kind(name: str) -> Kind:
    """One kind. Raises UsageError, naming those that there are, for another name."""
    kinds = document_kinds()
    if name not in kinds:
        known = ", ".join(kinds)
        raise UsageError(message("there is no document “{name}”; there is {known}", name=name, known=known))
    return kinds[name]


def kind_for(name: str, size: SizeRecipe, form: Form = USUAL) -> Kind:
    """A kind as this size gets it in this form: what kits are printed on may have a template for each fold.

    Such a template stands in a folder that is called like the fold. Raises UsageError for an unknown kind.
    """
    kind = document_kind(name)
    fold = size.kits.format if kind.print_file == "kits" and size.kits else None
    folded = f"documents/{fold}/{name}.html"
    return _formed(folded if fold and (data_folder("templates") / folded).is_file() else kind.template, form)


def formed(kind: Kind, form: Form) -> Kind:
    """The same kind with the settings of a form."""
    return _formed(kind.template, form)


@cache
def _formed(template: str, form: Form) -> Kind:
    path = data_folder("templates") / template
    text = path.read_text(encoding="utf-8")
    other = settings_of(text, form).get("template")
    return _formed(other[1], form) if other else _kind(path.stem, text, template, form)


def _kind(name: str, text: str, template: str, form: Form) -> Kind:
    """Settings are lines ``key: value`` in a comment at the top of the template. Lengths are in mm.

    ``only-if-asked``, ``outlook``, ``by-clock``, ``cutting``, ``glance``, ``contents``, ``duplex``, ``wall``,
    ``turns`` and ``full-scale`` are ``yes`` or ``no``, and ``no`` if left out; ``steps`` and ``press`` are
    ``yes`` if left out. ``scope`` is ``size`` or ``recipe``; ``needs`` is ``kits``, ``class`` or left out.
    ``slots`` and ``lower`` are names of places for figures, ``members`` the name of a kind. ``papers`` are
    those that it is laid out for, A4 if left out, or ``own`` for a sheet of its own; ``paper-unasked`` is
    the one of them that nobody need ask for. ``template`` names another template: in this form the kind has
    its pages and settings. Rooms are those of A4: on other paper they grow or shrink with it, unless
    they have a variant.
    """
    found = settings_of(text, form)
    settings = {key: value for key, (_, value) in found.items()}
    papers = settings.get("papers", DEFAULT_PAPER)
    try:
        rooms = Rooms(*(room(found[key], papers, form) for key in ("first-room", "room")))
        return Kind(
            name,
            template,
            settings["title"],
            rooms,
            int(settings["most-pages"]),
            only_if_asked=yes(settings.get("only-if-asked", "no")),
            outlook=yes(settings.get("outlook", "no")),
            full_scale=yes(settings.get("full-scale", "no")),
            scope=_SCOPES[settings.get("scope", "size")],
            steps=yes(settings.get("steps", "yes")),
            silhouette=settings.get("silhouette", "sheet"),
            of_kits=_NEEDS[settings.get("needs", "")] == "kits",
            of_class=_NEEDS[settings.get("needs", "")] == "class",
            by_clock=yes(settings.get("by-clock", "no")),
            members=settings.get("members"),
            duplex=yes(settings.get("duplex", "no")),
            wall=yes(settings.get("wall", "no")),
            cutting=yes(settings.get("cutting", "no")),
            print_file=settings.get("print-file") or None,
            slots=tuple(slot.strip() for slot in settings.get("slots", "").split(",") if slot.strip()),
            glance=yes(settings.get("glance", "no")),
            papers=() if papers == "own" else tuple(PAPERS[each].name for each in listed(papers)),
            unasked=PAPERS[settings["paper-unasked"]].name if "paper-unasked" in settings else None,
            print_sizes=tuple(_SIZES[each] for each in listed(settings.get("print-sizes", "normal"))),
            lower=tuple(listed(settings.get("lower", ""))),
            turns=yes(settings.get("turns", "no")),
            contents=yes(settings.get("contents", "no")),
            gives_up=tuple(settings.get("gives-up", "").replace(",", " ").split()),
            press=yes(settings.get("press", "yes")),
        )
    except KeyError as error:
        raise ValueError(f"the template of {name} lacks the setting {error}") from None


_NEEDS: Mapping[str, str] = {"": "", "kits": "kits", "class": "class"}
_SIZES: Mapping[str, PrintSize] = {size: size for size in PRINT_SIZES}
_SCOPES: Mapping[str, Scope] = {"size": "size", "recipe": "recipe"}
