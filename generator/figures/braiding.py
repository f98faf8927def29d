"""Braid on the outside of a standing shade: how far it has been laid, and the free end that a hand holds."""

from __future__ import annotations

import math

from generator.figures.canvas import Point
from generator.figures.upright import Upright
from generator.figures.view import Point3

TAIL, CURL = 9.0, 0.35
"""Length of the free end on paper, mm, and how far it is held off the wall, as a share of its length."""


def reached(view: Upright, seam: float, end: float, share: float) -> float:
    """Panel coordinate at this share of the way on paper from the seam to the silhouette at ``end``."""
    xs = [seam + (end - seam) * k / 60 for k in range(61)]
    paper = [view.frame(view.wall.point(x, 0.0))[0] for x in xs]
    goal = abs(paper[-1] - paper[0]) * share
    return next(x for x, p in zip(xs, paper, strict=True) if abs(p - paper[0]) >= goal)


def free_end(view: Upright, at: float, ahead: float, h: float) -> list[Point]:
    """An edge of the free end, on from ``at`` in the direction ``ahead`` (±1), more and more off the wall."""
    wall, frame = view.wall, view.frame
    (x0, y0, z), (x1, y1, _) = wall.point(at - ahead, h), wall.point(at, h)
    nx, ny, _ = wall.outward(at, at + 1.0)
    size = math.hypot(nx, ny)
    length = TAIL / frame.scale

    def spot(t: float) -> Point3:
        along, off = t * length, CURL * t * t * length
        return x1 + along * (x1 - x0) + off * nx / size, y1 + along * (y1 - y0) + off * ny / size, z

    return [frame(spot(k / 12)) for k in range(13)]


def middle(a: list[Point], b: list[Point]) -> list[Point]:
    """The line half way between two lines of equally many points."""
    return [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in zip(a, b, strict=True)]
