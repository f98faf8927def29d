"""Three hands, as unions of capsules with a dark cuff: pinch, flat, fist. The fingertip is the point of contact."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from shapely import LineString, unary_union
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CUFF, INK, THIN, TOOL, WHITE, Pen

Pose = Literal["pinch", "flat", "fist"]


def _capsule(points: Sequence[Point], radius: float) -> BaseGeometry:
    return LineString(points).buffer(radius, quad_segs=6)


# Local coordinates in mm: fingertip at the origin, pointing along +x, cuff at the left, thumb at -y.
_FLAT_FINGERS = (
    ((-9.0, -2.7), (-1.6, -3.3)),
    ((-9.0, -0.9), (0.0, -1.05)),
    ((-9.0, 0.9), (-0.5, 1.2)),
    ((-9.0, 2.6), (-2.4, 3.4)),
)


def _flat() -> tuple[BaseGeometry, list[Sequence[Point]]]:
    fingers = [_capsule(f, 1.12) for f in _FLAT_FINGERS]
    palm = _capsule([(-10.6, -1.3), (-10.6, 1.3)], 2.9)
    wrist = _capsule([(-11.0, 0.0), (-14.6, 0.0)], 2.3)
    thumb = _capsule([(-11.4, -2.6), (-8.4, -5.2), (-5.6, -6.2)], 1.2)
    lines: list[Sequence[Point]] = [[(-8.6, y), (-3.0, y * 1.12)] for y in (-1.9, 0.05, 1.95)]
    return unary_union([*fingers, palm, wrist, thumb]), lines


def _pinch() -> tuple[BaseGeometry, list[Sequence[Point]]]:
    index = _capsule([(-9.0, -1.6), (-4.6, -3.2), (-0.4, -0.9)], 1.15)
    thumb = _capsule([(-9.5, 2.2), (-4.2, 2.5), (-0.4, 0.9)], 1.15)
    curled = _capsule([(-8.0, -3.0), (-5.0, -5.0), (-3.6, -3.6)], 1.15)
    palm = _capsule([(-10.8, -1.2), (-10.8, 1.2)], 2.7)
    wrist = _capsule([(-11.0, 0.0), (-14.6, 0.4)], 2.2)
    lines: list[Sequence[Point]] = [[(-8.6, -2.4), (-5.2, -3.9)], [(-8.2, 0.6), (-5.0, 1.2), (-3.0, 0.9)]]
    return unary_union([index, thumb, curled, palm, wrist]), lines


def _fist() -> tuple[BaseGeometry, list[Sequence[Point]]]:
    knuckles = [_capsule([(-5.4, y), (-1.35, y)], 1.35) for y in (-3.3, -1.1, 1.1, 3.3)]
    palm = _capsule([(-7.6, -2.2), (-7.6, 2.2)], 2.7)
    thumb = _capsule([(-8.6, -4.2), (-4.6, -5.3), (-3.0, -4.6)], 1.2)
    wrist = _capsule([(-8.0, 0.0), (-13.6, 0.0)], 2.4)
    lines: list[Sequence[Point]] = [[(-5.6, y), (-1.4, y)] for y in (-2.2, 0.0, 2.2)]
    return unary_union([*knuckles, palm, thumb, wrist]), lines


_POSES = {"flat": _flat, "pinch": _pinch, "fist": _fist}


def hand(
    canvas: Canvas,
    pose: Pose,
    tip: Point,
    angle: float,
    *,
    scale: float = 0.8,
    flip: bool = False,
    helper: bool = False,
    part: str = "hand",
) -> None:
    """A hand whose fingertip stands at ``tip`` and points along ``angle`` (degrees counter-clockwise on paper).

    ``flip`` puts the thumb on the other side. ``helper`` hatches the cuff: a second person's, or the adult's.
    """
    import math

    shape, lines = _POSES[pose]()
    wrist_end = -13.4 if pose == "fist" else -14.4
    cuff = LineString([(wrist_end, 0.2), (wrist_end - 3.6, 0.2)]).buffer(3.0, cap_style="flat")
    turn, sign = math.radians(angle), -1.0 if flip else 1.0
    c, s = math.cos(turn) * scale, math.sin(turn) * scale
    matrix = [c, s * sign, -s, c * sign, tip[0], tip[1]]

    def put(thing: BaseGeometry) -> BaseGeometry:
        return affine_transform(thing, matrix)

    with canvas.group("action", part):
        canvas.area(put(shape), WHITE, TOOL)
        for line in lines:
            canvas.line(put(LineString(line)), THIN)
        if helper:
            canvas.area(put(cuff), WHITE, TOOL)
            for k in range(1, 5):
                x = wrist_end - 3.6 * k / 5
                canvas.line(put(LineString([(x - 0.6, -2.7), (x + 0.6, 3.1)])), THIN)
        else:
            canvas.area(put(cuff), CUFF, Pen(0.35, INK))
