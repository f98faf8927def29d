"""Boxes of a page in PDF points, y upwards, and whether two turned ones lie over each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

Point = tuple[float, float]
MM_PER_POINT = 25.4 / 72


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in points."""

    left: float
    bottom: float
    right: float
    top: float

    @staticmethod
    def around(points: list[Point]) -> Box:
        """The least box that holds all points."""
        xs = [x for x, _ in points]
        ys = [y for _, y in points]
        return Box(min(xs), min(ys), max(xs), max(ys))

    @property
    def corners(self) -> list[Point]:
        """The four corners, counter-clockwise."""
        return [
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        ]

    @property
    def empty(self) -> bool:
        """Whether it has no area."""
        return self.right <= self.left or self.top <= self.bottom

    def common(self, other: Box) -> Box:
        """What both cover; empty if they do not meet."""
        return Box(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def meets(self, other: Box) -> bool:
        """Whether both share an area."""
        return not self.common(other).empty

    def holds(self, other: Box, slack: float) -> bool:
        """Whether ``other`` lies inside, or at most ``slack`` outside."""
        return (
            other.left >= self.left - slack
            and other.bottom >= self.bottom - slack
            and other.right <= self.right + slack
            and other.top <= self.top + slack
        )

    def shrunk(self, margin: float) -> Box:
        """The box without ``margin`` on each side."""
        return Box(self.left + margin, self.bottom + margin, self.right - margin, self.top - margin)


@dataclass(frozen=True, slots=True)
class Matrix:
    """A PDF transformation: x' = a x + c y + e, y' = b x + d y + f (ISO 32000-1, 8.3.3, from memory)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @property
    def scale(self) -> float:
        """How much longer lengths become, on the whole."""
        return math.sqrt(abs(self.a * self.d - self.b * self.c))

    def point(self, at: Point) -> Point:
        """Where a point goes."""
        x, y = at
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def box(self, box: Box) -> Box:
        """The upright box around a transformed box."""
        return Box.around([self.point(corner) for corner in box.corners])

    def then(self, outer: Matrix) -> Matrix:
        """This transformation followed by ``outer``."""
        e, f = outer.point((self.e, self.f))
        return Matrix(
            outer.a * self.a + outer.c * self.b,
            outer.b * self.a + outer.d * self.b,
            outer.a * self.c + outer.c * self.d,
            outer.b * self.c + outer.d * self.d,
            e,
            f,
        )


AS_IT_IS = Matrix()
"""No transformation."""


def meeting(first: Sequence[Box], second: Sequence[Box]) -> list[tuple[int, int]]:
    """Index pairs of boxes of two lists that share an area or a border, in order."""
    # Imported here: a command that prints nothing need not wait for it.
    import shapely

    def polygons(boxes: Sequence[Box]) -> Any:
        columns: Any = [[getattr(box, side) for box in boxes] for side in ("left", "bottom", "right", "top")]
        return shapely.box(*columns)

    if not first or not second:
        return []
    pairs = shapely.STRtree(polygons(second)).query(polygons(first), predicate="intersects")
    return sorted(zip(*pairs.tolist(), strict=True))


def overlap_depth(first: list[Point], second: list[Point]) -> float:
    """How deep two convex polygons lie in each other, in points; 0 if a line parts them.

    The separating axis theorem (Gottschalk, Lin and Manocha 1996, OBBTree, section 5, from memory): two
    convex bodies are apart if their shadows on the normal of one of their sides are.
    """
    depth = math.inf
    for polygon in (first, second):
        for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
            length = math.hypot(x1 - x0, y1 - y0)
            if length == 0.0:
                continue
            nx, ny = (y1 - y0) / length, (x0 - x1) / length
            one = [x * nx + y * ny for x, y in first]
            two = [x * nx + y * ny for x, y in second]
            depth = min(depth, max(one) - min(two), max(two) - min(one))
            if depth <= 0.0:
                return 0.0
    return 0.0 if depth is math.inf else depth
