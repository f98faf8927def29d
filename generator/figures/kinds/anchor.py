"""Anchor: the first strip of the panel is pressed on to the cloth, the liner folded back under the rest."""

from __future__ import annotations

from generator.figures.arrows import action, press
from generator.figures.bench_panel import (
    AROUND,
    Profile,
    across,
    bond_section,
    cloth_on_bench,
    edge,
    flat,
    helped,
    panel_on_bench,
    propped,
    stretch,
    weight,
)
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.hatch import pressed_zone
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lay import Lay, on_bench
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import LINER, THIN
from generator.figures.state import state_before
from generator.figures.view import Box, Frame, Point3, bench, fit

RADIUS, PLACE = 12.5, 2.5
SHOWN, TAIL, GAP = 0.62, 0.42, 0.06
"""What is shown of the panel after the first strip, of its outside end, and the gap between, in heights."""
FOLD = 2.0
"""Height of the folded liner's edge as drawn, mm on paper: two layers that can be told apart."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """From the maker's left front: both ends, the middle left out. The fist runs from the far edge near."""
    on, left = on_bench(job, 0.0), job.size.makers.hand == "left"
    side = -1.0 if left else 1.0
    canvas, tacked = Canvas(job.slot.width, job.slot.height + 18), state_before(job).tacked
    width, peel = on.far - on.near, shown(job, "first_peel")
    bond = on.start + peel
    stop, tail = peel + SHOWN * width, TAIL * width
    broken = stop + tail < on.panel - 0.1 * width
    stop = stop if broken else on.panel
    rest = on.without(stop, on.panel - tail, GAP * width) if broken else on
    ends = [part.at(x, y) for part, x in ((on, 0.0), (on, stop), (rest, on.panel)) for y in (0.0, 1.0)]
    ends += [on.at(stop * k / 8, y) for k in range(9) for y in (0.0, 1.0)]
    if on.sheet is None:
        ends += [(x, y) for x in (on.left, rest.left + rest.length) for y in (0.0, on.width)]
    extent: list[Point3] = [(x, y, 0.0) for x, y in ends]
    # A curved panel has its cloth round it, beyond these places.
    more, lowest = (AROUND + 1.0, 36.0) if on.sheet else (2.6 if tacked else 0.0, 44.0)
    sides = (2.0 + more, job.slot.width - 14.5) if left else (14.5, job.slot.width - 2.0 - more)
    frame = fit(bench(left), extent, Box(sides[0], 4.0 + more, sides[1], lowest), anchor="top")
    high = FOLD / 0.866 / frame.scale
    profile = propped(bond, 0.1 * width, peel, high)
    # The cloth is cut off a little before the panel, so that the two waves do not cross.
    short = 2.0 / frame.scale
    cloth_on_bench(canvas, frame, on, stop - short if broken else on.panel + on.length, tacked=tacked)
    _liner(canvas, frame, on, profile, (bond, stop, peel))
    panel_on_bench(canvas, frame, on, profile, stop)
    if broken:
        cloth_on_bench(canvas, frame, rest, rest.panel + rest.length, on.panel - tail + short, tacked=tacked)
        panel_on_bench(canvas, frame, rest, lambda s: (s, 0.0), on.panel, start=on.panel - tail)
    with canvas.group("new", "pressed"):
        pressed_zone(canvas, flat(frame, stretch(on, on.start - 1.0, bond)), left)
        canvas.line(frame.path((*p, 0.0) for p in across(on, bond)), THIN)
    near, far = across(on, bond - peel / 2)
    x, run = near[0], far[1] - near[1]
    fist = frame((x + 0.1 * peel, near[1] + 0.74 * run, 0.0))
    hand(canvas, "fist", fist, 172 if left else 8, scale=0.8, flip=left)
    action(canvas, [frame((x, near[1] + 0.58 * run, 0.0)), frame((x, near[1] + 0.05 * run, 0.0))])
    if helped(job):
        other = frame((*on.at(stop - 0.2 * width, 0.3), high / 2))
        hand(canvas, "flat", other, 75 if left else 105, scale=0.75, flip=not left, helper=True)
    a, b = sorted((frame((*on.at(0.0, 0.0), 0.0)), frame((*across(on, bond)[0], 0.0))))
    dimension(
        canvas,
        a,
        b,
        text(job, "first_peel"),
        measure="first_peel",
        value=peel,
        offset=-7.0,
        outside="end" if left else "start",
    )
    foot = rest.at(on.panel - min(0.75 * tail, 9.6 / frame.scale), 0.45)
    top = weight(canvas, frame, foot)
    place = frame((bond + 0.4 * min(peel, 0.2 * width), across(on, bond + 0.1 * peel)[0][1], high / 2))
    bottom = max(p[1] for p in frame.path(extent))
    labels = _section(canvas, job, place, bottom, side)
    middle = on.at((2 * peel + stop) / 2 - (0.12 * width if helped(job) else 0.0), 0.5)
    labels.append(Label(say(job, "panel"), at=frame((*middle, high / 2)), region=canvas.visible("panel")))
    labels.append(Label(say(job, "weight"), at=top, wish=90 - side * 20))
    start = frame((*on.at(0.0, 0.3), 0.0))
    labels.append(Label(say(job, "start-end"), at=start, wish=90 + side * 100, rank=1))
    return Picture(canvas, labels)


def _liner(
    canvas: Canvas, frame: Frame, on: Lay, profile: Profile, along: tuple[float, float, float]
) -> None:
    """The liner's edges under the propped panel: folded back from the bond line on, single further on."""
    bond, stop, peel = along
    near = edge(frame, on, profile, bond - on.start, stop, 0.0)
    low = edge(frame, on, lambda s: (s, 0.0), bond - on.start, stop, 0.0)
    width = on.far - on.near
    fold = [bond - on.start + 0.06 * width + (peel - 0.06 * width) * k / 12 for k in range(13)]
    with canvas.group("new", "liner"):
        canvas.area([*near, *reversed(low)], LINER, THIN)
        places = [on.at(x, 0.0) for x in fold]
        canvas.line([frame((x, y, profile(x)[1] / 2)) for x, y in places], THIN)


def _section(canvas: Canvas, job: Job, place: Point, bench_edge: float, side: float) -> list[Label]:
    """A cut along the length at the bond line. It keeps the bench's own left and right."""
    across = canvas.width / 2 + side * (canvas.width / 2 - RADIUS - 8.0)
    centre = (across, bench_edge + 2.0 + RADIUS)
    with inset(canvas, centre, RADIUS) as region:
        bond = (centre[0] - side * 5.6, centre[1] + 5.0)
        turn, _ = bond_section(canvas, region, bond, 16.0, side)
        press(canvas, (bond[0] - side * 1.8, bond[1] - 1.9), (0.0, 1.0))
    canvas.blocked.append(circle(centre, RADIUS))
    rims = (300, 140) if side > 0 else (240, 40)
    link(canvas, place, PLACE, centre, RADIUS, "A", at_place=rims[0], at_detail=rims[1])
    return [Label(say(job, "liner-folded"), at=turn, wish=270)]
