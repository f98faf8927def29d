"""Outer sizes of an upright shade beside the edges that they measure, and the print-up arrow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from generator.base.words import INCH_SIGN
from generator.figures.arrows import open_arrow
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import GAP, dimension
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.numbers import shown, text
from generator.figures.pens import EM
from generator.figures.plane import add, between, direction, distance, normal
from generator.figures.upright import Upright, clear_line
from generator.shape.development import End
from generator.shape.shade import Shade

EVEN = 0.5
"""A slope whose length differs by less than this is as long everywhere, real mm."""
PAST_VALUE = 6.8
"""From a dimension line to a number beyond the value that stands above it, mm."""
CLEAR = 7.0
"""Distance of a dimension line from the shade, mm: its value stands between."""


def with_tolerance(job: Job, measure: str, tolerance: str | None) -> str:
    """A value, and plus or minus what passes."""
    value = text(job, measure)
    return f"{value.removesuffix(INCH_SIGN)} ± {text(job, tolerance)}" if tolerance else value


def height_line(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    *,
    right: bool,
    tolerance: str | None = None,
    offset: float = 6.0,
    above: bool = True,
) -> Point:
    """The finished height on the silhouette. Returns a place for its number, outside of line and value.

    Of a taper it is measured straight up: between the level of the upper rim's outermost place and that of
    the lower rim's below it. A value that finds no room between its arrows stands ``above`` them, or below.
    """
    low, high = upright.side(right)
    sign = 1.0 if right else -1.0
    if upright.shade.tapered:
        drop = upright.frame((0.0, 0.0, 0.0))[1] - upright.frame((0.0, 0.0, upright.shade.height))[1]
        edge = max(sign * low[0], sign * high[0]) * sign
        foot = (edge, high[1] + drop)
        height = shown(job, "finished_height")
        with canvas.group("dimension", "dimension-finished_height", "finished_height", height):
            for origin, level in ((high, high[1]), (low, foot[1])):
                # As far as the other rim reaches further out, the line runs on beside it.
                if abs(origin[0] - edge) > GAP:
                    line = [(origin[0] + sign * GAP, level), (edge + sign * GAP, level)]
                    clear_line(canvas, line, upright.body)
        low, high = foot, (edge, high[1])
    words = with_tolerance(job, "finished_height", tolerance)
    dimension(
        canvas,
        low,
        high,
        words,
        measure="finished_height",
        value=shown(job, "finished_height"),
        offset=offset,
        across=(sign, 0.0),
        text_side=sign,
        outside="end" if above else "start",
    )
    return add(between(low, high, 0.5), (sign, 0.0), offset + 3.4)


def slants_evenly(shade: Shade) -> bool:
    """Whether the side of a taper is as long up the slope all round; of a straight shade no slant is told."""
    if shade.development is None:
        return False
    around = [shade.development.generator(shade.wrapped_length * k / 16).length for k in range(16)]
    return max(around) - min(around) <= EVEN


def slant_line(canvas: Canvas, job: Job, upright: Upright, *, right: bool, offset: float = 5.0) -> None:
    """The slant of a taper along its silhouette, outside of it, where it is as long as at the seam."""
    if not slants_evenly(upright.shade):
        return
    low, high = upright.side(right)
    away = normal(direction(low, high))
    if (away[0] > 0) != right:
        away = (-away[0], -away[1])
    dimension(
        canvas,
        low,
        high,
        text(job, "slant"),
        measure="slant",
        value=shown(job, "slant"),
        offset=offset,
        across=away,
        text_side=1.0 if away[1] < 0 else -1.0,
    )


def is_round(job: Job, end: End) -> bool:
    """Whether one diameter tells the size of this end."""
    return f"{end}_diameter" in job.measures if job.shade.tapered else "ring_diameter" in job.measures


def size_names(job: Job, end: End) -> tuple[str | None, str | None]:
    """Measures of an end's size along the bench and away from the maker, as far as it has them."""
    if not job.shade.tapered:
        names = ("ring_length", "ring_width")
        return names if job.shade.outline.width >= job.shade.outline.depth else names[::-1]
    rim = job.shade.rim(end)
    if f"{end}_side" in job.measures:
        return f"{end}_side", None
    if f"{end}_across_flats" in job.measures:
        # The middle of a side is in front: across the flats is away from the maker.
        return None, f"{end}_across_flats"
    long, wide = f"{end}_length", f"{end}_width"
    if long not in job.measures:
        return None, None
    return (long, wide) if rim.width >= rim.depth else (wide, long)


def widths(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    *,
    above: bool = False,
    beside: str = "low",
    tolerance: str | None = None,
    clear: Mapping[End, BaseGeometry | None] | None = None,
    top_depth: bool = True,
) -> list[Point]:
    """Diameter of a round shade, else length and width. Returns places for their numbers.

    ``above`` sets the diameter, or the size along the bench, behind the upper rim: a lamp base stands below.
    ``beside`` sets the other size at the lower rim (``low``) on the picture's left, or at the upper rim
    (``high``) on its right; mirrored for the left hand. A taper has the sizes of both ends, each at its own;
    they pass ``clear``, a base below or a flex above. ``top_depth`` says whether the upper end's size away
    from the maker has room.
    """
    if upright.shade.tapered:
        return [
            *_end_sizes(canvas, job, upright, "bottom", tolerance, (clear or {}).get("bottom"), True),
            *_end_sizes(canvas, job, upright, "top", tolerance, (clear or {}).get("top"), top_depth),
        ]
    if is_round(job, "bottom"):
        return [_across_silhouette(canvas, job, upright, "ring_diameter", above, tolerance)]
    along_x, along_y = size_names(job, "bottom")
    assert along_x is not None
    assert along_y is not None
    behind = _Edge(True, above, above)
    side = _Edge(False, beside == "high", beside == "high")
    return [
        _along_rim(canvas, job, upright, along_x, behind, tolerance, "end"),
        # Where the value finds no room between its arrows it stands where the other size does not.
        _along_rim(canvas, job, upright, along_y, side, tolerance, "start" if above else "end"),
    ]


def _end_sizes(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    end: End,
    tolerance: str | None,
    clear: BaseGeometry | None,
    depth: bool,
) -> Iterator[Point]:
    """The lower end's sizes before it and at the side where the work begins, the upper end's behind it."""
    upper = end == "top"
    if is_round(job, end):
        yield _across_silhouette(canvas, job, upright, f"{end}_diameter", upper, tolerance, clear)
        return
    along_x, along_y = size_names(job, end)
    if along_x:
        yield _along_rim(canvas, job, upright, along_x, _Edge(True, upper, upper), tolerance, "end", clear)
    if along_y and depth:
        yield _along_rim(canvas, job, upright, along_y, _Edge(False, upper, upper), tolerance, "end")


def _across_silhouette(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    measure: str,
    above: bool,
    tolerance: str | None,
    clear: BaseGeometry | None = None,
) -> Point:
    # A level circle seen aslant keeps its true diameter across the picture.
    rim = upright.rim("top" if above else "bottom")
    level, pick, out = int(above), (min if above else max), (-1.0 if above else 1.0)
    start, end = upright.side(False)[level], upright.side(True)[level]
    y = pick(p[1] for p in rim) + out * (4.5 if above else CLEAR)
    if clear is not None:
        _, top, _, foot = clear.bounds
        y = min(y, top - 2.0) if above else max(y, foot + 1.6 + EM)
    dimension(
        canvas,
        start,
        (end[0], start[1]),
        "Ø " + with_tolerance(job, measure, tolerance),
        measure=measure,
        value=shown(job, measure),
        offset=abs(y - start[1]),
        across=(0.0, out),
        outside="start",
    )
    return (start[0] + end[0]) / 2, y + (PAST_VALUE if above else 3.4) * out


@dataclass(frozen=True)
class _Edge:
    """Where a size stands: along the bench or away from the maker; at which rim; on its far side or not."""

    along_x: bool
    upper: bool
    far: bool


def _along_rim(
    canvas: Canvas,
    job: Job,
    upright: Upright,
    measure: str,
    edge: _Edge,
    tolerance: str | None,
    outside: str,
    clear: BaseGeometry | None = None,
) -> Point:
    """A size parallel to the bench's x (before or behind the shade) or to its y (beside it)."""
    frame, h = upright.frame, upright.shade.height if edge.upper else 0.0
    # The panel's own plane is mirrored in x when it stands upright, so its high x is the picture's left.
    outwards = 1.0 if edge.along_x == edge.far else -1.0
    rim: End = "top" if edge.upper else "bottom"
    low, high = upright.extremes(edge.along_x, outwards, rim)
    level = upright.extremes(not edge.along_x, 1.0, rim)[1 if outwards > 0 else 0][1 if edge.along_x else 0]
    corners = [(p[0], level) if edge.along_x else (level, p[1]) for p in (low, high)]
    start, end = (frame(upright.embed(p, h)) for p in corners)
    step = (corners[0][0], level + outwards) if edge.along_x else (level + outwards, corners[0][1])
    away, line = direction(start, frame(upright.embed(step, h))), direction(start, end)
    perpendicular = max(abs(line[0] * away[1] - line[1] * away[0]), 0.2)
    words = with_tolerance(job, measure, tolerance)
    turned = edge.far and not edge.along_x
    offset = (5.0 if edge.far and edge.along_x else CLEAR) / perpendicular
    if clear is not None:
        # The line, and below the shade its value above it, pass what stands there.
        room = 1.6 if edge.upper else 1.6 + EM
        places = clear.exterior.coords if isinstance(clear, Polygon) else clear.coords
        past = max(_beyond(start, line, away, p) for p in ((x, y) for x, y, *_ in places))
        offset = max(offset, past + room / perpendicular)
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
        halo=turned and upright.shade.tapered,
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
    past_value = edge.upper and edge.along_x and upright.shade.tapered
    return add(middle, away, (PAST_VALUE if past_value else 3.4) / perpendicular)


def _beyond(start: Point, line: Point, away: Point, place: Point) -> float:
    """How far along ``away`` the parallel to a line through ``start`` lies that passes a place."""
    cross = line[0] * away[1] - line[1] * away[0]
    x, y = place[0] - start[0], place[1] - start[1]
    return (line[0] * y - line[1] * x) / cross


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
