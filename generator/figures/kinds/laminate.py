"""Laminate: the liner is drawn out from under the panel, a hand's width at a time, and each part smoothed."""

from __future__ import annotations

from generator.figures.arrows import action, numbered, small_action
from generator.figures.bench_panel import (
    block,
    bond_section,
    cloth_on_bench,
    helped,
    lifted,
    panel_on_bench,
    strip,
)
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import BONDED_HATCH, hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lay import lay
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import LINER, NEW, RULE, Pen
from generator.figures.plane import add, direction
from generator.figures.view import Box, Frame, Point3, bench, fit

RADIUS = 13.0
HAND = 20.0
"""Room for the hand that pulls, and its arrow, mm."""
VALUE = 18.5
"""Room that the value of a pull needs outside its arrows, mm."""


def draw(job: Job) -> Picture:
    """From the maker's left front. What is bonded lies flat; the liner turns back at the bond line."""
    on, left = lay(job), job.size.makers.hand == "left"
    side = -1.0 if left else 1.0
    canvas = Canvas(job.slot.width, job.slot.height + 18)
    width = on.width
    done = min(0.85 * width, 0.4 * (on.end - on.start))
    bond = on.start + done
    tail = bond + done
    lift = 0.92 * done
    stop = min(bond + 1.08 * lift, on.end)
    profile = lifted(bond, lift)
    bench_end = tail + 0.1 * width
    top = profile(stop)
    extent: list[Point3] = [(x, y, 0.0) for x in (0.0, bench_end) for y in (0.0, width)]
    extent.append((top[0], on.far, top[1]))
    last = min(max(job.measures["peel"].values), 0.6 * done)
    frame = _frame(job, extent, (bond - last, width, 0.0), left)
    cloth_on_bench(canvas, frame, on, bench_end)
    flap = [(bond, on.near), (tail, on.near), (tail, on.far), (bond, on.far)]
    with canvas.group("new", "liner"):
        canvas.area([frame((x, y, 0.0)) for x, y in flap], LINER, NEW)
    panel_on_bench(canvas, frame, on, profile, stop)
    with canvas.group("new", "smoothed"):
        hatch(canvas, strip(frame, on, bond - last, bond), *BONDED_HATCH, Pen(0.25, RULE))
    foot = (on.start + 8.0, 0.58 * width)
    size = (min(55.0, 0.2 * width), min(100.0, 0.33 * width), min(35.0, 0.12 * width))
    block(canvas, frame, foot, (foot[0] + size[0], foot[1] + size[1]), size[2])
    # One hand smooths the part that has just been bared, the other has the liner's free end.
    tip = frame((bond - 0.22 * width, 0.47 * width, 0.0))
    hand(canvas, "flat", tip, 140 if left else 40, scale=0.75, flip=not left)
    for y0, y1 in ((0.43, 0.09), (0.55, 0.95)):
        x = bond - 0.13 * width
        small_action(canvas, [frame((x, y0 * width, 0.0)), frame((x, y1 * width, 0.0))])
    numbered(canvas, frame((bond + 0.13 * width, 0.62 * width, 0.0)), "2")
    grip = frame((tail - 0.02 * width, 0.35 * width, 0.0))
    hand(canvas, "pinch", grip, -8 if left else 188, scale=0.75, flip=left, helper=helped(job))
    pull = direction(frame((0.0, 0.0, 0.0)), frame((1.0, 0.0, 0.0)))
    action(canvas, [add(grip, pull, 14.4), add(grip, pull, 21.5)])
    numbered(canvas, add(add(grip, pull, 16.5), (0.0, -5.0)), "1")
    shown = job.measures["peel"].values
    words = "–".join(job.words.number(v) for v in (min(shown), max(shown)))
    a, b = sorted((frame((bond - last, width, 0.0)), frame((bond, width, 0.0))))
    dimension(
        canvas, a, b, words, measure="peel", value=max(shown), offset=6.0, outside="end" if left else "start"
    )
    labels = _section(canvas, job, frame, (bond, on.near), bench_end, side)
    labels += [
        Label(
            say(job, "panel"),
            at=frame((top[0] - 0.1 * width, on.far - 0.3 * width, top[1] - 0.12 * width)),
            wish=90 + side * 30,
        ),
        Label(say(job, "weight"), part="weight", wish=270 - side * 20, inside=False, rank=1),
    ]
    return Picture(canvas, labels)


def _frame(job: Job, extent: list[Point3], outer: Point3, left: bool) -> Frame:
    """The scene beside the pulling hand, with room for the value that stands outside ``outer``."""
    margin = 2.0
    while True:
        place = Box(HAND if left else margin, 2.0, job.slot.width - (margin if left else HAND), 44.0)
        frame = fit(bench(left), extent, place, anchor="top")
        at = frame(outer)[0]
        room = job.slot.width - at if left else at
        if room >= VALUE or margin > 14.0:
            return frame
        margin += 2.0


def _section(canvas: Canvas, job: Job, frame: Frame, place: Point, end: float, side: float) -> list[Label]:
    """A cut along the length at the bond line. It keeps the bench's own left and right."""
    at = frame((*place, 0.0))
    across = canvas.width / 2 + side * (canvas.width / 2 - RADIUS - 3.0)
    centre = (across, max(frame((end, 0.0, 0.0))[1] + 1.5, at[1] - 2.0) + RADIUS)
    with inset(canvas, centre, RADIUS) as region:
        bond = (centre[0] - side * 5.5, centre[1] + 6.0)
        turn, cloth = bond_section(canvas, region, bond, 17.0, side)
        tail = add(turn, (side * 3.6, -3.1))
        small_action(canvas, [tail, add(tail, (side * 5.2, 0.0))])
    canvas.blocked.append(circle(centre, RADIUS))
    link(
        canvas,
        at,
        2.4,
        centre,
        RADIUS,
        "A",
        at_place=250 if side > 0 else 290,
        at_detail=60 if side > 0 else 120,
    )
    away = 180.0 if side > 0 else 0.0
    return [
        Label(say(job, "liner-turns"), at=turn, wish=away),
        Label(say(job, "cloth"), at=cloth, wish=away),
    ]
