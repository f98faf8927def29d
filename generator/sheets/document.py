"""What a document is made from, what it comes out as, and which kinds there are."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from generator.base.assets import data_folder
from generator.base.errors import FigureError, UsageError
from generator.figures.model import Figure
from generator.figures.pattern.model import Pattern
from generator.measures.measure import Measures
from generator.plan.glance import Glance
from generator.plan.model import Plan, Step
from generator.plan.outlook import Outlook
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade
from generator.sheets.packing import Block, Rooms
from generator.sheets.wording import Catalogue

DIGEST_SIGNS = 6
"""First characters of the recipe's digest that an edition line prints."""

_SETTINGS = re.compile(r"\A\{#-?(.*?)-?#\}", re.DOTALL)


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
    glance: Glance | None = None
    """Which steps stand together and which are pictured, for documents that show no more than those."""

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
        return {figure.id: figure.svg for figure in (*self.figures, *self.small)}

    def figure_of(self, step: Step) -> Figure:
        """The drawing of a step. Raises FigureError if there is none."""
        for figure in self.figures:
            if figure.number == step.number:
                return figure
        raise FigureError(f"step {step.number}, {step.id}, has no figure")

    def drawing(self, name: str) -> Figure:
        """A drawing that belongs to no step. Raises FigureError if there is none."""
        for figure in self.figures:
            if figure.id == name and figure.number == 0:
                return figure
        raise FigureError(f"there is no drawing {name}")


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
    glance: bool = False
    """It shows the plan at a glance: ``Subject.glance`` and its drawings must be there."""
    gives_up: tuple[str, ...] = ()
    """It has one side; these parts of it are left out, the first one first, until it fits."""


@cache
def document_kinds() -> dict[str, Kind]:
    """Kinds by name, found by file name."""
    folder = data_folder("templates") / "documents"
    return {
        path.stem: _kind(path.stem, path.read_text(encoding="utf-8"))
        for path in sorted(folder.glob("*.html"))
    }


def document_kind(name: str) -> Kind:
    """One kind. Raises UsageError, naming those that there are, for another name."""
    kinds = document_kinds()
    if name not in kinds:
        raise UsageError(f"there is no document “{name}”; there is {', '.join(kinds)}")
    return kinds[name]


def _kind(name: str, text: str) -> Kind:
    """Settings are lines ``key: value`` in a comment at the top of the template. Lengths are in mm.

    ``only-if-asked``, ``outlook``, ``full-scale`` and ``glance`` are ``yes`` or ``no``, ``no`` if left out.
    """
    found = _SETTINGS.match(text)
    lines = found[1].splitlines() if found else []
    settings = {
        key.strip(): value.strip() for key, mark, value in (line.partition(":") for line in lines) if mark
    }
    try:
        rooms = Rooms(float(settings["first-room"]), float(settings["room"]))
        return Kind(
            name,
            f"documents/{name}.html",
            settings["title"],
            rooms,
            int(settings["most-pages"]),
            only_if_asked=_yes(settings.get("only-if-asked", "no")),
            outlook=_yes(settings.get("outlook", "no")),
            full_scale=_yes(settings.get("full-scale", "no")),
            glance=_yes(settings.get("glance", "no")),
            gives_up=tuple(settings.get("gives-up", "").replace(",", " ").split()),
        )
    except KeyError as error:
        raise ValueError(f"the template of {name} lacks the setting {error}") from None


def _yes(text: str) -> bool:
    return {"yes": True, "no": False}[text]
