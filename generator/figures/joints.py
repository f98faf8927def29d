"""Where the panels of a shade are joined: a line on its wall, standing or rolled, outside and inside."""

from __future__ import annotations

from collections.abc import Iterator

from generator.figures.canvas import Canvas, Point
from generator.figures.pens import TOOL
from generator.figures.view import Frame
from generator.figures.wall import Wall
from generator.shape.shade import Shade


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


def joint_at(frame: Frame, wall: Wall, shade: Shade, h: float) -> Point | None:
    """A joint's place on paper h mm up the sheet: of one that is seen from outside, or else from inside."""
    for front in (True, False):
        for x in _seen(frame, wall, shade, front):
            return frame(wall.point(x, h))
    return None


def _seen(frame: Frame, wall: Wall, shade: Shade, front: bool) -> Iterator[float]:
    """Panel coordinates of the joints on strips that show their outside, or their inside."""
    lap, once = (shade.overlap if front else 0.0), shade.wrapped_length
    runs = [(a, b) for is_front, a, b in wall.runs(frame) if is_front == front]
    for joint in shade.joints:
        for x in (joint + lap + turn for turn in (-once, 0.0, once)):
            if any(a < x < b for a, b in runs):
                yield x
