"""One page of a finished PDF, as the rules of the proof see it: letters and shapes, each with its place."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pypdfium2

from generator.base.errors import PageFault
from generator.base.message import Message
from generator.press.geometry import AS_IT_IS, MM_PER_POINT, Box, Matrix, Point
from generator.press.painting import Painting
from generator.press.parts import Part, Reading

Colour = tuple[int, int, int, int]
"""Red, green, blue and how much it covers, each to 255."""


@dataclass(frozen=True, slots=True, eq=False)
class Thing:
    """One object that a page paints."""

    order: int
    """Place in the order of painting; later things cover earlier ones."""
    is_text: bool
    box: Box
    """Bounds as the file says, uncut."""
    clip: Box | None
    """What cuts it, if anything does that does not hold all of it."""
    handle: Any = None
    """The open file's own object, for a check that must know more of it. Gone with the page."""
    fill: Colour | None = None
    """What it is filled with, if that is one colour; a text is filled with the colour of its letters."""
    font: str = ""
    size: float = 0.0
    """Size of its letters in points, after all scaling."""
    furniture: bool = False
    """A running line or a page number."""
    mark: int = -1
    """Number of the marked content that it belongs to; -1: it is none of the page's content."""
    within: Matrix = AS_IT_IS
    """Where the drawing that holds it stands on the page."""
    dense: float = 1.0
    """How much that drawing covers what is beneath it, 0 to 1; ``fill`` counts it already."""

    @property
    def light(self) -> float:
        """Lightness of its filling on paper, 0 black to 1 white."""
        if self.fill is None:
            return 0.0
        red, green, blue, alpha = self.fill
        shade = (0.299 * red + 0.587 * green + 0.114 * blue) / 255
        return 1 - (1 - shade) * alpha / 255

    @property
    def visible(self) -> Box:
        """Its bounds as far as no clip cuts them."""
        return self.box if self.clip is None else self.box.common(self.clip)


@dataclass(frozen=True, slots=True, eq=False)
class Letter:
    """One letter with ink."""

    sign: str
    origin: Point
    along: Point
    """Unit vector of its line of writing."""
    quad: list[Point]
    """Corners around its ink, turned with it."""
    box: Box
    """Upright box around its ink."""
    thing: Thing
    spoiled: bool
    """Whether no font knows it."""


@dataclass(slots=True)
class Run:
    """Letters that follow one another on one line, without a gap wider than a letter."""

    letters: list[Letter] = field(default_factory=list)
    text: str = ""

    @property
    def box(self) -> Box:
        """Around all its letters."""
        return Box.around([corner for letter in self.letters for corner in letter.quad])


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page."""

    number: int
    """Counted from 1."""
    box: Box
    things: list[Thing]
    runs: list[Run]
    page: pypdfium2.PdfPage
    """The open page, for a check that must see it. Gone after ``sheets`` is left."""
    margins: Box
    """As far as its content may go, by what the file says; else the whole page."""
    reading: Reading
    """How it is read out."""
    painting: Painting
    """Pictures of it, painted when one is asked for."""
    begun: frozenset[str]
    """Titles of the cards that stood on pages before."""
    is_last: bool

    def where(self, box: Box) -> tuple[float, float]:
        """How far a box stands from the left and the upper edge, mm."""
        left = (box.left - self.box.left) * MM_PER_POINT
        top = (self.box.top - box.top) * MM_PER_POINT
        return round(left, 1), round(top, 1)

    def fault(self, wrong: Message, fix: Message, box: Box | None = None, text: str = "") -> PageFault:
        """A fault at a place of this page, about some words of it."""
        return PageFault(wrong, fix, text.strip(), self.where(box) if box else None, self.number)

    def box_of(self, part: Part) -> Box | None:
        """Around all that a part paints here; None if that is nothing."""
        marks = set(part.marks)
        boxes = [thing.visible for thing in self.things if thing.mark in marks and not thing.visible.empty]
        corners = [corner for box in boxes for corner in ((box.left, box.bottom), (box.right, box.top))]
        return Box.around(corners) if corners else None

    def words_of(self, part: Part, most: int = 40) -> str:
        """How a part begins."""
        marks = {mark: place for place, mark in enumerate(part.marks)}
        runs = [run for run in self.runs if run.letters[0].thing.mark in marks]
        runs.sort(key=lambda run: marks[run.letters[0].thing.mark])
        words = " ".join(" ".join(run.text for run in runs).split())
        return words if len(words) <= most else words[: most - 1].rstrip() + "…"
