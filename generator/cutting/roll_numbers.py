"""Every number of rolls and reels that a cutting plan prints, as a measure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from generator.base.edition import USUAL, Form
from generator.base.units import round_down
from generator.cutting.batch import Batch, PanelRolls, TapePlan
from generator.cutting.in_inches import (
    Sides,
    left_on_roll,
    on_reel,
    panel_sides,
    row_inches,
    tape_lengths,
)
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
    scale_of,
)
from generator.cutting.rows import Fit, Paper, fit
from generator.measures.inches import MM_PER_INCH, in_steps, inches_of
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
    in_inches: bool
    """Rolls and panels can be told in inches and still come out; False: this plan is told in mm alone."""
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
    paper: Paper = PAPER
    """What the drawing has room for."""


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
    sides = panel_sides(inner)
    alike = tuple(_alike(book, plan, key, sides))
    return PanelNumbers(
        plan=plan,
        pieces=tuple(
            piece_numbers(book, piece, f"{key}_piece_{n}", sides.get(piece.name))
            for n, piece in enumerate(inner.pieces, 1)
        ),
        count=book.count(f"{key}_rolls", "Rolls to have", inner.count, "the fewest that hold all", source),
        bound=book.count(
            f"{key}_bound", "No fewer rolls than", inner.bound, "all lengths together, or the search", source
        ),
        length=book.put(
            f"{key}_length",
            "Length of a roll",
            inner.sheet.length,
            "as stated",
            LISTED,
            rounding="down",
            ruler="feet",
        ),
        width=book.put(
            f"{key}_width",
            "Width of a roll",
            inner.sheet.width,
            "as stated",
            LISTED,
            rounding="down",
            ruler="eighths",
        ),
        alike=alike,
        paper=paper,
        fit=fitted,
        scale=scale_of(book, key, fitted),
        rows=tuple(_rows(book, key, fitted, alike, sides)),
        in_inches=bool(sides),
        offcuts=tuple(offcut_numbers(book, key, plan.uses)),
    )


def _rows(
    book: Book, key: str, fitted: Fit, alike: tuple[RollNumbers, ...], sides: Sides
) -> Iterator[Measure]:
    """Length of each row of the drawing; in inches what its panels have together."""
    number = 0
    for roll, rows in zip(alike, fitted.rows, strict=True):
        left = inches_of(roll.left) or (Fraction(0),)
        for row in rows:
            number += 1
            yield book.put(
                f"{key}_row_{number}",
                f"Row {number} of the drawing",
                row.length,
                "from cut to cut",
                SUM,
                ruler="sixteenths" if sides else "mm",
                inches=row_inches(roll.layout, row, sides, left[0]) if sides else None,
            )


def _alike(book: Book, plan: PanelRolls, key: str, sides: Sides) -> Iterator[RollNumbers]:
    for number, (times, layout) in enumerate(plan.plan.layouts, 1):
        name = f"{key}_alike_{number}"
        ends = [placed.area.x + placed.area.along for placed in layout.placed]
        left = layout.length - max(ends)
        least = left_on_roll(layout, sides) if sides else left
        yield RollNumbers(
            layout,
            book.count(f"{name}_rolls", "Rolls cut so", times, "counted"),
            book.put(
                f"{name}_left",
                "Left at the end of the roll",
                left,
                "length of the roll less its panels",
                SUM,
                rounding="down",
                ruler="eighths",
                inches=in_steps(least, "eighths", "down") or None,
            ),
            tuple(_counted(book, name, [placed.name for placed in layout.placed])),
        )


def tape_numbers(book: Book, plan: TapePlan, key: str, form: Form = USUAL) -> TapeNumbers:
    """For pages of a form; ``key`` parts the measures of one tape from those of another."""
    reel = plan.reel
    groups = plan.plan.groups
    told = tape_lengths(plan.strips, (_pieces_of(roll) for _, roll in groups), reel)
    pieces = tuple(
        (
            strip.name,
            book.put(
                f"{key}_piece_{n}_length",
                f"{strip.name}, length",
                strip.length,
                "as packed",
                LISTED,
                inches=told.get(strip.name),
            ),
            book.count(
                f"{key}_piece_{n}_count", f"{strip.name}, pieces", strip.count, "boxes × pieces in one"
            ),
        )
        for n, strip in enumerate(plan.strips, 1)
    )
    return TapeNumbers(
        plan=plan,
        pieces=pieces,
        used=book.put(
            f"{key}_used",
            "Tape for all pieces",
            plan.used,
            "lengths × counts",
            BOOK,
            rounding="up",
            ruler="feet",
        ),
        count=book.count(
            f"{key}_reels",
            "Reels to have",
            len(plan.plan.rolls),
            "the fewest that hold all pieces whole",
            PATTERNS if plan.plan.exact else LONGEST,
        ),
        length=book.put(
            f"{key}_length",
            "Tape on a full reel",
            reel.length,
            "as stated",
            LISTED,
            rounding="down",
            ruler="feet",
        ),
        core=_across(book, f"{key}_core", "Core of a reel, across", reel.core),
        outer=_across(book, f"{key}_outer", "Full reel, across", reel.outer),
        reels=tuple(_reels(book, plan, key, told)),
        paper=PAPER.for_form(form),
    )


def _across(book: Book, id_: str, label: str, diameter: float) -> Measure:
    return book.put(id_, label, diameter, "as stated", LISTED, ruler="sixteenths")


def _pieces_of(roll: Roll) -> dict[str, int]:
    names = [name for name, _ in roll.pieces]
    return {name: names.count(name) for name in dict.fromkeys(names)}


def _reels(book: Book, plan: TapePlan, key: str, told: Mapping[str, Fraction]) -> Iterator[ReelNumbers]:
    for number, (times, roll) in enumerate(plan.plan.groups, 1):
        name = f"{key}_reel_{number}"
        left = roll.left
        if told:
            # Pieces cut by their inches may take more of the reel than their millimetres do.
            taken = float(on_reel(_pieces_of(roll), told) * MM_PER_INCH)
            left = min(left, plan.reel.length - taken)
        across = plan.reel.across(roll.left)
        # No reel is smaller than its core, on whichever line of the rule that stands.
        core = in_steps(plan.reel.core, "sixteenths", "nearest")
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
                rounding="down",
                ruler="feet",
                inches=in_steps(left, "feet", "down") or None,
            ),
            book.put(
                f"{name}_across",
                "Reel with what is left on it, across",
                across,
                "√(core² + 4 × left × what one turn adds / π)",
                WOUND,
                shown=round_down(across),
                rounding="down",
                ruler="sixteenths",
                inches=max(core, in_steps(across, "sixteenths", "down")),
            ),
        )


def _counted(book: Book, name: str, pieces: list[str]) -> Iterator[tuple[str, Measure]]:
    for place, piece in enumerate(dict.fromkeys(pieces), 1):
        yield piece, book.count(f"{name}_of_{place}", f"{piece}, pieces", pieces.count(piece), "counted")
