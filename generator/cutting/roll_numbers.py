"""Every number of rolls and reels that a cutting plan prints, as a measure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.base.edition import USUAL, Form
from generator.base.units import round_down
from generator.cutting.batch import Batch, PanelRolls, TapePlan
from generator.cutting.model import Layout, Roll
from generator.cutting.numbers import (
    BOOK,
    SPARE,
    SUM,
    Book,
    ClothNumbers,
    OffcutNumbers,
    PieceNumbers,
    cloth_numbers,
    offcut_numbers,
    piece_numbers,
    row_lengths,
    scale_of,
)
from generator.cutting.rows import Fit, Paper, fit
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures

PATTERNS = "exact: every way to fill a roll, chosen by HiGHS (Gilmore and Gomory 1961, from memory)"
LONGEST = "longest first; not proved"
LISTED = "the list of parts, or the recipe"
WOUND = "area of the wound ring over what one turn adds (own derivation)"
PAPER = Paper(width=160.0, height=170.0, between=15.0, least=6.5)
"""For the drawing of rolls, whose cuts carry no numbers."""


@dataclass(frozen=True, slots=True)
class RollNumbers:
    """Rolls that are cut alike."""

    layout: Layout
    count: Measure
    left: Measure
    """What is left at the end."""
    pieces: tuple[tuple[str, Measure], ...]
    """How many of each size come out of one."""


@dataclass(frozen=True)
class PanelNumbers:
    """Panels out of one kind of roll."""

    plan: PanelRolls
    pieces: tuple[PieceNumbers, ...]
    count: Measure
    """Rolls to have."""
    bound: Measure
    length: Measure
    width: Measure
    alike: tuple[RollNumbers, ...]
    paper: Paper
    """What the drawing has room for."""
    fit: Fit
    scale: Measure
    rows: tuple[Measure, ...]
    offcuts: tuple[OffcutNumbers, ...]

    @property
    def form(self) -> Literal["roll", "sheet"]:
        """How it is bought."""
        return "sheet" if self.plan.plan.sheet.single else "roll"

    @property
    def trimmed(self) -> bool:
        """Some panel is lower than the roll is wide, and is cut to its height."""
        return any(piece.width < self.plan.plan.sheet.width for piece in self.plan.plan.pieces)


@dataclass(frozen=True, slots=True)
class ReelNumbers:
    """Reels that are cut alike."""

    roll: Roll
    count: Measure
    pieces: tuple[tuple[str, Measure], ...]
    """How many of each piece are cut from it."""
    left: Measure
    across: Measure
    """Its diameter then, over the tape."""


@dataclass(frozen=True)
class TapeNumbers:
    """Tape of one kind."""

    plan: TapePlan
    pieces: tuple[tuple[str, Measure, Measure], ...]
    """Name, length, count."""
    used: Measure
    count: Measure
    """Reels to have."""
    length: Measure
    core: Measure
    outer: Measure
    reels: tuple[ReelNumbers, ...]
    enlarged: float = 1.0
    """Lettering of the drawing is so many times as large as usual."""


@dataclass(frozen=True)
class BatchNumbers:
    """A batch with every number that is printed of it."""

    batch: Batch
    cloths: tuple[ClothNumbers, ...]
    panels: tuple[PanelNumbers, ...]
    tapes: tuple[TapeNumbers, ...]
    spare: Measure | None
    """Cloth that is bought over, as a share; None: there is no cloth."""
    measures: Measures
    """All of them by id."""


def batch_numbers(batch: Batch, form: Form = USUAL) -> BatchNumbers:
    """Measures of all cloths, rolls and reels of a batch, drawn for pages of a form."""
    book = Book()
    cloths = tuple(
        cloth_numbers(book, plan, f"cut_cloth_{n}", form) for n, plan in enumerate(batch.cloths, 1)
    )
    panels = tuple(
        panel_numbers(book, plan, f"cut_panel_{n}", form) for n, plan in enumerate(batch.panels, 1)
    )
    tapes = tuple(tape_numbers(book, plan, f"cut_tape_{n}", form) for n, plan in enumerate(batch.tapes, 1))
    spare = None
    if cloths:
        label, formula = "Cloth to have over, as a share of its length", "a value of the trade"
        spare = book.put("cut_spare", label, SPARE, formula, COMMON_PRACTICE, unit="fraction", shown=SPARE)
    return BatchNumbers(batch, cloths, panels, tapes, spare, book.measures)


def panel_numbers(book: Book, plan: PanelRolls, key: str, form: Form = USUAL) -> PanelNumbers:
    """For pages of a form; ``key`` parts the measures of one kind of roll from those of another."""
    inner = plan.plan
    layouts = [layout for _, layout in inner.layouts]
    paper = PAPER.for_form(form)
    fitted = fit(layouts, paper, rest=inner.sheet.single)
    source = PATTERNS if inner.exact else LONGEST
    return PanelNumbers(
        plan=plan,
        pieces=tuple(
            piece_numbers(book, piece, f"{key}_piece_{n}") for n, piece in enumerate(inner.pieces, 1)
        ),
        count=book.count(f"{key}_rolls", "Rolls to have", inner.count, "the fewest that hold all", source),
        bound=book.count(
            f"{key}_bound", "No fewer rolls than", inner.bound, "all lengths together, or the search", source
        ),
        length=book.put(f"{key}_length", "Length of a roll", inner.sheet.length, "as stated", LISTED),
        width=book.put(f"{key}_width", "Width of a roll", inner.sheet.width, "as stated", LISTED),
        alike=tuple(_alike(book, plan, key)),
        paper=paper,
        fit=fitted,
        scale=scale_of(book, key, fitted),
        rows=row_lengths(book, key, fitted),
        offcuts=tuple(offcut_numbers(book, key, plan.uses)),
    )


def _alike(book: Book, plan: PanelRolls, key: str) -> Iterator[RollNumbers]:
    for number, (times, layout) in enumerate(plan.plan.layouts, 1):
        name = f"{key}_alike_{number}"
        ends = [placed.area.x + placed.area.along for placed in layout.placed]
        yield RollNumbers(
            layout,
            book.count(f"{name}_rolls", "Rolls cut so", times, "counted"),
            book.put(
                f"{name}_left",
                "Left at the end of the roll",
                layout.length - max(ends),
                "length of the roll less its panels",
                SUM,
            ),
            tuple(_counted(book, name, [placed.name for placed in layout.placed])),
        )


def tape_numbers(book: Book, plan: TapePlan, key: str, form: Form = USUAL) -> TapeNumbers:
    """For pages of a form; ``key`` parts the measures of one tape from those of another."""
    reel = plan.reel
    pieces = tuple(
        (
            strip.name,
            book.put(f"{key}_piece_{n}_length", f"{strip.name}, length", strip.length, "as packed", LISTED),
            book.count(
                f"{key}_piece_{n}_count", f"{strip.name}, pieces", strip.count, "boxes × pieces in one"
            ),
        )
        for n, strip in enumerate(plan.strips, 1)
    )
    return TapeNumbers(
        plan=plan,
        pieces=pieces,
        used=book.put(f"{key}_used", "Tape for all pieces", plan.used, "lengths × counts", BOOK),
        count=book.count(
            f"{key}_reels",
            "Reels to have",
            len(plan.plan.rolls),
            "the fewest that hold all pieces whole",
            PATTERNS if plan.plan.exact else LONGEST,
        ),
        length=book.put(f"{key}_length", "Tape on a full reel", reel.length, "as stated", LISTED),
        core=book.put(f"{key}_core", "Core of a reel, across", reel.core, "as stated", LISTED),
        outer=book.put(f"{key}_outer", "Full reel, across", reel.outer, "as stated", LISTED),
        reels=tuple(_reels(book, plan, key)),
        enlarged=PAPER.for_form(form).enlarged,
    )


def _reels(book: Book, plan: TapePlan, key: str) -> Iterator[ReelNumbers]:
    for number, (times, roll) in enumerate(plan.plan.groups, 1):
        name = f"{key}_reel_{number}"
        across = plan.reel.across(roll.left)
        yield ReelNumbers(
            roll,
            book.count(f"{name}_count", "Reels cut so", times, "counted"),
            tuple(_counted(book, name, [piece for piece, _ in roll.pieces])),
            book.put(
                f"{name}_left",
                "Tape left on the reel",
                roll.left,
                "π × (across² − core²) / (4 × what one turn adds)",
                WOUND,
                shown=round_down(roll.left),
            ),
            book.put(
                f"{name}_across",
                "Reel with what is left on it, across",
                across,
                "√(core² + 4 × left × what one turn adds / π)",
                WOUND,
                shown=round_down(across),
            ),
        )


def _counted(book: Book, name: str, pieces: list[str]) -> Iterator[tuple[str, Measure]]:
    for place, piece in enumerate(dict.fromkeys(pieces), 1):
        yield piece, book.count(f"{name}_of_{place}", f"{piece}, pieces", pieces.count(piece), "counted")
