"""Hand tools, each with its tip at the point of work."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from shapely import LineString, Polygon, affinity, unary_union
from shapely import Point as Dot
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CUFF, LINER, TOOL, WHITE
from generator.figures.stamps import stamped

Piece = tuple[BaseGeometry, str]


def _capsule(points: Sequence[Point], radius: float) -> BaseGeometry:
    return LineString(points).buffer(radius, quad_segs=8)


def _bow(x: float, y: float, long: float, wide: float, turn: float) -> BaseGeometry:
    """A finger hole: an oval ring, its longer axis turned by degrees."""
    oval = affinity.scale(Dot(0.0, 0.0).buffer(1.0, quad_segs=12), long, wide)
    hole = affinity.scale(Dot(0.0, 0.0).buffer(1.0, quad_segs=12), long - 0.95, wide - 0.95)
    return affinity.translate(affinity.rotate(oval.difference(hole), turn, origin=(0, 0)), x, y)


def _half(
    blade: float, bow: tuple[float, float, float, float, float], sign: float, open_by: float
) -> list[Piece]:
    """Half a pair of scissors about its pivot: the cutting edge along +x, the bow on the other side."""
    edge = [(blade, 0.0), (blade * 0.72, -0.95), (0.2, -1.15), (-0.9, -0.5), (-0.9, 0.55), (0.2, 0.4)]
    shank = _capsule([(-0.3, 0.0), (-2.2, 0.75), (bow[0] + bow[2] * 0.75, bow[1] - bow[3] * 0.35)], 0.62)
    pieces: list[Piece] = [
        (unary_union([shank, _bow(*bow)]), CUFF),
        (Polygon(edge).buffer(0.12, quad_segs=4), WHITE),
    ]
    return [
        (
            affinity.translate(
                affinity.rotate(
                    affinity.scale(shape, 1.0, sign, origin=(0, 0)), sign * open_by, origin=(0, 0)
                ),
                -blade * math.cos(math.radians(open_by)),
                0.0,
            ),
            fill,
        )
        for shape, fill in pieces
    ]


def _pair(
    blade: float, bows: tuple[tuple[float, float, float, float, float], ...], open_by: float
) -> list[Piece]:
    lower, upper = _half(blade, bows[0], -1.0, -open_by), _half(blade, bows[1], 1.0, -open_by)
    pivot = Dot(-blade * math.cos(math.radians(open_by)), 0.0).buffer(0.5)
    return [lower[0], upper[0], lower[1], upper[1], (pivot, CUFF)]


# Local coordinates in mm: the tip at the origin, the tool's body along -x. The tips of an open pair stand on
# either side of the origin, so that the line to be cut runs between the blades.
def _shears() -> list[Piece]:
    return _pair(8.6, ((-5.6, 2.7, 2.6, 1.75, -24.0), (-5.2, 2.5, 2.1, 1.75, -24.0)), 9.0)


def _scissors() -> list[Piece]:
    return _pair(6.0, ((-4.7, 2.1, 1.85, 1.6, -20.0), (-4.7, 2.1, 1.85, 1.6, -20.0)), 12.0)


def _open_scissors() -> list[Piece]:
    return _pair(6.6, ((-4.7, 2.1, 1.85, 1.6, -20.0), (-4.7, 2.1, 1.85, 1.6, -20.0)), 21.0)


def _rotary_cutter() -> list[Piece]:
    return [
        (_capsule([(-4.0, -3.4), (-13.0, -7.4)], 1.5), CUFF),
        (Polygon([(-2.6, -3.9), (-4.6, -1.7), (-7.6, -3.6), (-5.6, -5.8)]), WHITE),
        (Dot(-2.0, -2.3).buffer(2.3), WHITE),
        (Dot(-2.0, -2.3).buffer(2.3).intersection(_capsule([(-1.2, -3.8), (-3.6, -4.2)], 1.9)), LINER),
        (Dot(-2.0, -2.3).buffer(0.55), CUFF),
    ]


def _roller() -> list[Piece]:
    return [
        (_capsule([(-6.5, 0.0), (-14.0, 0.0)], 1.3), CUFF),
        (
            unary_union(
                [
                    _capsule([(-6.5, 0.0), (-4.6, 0.0)], 0.4),
                    _capsule([(-4.6, 0.0), (-4.6, 3.2), (-1.4, 3.2)], 0.35),
                ]
            ),
            WHITE,
        ),
        (Polygon([(-2.6, -3.4), (0.0, -3.4), (0.0, 3.4), (-2.6, 3.4)]).buffer(0.3), WHITE),
    ]


def _lint_roller() -> list[Piece]:
    return [
        (_capsule([(-7.5, 0.0), (-14.5, 0.0)], 1.2), CUFF),
        (unary_union([_capsule([(-7.5, 0.0), (-5.4, 0.0), (-5.4, 5.2), (-2.0, 5.2)], 0.35)]), WHITE),
        (Polygon([(-4.0, -5.6), (0.0, -5.6), (0.0, 4.6), (-4.0, 4.6)]).buffer(0.4), LINER),
    ]


def _tucking_tool() -> list[Piece]:
    return [
        (Polygon([(0.0, -0.7), (0.0, 0.7), (-6.5, 1.0), (-6.5, -1.0)]).buffer(0.15), WHITE),
        (_capsule([(-7.4, 0.0), (-14.0, 0.0)], 1.35), CUFF),
    ]


def _pencil() -> list[Piece]:
    return [
        (Polygon([(-3.0, -1.0), (-14.0, -1.0), (-14.0, 1.0), (-3.0, 1.0)]), LINER),
        (Polygon([(0.0, 0.0), (-3.0, -1.0), (-3.0, 1.0)]), WHITE),
        (Polygon([(0.0, 0.0), (-1.1, -0.37), (-1.1, 0.37)]), CUFF),
    ]


def _iron() -> list[Piece]:
    return [
        (
            unary_union([_capsule([(-4.6, -4.6), (-6.2, -7.2), (-12.0, -7.2), (-12.6, -4.0)], 0.85)]),
            CUFF,
        ),
        (Polygon([(0.0, -0.9), (-3.6, -3.4), (-7.0, -4.6), (-13.6, -4.6), (-13.9, -0.9)]).buffer(0.2), WHITE),
        (Polygon([(0.6, 0.0), (-0.2, -0.9), (-14.2, -0.9), (-14.4, 0.0)]), CUFF),
    ]


def _rule() -> list[Piece]:
    ticks = [LineString([(-x, -1.5), (-x, -0.4 if x % 5 else 0.3)]) for x in range(1, 24)]
    blade = Polygon([(0.0, -1.5), (0.0, 1.5), (-24.0, 1.5), (-24.0, -1.5)])
    return [(blade, LINER), (unary_union([tick.buffer(0.06) for tick in ticks]), CUFF)]


def _pin() -> list[Piece]:
    return [(_capsule([(0.0, 0.0), (-4.2, 0.0)], 0.18), CUFF), (Dot(-4.6, 0.0).buffer(0.75), WHITE)]


_TOOLS: dict[str, Callable[[], list[Piece]]] = {
    "shears": _shears,
    "scissors": _scissors,
    "open-scissors": _open_scissors,
    "rotary-cutter": _rotary_cutter,
    "roller": _roller,
    "lint-roller": _lint_roller,
    "tucking-tool": _tucking_tool,
    "pencil": _pencil,
    "iron": _iron,
    "pin": _pin,
    "rule": _rule,
}


@stamped
def tool(
    canvas: Canvas, name: str, tip: Point, angle: float, *, scale: float = 0.9, flip: bool = False
) -> None:
    """A tool with its tip at ``tip``, pointing along ``angle`` (degrees counter-clockwise on paper).

    Names: shears, scissors, open-scissors, rotary-cutter, roller, lint-roller, tucking-tool, pencil, iron,
    pin, rule (its zero end at the tip).
    """
    turn, sign = math.radians(angle), -1.0 if flip else 1.0
    c, s = math.cos(turn) * scale, math.sin(turn) * scale
    matrix = [c, s * sign, -s, c * sign, tip[0], tip[1]]
    with canvas.group("action", f"tool-{name}"):
        for shape, fill in _TOOLS[name]():
            canvas.area(affine_transform(shape, matrix), fill, TOOL)
