"""Small pieces and long strips laid out on pages; a long strip is cut into pieces that join at crosses."""

from __future__ import annotations

import math
import string
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from shapely import LineString, box
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas
from generator.figures.model import Figure
from generator.figures.pattern.aids import SMALL
from generator.figures.pattern.model import Drawing, Page, Point
from generator.figures.pattern.names import Names
from generator.figures.pattern.paint import CROSS, JOIN, Say, lines_on, name_of, on_paper, refuse_lost
from generator.figures.pens import BENCH
from generator.figures.svg import Passport, write_svg

GAP = 5.0
"""Between two pieces on a page, mm."""
TAB = 10.0
"""Beyond a joining line, for glue, mm."""
PAD = 1.0
"""Between a piece and the frame of its page, mm."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a drawing, from ``left`` to ``right`` of it, and the letters of its joints."""

    drawing: Drawing
    left: float
    right: float
    joint_before: str = ""
    joint_after: str = ""

    @property
    def size(self) -> Point:
        """Width with its tab, and height."""
        _, bottom, _, top = self.drawing.box
        return self.right - self.left + (TAB if self.joint_after else 0.0), top - bottom


def pieces_of(drawing: Drawing, room: float, letters: Iterator[str]) -> Iterator[Piece]:
    """A drawing as it is, or in as few equal parts as fit into a width."""
    left, _, right, _ = drawing.box
    if right - left <= room:
        yield Piece(drawing, left, right)
        return
    # Equal parts, so that the last one has room for a scale and its words.
    count = math.ceil((right - left - TAB) / (room - TAB) - 1e-9)
    starts = [left + (right - left) * k / count for k in range(count)]
    joints = ["", *(next(letters) for _ in starts[1:]), ""]
    for index, start in enumerate(starts):
        stop = starts[index + 1] if index + 1 < len(starts) else right
        yield Piece(drawing, start, stop, joints[index], joints[index + 1])


def piece_figures(drawings: Sequence[Drawing], page: Page, say: Say, least: float = 0.0) -> Iterator[Figure]:
    """Pages of pieces, in shelves from above."""
    width, height = page.frame
    letters = iter(string.ascii_lowercase)
    pieces = [piece for d in drawings for piece in pieces_of(d, width - 2 * PAD, letters)]
    done: set[tuple[str, int]] = set()
    for number, placed in enumerate(_shelves(pieces, width - 2 * PAD, height - 2 * PAD)):
        yield _page(placed, page, say, number, done, least)
    for drawing in drawings:
        refuse_lost(drawing.spots, {k for name, k in done if name == drawing.name})


def _shelves(pieces: Iterable[Piece], width: float, height: float) -> Iterator[list[tuple[Piece, Point]]]:
    page: list[tuple[Piece, Point]] = []
    x = y = shelf = 0.0
    for piece in pieces:
        wide, high = piece.size
        if x and x + wide > width:
            x, y, shelf = 0.0, y + shelf + GAP, 0.0
        if page and y + high > height:
            yield page
            page, x, y, shelf = [], 0.0, 0.0, 0.0
        page.append((piece, (x + PAD, y + PAD)))
        x, shelf = x + wide + GAP, max(shelf, high)
    if page:
        yield page


def _page(
    placed: Sequence[tuple[Piece, Point]],
    page: Page,
    say: Say,
    number: int,
    done: set[tuple[str, int]],
    least: float,
) -> Figure:
    canvas = Canvas(*page.frame, view="pattern", scale=1.0)
    for piece, at in placed:
        _piece(canvas, piece, at, say, done, least)
    alt = say("alt.pattern-pieces")
    svg = write_svg(canvas, Passport(f"pattern-pieces-{number}", f"pieces-{number}", 0, alt))
    return Figure(f"pieces-{string.ascii_lowercase[number]}", 0, svg, canvas.width, canvas.height, alt)


def _piece(
    canvas: Canvas, piece: Piece, at: Point, say: Say, done: set[tuple[str, int]], least: float
) -> None:
    _, _, _, top = piece.drawing.box
    wide, high = piece.size

    def to_paper(p: Point) -> Point:
        return p[0] - piece.left + at[0], top - p[1] + at[1]

    x0, x1, y0, y1 = at[0], at[0] + wide, at[1], at[1] + high
    join = x1 - TAB if piece.joint_after else x1
    if piece.joint_after:
        with canvas.group("context", "strips"):
            canvas.area(box(join, y0, x1, y1), BENCH)
    lines, spots = on_paper(piece.drawing, to_paper)
    region = box(x0 - 1e-6, y0 - 1e-6, x1 + 1e-6, y1 + 1e-6)
    drawn = lines_on(canvas, piece.drawing.lines, to_paper, region)
    taken: list[BaseGeometry] = [shape.buffer(0.15) for shape in drawn]
    with canvas.group("context", "strips"):
        for x, joint in ((x0, piece.joint_before), (join, piece.joint_after)):
            if joint:
                canvas.line([(x, y0), (x, y1)], JOIN)
                taken.append(LineString([(x, y0), (x, y1)]).buffer(0.3))
        if piece.joint_after:
            canvas.line([(x1, y0), (x1, y1)], JOIN)
    for x, joint, side in ((x0, piece.joint_before, 1.0), (join, piece.joint_after, 1.0)):
        if joint:
            y = (y0 + y1) / 2
            with canvas.group("context", "cross"):
                canvas.line([(max(x - 2.5, x0), y), (x + 2.5, y)], CROSS)
                canvas.line([(x, y - 2.5), (x, y + 2.5)], CROSS)
            with canvas.group("label", "joint"):
                letter = canvas.letters((x + side * 3.6, y + 1.0), joint, size=max(3.6, least), weight=600)
            taken += [letter.box, box(x - 2.5, y - 2.5, x + 2.5, y + 2.5)]
    room = box(x0, y0, join, y1)
    names = Names(canvas, partial(name_of, say), room, taken, size=SMALL, least=least)
    mine = {k: spot for k, spot in enumerate(spots) if room.covers(Dot(spot.at))}
    missing = names.spots(mine.values())
    done |= {(piece.drawing.name, k) for k, spot in mine.items() if spot not in missing}
    names.lines(lines)
