"""Prove the rings: a paper strip once round the outside, marked at its own end, then measured flat."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.figures.arrows import action, numbered
from generator.figures.callouts import word
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, CLOTH_BACK, HEAVY, LINER, NEW, PVC_INSIDE, THIN
from generator.figures.plane import add, wave
from generator.figures.rings import ring
from generator.figures.tools import tool
from generator.figures.view import Box, Frame, Point3, bench, fit
from generator.figures.wall import Wall, paint
from generator.shape.development import ENDS
from generator.shape.shade import Shade

STRIP = 4.2
"""Breadth of the strip on paper, mm."""
FLAT = 20.0
"""Paper mm at the foot of the figure for the strip laid flat."""
TWO = 31.5
"""The same for the strips of two different rings."""


def draw(job: Job) -> Picture:
    """The strip on edge round the ring, its last end outside; below, the strip from its mark to that end."""
    shade, width = job.shade, job.slot.width
    left = job.size.makers.hand == "left"
    rests = _strips(job)
    foot = FLAT if len(rests) == 1 else TWO
    canvas = Canvas(width, job.slot.height + 18 + (foot - FLAT) / 2)
    outline = shade.outline
    loop = [(x, y, 0.0) for x, y in (outline.point(outline.length * k / 90) for k in range(90))]
    frame = fit(
        bench(left), loop, Box(10.0, 5.0 + STRIP, width - 10.0, canvas.height - foot - 6.0), anchor="bottom"
    )
    high = STRIP / (0.866 * frame.scale)
    strip = _strip(shade, frame)
    for front in (False, True):
        if front:
            # The wire shows just above the paper: it is the ring that is measured.
            # Of a taper the wide ring is drawn, which may be the plain one.
            fitter, end = not shade.tapered or shade.fitter_end == shade.wide_end, shade.wide_end
            ring(canvas, frame, shade, _embed, high * 1.1, part="ring", fitter=fitter, inward=1.0, end=end)
        tone, line = (LINER, NEW) if front else (PVC_INSIDE, THIN)
        paint(
            canvas, frame, strip, 0.0, high, front=front, fill=tone, pen=line, part="paper-strip", role="new"
        )
    last = replace(strip, start=0.8 * strip.stop)
    for wall, fill, pen in ((last, CLOTH_BACK, None), (strip, "none", NEW)):
        paint(canvas, frame, wall, 0.0, high, front=True, fill=fill, pen=pen, part="paper-strip", role="new")
    _wrap(canvas, job, frame, strip, left)
    for k, rest in enumerate(rests):
        _flat(canvas, job, canvas.height - foot + 5.0 + k * (foot - FLAT), rest, left)
    numbered(canvas, (3.2 if not left else width - 3.2, canvas.height - foot + 5.0 + STRIP / 2), "2")
    last_end = frame(strip.point(strip.stop, high))
    back = frame(_embed(outline.point(outline.length * 0.4), high * 1.1))
    labels = [
        Label(say(job, "mark-here"), at=add(last_end, (0.0, STRIP)), wish=290.0 if not left else 250.0),
        Label(say(job, "ring"), at=back, wish=60.0 if not left else 120.0),
        Label(
            say(job, "paper-strip"),
            at=frame(strip.point(strip.stop * 0.11, high / 2)),
            wish=340.0 if not left else 200.0,
        ),
    ]
    top = min(frame(_embed(point[:2], high))[1] for point in loop)
    numbered(canvas, (3.2 if not left else width - 3.2, top + 1.0), "1")
    return Picture(canvas, labels)


def _wrap(canvas: Canvas, job: Job, frame: Frame, strip: Wall, left: bool) -> None:
    """The last end comes round and is held; the pencil marks where it ends on the paper beneath."""
    out, length = (-1.0 if left else 1.0), job.shade.outline.length
    high = STRIP / (0.866 * frame.scale)
    end = frame(strip.point(strip.stop, 0.0)), frame(strip.point(strip.stop, high))
    with canvas.group("new", "mark"):
        canvas.line([add(point, (0.5 * out, 0.0)) for point in end], HEAVY)
    path = job.shade.outline.offset(6.2 / frame.scale)
    action(
        canvas,
        [frame(_embed(path.point(path.length * (0.66 + 0.22 * k / 30)), high * 0.5)) for k in range(31)],
    )
    hold = frame(strip.point(length - 8.0 / frame.scale, high * 0.55))
    hand(canvas, "pinch", hold, 180 - 38 if left else 38, scale=0.75, flip=left, part="hand-holding")
    tip = add(end[1], (0.6 * out, STRIP * 0.5))
    angle = 232.0
    tool(canvas, "pencil", tip, 180 - angle if left else angle, scale=0.9)
    hand(canvas, "pinch", add(tip, (6.0 * out, -7.6)), 180 - 196 if left else 196, scale=0.7, flip=left)


@dataclass(frozen=True)
class _Strip:
    """A strip laid flat: its measure, the ring's name where there are two, its length of the longer one's."""

    measure: str
    noun: str | None
    share: float


def _strips(job: Job) -> list[_Strip]:
    """One strip where the rings are alike; of a taper one for each ring, the upper ring's first."""
    shade = job.shade
    if not shade.tapered:
        return [_Strip("perimeter", None, 1.0)]
    longest = shade.rim(shade.wide_end).length
    return [
        _Strip(
            f"{end}_perimeter",
            "fitter-ring" if end == shade.fitter_end else "plain-ring",
            shade.rim(end).length / longest,
        )
        for end in reversed(ENDS)
    ]


def _flat(canvas: Canvas, job: Job, y: float, strip: _Strip, left: bool) -> None:
    """A strip laid flat, broken in its middle, measured from the mark to its last end."""
    x0, mark = 8.0, 14.0
    # However small a ring is, its name finds room on its strip.
    x1 = mark + (canvas.width - 3.0 - mark) * max(strip.share, 0.42)

    def at(x: float, down: float) -> Point:
        return (canvas.width - x if left else x), y + down

    middle = (x0 + x1) / 2 if strip.noun is None else mark + max(3.2, 0.2 * (x1 - mark))
    with canvas.group("new", "flat-strip"):
        # The last end keeps the tone that it has round the ring.
        for start, stop, fill in ((x0, middle - 1.2, LINER), (middle + 1.2, x1, CLOTH_BACK)):
            inside = stop if start == x0 else start
            rim = wave(at(inside, 0.0), at(inside, STRIP), 0.6, 1.0)
            outer = start if start == x0 else stop
            canvas.area([*rim, at(outer, STRIP), at(outer, 0.0)], fill)
            canvas.line([at(inside, 0.0), at(outer, 0.0), at(outer, STRIP), at(inside, STRIP)], NEW)
            canvas.line(rim, BROKEN_OFF)
    if strip.noun is not None:
        word(canvas, at((middle + x1) / 2, STRIP / 2), say(job, strip.noun))
    with canvas.group("new", "mark"):
        canvas.line([at(mark, 0.0), at(mark, STRIP)], HEAVY)
    ends = sorted((at(mark, STRIP), at(x1, STRIP)))
    dimension(
        canvas,
        ends[0],
        ends[1],
        text(job, strip.measure),
        measure=strip.measure,
        value=shown(job, strip.measure),
        offset=6.5 if strip.noun is None else 5.6,
        across=(0.0, 1.0),
    )


def _embed(p: Point, h: float) -> Point3:
    return p[0], p[1], h


def _strip(shade: Shade, frame: Frame) -> Wall:
    """Once round; towards its last end the strip stands off, for there it lies over its own beginning."""
    length = shade.outline.length
    inner, outer = (shade.outline.offset(gap / frame.scale) for gap in (0.5, 1.7))

    def place(x: float, h: float) -> Point3:
        share = min(max((x / length - 0.8) / 0.12, 0.0), 1.0)
        a, b = (line.point((x / length % 1.0) * line.length) for line in (inner, outer))
        return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, h

    # The ring is seen from above, its stations counter-clockwise.
    return Wall(0.0, length, place, STRIP, inverted=True)
