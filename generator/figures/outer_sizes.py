"""Outer sizes of an upright shade beside the edges that they measure, and the print-up arrow."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import box

from generator.figures.arrows import open_arrow
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import GAP, dimension
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.numbers import shown, text
from generator.figures.pens import EM
from generator.figures.plane import add, between, direction, distance
from generator.figures.upright import Upright, clear_line

CLEAR = 7.0
"""Distance of a dimension line from the shade, mm: its value stands between."""


def with_tolerance(job: Job, measure: str, tolerance: str | None) -> str:
    """A value, and plus or minus what passes."""
    value = text(job, measure)
    return f"{value} ± {text(job, tolerance)}" if tolerance else value


def height_line(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    *,
    right: bool,
    tolerance: str | None = None,
    offset: float = 6.0,
) -> Point:
    """The finished height on the silhouette. Returns a place for its number, outside of line and value."""
    low, high = upright.side(right)
    out = (1.0, 0.0) if right else (-1.0, 0.0)
    words = with_tolerance(job, "finished_height", tolerance)
    dimension(
        canvas,
        low,
        high,
        words,
        measure="finished_height",
        value=shown(job, "finished_height"),
        offset=offset,
        across=out,
        text_side=1.0 if right else -1.0,
    )
    return add(between(low, high, 0.5), out, offset + 3.4)


def widths(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    *,
    above: bool = False,
    beside: str = "low",
    tolerance: str | None = None,
) -> list[Point]:
    """Diameter of a round shade, else length and width. Returns places for their numbers.

    ``above`` sets the diameter, or the size along the bench, behind the upper rim: a lamp base stands below.
    ``beside`` sets the other size at the lower rim (``low``) on the picture's left, or at the upper rim
    (``high``) on its right; mirrored for the left hand.
    """
    if "ring_diameter" in job.measures:
        return [_across_silhouette(canvas, job, upright, above, tolerance)]
    outline = upright.shade.outline
    names = ("ring_length", "ring_width")
    along_x, along_y = names if outline.width >= outline.depth else names[::-1]
    behind = _Edge(True, above, above)
    side = _Edge(False, beside == "high", beside == "high")
    return [
        _along_rim(canvas, job, upright, along_x, behind, tolerance, "end"),
        # Where the value finds no room between its arrows it stands where the other size does not.
        _along_rim(canvas, job, upright, along_y, side, tolerance, "start" if above else "end"),
    ]


def _across_silhouette(
    canvas: Canvas, job: Job, upright: Upright, above: bool, tolerance: str | None
) -> Point:
    # A level circle seen aslant keeps its true diameter across the picture.
    rim = upright.rim("top" if above else "bottom")
    level, pick, out = int(above), (min if above else max), (-1.0 if above else 1.0)
    start, end = upright.side(False)[level], upright.side(True)[level]
    y = pick(p[1] for p in rim) + out * (4.5 if above else CLEAR)
    dimension(
        canvas,
        start,
        (end[0], start[1]),
        "Ø " + with_tolerance(job, "ring_diameter", tolerance),
        measure="ring_diameter",
        value=shown(job, "ring_diameter"),
        offset=abs(y - start[1]),
        across=(0.0, out),
        outside="start",
    )
    return (start[0] + end[0]) / 2, y + 3.4 * out


@dataclass(frozen=True)
class _Edge:
    """Where a size stands: along the bench or away from the maker; at which rim; on its far side or not."""

    along_x: bool
    upper: bool
    far: bool


def _along_rim(
    canvas: Canvas, job: Job, upright: Upright, measure: str, edge: _Edge, tolerance: str | None, outside: str
) -> Point:
    """A size parallel to the bench's x (before or behind the shade) or to its y (beside it)."""
    frame, h = upright.frame, upright.shade.height if edge.upper else 0.0
    # The panel's own plane is mirrored in x when it stands upright, so its high x is the picture's left.
    outwards = 1.0 if edge.along_x == edge.far else -1.0
    low, high = upright.extremes(edge.along_x, outwards)
    level = upright.extremes(not edge.along_x, 1.0)[1 if outwards > 0 else 0][1 if edge.along_x else 0]
    corners = [(p[0], level) if edge.along_x else (level, p[1]) for p in (low, high)]
    start, end = (frame(upright.embed(p, h)) for p in corners)
    step = (corners[0][0], level + outwards) if edge.along_x else (level + outwards, corners[0][1])
    away, line = direction(start, frame(upright.embed(step, h))), direction(start, end)
    perpendicular = max(abs(line[0] * away[1] - line[1] * away[0]), 0.2)
    words = with_tolerance(job, measure, tolerance)
    turned = edge.far and not edge.along_x
    offset = (5.0 if edge.far and edge.along_x else CLEAR) / perpendicular
    dimension(
        canvas,
        start,
        end,
        words,
        measure=measure,
        value=shown(job, measure),
        offset=offset,
        across=away,
        outside=outside,
        level=turned,
        text_side=-1.0 if turned else 1.0,
    )
    with canvas.group("dimension", f"dimension-{measure}", measure, shown(job, measure)):
        for point, corner in ((low, start), (high, end)):
            origin = frame(upright.embed(point, h))
            clear_line(canvas, [add(origin, away, GAP), add(corner, away, GAP)], upright.body)
    middle = add(between(start, end, 0.5), away, offset)
    if turned:
        lying = distance(start, end) < text_width(words, EM) + 5
        return add(middle, (1.0 if away[0] > 0 else -1.0, 0.0), 5.8 + text_width(words, EM) if lying else 4.0)
    return add(middle, away, 3.4 / perpendicular)


def print_up(canvas: Canvas, words: str, x: float, low: float, high: float, *, right: bool = True) -> None:
    """The open arrow from ``low`` up to ``high`` (paper y), its words upright on its far side."""
    length = max(low - high, 9.0)
    middle = (low + high) / 2
    open_arrow(canvas, (x, middle + length / 2), (x, middle - length / 2), part="print-up")
    out = 1.0 if right else -1.0
    base = x + (2.6 + 0.74 * EM if right else -2.8)
    with canvas.group("label", "label-print-up"):
        canvas.letters((base, middle), words, angle=90.0, anchor="middle")
    reach = text_width(words, EM) / 2
    canvas.blocked.append(box(min(x, x + 6 * out), middle - reach, max(x, x + 6 * out), middle + reach))
