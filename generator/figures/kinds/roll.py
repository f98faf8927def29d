"""Roll: five pictures on one bench, the rings where arc length puts them, a scale of quarters below."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from shapely import LineString, Polygon

from generator.figures.arrows import action
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.labels import Label
from generator.figures.lettering import DESCENT, text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import length
from generator.figures.pens import DIMENSION, EM, INK, NEW, SEA, THIN
from generator.figures.plane import add, between, direction, normal
from generator.figures.rings import ring_points
from generator.figures.rolling import (
    bench_view,
    broken_scale,
    facing,
    flat_extent,
    flat_panel,
    grip,
    joint_marks,
    ring_extent,
    rings_and_curl,
    rolling_path,
    seam_marks,
    sheet_line,
    spread,
)
from generator.figures.state import state_before
from generator.figures.view import Box, Frame, Point3, View, fit
from generator.figures.wall import ring_motion
from generator.shape.development import ENDS
from generator.shape.shade import Shade

GUTTER, NEAR = 3.0, 1.2
"""Between the pictures of the upper row, and of the lower one, mm."""
LETTER = 2.4
"""Room for a picture's letter beside it in the lower row, mm."""
AHEAD_OF = (1.6, 2.4, 0.0)
"""Room for the end of the arrow ahead of what is drawn, in the lower row, mm."""
REACH = (12.5, 9.0, 9.0)
"""Length of the arrows in the upper row, and in the lower one, mm."""
CLOSED = 4
"""The last picture: once round."""
ARM = 6.5
"""Room for the hands in the first picture, mm."""
TICK = 1.6
"""Length of a tick on paper, mm."""
PAST = 1.8
"""The name of what is left has its leader so far past the end of the scale, mm."""
BAND = 6.5
"""Paper height under a picture for the scale and its value, mm."""
LONG, LOWER = 18.0, 0.9
"""A name longer than this reaches under the scale's lower end, and stands so much lower, mm."""
AHEAD, AHEAD_TAPER = 0.4, 0.9
"""Panel shown ahead of the ring, as a share of the ring's size; of a taper ahead of the line of contact."""
SMALL = ("scene", "1a 2a")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Start and one quarter above; below two, three, and closed, where only the overlap is left."""
    shade, left = job.shade, job.size.makers.hand == "left"
    high = min(job.slot.height + 11.0, job.slot.max_height - 1.6)
    canvas = Canvas(job.slot.width, high + (LOWER if text_width(_overlap_name(job), EM) > LONG else 0.0))
    view = bench_view(shade, left)
    rests = [_rest(shade, c) for c in (0.0, *shade.pauses, shade.wrapped_length)]
    extents = [
        [*ring_extent(shade, rest.c, rest.turn), *flat_extent(shade, rest.c, rest.stop, rest.turn)]
        for rest in rests
    ]
    places = _places(canvas.width, high, view, extents)
    inner = [_shifted(places[0], left), places[1]]
    for place, ahead in zip(places[2:], AHEAD_OF, strict=True):
        before, past = (ahead, 0.0) if left else (0.0, ahead)
        inner.append(replace(place, left=place.left + LETTER + before, right=place.right - past))
    scale = min(fit(view, points, place).scale for points, place in zip(extents, inner, strict=True))
    labels: list[Label] = []
    for index, (rest, place, name) in enumerate(zip(rests, places, "abcde", strict=True)):
        frame = fit(view, extents[index], inner[index], largest=scale, anchor="bottom")
        near = _state(canvas, frame, job, rest, REACH[index // 2])
        _scale(canvas, frame, job, index, rest.c, place)
        with canvas.group("label", f"order-{name}"):
            canvas.letters((place.left, place.top + 0.74 * EM), name, weight=700)
        if index == 0:
            labels.append(Label(job.words.say("label.seam-mark"), at=near, wish=200, rank=1))
        if index == 1 and not left:
            # Ahead of the far ring's top the cell is free; with the left hand its letter stands there.
            noun = "label.fitter-ring" if shade.fitter_end == "top" else "label.plain-ring"
            top, text = _top(frame, shade, rest), job.words.say(noun)
            if top[0] + 5.0 + text_width(text, EM) < job.slot.width:
                labels.append(Label(text, at=top, wish=30, rank=2))
        if index == CLOSED:
            rim = sheet_line(frame, shade, (rest.c, rest.stop), (0.0, 0.0), rest.turn)
            at, begin, end = (
                _beside_sheet(shade, place, frame) if shade.tapered else _on_table(shade, frame, place)
            )
            _overlap(canvas, job, rim[-1], at(begin), at(end), place)
    return Picture(canvas, labels)


def _overlap_name(job: Job) -> str:
    return job.words.say("label.overlap")


def _overlap(canvas: Canvas, job: Job, spot: Point, foot: Point, head: Point, place: Box) -> None:
    """What is left of the sheet under the closed shade, named where the other pictures have their values.

    ``foot`` and ``head``: where the scale under it begins and ends on paper.
    """
    words = _overlap_name(job)
    half = text_width(words, EM) / 2
    middle = min(max(spot[0], place.left + half - 2.0), job.slot.width - half - 0.4)
    top = place.bottom + (3.8 if job.shade.tapered else 2.4)
    if abs(foot[0] - middle) < half + 0.6:
        top = max(top, min(foot[1] + 1.4, canvas.height - (0.74 + DESCENT) * EM - 0.2))
    # Past the scale's end: along its bar a line would be lost.
    ahead = head[0] + (PAST if head[0] > foot[0] else -PAST)
    callout(canvas, spot, (middle, top + 0.74 * EM), words, side=0, over=None if job.shade.tapered else ahead)


def _places(width: float, height: float, view: View, extents: list[list[Point3]]) -> list[Box]:
    """Two halves above; below, each picture has the width that it needs at one scale, and its letter's."""
    row, half = height / 2, (width - GUTTER) / 2
    flat = [[view.project(point)[0] for point in points] for points in extents[2:]]
    needs = [max(us) - min(us) for us in flat]
    room = width - 2 * NEAR - 3 * LETTER - sum(AHEAD_OF)
    shares = zip(needs, AHEAD_OF, strict=True)
    widths = [half, half, *(LETTER + ahead + room * need / sum(needs) for need, ahead in shares)]
    lefts = [0.0, half + GUTTER, 0.0, widths[2] + NEAR, widths[2] + widths[3] + 2 * NEAR]
    return [
        Box(x0 + 0.8, y0 + 1.2, x0 + wide - 0.8, y0 + row - BAND)
        for x0, wide, y0 in zip(lefts, widths, (0.0, 0.0, row, row, row), strict=True)
    ]


def _shifted(place: Box, left: bool) -> Box:
    """The place without what the hands need beside the rings."""
    return Box(
        place.left + (0.0 if left else ARM), place.top, place.right - (ARM if left else 0.0), place.bottom
    )


@dataclass(frozen=True)
class _Rest:
    """Where the rings rest, how far the sheet is shown, how far the bench is turned; mm and radians."""

    c: float
    stop: float
    turn: float


def _rest(shade: Shade, c: float) -> _Rest:
    size = max(shade.outline.width, shade.outline.depth)
    if shade.tapered:
        return _Rest(c, min(c + AHEAD_TAPER * size, shade.strip_length), facing(shade, c))
    reach = max(p[0] for p in ring_extent(shade, c)) + AHEAD * min(size, 2.2 * shade.outline.depth)
    return _Rest(c, min(reach, shade.strip_length), 0.0)


def _state(canvas: Canvas, frame: Frame, job: Job, rest: _Rest, reach: float) -> Point:
    shade, whole = job.shade, rest.stop >= job.shade.strip_length
    tape, state = job.size.tape.width, state_before(job)
    flat_panel(
        canvas, frame, shade, rest.c, rest.stop, state, wave_at_stop=not whole, tape=tape, turn=rest.turn
    )
    _ticks(canvas, frame, shade, rest)
    hidden = rings_and_curl(canvas, frame, shade, job.size, rest.c, state, turn=rest.turn)
    joint_marks(canvas, frame, shade, rest.c, rest.stop, state, hidden, rest.turn)
    if rest.c == 0.0:
        _hands(canvas, frame, shade, rest)
    near, _ = seam_marks(canvas, frame, shade, rest.c, hidden, rest.turn)
    if rest.c < shade.wrapped_length:
        action(canvas, rolling_path(frame, shade, rest.c, length=reach, turn=rest.turn))
    return near


def _hands(canvas: Canvas, frame: Frame, shade: Shade, rest: _Rest) -> None:
    """One hand on each ring where the roll begins: from the end that is docked, where no panel is yet."""
    embed = ring_motion(shade, rest.c, rest.turn)
    for end in ENDS:
        towards, lean = (120.0, 10.0) if end == "top" else (196.0, 20.0)
        loop = frame.path(ring_points(shade, embed, shade.ring_centre(end)[2], end=end))
        if frame.view.mirror:
            towards, lean = 180 - towards, -lean
        grip(canvas, loop, towards, lean=lean, scale=0.5, part=f"hand-{end}")


def _ticks(canvas: Canvas, frame: Frame, shade: Shade, rest: _Rest) -> None:
    """The pairs of ticks on the edges of a taper's sheet that is still to come: one for each ring."""
    long = min(TICK / frame.scale, 0.3 * shade.slant)
    if not shade.tapered:
        return
    with canvas.group("context", "ticks"):
        for x in shade.pauses:
            if rest.c < x < rest.stop:
                for up in ((0.0, long), (shade.slant - long, shade.slant)):
                    canvas.line(sheet_line(frame, shade, (x, x), up, rest.turn), NEW)


def _top(frame: Frame, shade: Shade, rest: _Rest) -> Point:
    """The upper front of the far ring on paper."""
    embed, outline = ring_motion(shade, rest.c, rest.turn), shade.rim("top")
    points = [frame(embed(outline.point(outline.length * k / 72), shade.height)) for k in range(72)]
    return max(points, key=lambda p: 0.5 * p[0] - p[1])


def _scale(canvas: Canvas, frame: Frame, job: Job, index: int, c: float, place: Box) -> None:
    """A scale of what is rolled: a tick each pause, thick so far, the value at the pause reached."""
    shade = job.shade
    at, begin, end = _beside_sheet(shade, place, frame) if shade.tapered else _on_table(shade, frame, place)
    along = direction(at(0.0), at(100.0))
    side, paper = normal(along), 1.0 / math.dist(at(0.0), at(1.0))
    with canvas.group("context", "scale"):
        canvas.line([at(begin), at(end)], DIMENSION)
        for x in (0.0, *shade.pauses, shade.wrapped_length):
            if begin - 1e-6 <= x <= end + 1e-6:
                canvas.line([add(at(x), side, 0.9), add(at(x), side, -0.9)], DIMENSION)
    if index:
        with canvas.group("new", "rolled-so-far"):
            start = begin if begin == 0.0 else begin + 2.2 * paper
            a, b = at(start), at(c)
            canvas.area(
                Polygon([add(a, side, 0.6), add(b, side, 0.6), add(b, side, -0.6), add(a, side, -0.6)]), SEA
            )
            if begin > 0.0:
                for stroke in broken_scale([at(begin + 1.0 * paper), at(c)]):
                    canvas.line(LineString(stroke), THIN)
        if index == CLOSED:
            return
        value = job.measures["quarters"].values[index - 1]
        quarter = at(c)
        text = length(job.words, job.measures["quarters"], index - 1)
        with canvas.group("dimension", "dimension-quarters", "quarters", value):
            canvas.letters((quarter[0], quarter[1] + 1.5 + 0.74 * EM), text, anchor="middle", fill=INK)


Scale = tuple[Callable[[float], Point], float, float]
"""Where a panel coordinate stands on paper; from where to where the scale is shown."""


def _on_table(shade: Shade, frame: Frame, place: Box) -> Scale:
    """Before the sheet on the table, where each place of it lay or lies."""
    y = -spread(shade.margin, frame.scale) - 2.0 / frame.scale
    ends = sorted(_solve(frame, y, u) for u in (place.left, place.right))
    return lambda x: frame((x, y, 0.0)), max(0.0, ends[0]), min(shade.wrapped_length, ends[1])


def _beside_sheet(shade: Shade, place: Box, frame: Frame) -> Scale:
    """A taper's sheet lies in an arc, turned from picture to picture: below it, the whole length at once."""
    y, whole = place.bottom + 2.0, shade.wrapped_length
    ends = [(place.left + 3.0, y), (place.right - 3.0, y)]
    if frame.view.mirror:
        ends.reverse()
    return lambda x: between(ends[0], ends[1], x / whole), 0.0, whole


def _solve(frame: Frame, y: float, u: float) -> float:
    """World x at which the line y = const on the table meets the paper's u."""
    a, b = frame((0.0, y, 0.0))[0], frame((1.0, y, 0.0))[0]
    return (u - a) / (b - a)
