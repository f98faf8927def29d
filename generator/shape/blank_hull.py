"""The hull of a tapered shade's blank, and the smallest rectangle that the blank can be cut from."""

from __future__ import annotations

from functools import lru_cache
from itertools import chain

from generator.shape.blank import blank_loop, end_corners
from generator.shape.development import ENDS, Development, End
from generator.shape.enclosing import Rectangle, convex_hull, rectangle_round
from generator.shape.outline import Point

_NEAR = 1e-6
"""Millimetres under which a stretch of a rim has no length."""


@lru_cache(maxsize=64)
def blank_hull(development: Development, margin: float, overlap: float) -> tuple[Point, ...]:
    """Corners of the blank's convex hull, counter-clockwise; an extent of it is short by 0.001 mm at most.

    The rims are drawn with as few points as that takes (``Rims.few_points``). Where a margin's edge runs back
    it makes a loop that the blank has not: that lies within the margin of the stretches before and after it,
    if they are longer than the margin is wide. Where they are not, the blank's own outline is taken, which
    is a polygon too.
    """
    if margin and any(_short(development, end, margin) for end in ENDS):
        return tuple(convex_hull(blank_loop(development, margin, overlap)))
    edges = {end: tuple(development.few_points(end, margin)) for end in ENDS}
    last = end_corners(development, overlap, edges["bottom"][-1], edges["top"][-1])
    return tuple(convex_hull(chain(edges["bottom"], last, edges["top"], development.nodes[0].flat)))


def _short(development: Development, end: End, margin: float) -> bool:
    """Whether a stretch beside a place where the margin's edge runs back is shorter than the margin is wide.

    Where the edge runs back from the very end of the sheet, it makes no loop.
    """
    return any(_NEAR < hollow.before < margin for hollow in development.hollows(end, margin))


@lru_cache(maxsize=64)
def blank_box(development: Development, margin: float, overlap: float) -> Rectangle:
    """The smallest rectangle that the blank can be cut from; as exact as the hull."""
    return rectangle_round(blank_hull(development, margin, overlap))
