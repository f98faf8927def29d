"""Hands in four poses, each with a dark cuff; contact is the fingertip, or the middle of the grip."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Literal

from shapely import LineString, Polygon, unary_union
from shapely import Point as Dot
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CUFF, INK, THIN, TOOL, WHITE, Pen
from generator.figures.stamps import stamped

Pose = Literal["pinch", "flat", "fist", "hold"]
Lines = tuple[tuple[Point, ...], ...]

# Local coordinates in mm: contact at the origin, fingers pointing along +x, cuff at the left, thumb at -y.
# A hand is drawn some 17 mm long with its cuff: a tenth of a real one, fingers plump so that they read.


def _limb(*joints: tuple[float, float, float]) -> BaseGeometry:
    """A finger or an arm: circles (x, y, radius) joined one to the next."""
    discs = [Dot(x, y).buffer(r, quad_segs=8) for x, y, r in joints]
    if len(discs) == 1:
        return discs[0]
    return unary_union([unary_union([a, b]).convex_hull for a, b in pairwise(discs)])


def _smooth(*parts: BaseGeometry, web: float = 0.35) -> BaseGeometry:
    """One outline, with skin between neighbouring fingers instead of sharp notches."""
    return unary_union(parts).buffer(web, quad_segs=6).buffer(-web, quad_segs=6)


def _arc(cx: float, cy: float, r: float, start: float, stop: float) -> tuple[Point, ...]:
    """Points on an arc, degrees from +x towards +y."""
    return tuple(
        (cx + r * math.cos(math.radians(a)), cy + r * math.sin(math.radians(a)))
        for a in (start + (stop - start) * k / 8 for k in range(9))
    )


def _flat() -> tuple[list[BaseGeometry], Lines]:
    """Seen from the back: four fingers side by side, the thumb spread."""
    palm = Polygon([(-6.6, -3.2), (-6.3, 3.0), (-11.4, 2.5), (-12.4, 0.0), (-11.6, -2.4)]).buffer(0.6)
    hand = _smooth(
        _limb((-6.6, -2.75, 1.05), (-3.6, -3.35, 0.98), (-0.95, -3.75, 0.85)),
        _limb((-6.3, -0.95, 1.05), (-3.2, -1.2, 1.0), (0.0, -1.4, 0.9)),
        _limb((-6.3, 0.85, 1.05), (-3.4, 1.0, 1.0), (-0.5, 1.2, 0.88)),
        _limb((-6.8, 2.5, 1.0), (-4.4, 3.1, 0.92), (-2.2, 3.65, 0.8)),
        _limb((-11.0, -1.6, 1.9), (-8.6, -4.6, 1.25), (-5.9, -6.3, 0.9)),
        _limb((-11.4, 0.0, 2.6), (-14.4, 0.2, 2.2)),
        palm,
        web=0.12,
    )
    lines: Lines = (
        ((-6.9, -1.85), (-3.9, -2.2)),
        ((-6.7, -0.05), (-3.6, -0.1)),
        ((-6.9, 1.7), (-4.6, 2.05)),
    )
    return [hand], lines


def _pinch() -> tuple[list[BaseGeometry], Lines]:
    """Seen from the side: forefinger and thumb meet at the tip, the other fingers are curled behind."""
    back = _smooth(
        _limb((-10.4, -0.9, 2.7), (-8.2, -1.6, 2.3)),
        _limb((-10.8, 0.2, 2.5), (-14.4, 0.6, 2.2)),
        _limb((-8.0, 0.7, 1.5), (-5.4, 0.6, 1.35)),
        _limb((-8.4, 1.9, 1.4), (-6.2, 2.5, 1.2)),
        web=0.5,
    )
    thumb = _smooth(
        _limb(
            (-10.2, 1.6, 1.6), (-7.4, 2.75, 1.25), (-4.2, 2.6, 1.05), (-2.2, 1.7, 0.98), (-0.55, 0.72, 0.72)
        )
    )
    finger = _smooth(
        _limb(
            (-8.6, -2.5, 1.45),
            (-5.7, -3.65, 1.2),
            (-4.0, -3.5, 1.1),
            (-1.9, -1.95, 0.98),
            (-0.5, -0.75, 0.72),
        )
    )
    lines: Lines = (_arc(-5.4, 0.6, 1.35, -75, 75), _arc(-4.2, 2.6, 1.0, 200, 265))
    return [back, thumb, finger], lines[:1]


def _fist() -> tuple[list[BaseGeometry], Lines]:
    """Seen from the back: four knuckles in front, the thumb folded across."""
    hand = _smooth(
        *(_limb((-6.4, y, 1.25), (-1.3 - abs(y - 0.4) * 0.16, y, 1.22)) for y in (-3.2, -1.05, 1.05, 3.05)),
        _limb((-7.4, -1.7, 2.6), (-7.4, 1.6, 2.6)),
        _limb((-8.6, 0.0, 2.9), (-13.6, 0.2, 2.3)),
        web=0.3,
    )
    thumb = _limb((-8.8, -3.4, 1.3), (-6.2, -5.0, 1.2), (-3.4, -4.9, 1.0))
    lines: Lines = (
        ((-5.6, -2.15), (-1.0, -2.15)),
        ((-5.6, 0.0), (-0.7, 0.0)),
        ((-5.6, 2.05), (-1.0, 2.05)),
        *(_arc(-3.5, y, 0.95, 130, 230) for y in (-3.15, -1.05, 1.05, 3.05)),
    )
    return [thumb, hand], lines


def _hold() -> tuple[list[BaseGeometry], Lines]:
    """Seen from the side: four fingers closed over a handle that runs along x through the origin."""
    back = _smooth(
        _limb((-0.6, 3.4, 2.9), (-4.2, 4.6, 2.6)),
        _limb((-3.4, 4.4, 2.5), (-8.0, 6.6, 2.2)),
        web=0.6,
    )
    thumb = _limb((-0.6, 1.6, 1.4), (2.6, 0.6, 1.15), (5.0, -0.1, 0.95))
    fingers = [
        _limb((x + 0.35, 2.4, 1.1), (x, -0.4, 1.08), (x - 0.3, -1.3, 0.95)) for x in (-3.6, -1.6, 0.5, 2.6)
    ]
    return [back, thumb, *fingers], ()


_POSES = {"flat": _flat, "pinch": _pinch, "fist": _fist, "hold": _hold}
_WRIST: dict[str, tuple[Point, float]] = {
    "flat": ((-14.2, 0.2), 180.0),
    "pinch": ((-14.2, 0.6), 175.0),
    "fist": ((-13.4, 0.2), 180.0),
    "hold": ((-7.6, 6.4), 154.0),
}
"""Where the cuff begins, and the direction in which the arm goes on, degrees from +x, y up."""
CUFF_LENGTH, CUFF_WIDTH = 3.6, 5.8


@cache
def _pieces(pose: Pose) -> tuple[tuple[BaseGeometry, ...], Lines]:
    shapes, lines = _POSES[pose]()
    return tuple(shapes), lines


def _cuff(pose: Pose) -> tuple[BaseGeometry, list[Sequence[Point]]]:
    (x, y), degrees = _WRIST[pose]
    dx, dy = math.cos(math.radians(degrees)), -math.sin(math.radians(degrees))
    far = (x + CUFF_LENGTH * dx, y + CUFF_LENGTH * dy)
    shape = LineString([(x, y), far]).buffer(CUFF_WIDTH / 2 - 0.3, cap_style="flat").buffer(0.3)
    half = CUFF_WIDTH / 2 - 0.3
    slant: list[Sequence[Point]] = []
    for k in range(1, 5):
        mx, my = x + CUFF_LENGTH * dx * k / 5, y + CUFF_LENGTH * dy * k / 5
        slant.append(
            [
                (mx - 0.6 * dx + half * dy, my - 0.6 * dy - half * dx),
                (mx + 0.6 * dx - half * dy, my + 0.6 * dy + half * dx),
            ]
        )
    return shape, slant


@stamped
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
    """A hand whose fingertip stands at ``tip``, pointing along ``angle``, degrees counter-clockwise on paper.

    For ``hold`` the tip is the middle of the grip and the angle that of the handle, towards the working end.
    ``flip`` puts the thumb on the other side. ``helper`` hatches the cuff: a second person's, or the adult's.
    """
    shapes, lines = _pieces(pose)
    cuff, slant = _cuff(pose)
    turn, sign = math.radians(angle), -1.0 if flip else 1.0
    c, s = math.cos(turn) * scale, math.sin(turn) * scale
    matrix = [c, s * sign, -s, c * sign, tip[0], tip[1]]

    def put(thing: BaseGeometry) -> BaseGeometry:
        return affine_transform(thing, matrix)

    with canvas.group("action", part):
        for shape in shapes:
            canvas.area(put(shape), WHITE, TOOL)
        for line in lines:
            canvas.line(put(LineString(line)), THIN)
        canvas.area(put(cuff), WHITE if helper else CUFF, TOOL if helper else Pen(0.35, INK))
        if helper:
            for stroke in slant:
                canvas.line(put(LineString(stroke)), THIN)


def outline(pose: Pose, tip: Point, angle: float, *, scale: float = 0.8, flip: bool = False) -> BaseGeometry:
    """The area of a hand without its cuff: to draw dashed where something hides it."""
    shapes, _ = _pieces(pose)
    turn, sign = math.radians(angle), -1.0 if flip else 1.0
    c, s = math.cos(turn) * scale, math.sin(turn) * scale
    return affine_transform(unary_union(shapes), [c, s * sign, -s, c * sign, tip[0], tip[1]])
