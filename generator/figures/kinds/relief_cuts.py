"""Relief cuts: the margin at one corner, laid flat; a cut in its middle stops short of the rim."""

from __future__ import annotations

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import CLOTH_FACE, CUTTING, HIDDEN, PVC_INSIDE, THIN, TOOL
from generator.figures.reliefs import sloping
from generator.figures.tools import tool

SCALE = 1.55
"""Paper mm per real mm of the margin, at most."""


def draw(job: Job) -> Picture:
    """Corners that are too tight for their margin, or the margins of a taper all round."""
    return sloping(job) if job.shade.tapered else _corner(job)


def _corner(job: Job) -> Picture:
    """The rim runs across; above it the margin, with the bend's middle and the cut; below it the wall."""
    left, shade = job.size.makers.hand == "left", job.shade
    canvas = Canvas(job.slot.width, 58.0)
    scale = min(24.0 / shade.margin, SCALE)
    rim, high = 42.0, shade.margin * scale
    # The cut is drawn to stop well short of the rim, so that the distance can be seen.
    stop = max(shown(job, "slit_stop") * scale, 3.2)
    middle = canvas.width / 2 - (4.0 if not left else -4.0)

    def at(x: float, y: float) -> Point:
        return (canvas.width - x if left else x, y)

    x = middle if not left else canvas.width - middle
    with canvas.group("context", "wall"):
        canvas.area([at(3, rim), at(77, rim), at(77, rim + 12), at(3, rim + 12)], PVC_INSIDE)
    with canvas.group("context", "margin"):
        canvas.area([at(3, rim - high), at(77, rim - high), at(77, rim), at(3, rim)], CLOTH_FACE)
        canvas.line([at(3, rim - high), at(77, rim - high)], THIN)
    with canvas.group("context", "rim"):
        canvas.line([at(3, rim), at(77, rim)], TOOL)
    with canvas.group("context", "corner"):
        canvas.line([at(x, rim), at(x, rim + 12)], HIDDEN)
    with canvas.group("new", "relief"):
        canvas.line([at(x, rim - high), at(x, rim - stop)], CUTTING)
    dimension(
        canvas,
        at(x, rim - stop),
        at(x, rim),
        text(job, "slit_stop"),
        measure="slit_stop",
        value=shown(job, "slit_stop"),
        offset=9.0 if not left else -9.0,
        outside="end",
    )
    tool(canvas, "scissors", at(x, rim - high - 0.6), -90 - (26 if left else -26), scale=0.85)
    action(canvas, [at(x - 9.0, rim - high - 4.0), at(x - 9.0, rim - high + 6.5)])
    return Picture(
        canvas,
        [
            Label(say(job, "corner"), at=at(x, rim + 9.0), wish=0),
            Label(say(job, "margin"), at=at(14.0, rim - 0.4 * high), wish=90),
            Label(say(job, "rim"), at=at(66.0, rim), wish=270),
        ],
    )
