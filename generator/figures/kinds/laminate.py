"""Laminate: the liner is drawn out from under the panel, a hand's width at a time, and each part smoothed."""

from __future__ import annotations

from shapely.affinity import scale

from generator.figures.arrows import action, numbered, small_action
from generator.figures.bench_panel import (
    AROUND,
    Profile,
    across,
    bond_section,
    cloth_on_bench,
    flat,
    helped,
    lifted,
    panel_on_bench,
    raised,
    stretch,
    weight,
)
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import pressed_zone
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lay import Lay, lay, on_bench
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import LINER, NEW
from generator.figures.plane import add, direction
from generator.figures.state import state_before
from generator.figures.view import Box, Frame, Point3, bench, fit

RADIUS = 13.0
HAND = 20.0
"""Room for the hand that pulls, and its arrow, mm."""
VALUE = 18.5
"""Room that the value of a pull needs outside its arrows, mm."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """From the maker's left front. What is bonded lies flat; the liner turns back at the bond line."""
    left, flat_lay = job.size.makers.hand == "left", lay(job)
    side, tacked = -1.0 if left else 1.0, state_before(job).tacked
    canvas = Canvas(job.slot.width, job.slot.height + 18)
    high = job.shade.panel_height
    width = high + 2 * shown(job, "slack_edges")
    done = min(0.85 * width, 0.4 * flat_lay.panel)
    on = on_bench(job, done)
    bond, lift = on.start + done, 0.92 * done
    stop = min(done + 1.08 * lift, on.panel)
    profile = lifted(bond, lift)
    last = min(max(job.measures["peel"].values), 0.6 * done)
    bonded = on.between(0.0, done)
    # The liner that is drawn out lies folded back on itself: the bonded part over again, the other way round.
    flap = scale(bonded, -1.0, 1.0, origin=(bond, 0.0))
    tail = flap.bounds[2]
    near, far = across(on, bond)
    top = raised(profile, [on.at(stop, 1.0), on.at(stop, 0.0)])
    extent: list[Point3] = [(x, y, 0.0) for part in (bonded, flap) for x, y in part.exterior.coords]
    extent += [*top, *_cloth_ends(on, tail + 0.1 * width)]
    frame = _frame(
        job, extent, (bond - last, far[1], 0.0), AROUND + 1.0 if on.sheet else 2.6 if tacked else 0.0
    )
    cloth_on_bench(canvas, frame, on, 2 * done + (0.06 if on.sheet else 0.1) * width, tacked=tacked)
    with canvas.group("new", "liner"):
        canvas.area(flat(frame, flap), LINER, NEW)
    panel_on_bench(canvas, frame, on, profile, stop)
    fresh = stretch(on, bond - last, bond)
    with canvas.group("new", "smoothed"):
        pressed_zone(canvas, flat(frame, fresh), left)
    weight(canvas, frame, on.at(3.0, 0.32))
    # One hand smooths the part that has just been bared, the other has the liner's free end.
    run = far[1] - near[1]
    tip = frame((bond - 0.24 * width, near[1] + 0.45 * run, 0.0))
    hand(canvas, "flat", tip, 140 if left else 40, scale=0.75, flip=not left)
    x = bond - 0.13 * width
    foot, head = across(on, x)
    for y0, y1 in ((0.42, 0.06), (0.55, 0.94)):
        ends = [foot[1] + (head[1] - foot[1]) * y for y in (y0, y1)]
        small_action(canvas, [frame((x, y, 0.0)) for y in ends])
    numbered(canvas, frame((bond + 0.13 * width, near[1] + 0.62 * run, 0.0)), "2")
    grip = frame(_free_end(bond, on, 0.35))
    hand(canvas, "pinch", grip, -8 if left else 188, scale=0.75, flip=left, helper=helped(job))
    pull = direction(frame((0.0, 0.0, 0.0)), frame((1.0, 0.0, 0.0)))
    action(canvas, [add(grip, pull, 14.4), add(grip, pull, 21.5)])
    numbered(canvas, add(add(grip, pull, 16.5), (0.0, -5.0)), "1")
    values = job.measures["peel"].values
    words = "–".join(text(job, "peel", values.index(end)) for end in (min(values), max(values)))
    a, b = sorted(frame((*across(on, at)[1], 0.0)) for at in (bond - last, bond))
    dimension(
        canvas, a, b, words, measure="peel", value=max(values), offset=6.0, outside="end" if left else "start"
    )
    lowest = max(p[1] for p in frame.path(p for p in extent if p[2] == 0.0))
    labels = _section(canvas, job, frame((*near, 0.0)), lowest, side)
    labels += [
        Label(say(job, "panel"), at=frame(_seen(on, profile, stop)), wish=90 + side * 30),
        Label(say(job, "weight"), part="weight", wish=270 - side * 20, inside=False, rank=1),
    ]
    return Picture(canvas, labels)


def _cloth_ends(on: Lay, stop: float) -> list[Point3]:
    """The straight piece of cloth as far as it is shown; a curved panel's own border is narrow."""
    if on.sheet:
        return []
    return [(x, y, 0.0) for x in (on.left, min(stop, on.length)) for y in (0.0, on.width)]


def _free_end(bond: float, on: Lay, share: float) -> Point3:
    """A place just inside the liner's free end: the start end's, the other way round."""
    (ax, ay), (bx, by) = on.at(0.02 * (on.far - on.near), share), on.at(0.0, share)
    return 2 * bond - (ax + bx) / 2, (ay + by) / 2, 0.0


def _seen(on: Lay, profile: Profile, stop: float) -> Point3:
    return raised(profile, [on.at(0.9 * stop, 0.72)])[0]


def _frame(job: Job, extent: list[Point3], outer: Point3, around: float) -> Frame:
    """The scene beside the pulling hand, with room for the value that stands outside ``outer``.

    ``around`` mm of cloth are drawn beyond the extent.
    """
    left, margin = job.size.makers.hand == "left", 2.0 + around
    while True:
        place = Box(HAND if left else margin, 2.0, job.slot.width - (margin if left else HAND), 44.0 - around)
        frame = fit(bench(left), extent, place, anchor="top")
        at = frame(outer)[0]
        room = job.slot.width - at if left else at
        if room >= VALUE or margin > 14.0 + around:
            return frame
        margin += 2.0


def _section(canvas: Canvas, job: Job, at: Point, lowest: float, side: float) -> list[Label]:
    """A cut along the length at the bond line. It keeps the bench's own left and right."""
    across = canvas.width / 2 + side * (canvas.width / 2 - RADIUS - 3.0)
    centre = (across, max(lowest - 4.0, at[1] + 3.0) + RADIUS)
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
