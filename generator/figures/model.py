"""What a figure is drawn from, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.base.errors import FigureError
from generator.base.message import message
from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.labels import Label
from generator.figures.told import NOTHING, Told
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
    most_labels: int | None = None
    """A small place: never above ``max_height``, no more labels than this. None: as the kind lays it out."""
    letters: int = 0
    """Of a small place: longer names come after the others, much longer ones not at all."""
    most_values: int = 9
    """Of a small place: no more dimensions than this."""
    whole: bool = False
    """Of a small place: nothing may be lost there. A figure that would lose something, or that is low enough
    anyway, is the one that stands beside a step card on A4."""
    enlarged: float = 1.0
    """The finished drawing is so many times as large, lettering and lines too."""

    @property
    def small(self) -> bool:
        """Whether a figure must be laid out anew to fit."""
        return self.most_labels is not None


HALF_A4 = Slot("half-a4", 80.0, 42.0, 66.0)
"""Beside the text of a step card on A4."""
HALF_A4_LARGE = Slot("half-a4-large", 80.0, 42.0, 66.0, enlarged=1.5)
HALF_A4_LARGER = Slot("half-a4-larger", 80.0, 42.0, 66.0, enlarged=2.0)
"""The same in large print, 120 and 160 wide on the page: its lettering is 16 and 22 points high."""
HALF_A4_LOW = Slot("half-a4-low", 80.0, 48.0, 48.0, most_labels=10, letters=30, whole=True, enlarged=1.5)
HALF_A4_LOWER = replace(HALF_A4_LOW, name="half-a4-lower", height=42.0, max_height=42.0)
HALF_A4_LOWEST = replace(HALF_A4_LOW, name="half-a4-lowest", height=36.0, max_height=36.0)
"""In large print, for a card that no page would hold: 120 wide, 72, 63, 54 high, its lettering 16 points."""
SHEET = Slot("silhouette", 84.0, 60.0, 70.0)
"""The picture of the whole on a step sheet, beside the five numbers."""
SHEET_LARGE = Slot("silhouette-large", 84.0, 60.0, 70.0, enlarged=1.5)
SHEET_LARGER = Slot("silhouette-larger", 84.0, 60.0, 70.0, enlarged=2.0)
HALF_A5 = Slot("half-a5", 100.0, 44.0, 44.0, most_labels=10, letters=30, whole=True)
"""Above the text of a step card on A5: low, so that two cards stand on a page."""
FULL = Slot("full", 120.0, 60.0, 84.0)
"""The whole column of an A5 or A4 page."""
FULL_LESS = Slot("full", 120.0, 84.0, 84.0, most_labels=6, letters=24)
"""The same, for a figure that does not fit as its kind lays it out there."""
CELL_A5 = Slot("cell-a5", 61.0, 34.0, 34.0, most_labels=3, letters=14, most_values=2)
"""A cell of six on an A5 page."""
CELL_A5_CAUTION = Slot("cell-a5-caution", 61.0, 26.0, 26.0, most_labels=3, letters=14, most_values=2)
"""The same, where a caution stands above."""
HANDOUT = Slot("handout", 56.0, 28.0, 28.0, most_labels=3, letters=14, most_values=2)
"""A row of a class's handout."""
HANDOUT_LOW = Slot("handout-low", 56.0, 23.0, 23.0, most_labels=3, letters=14, most_values=2)
HANDOUT_LEAST = Slot("handout-least", 56.0, 20.0, 20.0, most_labels=3, letters=14, most_values=2)
"""Lower, where two sheets of paper would not hold all steps."""
COVER_HANDOUT = Slot("cover-handout", 80.0, 46.0, 58.0)
"""The picture of the whole on it, beside the measures."""
CRIB = Slot("crib", 42.0, 33.0, 33.0, most_labels=2, letters=12, most_values=1)
"""A picture of the crib sheet."""
CELL_A6 = Slot("cell-a6", 43.0, 22.0, 22.0, most_labels=2, letters=10, most_values=1)
"""A cell of six on an A6 page, of A4 folded twice."""
CELL_A6_CAUTION = Slot("cell-a6-caution", 43.0, 15.0, 15.0, most_labels=0, letters=10, most_values=0)
"""The same, where a caution stands above: too low for a word."""
WALL = Slot("wall", 89.0, 54.0, 54.0, most_labels=4, letters=20, enlarged=3.0)
"""A card for the wall, 267 × 162 on the page: drawn for 89 × 54, then three times as large."""
COVER_A5 = Slot("cover-a5", 124.0, 80.0, 92.0)
"""The picture of the whole on the front of a booklet."""
COVER_A6 = Slot("cover-a6", 84.0, 46.0, 56.0)
"""The same on the front of a sheet folded to A6."""
SMALL_SLOTS = (CELL_A5, CELL_A5_CAUTION, HANDOUT, HANDOUT_LOW, HANDOUT_LEAST, CRIB, CELL_A6, CELL_A6_CAUTION)

OF_SHEETS = (
    SHEET,
    HALF_A5,
    HALF_A4_LARGE,
    HALF_A4_LARGER,
    HALF_A4_LOW,
    HALF_A4_LOWER,
    HALF_A4_LOWEST,
    SHEET_LARGE,
    SHEET_LARGER,
)
HANDOUT_LARGE = Slot("handout-large", 106.0, 27.0, 27.0, 3, 18, 2, enlarged=1.5)
HANDOUT_LARGE_LOW = replace(HANDOUT_LARGE, name="handout-large-low", height=20.0, max_height=20.0)
"""A row of a handout in large print, among its words: lettering of 16 points."""
COVER_HANDOUT_LARGE = Slot("cover-handout-large", 84.0, 46.0, 58.0, enlarged=1.5)
HANDOUT_LARGER = replace(HANDOUT_LARGE, name="handout-larger", width=80.0, enlarged=2.0)
HANDOUT_LARGER_LOW = replace(HANDOUT_LARGER, name="handout-larger-low", height=20.0, max_height=20.0)
COVER_HANDOUT_LARGER = Slot("cover-handout-larger", 84.0, 32.0, 36.0, enlarged=2.0)
BADGE = Slot("badge", 58.0, 23.0, 23.0)
"""Beside the title of a crib sheet."""
CRIB_STEP = Slot("crib-step", 42.0, 20.0, 20.0, most_labels=2, letters=12, most_values=1)
"""A step on it: two of them stand one below the other in a box."""
CELL_HALF_LETTER = Slot("cell-half-letter", 57.0, 34.0, 34.0, most_labels=3, letters=13, most_values=2)
"""A cell of six on half a sheet of Letter."""
CELL_HALF_LETTER_CAUTION = Slot(
    "cell-half-letter-caution", 57.0, 26.0, 26.0, most_labels=3, letters=13, most_values=2
)
COVER_HALF_LETTER = Slot("cover-half-letter", 115.0, 80.0, 96.0)
"""The picture of the whole on the front of a booklet of such pages."""
COVER_QUARTER_LETTER = Slot("cover-quarter-letter", 84.0, 36.0, 48.0)
"""The same on Letter folded twice, which is lower than A6."""


def _on(paper: str, slot: Slot, enlarged: float) -> Slot:
    """The same place on larger or smaller paper, read from farther or nearer, or in large print."""
    return replace(slot, name=f"{slot.name}-{paper}", enlarged=round(slot.enlarged * enlarged, 3))


ON_A3 = 1.4
"""Pages of A3 are so many times as large as those of A4, lettering and lines too."""
WALL_ON_A4 = 2.0
"""What a card for the wall is enlarged by on A4 and on Letter."""
ENLARGED_SLOTS = (
    *(_on("a3", slot, ON_A3) for slot in (BADGE, CRIB_STEP, CELL_A5_CAUTION, HANDOUT, HANDOUT_LOW)),
    *(_on("a3", slot, ON_A3) for slot in (HANDOUT_LEAST, COVER_HANDOUT)),
    *(_on("large", slot, 1.5) for slot in (BADGE, CRIB_STEP, CELL_A5_CAUTION)),
    *(_on("large", slot, 1.5) for slot in (CELL_A5,)),
    *(_on("larger", slot, 2.0) for slot in (BADGE, CRIB_STEP, CELL_A5, CELL_A5_CAUTION)),
    *(_on("a4", slot, WALL_ON_A4 / slot.enlarged) for slot in (WALL,)),
)

LARGE_SLOTS = (
    HANDOUT_LARGE,
    HANDOUT_LARGE_LOW,
    COVER_HANDOUT_LARGE,
    HANDOUT_LARGER,
    HANDOUT_LARGER_LOW,
    COVER_HANDOUT_LARGER,
    BADGE,
    CRIB_STEP,
    CELL_HALF_LETTER,
    CELL_HALF_LETTER_CAUTION,
    COVER_HALF_LETTER,
    COVER_QUARTER_LETTER,
    *ENLARGED_SLOTS,
)


def slot_named(name: str) -> Slot:
    """The place that a document names in its settings. Raises FigureError for one that is not there."""
    for slot in (
        HALF_A4,
        FULL,
        WALL,
        COVER_A5,
        COVER_A6,
        COVER_HANDOUT,
        *SMALL_SLOTS,
        *OF_SHEETS,
        *LARGE_SLOTS,
    ):
        if slot.name == name:
            return slot
    raise FigureError(
        message("a document asks for figures in the place “{name}”, which is not there", name=name)
    )


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
    told: Told = NOTHING
    """What it tells besides, piece by piece."""
