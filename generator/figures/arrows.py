"""Arrows: one for actions, an open one for directions of print and grain, a press on a bar, the turn mark."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import LineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import CLOTH_BACK, INK, SEA, TOOL, WHITE, Pen
from generator.figures.plane import add, arc, cut_short, direction, normal
from generator.figures.stamps import stamped

SHAFT, HEAD_LENGTH, HEAD_WIDTH = 1.1, 3.6, 3.4
"""mm; the head's included angle is 51 degrees, within the 15 to 90 of ISO 129-1:2018 (from memory)."""
_HALO = Pen(1.0, WHITE)


def _arrow(points: Sequence[Point], shaft: float, head: float, wide: float) -> BaseGeometry:
    tip, back = points[-1], cut_short(points, 0.0, head * 0.85)[-1]
    along = direction(back, tip)
    foot, side = add(tip, along, -head), normal(along)
    body = LineString(cut_short(points, 0.0, head * 0.8)).buffer(shaft / 2, cap_style="flat")
    return unary_union([body, Polygon([tip, add(foot, side, wide / 2), add(foot, side, -wide / 2)])])


@stamped
def action(canvas: Canvas, points: Sequence[Point], part: str = "arrow") -> None:
    """The action arrow along its true path, tail first; at least 6 mm long."""
    shape = _arrow(points, SHAFT, HEAD_LENGTH, HEAD_WIDTH)
    with canvas.group("action", part):
        canvas.area(shape, WHITE, _HALO)
        canvas.area(shape, SEA)


@stamped
def small_action(canvas: Canvas, points: Sequence[Point], part: str = "arrow") -> None:
    """The action arrow at the scale of a small picture."""
    shape = _arrow(points, 0.8, 2.4, 2.2)
    with canvas.group("action", part):
        canvas.area(shape, WHITE, _HALO)
        canvas.area(shape, SEA)


@stamped
def press(canvas: Canvas, tip: Point, towards: Point, part: str = "press", size: float = 1.0) -> None:
    """A short, fat arrow that ends on a bar at ``tip``; ``towards`` is the direction of the pressure.

    ``size`` makes it smaller for a small picture.
    """
    along = direction((0.0, 0.0), towards)
    side = normal(along)
    corners = ((-2.4, -0.7), (2.4, -0.7), (2.4, 0.0), (-2.4, 0.0))
    bar = Polygon([add(add(tip, side, s * size), along, k * size) for s, k in corners])
    path = [add(tip, along, -6.6 * size), add(tip, along, -1.3 * size)]
    shape = unary_union([_arrow(path, 1.7 * size, 3.0 * size, 3.6 * size), bar])
    with canvas.group("action", part):
        canvas.area(shape, WHITE, _HALO)
        canvas.area(shape, SEA)


@stamped
def open_arrow(
    canvas: Canvas, tail: Point, tip: Point, *, double: bool = False, part: str = "direction"
) -> None:
    """An outlined arrow that tells a direction (print up, grain), never an action."""
    along = direction(tail, tip)
    side = normal(along)

    def head(at: Point, k: float) -> list[Point]:
        foot = add(at, along, -k * 2.8)
        return [
            add(foot, side, 0.75),
            add(foot, side, 1.9),
            at,
            add(foot, side, -1.9),
            add(foot, side, -0.75),
        ]

    front = head(tip, 1)
    if double:
        rear = head(tail, -1)
        outline = [*front, rear[4], rear[3], rear[2], rear[1], rear[0]]
    else:
        outline = [*front, add(tail, side, -0.75), add(tail, side, 0.75)]
    with canvas.group("context", part):
        canvas.area(outline, WHITE, TOOL)


def around(
    canvas: Canvas, centre: Point, radius: float, start: float, end: float, part: str = "arrow"
) -> None:
    """An action arrow along an arc; degrees counter-clockwise on paper, from start to end."""
    action(canvas, arc(centre, radius, start, end), part)


def turn_mark(
    canvas: Canvas, at: Point, *, before: str = WHITE, after: str = CLOTH_BACK, mirror: bool = False
) -> None:
    """Two small cards, one side then the other, and an arc arrow between: the work is turned over here.

    ``at`` is the left top corner; the mark is 17 wide and 8 high.
    """
    x, y = at

    def card(left: float, fill: str) -> list[Point]:
        return [(left, y + 7.4), (left + 5.4, y + 6.2), (left + 6.6, y + 3.6), (left + 1.2, y + 4.8)]

    with canvas.group("context", "turn-mark"):
        canvas.area(card(x, before), before, TOOL)
        if before == WHITE:
            for k in (0.3, 0.6):
                canvas.line(
                    [(x + 1.2 + 4.6 * k, y + 6.5 - k), (x + 1.9 + 4.6 * k, y + 4.8 - k)], Pen(0.25, INK)
                )
        canvas.area(card(x + 10.0, after), after, TOOL)
        if after == WHITE:
            for k in (0.3, 0.6):
                canvas.line(
                    [(x + 11.2 + 4.6 * k, y + 6.5 - k), (x + 11.9 + 4.6 * k, y + 4.8 - k)], Pen(0.25, INK)
                )
    small_action(
        canvas, [(px, py * 1.0) for px, py in arc((x + 8.4, y + 5.2), 4.6, 160, 25)], "turn-mark-arrow"
    )
    canvas.blocked.append(Polygon([(x - 0.5, y), (x + 17.2, y), (x + 17.2, y + 8), (x - 0.5, y + 8)]))


@stamped
def numbered(canvas: Canvas, centre: Point, text: str, *, fill: str = SEA, radius: float = 2.3) -> None:
    """A number or letter in a filled disc: the order of two actions, or a place."""
    from generator.figures.pens import EM

    with canvas.group("label", f"number-{text}"):
        canvas.circle(centre, radius + 0.5, WHITE)
        canvas.circle(centre, radius, fill)
        canvas.letters((centre[0], centre[1] + 0.33 * EM), text, weight=600, fill=WHITE, anchor="middle")
