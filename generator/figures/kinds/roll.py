"""Roll: four pictures on one bench, the rings where arc length puts them, a scale of quarters below."""

from __future__ import annotations

from shapely import LineString, Polygon

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.pens import DIMENSION, EM, INK, SEA, THIN
from generator.figures.plane import add, direction, normal
from generator.figures.rolling import (
    broken_scale,
    flat_panel,
    joint_marks,
    ring_extent,
    rings_and_curl,
    rolling_path,
    seam_marks,
    spread,
)
from generator.figures.view import Box, Frame, bench, fit
from generator.figures.wall import ring_motion
from generator.shape.shade import Shade

GUTTER = 3.0
BAND = 6.5
"""Paper height under a picture for the scale and its value, mm."""
AHEAD = 0.4
"""Panel shown ahead of the ring, as a share of the ring's size."""


def draw(job: Job) -> Picture:
    """Start, one quarter, two, three: two columns of two."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, min(job.slot.height + 11.0, job.slot.max_height - 1.6))
    cell, row = (job.slot.width - GUTTER) / 2, canvas.height / 2
    view = bench(left)
    places = []
    for index in range(4):
        x0, y0 = (index % 2) * (cell + GUTTER), (index // 2) * row
        places.append(Box(x0 + 0.8, y0 + 1.2, x0 + cell - 0.8, y0 + row - BAND))
    size = max(shade.outline.width, shade.outline.depth)
    extents, rests = [], []
    for index in range(4):
        c = shade.pauses[index - 1] if index else 0.0
        reach = max(p[0] for p in ring_extent(shade, c)) + AHEAD * min(size, 2.2 * shade.outline.depth)
        rests.append((c, reach))
        extents.append(
            [*ring_extent(shade, c), *((reach, y, 0.0) for y in (-shade.margin, shade.height + shade.margin))]
        )
    scale = min(fit(view, points, place).scale for points, place in zip(extents, places, strict=True))
    labels: list[Label] = []
    for index in range(4):
        c, reach = rests[index]
        place = places[index]
        frame = fit(view, extents[index], place, largest=scale, anchor="bottom")
        near = _state(canvas, frame, job, c, reach, place)
        _scale(canvas, frame, job, index, c, place)
        with canvas.group("label", f"order-{'abcd'[index]}"):
            canvas.letters((place.left, place.top + 0.74 * EM), "abcd"[index], weight=700)
        if index == 0:
            labels.append(Label(job.words.say("label.seam-mark"), at=near, wish=200, rank=1))
        if index == 1 and not left:
            # Ahead of the far ring's top the cell is free; with the left hand its letter stands there.
            name = "label.fitter-ring" if shade.fitter_end == "top" else "label.plain-ring"
            spot, text = _top(frame, shade, c), job.words.say(name)
            if spot[0] + 5.0 + text_width(text, EM) < job.slot.width:
                labels.append(Label(text, at=spot, wish=30, rank=2))
    return Picture(canvas, labels)


def _state(canvas: Canvas, frame: Frame, job: Job, c: float, reach: float, place: Box) -> Point:
    shade = job.shade
    whole = reach >= shade.strip_length
    stop = shade.strip_length if whole else reach
    flat_panel(canvas, frame, shade, c, stop, wave_at_stop=not whole, seam_tape=job.size.tape.width)
    hidden = rings_and_curl(canvas, frame, shade, job.size, c)
    joint_marks(canvas, frame, shade, c, stop, hidden)
    near, _ = seam_marks(canvas, frame, shade, c, hidden)
    action(canvas, rolling_path(frame, shade, c))
    return near


def _top(frame: Frame, shade: Shade, c: float) -> Point:
    """The upper front of the far ring on paper."""
    embed = ring_motion(shade, c)
    points = [
        frame(embed(shade.outline.point(shade.outline.length * k / 72), shade.height)) for k in range(72)
    ]
    return max(points, key=lambda p: 0.5 * p[0] - p[1])


def _scale(canvas: Canvas, frame: Frame, job: Job, index: int, c: float, place: Box) -> None:
    """The table's scale: a tick each pause, thick as far as rolled, the value at the pause reached."""
    shade = job.shade
    m = spread(shade.margin, frame.scale)
    y = -m - 2.0 / frame.scale

    def at(x: float) -> Point:
        return frame((x, y, 0.0))

    lowest = _solve(frame, y, place.left)
    highest = _solve(frame, y, place.right)
    if lowest > highest:
        lowest, highest = highest, lowest
    begin, end = max(0.0, lowest), min(shade.wrapped_length, highest)
    along = direction(at(0.0), at(100.0))
    side = normal(along)
    with canvas.group("context", "scale"):
        canvas.line([at(begin), at(end)], DIMENSION)
        for x in (0.0, *shade.pauses, shade.wrapped_length):
            if begin - 1e-6 <= x <= end + 1e-6:
                canvas.line([add(at(x), side, 0.9), add(at(x), side, -0.9)], DIMENSION)
    if index:
        with canvas.group("new", "rolled-so-far"):
            start = begin if begin == 0.0 else begin + 2.2 / frame.scale
            a, b = at(start), at(c)
            canvas.area(
                Polygon([add(a, side, 0.6), add(b, side, 0.6), add(b, side, -0.6), add(a, side, -0.6)]), SEA
            )
            if begin > 0.0:
                for stroke in broken_scale([at(begin + 1.0 / frame.scale), at(c)]):
                    canvas.line(LineString(stroke), THIN)
        value = job.measures["quarters"].values[index - 1]
        quarter = at(c)
        text = job.words.number(value)
        with canvas.group("dimension", "dimension-quarters", "quarters", value):
            canvas.letters((quarter[0], quarter[1] + 1.5 + 0.74 * EM), text, anchor="middle", fill=INK)


def _solve(frame: Frame, y: float, u: float) -> float:
    """World x at which the line y = const on the table meets the paper's u."""
    a, b = frame((0.0, y, 0.0))[0], frame((1.0, y, 0.0))[0]
    return (u - a) / (b - a)
