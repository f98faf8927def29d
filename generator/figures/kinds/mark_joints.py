"""Mark the joints: measured along the wire from the seam mark, then carried straight down to the plain ring.

The rings lie one on the other; they are drawn apart so that all marks are seen.
"""

from __future__ import annotations

from generator.figures.arrows import action
from generator.figures.canvas import Canvas
from generator.figures.dimensions import arc_dimension
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, text
from generator.figures.pens import BROKEN_OFF, HEAVY, NEW, THIN, TOOL, WHITE
from generator.figures.plane import add
from generator.figures.ring_stack import Stack
from generator.figures.rings import ring
from generator.figures.state import state_before
from generator.figures.tools import tool
from generator.figures.view import Box, bench, fit
from generator.shape.development import other_end

CLEAR = 6.0
"""Paper mm between the near side of the upper ring and the far side of the lower one."""
STRIP = 3.0
"""Breadth of the paper strip on paper, mm."""
OUT = 8.5
"""How far outside the wire the length along it is written, mm on paper."""


def draw(job: Job) -> Picture:
    """Both rings; the strip goes round the upper one from the seam mark to the first joint mark."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.max_height)
    stack = _stack(job, canvas, left)
    rise = stack.rise
    marks = {rise: [shade.on_outline(x) for x in shade.joints]}
    marks[0.0] = [shade.on_outline(x, other_end(shade.fitter_end)) for x in shade.joints]
    state = state_before(job)
    ring(canvas, stack.frame, shade, stack.embed, 0.0, part="plain-ring", taped=state.taped)
    for s in () if shade.tapered else marks[rise]:
        with canvas.group("detail", "straight-down"):
            canvas.line([stack.at(s, rise, -3.0), stack.at(s, 0.0, 3.0)], BROKEN_OFF)
    # The strip goes round on the side away from the pencil; lengths are the same both ways round.
    goes = stack.sign
    first = goes * marks[rise][0]
    # Where it turns away from us it is seen from its other side: two pieces, which meet there.
    aside = max(range(81), key=lambda k: (-1.0 if left else 1.0) * stack.at(first * k / 80, rise)[0])
    for begin, end in ((first * aside / 80, first), (0.0, first * aside / 80)):
        strip = [*stack.run(begin, end, 1.2), *reversed(stack.run(begin, end, 1.2 + STRIP))]
        with canvas.group("context", "paper-strip"):
            canvas.area(strip, WHITE, TOOL)
    ring(
        canvas,
        stack.frame,
        shade,
        stack.embed,
        rise,
        part="fitter-ring",
        fitter=True,
        inward=1.0,
        taped=state.taped,
    )
    _along(canvas, job, stack, first, rise, "joint_marks")
    if shade.tapered:
        _along(canvas, job, stack, goes * marks[0.0][0], 0.0, "plain_joint_marks")
    for h in (0.0, rise):
        if state.seam_marks:
            with canvas.group("context", "seam-mark"):
                place = stack.at(0.0, h)
                canvas.line([add(place, (0.0, -2.4)), add(place, (0.0, 2.4))], HEAVY)
        for s in marks[h]:
            with canvas.group("new", "joint-mark"):
                place = stack.at(s, h)
                canvas.line([add(place, (0.0, -1.9)), add(place, (0.0, 1.9))], NEW)
    side = -1.0 if left else 1.0
    upper, lower = stack.at(first, rise), stack.at(goes * marks[0.0][0], 0.0)
    if shade.tapered:
        # Each ring is measured by itself: the strip is wrapped round.
        action(canvas, [stack.at(first * (0.1 + 0.3 * k / 12), rise, 6.6) for k in range(13)])
    else:
        action(canvas, [add(upper, (-side * 3.4, 2.8)), add(lower, (-side * 3.4, -2.4))])
    angle = -58.0
    tool(canvas, "pencil", add(upper, (-side * 0.5, -1.2)), 180 - angle if left else angle, scale=0.9)
    grip = add(upper, (-side * 5.7, -9.5))
    hand(canvas, "pinch", grip, 196 if left else -16, scale=0.7, flip=not left)
    length, below = stack.outline(rise).length, stack.outline(0.0).length

    def wish(degrees: float) -> float:
        return 180 - degrees if left else degrees

    # Between the rings of a taper a length is written: there the strip is named at its beginning.
    strip_at, aside_of = ((0.03, 3.9), 192.0) if shade.tapered else ((0.16, 2.6), 320.0)
    named = stack.at(strip_at[0] * length * goes, rise, strip_at[1])
    labels = [
        Label(say(job, "joint-mark"), at=lower, wish=wish(60.0)),
        Label(say(job, "paper-strip"), at=named, wish=wish(aside_of), rank=1),
        Label(say(job, "plain-ring"), at=stack.at(-0.14 * below * goes, 0.0), wish=wish(220.0), rank=1),
    ]
    if state.seam_marks:
        labels.append(Label(say(job, "seam-mark"), at=stack.at(0.0, 0.0, 1.6), wish=wish(260.0)))
    return Picture(canvas, labels)


def _along(canvas: Canvas, job: Job, stack: Stack, first: float, h: float, measure: str) -> None:
    """The length along a ring from the seam mark to its first joint mark, outside the wire."""
    out, value = OUT / stack.frame.scale, job.measures[measure].values[0]
    with canvas.group("dimension", f"dimension-{measure}", measure, value):
        for s in (0.0, first):
            canvas.line([stack.beside(s, h, 0.25 * out), stack.beside(s, h, 1.25 * out)], THIN)
    arc_dimension(
        canvas,
        [stack.beside(first * k / 80, h, out) for k in range(81)],
        text(job, measure),
        measure=measure,
        value=value,
    )


def _stack(job: Job, canvas: Canvas, left: bool) -> Stack:
    shade = job.shade
    # A pendant's fitter ring is turned over for this, so that its hub is on top.
    sign = 1.0 if shade.fitter_end == "top" else -1.0
    place = Box(4.0, 12.0, canvas.width - 4.0, canvas.height - 5.0)
    upper, lower = shade.rim(shade.fitter_end), shade.rim(other_end(shade.fitter_end))
    # Round the lower ring of a taper a length is written, too.
    clear = CLEAR + (0.6 * OUT if shade.tapered else 0.0)
    scale = 0.1
    for _ in range(6):
        rise = (0.483 * (upper.depth + lower.depth) / 2 * scale + clear) / (0.866 * scale)
        rings = ((upper.offset(OUT * 1.4 / scale), rise), (lower.offset(OUT * 1.4 / scale), 0.0))
        points = [(*wide.point(wide.length * k / 90), h) for wide, h in rings for k in range(90)]
        frame = fit(bench(left), points, place)
        scale = frame.scale
    return Stack(shade, frame, sign, rise)
