"""Braid as it is drawn everywhere: a light band of crossing threads."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Role
from generator.figures.hatch import braid
from generator.figures.pens import LINER, NEW, THIN

LEAST_BAND = 1.4
"""A band is drawn at least this wide on paper, mm."""


def plaited(canvas: Canvas, shape: BaseGeometry, role: Role, part: str) -> None:
    """One piece of braid."""
    with canvas.group(role, part):
        canvas.area(shape, LINER)
        braid(canvas, shape)
        canvas.area(shape, None, NEW if role == "new" else THIN)
