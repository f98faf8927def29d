"""Every number that a cutting plan prints, as a measure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby

from generator.base.edition import USUAL, Form
from generator.base.units import round_down, round_up
from generator.cutting.batch import ClothPlan
from generator.cutting.model import Cut, Layout, Piece
from generator.cutting.offcuts import Use
from generator.cutting.repeats import Told, told_once
from generator.cutting.rows import Fit, Paper, fit, pages
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures, Rounding, Ruler, Unit
from generator.shape.say import plain

SPARE = 0.05
"""Cloth to have over for a flaw or a slip, as a share of its length (common practice, no source)."""
BUY_STEP = 100.0
"""Cloth is sold in tenths of a metre."""
SEARCH = "exact search of all cuts from edge to edge (Gilmore and Gomory 1965, from memory)"
BLOCKS = "blocks chosen by HiGHS (Gilmore and Gomory 1963, from memory); not proved shortest"
SUM = "sum over the plan of cuts"
BOOK = "arithmetic"
PAPER = Paper(width=152.0, height=186.0, between=15.0, least=9.0)
"""For the drawing of a cloth."""


@dataclass
class Book:
    """Collects measures; each name is used once."""

    found: dict[str, Measure] = field(default_factory=dict)

    def put(
        self,
        id_: str,
        label: str,
        exact: float,
        formula: str,
        source: str,
        *,
        unit: Unit = "mm",
        shown: float | None = None,
        inputs: tuple[str, ...] = (),
        rounding: Rounding = "nearest",
        ruler: Ruler = "mm",
        inches: Fraction | None = None,
    ) -> Measure:
        """A measure, shown to a tenth unless ``shown`` says otherwise.

        A plan of cuts is laid out in whole millimetres, edge to edge: each cut rounded to a line of an inch
        rule would leave the last piece short. Lengths are told in millimetres alone unless ``ruler`` says
        otherwise, or ``inches`` are given.
        """
        assert id_ not in self.found, f"two measures are called {id_}"
        value = round(exact, 1) if shown is None else shown
        self.found[id_] = Measure(
            id_,
            label,
            exact,
            value,
            unit,
            formula,
            source,
            inputs=inputs,
            rounding=rounding,
            ruler="sixteenths" if inches is not None and ruler == "mm" else ruler,
            inches=None if inches is None else (inches,),
        )
        return self.found[id_]

    def count(self, id_: str, label: str, count: int, formula: str, source: str = BOOK) -> Measure:
        """A whole number of things."""
        return self.put(id_, label, float(count), formula, source, unit="count")

    @property
    def measures(self) -> Measures:
        """All of them."""
        return Measures(dict(self.found))


@dataclass(frozen=True, slots=True)
class PieceNumbers:
    """Equal pieces."""

    name: str
    length: Measure
    width: Measure
    count: Measure


@dataclass(frozen=True, slots=True)
class CutStep:
    """Cuts that follow one another and are alike."""

    cuts: tuple[Cut, ...]
    distance: Measure
    times: Measure | None
    """How many lengths of the cloth are cut so; None: one."""

    @property
    def first(self) -> Cut:
        """Stands for all of them."""
        return self.cuts[0]


@dataclass(frozen=True, slots=True)
class OffcutNumbers:
    """Offcuts of one size that make the same."""

    long: Measure
    short: Measure
    count: Measure
    made: tuple[tuple[str, Measure], ...]
    """What one of them makes."""


@dataclass(frozen=True)
class ClothNumbers:
    """One cloth's plan in numbers."""

    plan: ClothPlan
    pieces: tuple[PieceNumbers, ...]
    count: Measure
    """All pieces."""
    width: Measure
    length: Measure
    bound: Measure
    buy: Measure
    used: Measure
    """Part of the cloth cut up that becomes pieces."""
    paper: Paper
    """What the drawing has room for."""
    drawn: Layout
    """The layout, or what it has of each length once where it would not fit on a page."""
    fit: Fit
    scale: Measure
    rows: tuple[Measure, ...]
    """Length of each row of the drawing."""
    times: tuple[Measure | None, ...]
    """How many lengths are cut as a row shows; None: one."""
    steps: tuple[CutStep, ...]
    offcuts: tuple[OffcutNumbers, ...]
    """The largest first."""


def cloth_numbers(book: Book, plan: ClothPlan, key: str, form: Form = USUAL) -> ClothNumbers:
    """For pages of a form; ``key`` parts the measures of one cloth from those of another."""
    layout = plan.layout
    exact = SEARCH if layout.exact else BLOCKS
    length = book.put(
        f"{key}_length",
        "Cloth to cut up, length",
        layout.length,
        f"the pieces of {plan.name}, {plain(plan.width)} wide, laid for the shortest length: "
        f"{plain(layout.length)}",
        exact,
        rounding="up",
        ruler="feet",
    )
    area = sum(piece.area for piece in plan.pieces)
    whole = layout.length * layout.width
    paper = PAPER.for_form(form)
    told, fitted = _told(layout, paper)
    drawn = told.layout
    return ClothNumbers(
        plan=plan,
        pieces=tuple(
            piece_numbers(book, piece, f"{key}_piece_{n}") for n, piece in enumerate(plan.pieces, 1)
        ),
        count=book.count(
            f"{key}_pieces",
            "Pieces of cloth",
            len(layout.placed),
            " + ".join(str(piece.count) for piece in plan.pieces),
        ),
        width=book.put(
            f"{key}_width",
            "Usable width",
            plan.width,
            "as the recipe says",
            "the recipe",
            rounding="down",
            ruler="eighths",
        ),
        length=length,
        bound=book.put(
            f"{key}_bound",
            "No plan is shorter than",
            layout.bound,
            "the plan itself" if layout.exact else "all pieces spread over the whole width, or more",
            exact,
            shown=round_down(layout.bound),
            rounding="down",
            ruler="feet",
        ),
        buy=book.put(
            f"{key}_buy",
            "Cloth to buy, length",
            layout.length * (1 + SPARE),
            f"{plain(1 + SPARE, 2)} × {plain(layout.length)}, up to a whole {plain(BUY_STEP)}",
            COMMON_PRACTICE,
            shown=round_up(layout.length * (1 + SPARE), BUY_STEP),
            inputs=(length.id,),
            rounding="up",
            ruler="feet",
        ),
        used=book.put(
            f"{key}_yield",
            "Cloth that becomes pieces",
            area / whole,
            f"pieces {plain(area)} mm² / cloth {plain(layout.length)} × {plain(layout.width)}",
            BOOK,
            unit="fraction",
            shown=round(area / whole, 3),
        ),
        paper=paper,
        drawn=drawn,
        fit=fitted,
        scale=scale_of(book, key, fitted),
        rows=row_lengths(book, key, fitted),
        times=tuple(
            _times(book, f"{key}_row_{n}_times", told.times(row.stop))
            for n, row in enumerate(fitted.rows[0], 1)
        ),
        steps=tuple(_steps(book, key, told)),
        offcuts=tuple(offcut_numbers(book, key, plan.uses)),
    )


def piece_numbers(
    book: Book, piece: Piece, key: str, inches: tuple[Fraction, Fraction] | None = None
) -> PieceNumbers:
    """Sides and count of equal pieces; ``inches``: both sides, where they are told in inches too."""
    formula, sides = "as the size's sheet has it", inches or (None, None)
    return PieceNumbers(
        piece.name,
        book.put(f"{key}_length", f"{piece.name}, length", piece.length, formula, BOOK, inches=sides[0]),
        book.put(f"{key}_width", f"{piece.name}, width", piece.width, formula, BOOK, inches=sides[1]),
        book.count(f"{key}_count", f"{piece.name}, pieces", piece.count, "boxes × pieces in one"),
    )


def scale_of(book: Book, key: str, fitted: Fit) -> Measure:
    """How many real mm one mm of the drawing is."""
    formula = "the largest of a list of scales that fits the page"
    return book.count(
        f"{key}_scale", "Scale of the drawing, one to", fitted.scale, formula, "ISO 5455 (from memory)"
    )


def row_lengths(book: Book, key: str, fitted: Fit) -> tuple[Measure, ...]:
    """Length of each row of the drawing."""
    rows = [stretch for rows in fitted.rows for stretch in rows]
    return tuple(
        book.put(f"{key}_row_{n}", f"Row {n} of the drawing", row.length, "from cut to cut", SUM)
        for n, row in enumerate(rows, 1)
    )


def _told(layout: Layout, paper: Paper) -> tuple[Told, Fit]:
    """What is drawn: all of a cloth that a page holds, else each of its lengths once."""
    whole = fit([layout], paper)
    once = told_once(layout)
    if pages(whole, layout, paper) == 1 or not once.ends:
        return Told(layout, ()), whole
    return once, fit([once.layout], paper, ends=once.ends)


def _times(book: Book, id_: str, times: int) -> Measure | None:
    return book.count(id_, "Lengths of cloth cut so", times, "counted") if times > 1 else None


def _steps(book: Book, key: str, told: Told) -> Iterator[CutStep]:
    """Cuts in order, those alike together."""
    alike = groupby(
        told.layout.cuts,
        key=lambda cut: (
            cut.runs_along,
            cut.distance,
            cut.gives,
            cut.waste,
            told.times(max(cut.start[0], cut.end[0])),
        ),
    )
    for (_, distance, _, _, times), group in alike:
        same = tuple(group)
        name = f"{key}_cut_{same[0].number}"
        label, formula = "From the near edge to the cut", "the pieces before it"
        at = book.put(name, label, distance, formula, SUM)
        yield CutStep(same, at, _times(book, f"{name}_times", times))


def offcut_numbers(book: Book, key: str, uses: tuple[Use, ...]) -> Iterator[OffcutNumbers]:
    """Offcuts by size and use, the largest first."""
    groups: dict[tuple[float, float, tuple[tuple[str, int], ...]], int] = {}
    for use in uses:
        sides = sorted((use.offcut.along, use.offcut.across), reverse=True)
        each = (round(sides[0], 1), round(sides[1], 1), use.made)
        groups[each] = groups.get(each, 0) + 1
    for number, ((long, short, made), count) in enumerate(groups.items(), 1):
        name = f"{key}_offcut_{number}"
        yield OffcutNumbers(
            book.put(
                f"{name}_long",
                "Offcut, long side",
                long,
                "what the cuts leave",
                SUM,
                rounding="down",
                ruler="eighths",
            ),
            book.put(
                f"{name}_short",
                "Offcut, short side",
                short,
                "what the cuts leave",
                SUM,
                rounding="down",
                ruler="eighths",
            ),
            book.count(f"{name}_count", "Offcuts of this size", count, "counted"),
            tuple(
                (
                    what,
                    book.count(
                        f"{name}_made_{place}",
                        f"{what} out of one offcut",
                        many,
                        "cut from edge to edge",
                        SEARCH,
                    ),
                )
                for place, (what, many) in enumerate(made, 1)
            ),
        )
