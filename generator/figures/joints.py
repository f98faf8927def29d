"""Where the panels of a shade are joined: a line on its wall, standing or rolled, outside and inside."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import TOOL
from generator.figures.view import Frame
from generator.figures.wall import Wall
from generator.shape.shade import Shade

ASLANT = 0.3
"""A joint that is looked at more aslant than this is not the one that is named."""
SEEN_INSIDE = 0.62
"""How far up the sheet a joint is named that is seen through the opening, as a share of its height."""


def joint_lines(
    canvas: Canvas, frame: Frame, wall: Wall, shade: Shade, low: float, high: float, *, front: bool
) -> None:
    """The joints on those strips that show their outside (``front``), or on those that show their inside.

    Outside the edge of the panel before is seen, an overlap past the start edge of the next, which is seen
    inside.
    """
    for x in _seen(frame, wall, shade, front):
        with canvas.group("context", "joint-outside" if front else "joint-inside"):
            canvas.line([frame(wall.point(x, low)), frame(wall.point(x, high))], TOOL)


def joint_at(frame: Frame, wall: Wall, shade: Shade) -> Point | None:
    """A place on paper to name a joint at: of the one that faces us most, outside if not too aslant.

    Outside at the rim, so that no leader crosses the print; inside where the opening shows it.
    """
    best: dict[bool, tuple[float, float]] = {}
    for front in (True, False):
        for x in _seen(frame, wall, shade, front):
            best[front] = max(best.get(front, (0.0, x)), (_facing(frame, wall, x), x))
    if not best:
        return None
    outside = True in best and (best[True][0] > ASLANT or False not in best)
    return frame(wall.point(best[outside][1], shade.slant * (1.0 if outside else SEEN_INSIDE)))


def _facing(frame: Frame, wall: Wall, x: float) -> float:
    """How squarely the wall at x is looked at, outside or inside: 0 along it, 1 straight."""
    out = wall.outward(x, min(x + 1.0, wall.stop))
    across = sum(a * b for a, b in zip(out, frame.view.toward, strict=True))
    return abs(across) / math.hypot(*out)


def _seen(frame: Frame, wall: Wall, shade: Shade, front: bool) -> Iterator[float]:
    """Panel coordinates of the joints on strips that show their outside, or their inside."""
    lap, once = (shade.overlap if front else 0.0), shade.wrapped_length
    runs = [(a, b) for is_front, a, b in wall.runs(frame) if is_front == front]
    for joint in shade.joints:
        for x in (joint + lap + turn for turn in (-once, 0.0, once)):
            if any(a < x < b for a, b in runs):
                yield x
