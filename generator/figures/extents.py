"""How far what is drawn reaches: for layouts that are drawn once to see what room their sizes take."""

from __future__ import annotations

from generator.figures.canvas import Canvas, Mark


def reach(canvas: Canvas, part: str, right: bool) -> float | None:
    """The outermost x on paper of all of a part, with its text; None where there is none of it."""
    ends = [
        (item.shape if isinstance(item, Mark) else item.box).bounds
        for item in canvas.items
        if item.group.part == part
    ]
    if not ends:
        return None
    return max(end[2] for end in ends) if right else min(end[0] for end in ends)


def rise(canvas: Canvas) -> float:
    """The uppermost y on paper of all that is drawn."""
    return min(float((item.shape if isinstance(item, Mark) else item.box).bounds[1]) for item in canvas.items)


def overflow(canvas: Canvas) -> tuple[float, float]:
    """How far what is drawn stands beyond the left and the right edge of the paper, mm; 0 if it does not."""
    ends = [(item.shape if isinstance(item, Mark) else item.box).bounds for item in canvas.items]
    left, right = min(end[0] for end in ends), max(end[2] for end in ends)
    return max(0.0, 0.3 - left), max(0.0, right - canvas.width + 0.3)
