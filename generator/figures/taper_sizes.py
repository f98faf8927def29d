"""Outer sizes that only a taper of ovals or polygons has, and where they leave room for the others."""

from __future__ import annotations

from shapely import Polygon

from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.extents import reach
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.numbers import shown, text
from generator.figures.outer_sizes import size_names, slants_evenly
from generator.figures.pens import EM
from generator.figures.plane import add, direction, distance, normal
from generator.figures.upright import Upright

HEIGHT = 6.0
"""Distance of the height's line from the shade where nothing else stands beside it, mm."""
ROOM = 4.8
"""From what stands beside the upper rim to the height's line: its value stands between, mm."""

OFF = 5.2
"""Distance of the slant's line from the seam, mm."""


def past_upper_depth(canvas: Canvas, job: Job, upright: Upright, right: bool) -> float:
    """How far off the shade the height's line stands clear of the upper rim's size away from the maker."""
    if not job.shade.tapered:
        return HEIGHT
    depth = size_names(job, "top")[1]
    out = reach(canvas, f"dimension-{depth}", right) if depth else None
    if out is None:
        return HEIGHT
    return max(HEIGHT, (out - upright.reach(right)) * (1.0 if right else -1.0) + ROOM)


def seam_slant(job: Job, upright: Upright) -> Polygon | None:
    """The place for the slant along the seam; None where the outline has it, or there is no room."""
    shade = job.shade
    if shade.development is None:
        return None
    if slants_evenly(shade) and size_names(job, "bottom")[1] is None:
        # As long all round, and nothing else stands beside the shade: the outline has it.
        return None
    low, high, away = _seam(job, upright)
    place = Polygon([low, high, add(high, away, OFF + 1.6), add(low, away, OFF + 1.6)])
    # Where the rim rises or falls beside the seam, a corner may stand a little beyond it.
    on_face = place.intersection(upright.face).area > 0.9 * place.area
    return place if on_face and distance(low, high) > text_width(text(job, "slant"), EM) + 6.0 else None


def draw_seam_slant(canvas: Canvas, job: Job, upright: Upright) -> None:
    """The slant beside the seam, where it is measured: elsewhere round the shade it differs."""
    low, high, away = _seam(job, upright)
    along = direction(low, high)
    dimension(
        canvas,
        low,
        high,
        text(job, "slant"),
        measure="slant",
        value=shown(job, "slant"),
        offset=OFF,
        across=away,
        # Between the seam and the line: to the left of a line that runs up on the right.
        text_side=1.0 if away[0] * -along[1] > 0 else -1.0,
        halo=True,
    )


def _seam(job: Job, upright: Upright) -> tuple[Point, Point, Point]:
    """The seam's lower and upper end on paper, and the way off it on which the slant stands."""
    low, high = (upright.frame(upright.wall.point(upright.wall.start, h)) for h in (0.0, job.shade.slant))
    away = normal(direction(low, high))
    right = job.size.makers.hand != "left"
    return low, high, away if (away[0] > 0) == right else (-away[0], -away[1])
