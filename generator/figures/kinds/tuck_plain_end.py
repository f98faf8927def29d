"""Tuck the plain end: three sections of the rim, the margin hanging, pushed up, and gone round the wire."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString

from generator.figures.arrows import action
from generator.figures.callouts import callout, word
from generator.figures.canvas import Canvas, Point
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.pens import BROKEN_OFF, EM
from generator.figures.plane import add, arc
from generator.figures.rim_section import rim_section
from generator.figures.section_draw import Cut, cloth, raw_edge, tilted, wall_and_wire
from generator.figures.tools import tool
from generator.figures.turning import mark_shade
from generator.shape.development import other_end

TOP, FOOT = 9.0, 6.4
"""Room above the rim for letter, arrow and label, and below for the sides' names, mm."""
INSIDE, OUTSIDE = 4.2, 14.4
"""Room for the arrow left of the first section, and for a side's name right of the last wall, mm."""
MARK, NARROW = 11.6, 3.4
"""Width of a turn mark before the sections, and of what is left beyond the last one: no room for names."""
WIDEST = 14.0
"""Largest width of a wire with its cloth on paper, so that three sections stand side by side, mm."""
LINE = 4.4
"""Height of one more line of words at the foot, mm."""
SMALL = ("scene:0.87",)
"""What of it stands in a small place."""


@dataclass(frozen=True)
class Row:
    """Three sections side by side."""

    cuts: tuple[Cut, Cut, Cut]
    low: float
    """Where the drawn part of a wall ends, mm of the work below the rim."""
    gap: float
    """Free width between two of them, mm on paper."""


def draw(job: Job) -> Picture:
    """a hangs, b is pushed up, c is hidden; sections, so the same for both hands."""
    say, slot = job.words.say, job.slot
    height = max(slot.height, 54.0)
    canvas = Canvas(slot.width, height, view="section")
    # The shade has been turned over before anything is tucked: the mark comes first.
    before = MARK if mark_shade(canvas, job, (0.6, 12.0), wide=MARK - 1.0, high=25.0) else 0.0
    row, tool_name = _row(job, before, height - FOOT), say("label.tucking-tool")
    # A name that has no room between two walls has a line of its own at the foot.
    below = text_width(tool_name, EM) + 2.0 > row.gap
    if below:
        row = _row(job, before, height - FOOT - LINE)
    cuts = row.cuts
    section, scale = cuts[0].section, cuts[0].scale
    canvas.scale = scale
    margins = (section.hanging(), section.pushed(), section.tucked())
    for cut, margin, name in zip(cuts, margins, "abc", strict=True):
        wall_and_wire(canvas, cut, low=row.low, gap=section.gap() if name == "c" else 0.0)
        cloth(canvas, cut, margin, low=row.low)
        with canvas.group("label", f"order-{name}"):
            start = cut.origin[0] - 2 * section.radius * scale - 4.0
            if name == "c":
                start = min(start, slot.width - text_width(say("label.raw-edge"), EM) - 4.4)
            canvas.letters((start, 0.74 * EM + 0.6), name, weight=700)
        if name == "a" or (name == "c" and not before):
            _sides(canvas, job, cut, row.low, height - (LINE if below else 0.0))
    _turn(canvas, cuts[0])
    handle = _push(canvas, cuts[1], margins[1])
    middle = cuts[0].at(*section.centre())
    if section.wire * scale > 9.0:
        word(canvas, middle, say("label.wire"), halo=True)
    else:
        callout(canvas, middle, (cuts[0].origin[0] + 5.0, middle[1] + 4.0), say("label.wire"))
    spot = cuts[0].at(section.panel / 2, -2 * section.taped - 3.6)
    inwards = -1.0 if 2 * section.taped * scale > 11.0 else 1.0
    callout(
        canvas,
        spot,
        (spot[0] + inwards * 2.6 + (2.0 if inwards > 0 else 0.0), spot[1] + 3.4),
        say("label.pvc"),
        side=inwards,
    )
    edge, _ = raw_edge(cuts[2], margins[2])
    callout(
        canvas,
        (edge[0], edge[1] + 0.7),
        (slot.width - 0.6, 0.74 * EM + 0.6),
        say("label.raw-edge"),
        side=-1,
    )
    if below:
        callout(canvas, handle, (handle[0], height - 1.2), tool_name, side=0)
        return Picture(canvas, [])
    for cut, margin in zip(cuts, margins, strict=True):
        canvas.blocked.append(LineString(cut.path(margin)).buffer(1.2))
        wall = LineString([cut.at(section.panel / 2, 0.0), cut.at(section.panel / 2, row.low)])
        canvas.blocked.append(wall.buffer(section.panel / 2 * scale, cap_style="flat"))
    return Picture(canvas, [Label(tool_name, at=handle, wish=240)])


def _row(job: Job, before: float, foot: float) -> Row:
    """The sections as large as they go above ``foot``, right of a turn mark that is ``before`` wide."""
    shade, tape = job.shade, job.size.tape
    room = foot - TOP
    scale = 3.0
    for _ in range(12):
        section = rim_section(shade, tape, scale)
        scale = min((room - 3.0) / (section.hang + 0.4), WIDEST / (2 * section.taped + section.cloth))
    section = rim_section(shade, tape, scale)
    first = before + INSIDE + (2 * section.taped + section.cloth) * scale
    # Where the outermost view has its sides' names below it, long words push it inwards.
    beside = section.panel * scale + text_width(job.words.say("label.outside"), EM) + 1.2
    last = job.slot.width - (NARROW if before else max(OUTSIDE, beside))
    tilt = tilted(shade, other_end(shade.fitter_end))
    # The foot of a leaning wall stands aside of its rim, and has the room that the rim has.
    aside = room * math.sin(tilt)
    first, last = first + max(aside, 0.0), last + min(aside, 0.0)
    one, two, three = (Cut(section, (x, TOP), scale, tilt) for x in (first, (first + last) / 2, last))
    gap = (last - first) / 2 - (section.panel + section.cloth) * scale
    return Row((one, two, three), -room / scale, gap - EM * abs(math.tan(tilt)))


def _sides(canvas: Canvas, job: Job, cut: Cut, low: float, height: float) -> None:
    """Which side of the wall is which."""
    x = cut.at(cut.section.panel, low)[0]
    base = height - 1.2
    with canvas.group("label", "sides"):
        canvas.line([(x, cut.at(0, low)[1] + 0.8), (x, base + 0.8)], BROKEN_OFF)
        canvas.letters((x - 1.0, base), job.words.say("label.inside"), anchor="end")
        canvas.letters((x + 1.0, base), job.words.say("label.outside"))


def _turn(canvas: Canvas, cut: Cut) -> None:
    """The margin has come over the rim."""
    s = cut.section
    middle = cut.at(*s.centre())
    action(canvas, arc(middle, (s.radius + s.cloth) * cut.scale + 1.9, 62, 172))


def _push(canvas: Canvas, cut: Cut, margin: list[Point]) -> Point:
    """The tool at the raw edge, the arrow along it, below the loop. Returns the handle's place."""
    tip, run = raw_edge(cut, margin)
    degrees = (84.0 if run[1] < -0.5 else 66.0) - math.degrees(cut.tilt)
    tool(canvas, "tucking-tool", (tip[0] - 0.2, tip[1] + 0.2), degrees, scale=0.85)
    back = math.radians(degrees)
    aft, side = (-math.cos(back), math.sin(back)), (-math.sin(back), -math.cos(back))
    hand(canvas, "hold", add(tip, aft, 11.0), degrees, scale=0.75, flip=True, part="hand-pushing")
    # Along the tool, on its inner side, below whatever hangs there.
    bottom = max(y for _, y in cut.path(margin)) + cut.section.cloth / 2 * cut.scale
    head = max(2.6, (bottom - tip[1] + 1.5) / math.sin(back))
    beside = add(tip, side, 8.0)
    action(canvas, [add(beside, aft, head + 8.0), add(beside, aft, head)])
    return add(tip, aft, 8.6)
