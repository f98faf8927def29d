"""A long edge of the panel in front of the maker, in its own coordinates: along it, and inwards from it.

On a straight panel these are the bench's x and y. On a tapered one the edge bends, and with it all that is
parallel to it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.figures.canvas import Point
from generator.figures.flat_sheet import FlatSheet
from generator.shape.development import End
from generator.shape.shade import Shade

PIECE = 1.0
"""The edge is measured in pieces of this panel coordinate, real mm."""


@dataclass(frozen=True)
class NearEdge:
    """``edge(s, v)`` is the place s mm along the edge from its corner, v mm inwards, on the bench.

    The corner is the left one (``ahead`` 1: s grows to the right) or, for the outside end, the right one
    (``ahead`` -1: the panel lies at negative s). Beyond the corner the edge goes on straight.
    """

    sheet: FlatSheet | None = None
    end: End = "bottom"
    out: float = 0.0
    """The edge runs this far outside the rim, mm."""
    corner: float = 0.0
    """Panel coordinate of the corner."""
    ahead: int = 1
    """Whether panel coordinates grow (1) or shrink (-1) with s from the corner into the panel."""
    inside: int = 1
    """Sign of s on the panel."""

    @cached_property
    def _measured(self) -> tuple[list[float], list[float]]:
        """Distances along the edge from the corner, and the panel coordinates there."""
        assert self.sheet is not None
        gone, xs = [0.0], [self.corner]
        before = self.sheet.at_rim(self.end, self.corner, self.out)
        while gone[-1] < 400.0 and 0.0 <= xs[-1] + self.ahead * PIECE <= self.sheet.shade.panel_length:
            xs.append(xs[-1] + self.ahead * PIECE)
            spot = self.sheet.at_rim(self.end, xs[-1], self.out)
            gone.append(gone[-1] + math.dist(before, spot))
            before = spot
        return gone, xs

    def __call__(self, s: float, v: float) -> Point:
        """A place on the bench."""
        if self.sheet is None:
            return s, v
        gone, xs = self._measured
        inward = s * self.inside
        if inward <= 0:
            x, y = self.sheet.at_rim(self.end, self.corner, self.out - v)
            ahead = self.sheet.at_rim(self.end, xs[1], self.out)
            here = self.sheet.at_rim(self.end, self.corner, self.out)
            run = math.dist(here, ahead)
            return x + (ahead[0] - here[0]) / run * inward, y + (ahead[1] - here[1]) / run * inward
        k = min(bisect_right(gone, inward), len(gone) - 1)
        share = (inward - gone[k - 1]) / (gone[k] - gone[k - 1]) if gone[k] > gone[k - 1] else 0.0
        return self.sheet.at_rim(self.end, xs[k - 1] + (xs[k] - xs[k - 1]) * share, self.out - v)

    def line(self, s0: float, s1: float, v: float, step: float = 3.0) -> list[Point]:
        """The line parallel to the edge between two places; on a straight panel its two ends."""
        if self.sheet is None:
            return [(s0, v), (s1, v)]
        n = max(1, math.ceil(abs(s1 - s0) / step))
        return [self(s0 + (s1 - s0) * k / n, v) for k in range(n + 1)]

    def strip(self, s0: float, s1: float, v0: float, v1: float) -> list[Point]:
        """Corners of the part between two places along the edge and two distances from it."""
        return [*self.line(s0, s1, v0), *reversed(self.line(s0, s1, v1))]

    def all(self, places: Sequence[Point]) -> list[Point]:
        """Several places."""
        return [self(s, v) for s, v in places]


def outside_corner(shade: Shade, out: float) -> NearEdge:
    """The near edge from the outside end inwards: that corner is in (0, 0), its end runs straight away."""
    if not shade.tapered:
        return NearEdge()
    sheet = FlatSheet(shade).turned_so(shade.panel_length, (0.0, out))
    return NearEdge(sheet, "bottom", out, shade.panel_length, -1, -1)


def long_edge(shade: Shade, out: float, level: float) -> NearEdge:
    """The longer edge from its left corner on, turned so that it runs straight to the right at s = ``level``.

    That place is in (``level``, 0). Of a taper whose upper rim is the wide one, the panel lies the other way
    round, so that this edge is in front.
    """
    if not shade.tapered:
        return NearEdge()
    end, upper = shade.wide_end, shade.wide_end == "top"
    corner, ahead = (shade.panel_length, -1) if upper else (0.0, 1)
    sheet = FlatSheet(shade, math.pi if upper else 0.0)
    edge = NearEdge(sheet, end, out, corner, ahead)
    for _ in range(2):
        (ax, ay), (bx, by) = edge(level - 0.5, 0.0), edge(level + 0.5, 0.0)
        sheet = FlatSheet(shade, sheet.turn - math.atan2(by - ay, bx - ax))
        edge = NearEdge(sheet, end, out, corner, ahead)
    x, y = edge(level, 0.0)
    return NearEdge(sheet.moved(level - x, -y), end, out, corner, ahead)
