"""Hand tools, each with its tip at the point of work."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from shapely import LineString, Polygon, unary_union
from shapely import Point as Dot
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CUFF, LINER, TOOL, WHITE

Piece = tuple[BaseGeometry, str]


def _capsule(points: Sequence[Point], radius: float) -> BaseGeometry:
    return LineString(points).buffer(radius, quad_segs=8)


def _bow(x: float, y: float, size: float) -> BaseGeometry:
    return Dot(x, y).buffer(size).difference(Dot(x, y).buffer(size * 0.55))


# Local coordinates in mm: the tip at the origin, the tool's body along -x.
def _shears() -> list[Piece]:
    upper = unary_union(
        [
            Polygon([(0, 0), (-1.0, -1.5), (-9.0, -1.2), (-9.0, 0.4)]),
            _capsule([(-8.6, -0.4), (-12.4, 2.2)], 0.7),
        ]
    )
    lower = unary_union(
        [
            Polygon([(0, 0.2), (-1.0, 1.6), (-9.0, 1.2), (-9.0, -0.4)]),
            _capsule([(-8.6, 0.4), (-12.4, -2.2)], 0.7),
        ]
    )
    return [
        (unary_union([lower, _bow(-14.2, -3.0, 2.3)]), WHITE),
        (unary_union([upper, _bow(-14.2, 3.0, 2.3)]), WHITE),
        (Dot(-8.8, 0.0).buffer(0.5), CUFF),
    ]


def _scissors() -> list[Piece]:
    upper = unary_union(
        [
            Polygon([(0, 0), (-0.8, -0.9), (-5.6, -0.8), (-5.6, 0.3)]),
            _capsule([(-5.4, -0.2), (-9.4, 1.7)], 0.5),
        ]
    )
    lower = unary_union(
        [
            Polygon([(0, 0.1), (-0.8, 1.0), (-5.6, 0.8), (-5.6, -0.3)]),
            _capsule([(-5.4, 0.2), (-9.4, -1.7)], 0.5),
        ]
    )
    return [
        (unary_union([lower, _bow(-11.0, -2.3, 1.9)]), WHITE),
        (unary_union([upper, _bow(-11.0, 2.3, 1.9)]), WHITE),
        (Dot(-5.4, 0.0).buffer(0.4), CUFF),
    ]


def _rotary_cutter() -> list[Piece]:
    return [
        (_capsule([(-4.0, -3.4), (-13.0, -7.4)], 1.5), CUFF),
        (Polygon([(-2.6, -3.9), (-4.6, -1.7), (-7.6, -3.6), (-5.6, -5.8)]), WHITE),
        (Dot(-2.0, -2.3).buffer(2.3), WHITE),
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


def _pin() -> list[Piece]:
    return [(_capsule([(0.0, 0.0), (-4.2, 0.0)], 0.18), CUFF), (Dot(-4.6, 0.0).buffer(0.75), WHITE)]


_TOOLS: dict[str, Callable[[], list[Piece]]] = {
    "shears": _shears,
    "scissors": _scissors,
    "rotary-cutter": _rotary_cutter,
    "roller": _roller,
    "lint-roller": _lint_roller,
    "tucking-tool": _tucking_tool,
    "pencil": _pencil,
    "iron": _iron,
    "pin": _pin,
}


def tool(
    canvas: Canvas, name: str, tip: Point, angle: float, *, scale: float = 0.9, flip: bool = False
) -> None:
    """A tool with its tip at ``tip``, pointing along ``angle`` (degrees counter-clockwise on paper).

    Names: shears, scissors, rotary-cutter, roller, lint-roller, tucking-tool, pencil, iron, pin.
    """
    turn, sign = math.radians(angle), -1.0 if flip else 1.0
    c, s = math.cos(turn) * scale, math.sin(turn) * scale
    matrix = [c, s * sign, -s, c * sign, tip[0], tip[1]]
    with canvas.group("action", f"tool-{name}"):
        for shape, fill in _TOOLS[name]():
            canvas.area(affine_transform(shape, matrix), fill, TOOL)
