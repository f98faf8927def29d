"""The room of a class from above, true to scale: tables, places with the numbers of people, ways, tools."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import box

from generator.base.errors import FigureError
from generator.base.message import message
from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.dimensions import BESIDE_HEADS, dimension
from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.figures.numbers import length as told
from generator.figures.pens import BENCH, EM, INK, NEW, PVC_INSIDE, SOFT, THIN, WHITE
from generator.figures.svg import Passport, write_svg
from generator.lesson.room import SEAT, Room, Standing

NAME = "room-plan"
HEAD, SIDE, FOOT = 9.0, 9.0, 6.0
"""Paper above, at the left and below for dimensions, mm."""
ASIDE, EDGE = 5.4, 0.6
"""From a table to a value beside its dimension; from that to the edge of the paper at least, mm."""
ABOVE = 2.0
"""A dimension above the tables' edges, mm."""
HEAD_SIZE = 3.4
"""Radius of somebody's place on paper, mm: a number must stand in it."""


def room_plan(room: Room, words: Words) -> Figure:
    """The drawing. Places are numbered as people stand in the list; a free place has no number.

    Raises FigureError where places in large print would stand on one another.
    """
    # It is drawn for a smaller page, then made larger as a whole.
    scale = 1.0 / (room.scale.value * room.enlarged)
    if room.enlarged != 1.0:
        _apart(room, scale)
    width, height = room.width * scale + 2 * SIDE, room.height * scale + HEAD + FOOT
    canvas = Canvas(round(width, 2), round(height, 2), view="plan", scale=scale)
    people = iter(range(1, round(room.people.value) + 1))
    for number, table in enumerate(room.tables, 1):
        _table(canvas, table, number, scale, words, people)
    _dimensions(canvas, room, scale, words)
    if room.enlarged != 1.0:
        canvas.magnify(room.enlarged)
    alt = words.say("alt.room-plan")
    svg = write_svg(canvas, Passport(NAME, NAME, 0, alt, language=words.language))
    shown = tuple(
        dict.fromkeys([*(m.id for kind in room.kinds for m in kind[1:3]), room.way.id, room.people.id])
    )
    return Figure(NAME, 0, svg, canvas.width, canvas.height, alt, shown)


def _table(
    canvas: Canvas, table: Standing, number: int, scale: float, words: Words, people: Iterator[int]
) -> None:
    x, y = SIDE + table.x * scale, HEAD + table.y * scale
    wide, deep = table.length * scale, table.depth * scale
    with canvas.group("context", f"table-{number}"):
        canvas.area(box(x, y, x + wide, y + deep), BENCH, NEW)
        for place in range(1, table.along):
            at = x + wide * place / table.along
            canvas.line([(at, y), (at, y + deep)], THIN)
        if table.sides > 1:
            canvas.line([(x, y + deep / 2), (x + wide, y + deep / 2)], THIN)
    reach = _reach(scale)
    for side in range(table.sides):
        for place in range(table.along):
            centre = (x + wide * (place + 0.5) / table.along, y + deep + reach if side == 0 else y - reach)
            who = next(people, None)
            with canvas.group("new" if who else "context", f"place-{number}-{side}-{place}"):
                canvas.circle(centre, HEAD_SIZE, PVC_INSIDE if who else WHITE, NEW if who else THIN)
            if who:
                with canvas.group("label", f"person-{who}"):
                    base = (centre[0], centre[1] + 0.35 * EM)
                    canvas.letters(base, words.number(who), weight=700, anchor="middle", fill=INK)


def _reach(scale: float) -> float:
    """How far in front of a table somebody's place is drawn, mm."""
    return max(HEAD_SIZE + 0.8, SEAT / 2 * scale)


def _apart(room: Room, scale: float) -> None:
    """Refuse a plan so small that its places would touch: beside one another, or across a way."""
    along = min(table.length / table.along for table in room.tables) * scale
    across = (2 * SEAT + room.way.value) * scale - 2 * _reach(scale)
    if min(along, across) < 2 * HEAD_SIZE:
        raise FigureError(
            message("the plan of the room is too small for the numbers of its places in this print")
        )


def _dimensions(canvas: Canvas, room: Room, scale: float, words: Words) -> None:
    """One table of each kind, and one way between two."""
    seen: set[int] = set()
    for table in room.tables:
        if table.kind in seen:
            continue
        seen.add(table.kind)
        _, length, depth, _ = room.kinds[table.kind]
        x, y = SIDE + table.x * scale, HEAD + table.y * scale
        wide, deep = table.length * scale, table.depth * scale
        inside = y + deep * (0.25 if table.sides > 1 else 0.5) + 2.4
        dimension(
            canvas, (x, inside), (x + wide, inside), told(words, length),
            measure=length.id, value=length.value, offset=0,
        )  # fmt: skip
        value = told(words, depth)
        # Lying beside its line it must end on the paper; in large print it may have to stand along it.
        level = room.enlarged == 1.0 or text_width(value, EM) <= x - ASIDE - EDGE
        dimension(
            canvas, (x, y), (x, y + deep), value,
            measure=depth.id, value=depth.value, across=(-1.0, 0.0), offset=4.2, level=level,
        )  # fmt: skip
    if len(room.tables) > 1 and room.tables[1].y == room.tables[0].y:
        _way(canvas, room, scale, words)


def _way(canvas: Canvas, room: Room, scale: float, words: Words) -> None:
    """Between the first two tables. What is wider stands past their edges, between the places."""
    first, other = room.tables[:2]
    end, start = SIDE + (first.x + first.length) * scale, SIDE + other.x * scale
    top, foot = HEAD + first.y * scale, HEAD + (first.y + first.depth) * scale
    aside = min(table.length * scale / table.along / 2 - HEAD_SIZE for table in (first, other)) - EDGE
    value, word = told(words, room.way), words.say("label.way")
    usual, least = room.enlarged == 1.0, start - end - EDGE
    inside = usual or text_width(value, EM) <= least
    y = (top + foot) / 2 if inside else top
    dimension(
        canvas, (end, y), (start, y), value,
        measure=room.way.id, value=room.way.value, offset=0.0 if inside else ABOVE,
        over=BESIDE_HEADS if usual else -EDGE if inside else 2 * aside,
    )  # fmt: skip
    base = (top + foot) / 2 if usual or text_width(word, EM) <= least else foot
    with canvas.group("label", "way"):
        canvas.letters(((end + start) / 2, base + 1.6 + 0.66 * EM), word, anchor="middle", fill=SOFT)
