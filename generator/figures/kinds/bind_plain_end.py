"""Bind the plain end: the narrow side on the cloth, its fold on the rim; the wide side over the wire."""

from __future__ import annotations

import math

from shapely import LineString, Polygon

from generator.figures.arrows import action, press
from generator.figures.binding import Bound, bound, raw_rim, strip
from generator.figures.braiding import free_end, middle, reached
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import braid
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.pens import CLOTH_BACK, CUFF, EM, HEAVY, INK, LINER, NEW, TOOL, Pen
from generator.figures.plane import arc, between, direction
from generator.figures.rim_section import rim_section
from generator.figures.section_draw import Cut
from generator.figures.turning import mark_shade
from generator.figures.upright import Upright, stand
from generator.figures.view import Box, bench

GLUE = Pen(0.7, INK, (0.1, 1.3))
LAID = 0.66
"""How far the binding has got on paper from the seam to the outline of the shade, as a share."""
NARROWEST = 1.8
"""Either side of the binding is drawn at least this wide, mm on paper."""
ROOM = 21.0
"""For the free end and the hand, mm."""
SECTIONS = 24.0
"""Height of the row of sections, mm."""
JAW = 1.1
"""Thickness of the clip's jaws, mm on paper."""
LEAN = 62.0
"""How far the wide side has been opened in the first section, degrees from upright."""
SMALL = ("2",)
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """Above, the shade with its plain end up and the binding half way; below, three sections of the rim."""
    canvas = Canvas(job.slot.width, job.slot.height + 22)
    floor = canvas.height - SECTIONS - 3.0
    labels = _scene(canvas, job, floor)
    _sections(canvas, job, floor + 3.0)
    return Picture(canvas, labels)


def _scene(canvas: Canvas, job: Job, floor: float) -> list[Label]:
    shade, left = job.shade, job.size.makers.hand == "left"
    sides = (ROOM, 4.0) if left else (4.0, ROOM)
    wide = shown(job, "binding_inside")
    over = shade.fitter_end == "top"
    place = Box(sides[0], 6.0, job.slot.width - sides[1], floor)
    view = stand(job.size, shade, bench(left), place, over=over)
    view.draw(canvas, role="context", trimmed=False)
    frame, wall = view.frame, view.wall
    # Heights run down from the plain rim where the shade stands on its head.
    rim, up = view.top, -1.0 if over else 1.0
    least = NARROWEST / (0.866 * frame.scale)
    low, high = rim - up * max(shown(job, "binding_fold"), least), rim + up * max(wide, 1.4 * least)
    seam = [frame(wall.point(wall.start, h)) for h in (0.0, shade.slant)]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    start, end, ahead = _way(view, left)
    stop = reached(view, start, end, LAID)
    a, b = min(start, stop), max(start, stop)
    pieces = [wall.patch(frame, a, b, low, rim), wall.patch(frame, a, b, rim, high)]
    tails = [free_end(view, stop, ahead, h) for h in (low, rim, high)]
    pieces += [Polygon([*tails[k], *reversed(tails[k + 1])]) for k in (0, 1)]
    for index, piece in enumerate(pieces):
        with canvas.group("new", "wide-side" if index % 2 else "narrow-side"):
            canvas.area(piece, CLOTH_BACK if index % 2 else LINER)
            if not index % 2:
                braid(canvas, piece)
            canvas.area(piece, None, NEW)
    end_line = middle(tails[0], tails[1])
    out = direction(end_line[-4], end_line[-1])
    turn = math.degrees(math.atan2(-out[1], out[0]))
    hand(canvas, "pinch", end_line[-1], turn + 180, scale=0.8, flip=not left, part="hand-laying")
    edge = wall.edge(frame, a, b, low)
    finger = LineString(edge).interpolate(0.5, normalized=True)
    hand(canvas, "flat", (finger.x, finger.y - 0.4), 98 if not left else 82, scale=0.7, flip=left)
    mark_shade(canvas, job, (0.6 if left else canvas.width - 18.6, 0.2), wide=18.0, high=10.6, mirror=left)
    return [
        Label(say(job, "plain-end"), at=_left_of(view, left), wish=180 if not left else 0, rank=1),
        Label(say(job, "wide-side"), at=between(tails[1][2], tails[2][2], 0.6), wish=70 if not left else 110),
        Label(say(job, "seam"), at=seam[1 if over else 0], wish=250, rank=1),
    ]


def _way(view: Upright, left: bool) -> tuple[float, float, float]:
    """From the seam to the silhouette on the hand's side: panel coordinates, and which way they run."""
    wall, frame = view.wall, view.frame
    runs = [(a, b) for front, a, b in wall.runs(frame) if front]
    first, last = min(runs), max(runs)
    choices = [(first[0], first[1], 1.0), (last[1], last[0], -1.0)]
    sign = -1.0 if left else 1.0
    return max(choices, key=lambda way: sign * frame(wall.point(way[1], 0.0))[0])


def _left_of(view: Upright, left: bool) -> Point:
    rim = view.rim(view.top_end)
    return max(rim, key=lambda p: p[0]) if left else min(rim, key=lambda p: p[0])


def _sections(canvas: Canvas, job: Job, top: float) -> None:
    """a: narrow side on the cloth. b: wide side over the wire. c: pegged inside. The same for both hands."""
    width, fold = shown(job, "braid_width"), shown(job, "binding_fold")
    scale = 2.0
    for _ in range(8):
        rim = rim_section(job.shade, job.size.tape, scale)
        binding = bound(rim, width, fold, scale)
        lean = binding.opened(LEAN)
        tall = max(lean[-1][1], 5.0) + max(fold, -min(z for _, z in binding.pressed())) + 2.0
        reach = max(-lean[-1][0], 2 * rim.taped + 2 * binding.thick) + 2.0
        scale = min(2.2, (SECTIONS - 1.5) / tall, 18.5 / reach)
    rise = max(lean[-1][1], 5.0)
    origin = top + 0.6 + rise * scale
    low = -(canvas.height - 0.6 - origin) / scale
    columns = (22.0, 45.5, 65.0)
    lines = (binding.opened(LEAN), binding.turning(), binding.pressed())
    for x, name, line in zip(columns, "abc", lines, strict=True):
        cut = Cut(rim, (x, origin), scale)
        raw_rim(canvas, cut, low=low)
        strip(canvas, cut, binding, line)
        with canvas.group("label", f"order-{name}"):
            canvas.letters((x - 20.5 if name == "a" else x - 13.5, top + 0.74 * EM + 0.4), name, weight=700)
        if name != "c":
            _glue(canvas, cut, binding, outside=name == "a")
    first, second, third = (Cut(rim, (x, origin), scale) for x in columns)
    outer = rim.panel + rim.cloth + binding.thick
    press(canvas, first.at(outer + 0.4, -fold / 2), (-1.0, 0.0))
    centre = second.at(*rim.centre())
    action(canvas, arc(centre, (rim.taped + binding.thick) * scale + 2.0, 58, 150), part="turn")
    named = _peg(canvas, third, -2 * rim.taped - binding.thick, outer, max(z for _, z in lines[2]))
    callout(canvas, named, (named[0] + 5.0, named[1] - 0.4), say(job, "peg"), side=1)
    dimension(
        canvas,
        third.at(outer, -fold),
        third.at(outer, 0.0),
        text(job, "binding_fold"),
        measure="binding_fold",
        value=shown(job, "binding_fold"),
        offset=-5.6 + min(wider(job, "binding_fold"), 3.0),
        level=True,
    )
    spot = first.at(*rim.centre())
    callout(canvas, spot, (spot[0] - 9.0, spot[1] + 6.5), say(job, "wire"), side=-1)


def _peg(canvas: Canvas, cut: Cut, inner: float, outer: float, top: float) -> Point:
    """A clip over the rim: its jaws hold the binding to the ring and to the cloth. Returns a place on it."""
    scale, foot, head = cut.scale, -cut.section.taped, top + 3.2
    gap = JAW / 2 / scale
    line = [(inner - gap, foot), (inner - gap, head), (outer + gap, head), (outer + gap, foot)]
    shape = LineString(cut.path(line)).buffer(JAW / 2, cap_style="round", join_style="round")
    with canvas.group("action", "tool-peg"):
        canvas.area(shape, CUFF, TOOL)
    return cut.at(outer + gap, head)


def _glue(canvas: Canvas, cut: Cut, binding: Bound, *, outside: bool) -> None:
    """Where the glue is: between cloth and narrow side, or on the wide side that comes down."""
    s = cut.section
    x = s.panel + s.cloth
    if outside:
        with canvas.group("new", "glue"):
            canvas.line(cut.path([(x, -binding.fold + 0.3), (x, -0.3)]), GLUE)
