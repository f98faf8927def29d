"""Mark the rings: the seam mark measured on the fitter ring, then carried straight down to the plain ring.

The rings lie one on the other; they are drawn apart so that both marks are seen.
"""

from __future__ import annotations

from shapely import Polygon

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import arc_dimension, dimension
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.nested_rings import nested
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, DIMENSION, HEAVY, LINER, THIN, TOOL, WHITE
from generator.figures.plane import add, between, direction
from generator.figures.ring_stack import Stack
from generator.figures.rings import ring
from generator.figures.state import state_before
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, bench, fit
from generator.shape.shade import Shade

APART = 17.0
"""Paper mm between the two rings."""
STRIP = 3.0
"""Breadth of the paper strip on paper, mm."""
RULE = (0.7, 3.7)
"""The rule's two edges before the side that it lies along, mm on paper."""
TICK = 10.0
"""Distance of two ticks of the rule, real mm."""
ALONG_WIRE = ("circle", "ellipse", "polygon")


def draw(job: Job) -> Picture:
    """Straight from a set square at a side or a round end, else along the wire from a strut or a corner."""
    shade, width = job.shade, job.slot.width
    if job.size.ends is not None:
        end = job.size.ends.at(shade.fitter_end)
        side = 1.0 if shade.fitter_end == "top" else -1.0
        return nested(job, end.outline in ALONG_WIRE, measured_from(shade, side, end.outline))
    left = job.size.makers.hand == "left"
    canvas = Canvas(width, job.slot.max_height)
    straight = shade.kind not in ALONG_WIRE
    stack = _stack(job, canvas, left, straight)
    frame, rise = stack.frame, stack.rise
    taped = state_before(job).taped
    ring(canvas, frame, shade, stack.embed, 0.0, part="plain-ring", taped=taped)
    upper, lower = stack.at(0.0, rise), stack.at(0.0, 0.0)
    with canvas.group("detail", "straight-down"):
        canvas.line([add(upper, (0.0, 3.0)), add(lower, (0.0, -3.0))], BROKEN_OFF)
    names = (_from_side if straight else _along_wire)(canvas, job, stack)
    # It lies on the plain ring with its hub upwards: the recess would not let it lie the other way round.
    ring(
        canvas,
        frame,
        shade,
        stack.embed,
        rise,
        part="fitter-ring",
        fitter=True,
        inward=1.0,
        taped=taped,
    )
    for place in (upper, lower):
        with canvas.group("new", "seam-mark"):
            canvas.line([add(place, (0.0, -2.4)), add(place, (0.0, 2.4))], HEAVY)
    out = -1.0 if left else 1.0
    aside = 5.4 if straight else 3.4
    clear = out if straight or stack.sign * stack.start <= 0 else -out
    action(canvas, [add(upper, (aside * clear, 4.5)), add(lower, (aside * clear, -3.0))])
    angle = 238.0
    tool(canvas, "pencil", add(upper, (0.5 * out, -1.2)), 180 - angle if left else angle, scale=0.9)
    grip = add(upper, (5.7 * out, -9.5))
    hand(canvas, "pinch", grip, 180 - 196 if left else 196, scale=0.7, flip=left)
    return Picture(canvas, [*names, *_ring_names(job, stack, left)])


def _stack(job: Job, canvas: Canvas, left: bool, straight: bool) -> Stack:
    shade = job.shade
    outline = shade.outline
    # A pendant's fitter ring is turned over for this, so that its hub is on top.
    sign = 1.0 if shade.fitter_end == "top" else -1.0
    loop = [outline.point(outline.length * k / 90) for k in range(90)]
    place = Box(4.0, 8.0, canvas.width - 4.0, canvas.height - 8.0)

    def fitted(apart: float, scale: float) -> Frame:
        for _ in range(5):
            rise = apart / (0.866 * scale)
            more = [(x, y, rise) for x, y in _square(shade, scale)] if straight else []
            points = [(x, y, z) for x, y in loop for z in (0.0, rise)]
            scale = fit(bench(left), [*points, *more], place).scale
        return fit(bench(left), [*points, *more], place)

    apart, frame = APART, fitted(APART, 0.16)
    if straight and 0.483 * outline.depth * frame.scale < APART + 1.5:
        # The far side of the lower ring must not run through the dimension before the upper one.
        for _ in range(4):
            apart = 0.483 * outline.depth * frame.scale + 13.0
            frame = fitted(apart, frame.scale)
    scale = frame.scale
    return Stack(
        shade,
        frame,
        sign,
        apart / (0.866 * scale),
        0.0 if straight else measured_from(shade, sign, shade.kind),
    )


def measured_from(shade: Shade, sign: float, kind: str) -> float:
    """Signed arc length from the seam mark to the corner or strut where its measure begins; left first.

    ``kind`` is the outline of the fitter ring.
    """
    outline = shade.rim(shade.fitter_end)
    length = outline.length
    if kind == "polygon":
        places = [station.s for station in outline.stations() if station.kind == "corner"]
    else:
        places = [strut.s for strut in shade.struts]
    signed = [s if s <= length / 2 else s - length for s in places]
    return min(signed, key=lambda s: (round(abs(s), 3), sign * s))


def _square(shade: Shade, scale: float) -> list[Point]:
    """The set square in the ring's plane, an edge on the neighbouring side: near, far and outer corner."""
    half, deep = shade.outline.width / 2, shade.outline.depth / 2
    near = -deep - 7.4 / (0.5 * scale)
    # It must pass the place where the side is outermost: part of a straight side, the middle of a round end.
    touches = 0.15 * deep if shade.kind == "stadium" else -0.3 * deep
    reach = max(touches, near + 20.0 / (0.548 * scale))
    return [(-half, near), (-half, reach), (-half - 0.6 * (reach - near), near)]


def _from_side(canvas: Canvas, job: Job, stack: Stack) -> list[Label]:
    frame, rise = stack.frame, stack.rise
    corners = [frame((x, y, rise)) for x, y in _square(stack.shade, frame.scale)]
    middle = (sum(p[0] for p in corners) / 3, sum(p[1] for p in corners) / 3)
    hole = [(m + 0.42 * (c - m), n + 0.42 * (d - n)) for (c, d), (m, n) in ((p, middle) for p in corners)]
    with canvas.group("context", "set-square"):
        canvas.area(Polygon(corners, [hole]), LINER, TOOL)
    half, deep = stack.shade.outline.width / 2, stack.shade.outline.depth / 2
    # The rule lies along the side, its end at the set square's edge.
    near, far = (-deep - mm / (0.5 * frame.scale) for mm in RULE)
    reach = min(0.36 * half, half - 20.0)
    with canvas.group("context", "rule"):
        canvas.area(
            [frame((x, y, rise)) for x, y in ((-half, near), (reach, near), (reach, far), (-half, far))],
            LINER,
            TOOL,
        )
        for k in range(1, int((reach + half) / TICK) + 1):
            x, long = -half + k * TICK, 0.3 if k % 5 else 0.55
            canvas.line([frame((x, near, rise)), frame((x, near + long * (far - near), rise))], THIN)
    start, end = frame((-half, far, rise)), frame((0.0, far, rise))
    away = direction(start, frame((-half, far - 1.0, rise)))
    dimension(
        canvas,
        start,
        end,
        text(job, "seam_mark"),
        measure="seam_mark",
        value=shown(job, "seam_mark"),
        offset=3.4,
        across=away,
        text_side=-1.0,
    )
    place = between(between(corners[0], corners[2], 0.62), middle, 0.3)
    return [Label(say(job, "square"), at=place, wish=265.0)]


def _along_wire(canvas: Canvas, job: Job, stack: Stack) -> list[Label]:
    """A paper strip along the wire from the nearest strut; the wire itself from a corner of a polygon."""
    start = stack.start
    if stack.shade.kind == "polygon":
        noun, drop = "corner", 3.0
    else:
        noun, drop = "strut", 2.0 + STRIP + 3.2
        past = -0.14 * start
        strip = [*stack.run(start, past, 1.2), *reversed(stack.run(start, past, 1.2 + STRIP))]
        with canvas.group("context", "paper-strip"):
            canvas.area(strip, WHITE, TOOL)
    with canvas.group("dimension", "dimension-seam_mark", "seam_mark", shown(job, "seam_mark")):
        for s in (start, 0.0):
            canvas.line([stack.at(s, stack.rise, drop - 2.0), stack.at(s, stack.rise, drop + 1.2)], DIMENSION)
    arc_dimension(
        canvas,
        stack.run(start, 0.0, drop),
        text(job, "seam_mark"),
        measure="seam_mark",
        value=shown(job, "seam_mark"),
        side=-1.0,
    )
    outer = 180.0 if (stack.sign * start < 0) != stack.frame.view.mirror else 0.0
    labels = [Label(say(job, noun), at=stack.at(start, stack.rise), wish=outer)]
    if noun == "strut":
        # Where the strut stands at the very side its own name needs the room beside it.
        length, x = stack.shade.outline.length, stack.at(start, stack.rise)[0]
        xs = [stack.at(length * k / 60, stack.rise)[0] for k in range(60)]
        inward = min(x - min(xs), max(xs) - x) > 4.0
        place = stack.at((0.8 if inward else 0.5) * start, stack.rise, 1.2 + STRIP / 2)
        labels.append(Label(say(job, "paper-strip"), at=place, wish=200.0 if outer else 340.0))
    return labels


def _ring_names(job: Job, stack: Stack, left: bool) -> list[Label]:
    length = stack.shade.outline.length
    side = -stack.sign

    def place(share: float, h: float) -> Point:
        return stack.at(side * share * length, h)

    def wish(angle: float) -> float:
        return 180 - angle if left else angle

    return [
        Label(say(job, "fitter-ring"), at=place(0.36, stack.rise), wish=wish(130.0)),
        Label(say(job, "plain-ring"), at=place(-0.12, 0.0), wish=wish(310.0), rank=1),
        Label(say(job, "seam-mark"), at=stack.at(0.0, 0.0, 1.6), wish=wish(260.0)),
    ]
