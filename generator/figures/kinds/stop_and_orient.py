"""Stop and orient: the rings pulled apart, each off its own edge, the fitter ring's hub inwards."""

from __future__ import annotations

from shapely import LineString, Polygon
from shapely import Point as Dot

from generator.figures.arrows import action, open_arrow
from generator.figures.callouts import CAPITAL, callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.hatch import PVC_HATCH, WIRE_HATCH, hatch
from generator.figures.insets import caption, inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    BROKEN_OFF,
    CLOTH_CUT,
    EM,
    HEAVY,
    NEW,
    PVC,
    RING_TAPE,
    THIN,
    WHITE,
    Pen,
)
from generator.figures.plane import cut_short
from generator.figures.rings import Embed, hub_radius, ring, ring_points, wire_line
from generator.figures.rolling import (
    bench_view,
    facing,
    flat_extent,
    flat_panel,
    grip,
    mark,
    sheet_line,
    start_edge,
)
from generator.figures.state import state_before
from generator.figures.view import Box, Frame, Point3, fit
from generator.figures.wall import ring_motion
from generator.shape.development import ENDS, End
from generator.shape.shade import Shade

COLUMN = 28.0
"""Width of the column for the detail, mm."""
RADIUS = 13.2
ARM = 9.6
"""Room for the hands that hold the rings, mm."""
LONG = 1.6
"""An outline this much wider than deep is drawn with its rings pulled less far to the side."""
INWARD: dict[End, float] = {"bottom": 1.0, "top": -1.0}
"""The way into the shade from either ring, along its height."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Scene on the left, section A on the right."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 5.5)
    size = max(shade.outline.width, shade.outline.depth)
    stop, docked = 1.05 * size, ring_motion(shade, 0.0, facing(shade, 0.0))
    heights = {end: shade.ring_centre(end)[2] for end in ENDS}
    ends = {end: _moved(docked, _offset(shade, end)) for end in ENDS}
    points = flat_extent(shade, 0.0, stop, facing(shade, 0.0))
    for end, embed in ends.items():
        for p in _loop(shade, end):
            points.append(embed(p, heights[end]))
    x0, x1 = (COLUMN, canvas.width - ARM) if left else (ARM, canvas.width - COLUMN)
    frame = fit(bench_view(shade, left), points, Box(x0, 1.0, x1, job.slot.height - 1.0))
    turn = facing(shade, 0.0)
    state = state_before(job)
    flat_panel(canvas, frame, shade, 0.0, stop, state, wave_at_stop=True, turn=turn)
    targets = dict(zip(("bottom", "top"), start_edge(frame, shade, 0.0, turn), strict=True))
    with canvas.group("context", "start-edge"):
        canvas.line([targets["bottom"], targets["top"]], HEAVY)
    for end in reversed(ENDS):
        fitter = end == shade.fitter_end
        ring(
            canvas,
            frame,
            shade,
            ends[end],
            heights[end],
            part="fitter-ring" if fitter else "plain-ring",
            fitter=fitter,
            inward=INWARD[end],
            taped=state.taped,
            new=True,
            role="new",
        )
    for end in ENDS:
        loop = frame.path(ring_points(shade, ends[end], heights[end], end=end))
        towards, lean = (150.0, -25.0) if end == "top" else (215.0, 20.0)
        grip(canvas, loop, _mirrored(towards, left), lean=-lean if left else lean, part=f"hand-{end}")
    marks = {end: frame(ends[end](shade.rim(end).point(0.0), heights[end])) for end in ENDS}
    for end in ENDS:
        with canvas.group("detail", "target"):
            canvas.circle(targets[end], 1.0, WHITE, NEW)
        action(canvas, cut_short([marks[end], targets[end]], 1.9, 1.9))
        mark(canvas, marks[end])
    _print_up(canvas, frame, shade, stop, turn)
    centre = (COLUMN / 2 if left else canvas.width - COLUMN / 2, job.slot.height / 2)
    end = shade.fitter_end
    _section(canvas, job, centre, inwards=1.0 if (end == "top") != left else -1.0)
    hub = frame(ends[end]((0.0, 0.0), heights[end] + INWARD[end] * shade.recess))
    link(
        canvas,
        hub,
        max(2.6, hub_radius(shade) * frame.scale + 1.4),
        centre,
        RADIUS,
        "A",
        at_place=_mirrored(120.0, left),
    )
    _hold(canvas, job, centre)
    caption(canvas, (centre[0], centre[1] + RADIUS + 1.2 + 0.74 * EM), job.words.say("label.recess-in"))
    say = job.words.say
    labels = [
        Label(
            say("label.fitter-ring" if end == shade.fitter_end else "label.plain-ring"),
            at=_rim(frame, shade, ends[end], end, [marks[end], targets[end]], left=left),
            wish=_mirrored(40 if end == "top" else -100, left),
        )
        for end in ENDS
    ]
    labels.append(Label(say("label.print-up"), part="print-up", wish=-60, rank=1))
    return Picture(canvas, labels)


def _offset(shade: Shade, end: End) -> Point3:
    """How far a ring is pulled off its place: beyond the start edge, and off its own edge of the panel."""
    d = shade.outline.depth
    # Off a tall shade they go as far as shows on paper.
    w = max(shade.outline.width, 0.6 * shade.height)
    if w > LONG * d:
        return (-0.42 * w, 0.6 * w, 0.0) if end == "top" else (-0.66 * w, -0.4 * w, 0.0)
    return (-0.55 * w, 0.7 * w, 0.0) if end == "top" else (-0.78 * w, -0.55 * w, 0.0)


def _loop(shade: Shade, end: End) -> list[Point]:
    outline = shade.rim(end)
    return [outline.point(outline.length * k / 40) for k in range(40)]


def _moved(embed: Embed, by: Point3) -> Embed:
    def moved(p: Point, h: float) -> Point3:
        x, y, z = embed(p, h)
        return x + by[0], y + by[1], z + by[2]

    return moved


def _mirrored(degrees: float, left: bool) -> float:
    return 180 - degrees if left else degrees


def _rim(frame: Frame, shade: Shade, embed: Embed, end: End, arrow: list[Point], *, left: bool) -> Point:
    """A free place on the ring for its label: at the top, towards the panel; at the bottom, off the arrow."""
    line, h = wire_line(shade, end), shade.ring_centre(end)[2]
    points = [frame(embed(line.point(line.length * k / 144), h)) for k in range(144)]
    sign = -1.0 if left else 1.0
    if end == "top":
        return max(points, key=lambda p: sign * 0.5 * p[0] - p[1])
    path = LineString(arrow)
    # A ring that is drawn as small as a dot lies near the arrow all round.
    points = [p for p in points if path.distance(Dot(p)) > 2.6] or points
    return max(points, key=lambda p: -sign * 0.25 * p[0] + p[1])


def _print_up(canvas: Canvas, frame: Frame, shade: Shade, stop: float, turn: float) -> None:
    """On the sheet beyond the near ring's place, along the line on which the shade would stand there."""
    x = (shade.rim("bottom").width / 2 + stop) / 2
    high = shade.slant
    reach = min(max(0.5 * high, 5.5 / frame.scale / 0.55), 9.0 / frame.scale / 0.55)
    up = ((high - reach) / 2, (high + reach) / 2)
    line = sheet_line(frame, shade, (x, x), up, turn)
    open_arrow(canvas, line[0], line[-1], part="print-up")


def _hold(canvas: Canvas, job: Job, centre: Point) -> None:
    """A ruled box: stop here."""
    text = job.words.say("label.hold")
    wide = text_width(text, EM, 700) + 5.0
    top = centre[1] - RADIUS - 9.0
    with canvas.group("label", "hold"):
        canvas.area(
            [
                (centre[0] - wide / 2, top),
                (centre[0] + wide / 2, top),
                (centre[0] + wide / 2, top + 6.0),
                (centre[0] - wide / 2, top + 6.0),
            ],
            WHITE,
            HEAVY,
        )
        canvas.letters((centre[0], top + 3.0 + 0.33 * EM), text, weight=700, anchor="middle")


def _section(canvas: Canvas, job: Job, centre: Point, inwards: float) -> None:
    """A: the fitter ring on its edge of the PVC, cut through; the hub stands back over the panel."""
    cx, cy = centre
    floor, wire = cy + 5.4, 1.7
    foot = cx - inwards * 6.6

    def at(along: float, up: float) -> Point:
        return foot + inwards * along, floor - up

    canvas.blocked.append(circle(centre, RADIUS + 0.4))
    with inset(canvas, centre, RADIUS):
        with canvas.group("context", "section-cloth"):
            canvas.area([at(-9, -0.9), at(40, -0.9), at(40, -1.9), at(-9, -1.9)], CLOTH_CUT, THIN)
        pvc = Polygon([at(-wire, 0.0), at(40, 0.0), at(40, -0.9), at(-wire, -0.9)])
        with canvas.group("context", "section-pvc"):
            canvas.area(pvc, PVC, THIN)
            hatch(canvas, pvc, *PVC_HATCH)
        with canvas.group("context", "ring-plane"):
            canvas.line([at(0.0, 2 * wire), at(0.0, 22.0)], BROKEN_OFF)
        with canvas.group("new", "section-strut"):
            canvas.line([at(0.4, 2 * wire - 0.3), at(6.0, 9.6)], Pen(1.4))
            canvas.line([at(0.4, 2 * wire - 0.3), at(6.0, 9.6)], Pen(0.7, WHITE))
        with canvas.group("new", "section-hub"):
            canvas.area([at(5.3, 9.0), at(6.7, 9.0), at(6.7, 13.8), at(5.3, 13.8)], WHITE, NEW)
        with canvas.group("new", "section-wire"):
            canvas.circle(at(0.0, wire), wire, RING_TAPE if state_before(job).taped else WHITE, NEW)
            canvas.circle(at(0.0, wire), wire - 0.75, WHITE)
            hatch(canvas, circle(at(0.0, wire), wire - 0.75), *WIRE_HATCH)
        action(canvas, [at(8.0, 11.4), at(15.0, 11.4)])
        # Its leader is what a smaller picture keeps of where it stood.
        callout(canvas, at(6.0, 12.4), at(6.0, 16.4 - CAPITAL / 2 * EM), job.words.say("label.hub"), side=0)
        with canvas.group("label", "label-panel"):
            canvas.letters((cx, floor + 2.3 + 0.74 * EM), job.words.say("label.panel"), anchor="middle")
