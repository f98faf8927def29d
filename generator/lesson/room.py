"""The room: tables and places in numbers, and the scale at which they are drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.base.edition import PAPERS, USUAL, Form
from generator.cutting.numbers import Book
from generator.lesson.places import Placed
from generator.lesson.roster import Roster
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures

WAY = 900.0
"""Clear way round each table, for two who pass with a shade (common practice, no source)."""
SEAT = 500.0
"""What one who stands at a table takes in front of it (common practice, no source)."""
SCALES = (15, 20, 25, 30, 40, 45, 50, 60, 75, 100, 150, 200)
PLAN_WIDTH, PLAN_HEIGHT = 246.0, 96.0
"""Paper for the tables on a page that lies across, mm."""
MARGINS, SIDES = 32.0, 18.0
"""Of an upright page, both together; paper beside the tables for dimensions in normal print, mm."""
WORDS = 74.0
"""What stands above the drawing on an upright page, with margins and dimensions, in normal print, mm."""


@dataclass(frozen=True, slots=True)
class Plot:
    """What the plan has room for, mm on the page, and how large its lettering is there."""

    width: float = PLAN_WIDTH
    height: float = PLAN_HEIGHT
    enlarged: float = 1.0
    """Lettering and lines are so many times as large as usual."""


def plot_for(form: Form) -> Plot:
    """Across the page in normal print; in large print on a page that stands upright, as wide as it is."""
    sheet = form.sheet
    if not form.large:
        return Plot(width=min(PLAN_WIDTH, PLAN_WIDTH + sheet.height - PAPERS["A4"].height))
    by = {"large": 1.5, "larger": 2.0}[form.print_size]
    # The columns of Letter are those of A4.
    wide = min(sheet.width, PAPERS["A4"].width) if form.paper == "Letter" else sheet.width
    return Plot(wide - MARGINS - SIDES * by, sheet.height - WORDS * by, by)


@dataclass(frozen=True, slots=True)
class Standing:
    """One table in its place; its lower left corner, mm of the room."""

    kind: int
    """Which kind of tables, from 0."""
    x: float
    y: float
    length: float
    depth: float
    along: int
    sides: int


@dataclass(frozen=True)
class Room:
    """All tables."""

    tables: tuple[Standing, ...]
    width: float
    """Of the part of the room that is drawn, mm."""
    height: float
    kinds: tuple[tuple[Placed, Measure, Measure, Measure], ...]
    """Each kind with its length, depth and count."""
    way: Measure
    bench: Measure
    """Table that one place takes."""
    places: Measure
    people: Measure
    scale: Measure
    """Real mm to one mm on the page."""
    measures: Measures
    enlarged: float = 1.0
    """Lettering of the drawing is so many times as large as usual."""


def room_of(roster: Roster, form: Form = USUAL) -> Room:
    """Tables side by side in rows, at the largest scale at which they stand on a page of this form."""
    book, plot = Book(), plot_for(form)
    single = [placed for placed in roster.tables for _ in range(placed.table.count)]
    best = min(
        (_rows(roster, columns) for columns in range(1, len(single) + 1)),
        key=lambda laid: _scale(laid[1], laid[2], plot),
    )
    tables, width, height = best
    kinds = tuple(
        (
            placed,
            _stated(book, f"table_{n}_length", "Table, length", placed.table.length),
            _stated(book, f"table_{n}_depth", "Table, depth", placed.table.depth),
            book.count(f"table_{n}_count", "Tables of this kind", placed.table.count, "as stated"),
        )
        for n, placed in enumerate(roster.tables, 1)
    )
    return Room(
        tables,
        width,
        height,
        kinds,
        way=book.put(
            "way",
            "Clear way round a table",
            WAY,
            "a value of the trade",
            COMMON_PRACTICE,
            rounding="up",
            ruler="eighths",
        ),
        bench=book.put(
            "bench",
            "Table that one place takes, length",
            roster.bench.length,
            "the longer of laminating and rolling",
            COMMON_PRACTICE,
            shown=math.ceil(roster.bench.length / 10 - 1e-9) * 10.0,
            rounding="up",
            ruler="eighths",
        ),
        places=book.count("places", "Places at the tables", roster.stations, "length / bench, both sides"),
        people=book.count("people", "People", len(roster.guests), "as stated"),
        scale=book.count(
            "room_scale",
            "Scale of the plan, one to",
            _scale(width, height, plot),
            "the largest that fits",
            "ISO 5455",
        ),
        measures=book.measures,
        enlarged=plot.enlarged,
    )


def _stated(book: Book, id_: str, label: str, length: float) -> Measure:
    return book.put(id_, label, length, "as stated", "the recipe", ruler="eighths")


def _scale(width: float, height: float, plot: Plot) -> int:
    return next(
        (scale for scale in SCALES if width / scale <= plot.width and height / scale <= plot.height),
        math.ceil(max(width / plot.width, height / plot.height) / 50) * 50,
    )


def _rows(roster: Roster, columns: int) -> tuple[tuple[Standing, ...], float, float]:
    """Tables in rows of ``columns``: where each stands, and what all take with their ways, mm."""
    cell = max(placed.table.length for placed in roster.tables) + WAY
    row = max(placed.table.depth for placed in roster.tables) + 2 * SEAT + WAY
    tables = []
    for place, (kind, placed) in enumerate(_single(roster)):
        x = WAY / 2 + (place % columns) * cell
        y = WAY / 2 + SEAT + (place // columns) * row
        tables.append(
            Standing(kind, x, y, placed.table.length, placed.table.depth, placed.along, placed.sides)
        )
    rows = -(-len(tables) // columns)
    return tuple(tables), min(columns, len(tables)) * cell, rows * row


def _single(roster: Roster) -> Iterator[tuple[int, Placed]]:
    for kind, placed in enumerate(roster.tables):
        for _ in range(placed.table.count):
            yield kind, placed
