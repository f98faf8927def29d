"""Dock: both rings come down on the start edge, each flush with its own edge of the PVC."""

from __future__ import annotations

import math

from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.insets import caption, inset, link
from generator.figures.labels import CLEAR, Label
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.model import Job, Picture
from generator.figures.pens import CLOTH_BACK, EM, HEAVY, INK, NEW, PVC, RING_TAPE, SOFT, THIN, WHITE
from generator.figures.plane import add, between, distance
from generator.figures.rings import ring_points
from generator.figures.rolling import (
    bench_view,
    facing,
    flat_extent,
    flat_panel,
    grip,
    joint_marks,
    mark,
    ring_extent,
    rings_and_curl,
    start_edge,
)
from generator.figures.state import State, state_before
from generator.figures.view import Box, Frame, fit
from generator.figures.wall import ring_motion
from generator.shape.development import ENDS
from generator.shape.shade import Shade

COLUMN = 27.0
RADIUS = 10.3
ARM = 9.6
"""Room for the hand beside the near ring, mm."""
START = 4.4
"""The start edge lies so far beside the middle of a detail, mm."""
PLACE = 2.6
BEYOND = 7.0
"""How much of the table is seen past the PVC where there is no margin, real mm."""
APART = 6.6
"""Marks nearer than this on paper share one arrow, mm."""
SMALL = ("scene B", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Scene on the left, the far mark (A) and the near mark (B) on the right."""
    shade, left = job.shade, job.size.makers.hand == "left"
    height = max(job.slot.height, 4 * RADIUS + (7.5 if shade.margin else 11.7))
    canvas = Canvas(job.slot.width, height)
    view, turn = bench_view(shade, left), facing(shade, 0.0)
    stop = 0.5 * shade.outline.width + 0.55 * min(shade.outline.width, 2 * shade.outline.depth)
    points = [*ring_extent(shade, 0.0, turn), *flat_extent(shade, 0.0, stop, turn)]
    x0, x1 = (COLUMN + 2, canvas.width - ARM) if left else (ARM, canvas.width - COLUMN - 2)
    frame = fit(view, points, Box(x0, 1.5, x1, height - 6.0))
    state = state_before(job)
    flat_panel(canvas, frame, shade, 0.0, stop, state, wave_at_stop=True, turn=turn)
    near, far = start_edge(frame, shade, 0.0, turn)
    with canvas.group("context", "start-edge"):
        canvas.line([near, far], HEAVY)
    hidden = rings_and_curl(canvas, frame, shade, job.size, 0.0, state, new_rings=True, turn=turn)
    second = joint_marks(canvas, frame, shade, 0.0, stop, state, hidden, turn)
    _hands(canvas, frame, shade, turn, left)
    apart = distance(near, far)
    place = min(PLACE, 0.44 * apart)
    for spot in (near, far):
        mark(canvas, spot, radius=min(0.85, 0.4 * place))
        if spot == far or apart > APART:
            tip = add(spot, (0.0, -place - 1.4))
            action(canvas, [add(tip, (0.0, -9.0)), tip])
    x = COLUMN / 2 if left else canvas.width - COLUMN / 2
    a, b = (x, RADIUS + 0.8), (x, height - RADIUS - (0.8 if shade.margin else 5.0))
    thick = job.size.tape.thickness if state.taped else 0.0
    top = _detail(canvas, shade, state, thick, a, far_end=True, left=left)
    low = _detail(canvas, shade, state, thick, b, far_end=False, left=left)
    out = 180.0 if not left else 0.0
    link(
        canvas,
        far,
        place,
        a,
        RADIUS,
        "A",
        at_place=out - 20 if not left else 20,
        at_detail=220 if not left else -40,
    )
    link(
        canvas,
        near,
        place,
        b,
        RADIUS,
        "B",
        at_place=-40 if not left else 220,
        at_detail=220 if not left else -40,
    )
    for centre in (a, b):
        canvas.blocked.append(circle(centre, RADIUS + 0.4))
    middle = (a[1] + b[1]) / 2
    caption(canvas, (x, middle + 0.33 * EM), job.words.say("label.from-above"))
    with canvas.group("label", "label-detail"):
        beyond = "label.margin" if shade.margin else "label.table"
        word = job.words.say(beyond)
        if _fits(word, a, top[0]):
            canvas.letters(_in_circle(word, a, top[0]), word, anchor="middle", halo=not shade.margin)
        pvc = job.words.say("label.pvc")
        canvas.letters(_in_circle(pvc, b, low[0]), pvc, anchor="middle")
        text = job.words.say("label.flush")
        # Out of the circle, since its lower part is no more than a strip of dotted table without a margin.
        drop = 3.4 if shade.margin else b[1] + RADIUS - low[1][1] + 0.6
        canvas.line([low[1], add(low[1], (0.0, drop))], THIN)
        canvas.circle(low[1], 0.55, INK)
        under = add(low[1], (0.0, drop + 0.3 + 0.74 * EM))
        canvas.letters(_in_circle(text, b, under) if shade.margin else under, text, anchor="middle")
    say = job.words.say
    labels = [
        Label(say("label.start-edge"), at=between(near, far, 0.5), wish=215 if not left else -35),
        Label(say("label.seam-mark"), at=top[1], wish=170 if not left else 10, rank=1),
    ]
    if not _fits(word, a, top[0]):
        labels.append(Label(word, at=top[0], wish=160 if not left else 20, rank=1))
    # On low rings an arrow stands there already.
    if second and distance(second[0], far) > PLACE + 12.0:
        labels.append(Label(say("label.joint-mark"), at=second[0], wish=90, rank=1))
    return Picture(canvas, labels)


def _room(centre: Point, base: Point) -> float:
    """Half of the width that a line of letters has in a circle, whose base line is at ``base``."""
    high = max(abs(base[1] - ASCENT * EM - centre[1]), abs(base[1] + DESCENT * EM - centre[1]))
    return math.sqrt(max(RADIUS**2 - high**2, 0.0)) - CLEAR


def _fits(text: str, centre: Point, base: Point) -> bool:
    """Whether a word stands on the ground beside the start edge, within the circle."""
    return text_width(text, EM) <= _room(centre, base) + START - CLEAR


def _in_circle(text: str, centre: Point, base: Point) -> Point:
    """Where the middle of a word stands: where it is wished, or so near that it stays within the circle."""
    most = _room(centre, base) - text_width(text, EM) / 2
    shift = base[0] - centre[0]
    return centre[0] + math.copysign(min(abs(shift), max(most, 0.0)), shift), base[1]


def _hands(canvas: Canvas, frame: Frame, shade: Shade, turn: float, left: bool) -> None:
    """One hand on each ring, as it comes down: the far one at its top, the near one at the side ahead."""
    embed = ring_motion(shade, 0.0, turn)
    for end in ENDS:
        towards, lean = (130.0, -6.0) if end == "top" else (195.0, 40.0)
        loop = frame.path(ring_points(shade, embed, shade.ring_centre(end)[2], end=end))
        if left:
            towards, lean = 180 - towards, -lean
        grip(canvas, loop, towards, lean=lean, part=f"hand-{end}")


def _detail(
    canvas: Canvas, shade: Shade, state: State, tape: float, centre: Point, *, far_end: bool, left: bool
) -> tuple[Point, Point]:
    """From above, true to scale: the ring inside the PVC's long edge, its mark on the start edge.

    Returns a place for a word on the wider ground, and one on the flush line.
    """
    cx, cy = centre
    out, side = (-1.0 if far_end else 1.0), (-1.0 if left else 1.0)
    wide = shade.wire + 2 * tape
    beyond = shade.margin or BEYOND
    scale = (2 * RADIUS - 3.0) / (beyond + wide + 8.0)
    edge = cy - out * (beyond - wide - 8.0) / 2 * scale
    start = cx - side * START

    def box(x0: float, x1: float, y0: float, y1: float) -> BaseGeometry:
        """From along (mm from the start edge, paper) and across (real mm outward of the PVC edge)."""
        return Polygon(
            [
                (start + side * x0, edge + out * y0 * scale),
                (start + side * x1, edge + out * y0 * scale),
                (start + side * x1, edge + out * y1 * scale),
                (start + side * x0, edge + out * y1 * scale),
            ]
        )

    with inset(canvas, centre, RADIUS) as region:
        with canvas.group("context", "table"):
            dots = []
            for i in range(-12, 13):
                for j in range(-12, 13):
                    spot = (cx + 1.5 * i + (0.75 if j % 2 else 0.0), cy + 1.5 * j)
                    past = not shade.margin and out * (spot[1] - edge) > 0.5
                    off = past or side * (spot[0] - start) < -0.5
                    if off and region.contains(circle(spot, 0.3)):
                        dots.append(spot)
            canvas.area(MultiPolygon([circle(spot, 0.2) for spot in dots]), SOFT)
        if shade.margin:
            with canvas.group("context", "margin-strip" if state.strips else "cloth-margin"):
                canvas.area(box(0, 40, 0, shade.margin), PVC if state.strips else CLOTH_BACK, THIN)
        with canvas.group("context", "panel"):
            canvas.area(box(0, 40, -60, 0), PVC, THIN)
        with canvas.group("new", "ring-from-above"):
            canvas.area(box(-40, 40, -wide, 0), RING_TAPE if state.taped else WHITE, NEW)
        with canvas.group("new", "seam-mark"):
            canvas.line(
                [(start, edge), (start, edge - out * wide * scale)],
                HEAVY,
            )
    word = cx + side * 3.2
    if far_end:
        middle = (start, edge - out * wide / 2 * scale)
        return (word, edge + out * beyond * 0.5 * scale + 0.33 * EM), middle
    return (word, edge - out * (wide + 4.0) * scale + 0.33 * EM), (word, edge)
