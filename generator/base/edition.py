"""What a document may differ in while its content is one and the same: how it speaks, what its pages are."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Units = Literal["metric", "inch", "both"]
"""``metric``: millimetres; ``inch``: inches, millimetres beside; ``both``: millimetres, inches beside."""
Tone = Literal["plain", "young"]
"""``young``: short words for young learners, where a language has them."""
PaperName = Literal["A5", "A4", "A3", "Letter"]
PrintSize = Literal["normal", "large", "larger"]
"""Lettering of the instructions: as the document has it, 18 points, or 24 points."""

UNITS: tuple[Units, ...] = ("metric", "inch", "both")
TONES: tuple[Tone, ...] = ("plain", "young")
PRINT_SIZES: tuple[PrintSize, ...] = ("normal", "large", "larger")
LETTERS: dict[PrintSize, float] = {"normal": 12.0, "large": 18.0, "larger": 24.0}
"""Size of the instructions on a step sheet, points."""

COLUMNS_FROM = 15.0
"""A text stands beside its picture on paper this wide for each point of its lettering, mm."""

REFERENCE = "en"
"""The language that has every sentence."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright, mm."""

    name: PaperName
    width: float
    height: float


PAPERS: dict[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("A5", 148.0, 210.0),
        Paper("A4", 210.0, 297.0),
        Paper("A3", 297.0, 420.0),
        Paper("Letter", 215.9, 279.4),
    )
}
"""ISO 216 and ANSI/ASME Y14.1, both from memory."""


@dataclass(frozen=True, slots=True)
class Voice:
    """How a document speaks."""

    language: str = REFERENCE
    units: Units = "metric"
    tone: Tone = "plain"


ENGLISH = Voice()


@dataclass(frozen=True, slots=True)
class Form:
    """What the pages of a document are like."""

    paper: PaperName = "A4"
    print_size: PrintSize = "normal"
    grey: bool = False
    duplex: bool = False
    """Printed on both sides: the edge for filing changes sides."""
    stated: bool = field(default=False, compare=False)
    """Somebody asked for this paper; if not, a document may have a better one of its own."""

    @property
    def tokens(self) -> frozenset[str]:
        """Conditions that its variants of settings and styles may name."""
        size = {"large-print", self.print_size} if self.large else set()
        more = [name for name in ("duplex", "narrow") if getattr(self, name)]
        return frozenset({self.paper.lower(), *size, *more})

    @property
    def narrow(self) -> bool:
        """Whether a line beside a picture would hold too few letters: everything stands in one column."""
        return self.sheet.width < COLUMNS_FROM * LETTERS[self.print_size]

    @property
    def sheet(self) -> Paper:
        """Its paper."""
        return PAPERS[self.paper]

    @property
    def large(self) -> bool:
        """Whether the lettering is larger than usual."""
        return self.print_size != "normal"


USUAL = Form()


@dataclass(frozen=True, slots=True)
class Edition:
    """One way in which a document is printed."""

    voice: Voice = ENGLISH
    form: Form = USUAL

    @property
    def suffix(self) -> str:
        """What tells its files from those of other editions: ``.de``, ``.en.large``."""
        size = f".{self.form.print_size}" if self.form.large else ""
        return f".{self.voice.language}{size}"


ORDINARY = Edition()


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the person at the terminal wants otherwise than the recipe says; None or nothing: as it says."""

    languages: tuple[str, ...] = ()
    units: Units | None = None
    tone: Tone | None = None
    paper: PaperName | None = None
    print_size: PrintSize | None = None
    grey: bool | None = None
    duplex: bool | None = None


NO_WISHES = Wishes()
