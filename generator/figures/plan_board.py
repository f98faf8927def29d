"""A view from above, true to scale, broken in the middle where the paper is too short for the whole work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import THIN, Pen
from generator.figures.plane import wave
from generator.figures.view import Box, Frame, plan

GAP = 1.8
"""White gap between the two waves of a break, mm."""
FAR = 500.0
"""Further away than any paper, mm."""
LOOSE = 0.85
"""The whole is drawn unbroken where that costs no more than this share of the wished scale."""


@dataclass(frozen=True)
class Piece:
    """A part of the view that is true in itself: what it shows of x, and the paper that it may cover."""

    frame: Frame
    start: float
    stop: float
    region: Polygon


@dataclass(frozen=True)
class Board:
    """The view from above on paper: one piece, or two with a break between them."""

    pieces: tuple[Piece, ...]
    waves: tuple[tuple[Point, ...], ...]
    """The broken-off edges, on paper."""
    top: float
    bottom: float

    @property
    def scale(self) -> float:
        """Paper mm per real mm, the same in both pieces."""
        return self.pieces[0].frame.scale

    @property
    def broken(self) -> bool:
        """Whether a stretch of the middle is left out."""
        return len(self.pieces) > 1

    def __call__(self, x: float, y: float) -> Point:
        """A place of the work on paper, in the piece that shows it (the nearest one for a place left out)."""
        first, last = self.pieces[0], self.pieces[-1]
        piece = first if x - first.stop <= last.start - x else last
        return piece.frame((x, y, 0.0))

    def rectangle(self, x0: float, y0: float, x1: float, y1: float) -> BaseGeometry:
        """The paper area of a rectangle of the work, without what the break leaves out."""
        whole: BaseGeometry = Polygon()
        for piece in self.pieces:
            a, b = piece.frame((x0, y0, 0.0)), piece.frame((x1, y1, 0.0))
            part = box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
            whole = whole.union(part.intersection(piece.region))
        return whole

    def area(
        self, canvas: Canvas, corners: Sequence[Point], fill: str | None, pen: Pen | None = None
    ) -> None:
        """An area given by its corners in work coordinates; broken edges stay open."""
        for piece in self.pieces:
            outline = [piece.frame((x, y, 0.0)) for x, y in corners]
            if self.broken:
                with canvas.clip(piece.region):
                    canvas.area(outline, fill, pen)
            else:
                canvas.area(outline, fill, pen)

    def line(self, canvas: Canvas, points: Sequence[Point], pen: Pen) -> None:
        """A line in work coordinates."""
        for piece in self.pieces:
            with canvas.clip(piece.region):
                canvas.line([piece.frame((x, y, 0.0)) for x, y in points], pen)

    def each(self, canvas: Canvas) -> Iterator[Frame]:
        """Draw the same thing in every piece, clipped to its paper."""
        for piece in self.pieces:
            with canvas.clip(piece.region):
                yield piece.frame


def board(
    left: bool, place: Box, length: float, width: float, low: float, share: float = 0.5, beyond: float = 0.0
) -> Board:
    """A work of length × width at the top of ``place``: whole, if it then is about ``low`` mm high or higher.

    Otherwise it is ``low`` high and its middle is left out; ``share`` is the start piece's share of it.
    ``left`` mirrors the ends. A break runs ``beyond`` mm of paper past the work on either side.
    """
    view = plan(left)
    whole, wish = min(place.width / length, place.height / width), low / width
    unbroken = whole >= LOOSE * wish
    scale = whole if unbroken else min(wish, place.height / width)
    spare = (place.width - length * scale) / 2 if unbroken else 0.0
    base = place.top + width * scale
    at_left = Frame(view, scale, place.left + spare + (length * scale if left else 0.0), base)
    at_right = Frame(view, scale, place.right - spare - (0.0 if left else length * scale), base)
    first, last = (at_right, at_left) if left else (at_left, at_right)
    if unbroken:
        return Board((Piece(first, 0.0, length, box(-FAR, -FAR, FAR, FAR)),), (), place.top, base)
    room = place.width - GAP
    stop, restart = room * share / scale, length - room * (1 - share) / scale
    edges: list[tuple[Point, ...]] = []
    regions: list[Polygon] = []
    for frame, x, side in ((first, stop, -1), (last, restart, 1)):
        cut = frame((x, 0.0, 0.0))[0]
        edge = wave((cut, place.top - beyond), (cut, base + beyond), depth=1.0)
        out = cut + FAR * side * (-1 if left else 1)
        regions.append(Polygon([(cut, -FAR), *edge, (cut, FAR), (out, FAR), (out, -FAR)]))
        edges.append(tuple(edge))
    pieces = Piece(first, 0.0, stop, regions[0]), Piece(last, restart, length, regions[1])
    return Board(pieces, tuple(edges), place.top, base)


def breaks(canvas: Canvas, view: Board) -> None:
    """The waves of the broken-off edges, above everything that they cut."""
    with canvas.group("context", "break"):
        for edge in view.waves:
            canvas.line(edge, THIN)
