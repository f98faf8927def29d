"""A length of cloth, print up, broken off at its sides, from above: where a piece is chosen and cut out."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.model import Job
from generator.figures.pens import CLOTH_FACE, THIN
from generator.figures.plan_board import Board, board
from generator.figures.plane import wave
from generator.figures.view import Box

SIDE, EDGE = 4.5, 3.8
"""Cloth that is drawn beside the piece and along its long edges, mm on paper."""
LOW = 13.0
"""A piece that would be lower than this on paper is broken in the middle, mm."""


@dataclass(frozen=True)
class Bolt:
    """The piece's view, and the paper that the cloth covers."""

    view: Board
    cloth: Polygon
    waves: tuple[list[Point], list[Point]]


def bolt(job: Job, place: Box, length: float, width: float, low: float = LOW, edge: float = EDGE) -> Bolt:
    """A piece of length × width with some cloth round it, in the middle of ``place``.

    It is broken where its height on paper would be much less than ``low``.
    """
    inner = Box(place.left + SIDE, place.top + edge, place.right - SIDE, place.bottom - edge)
    view = board(job.size.makers.hand == "left", inner, length, width, low, 0.4, edge)
    top, bottom = view.top - edge, view.bottom + edge
    low, high = sorted((view(0.0, 0.0)[0], view(length, 0.0)[0]))
    left = wave((low - SIDE + 0.8, top), (low - SIDE + 0.8, bottom), depth=0.7)
    right = wave((high + SIDE - 0.8, top), (high + SIDE - 0.8, bottom), depth=0.7)
    return Bolt(view, Polygon([*left, *reversed(right)]), (left, right))


def paint_bolt(canvas: Canvas, whole: Bolt) -> None:
    """The cloth's white right side, its cut edges and its broken-off sides."""
    for piece in whole.view.pieces:
        with canvas.group("context", "cloth"), canvas.clip(piece.region):
            canvas.area(whole.cloth, CLOTH_FACE)
            for edge in whole.waves:
                canvas.line(edge, THIN)
            for end in (0, -1):
                canvas.line([whole.waves[0][end], whole.waves[1][end]], THIN)


def shown_cloth(whole: Bolt) -> BaseGeometry:
    """The cloth's area without the gap of a break."""
    return unary_union([whole.cloth.intersection(piece.region) for piece in whole.view.pieces])


def turned(job: Job) -> bool:
    """Whether the piece must lie along the cloth because the cloth is too narrow for it."""
    m = job.measures
    return job.size.covering.direction == "any" and m.shown("cloth_length") > m.shown("cloth_stock")
