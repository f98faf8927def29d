"""Anchor: the first strip of the panel is pressed on to the cloth, the liner folded back under the rest."""

from __future__ import annotations

from generator.figures.arrows import action, press
from generator.figures.bench_panel import (
    bond_section,
    cloth_on_bench,
    edge,
    helped,
    panel_on_bench,
    propped,
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
from generator.figures.numbers import say, shown, text
from generator.figures.pens import LINER, RULE, THIN, Pen
from generator.figures.view import Box, Point3, bench, fit

RADIUS, PLACE = 12.5, 2.5
FOLD = 2.0
"""Height of the folded liner's edge as drawn, mm on paper: two layers that can be told apart."""


def draw(job: Job) -> Picture:
    """From the maker's left front, the start end alone: the fist runs from the far edge to the near one."""
    on, left = lay(job), job.size.makers.hand == "left"
    side = -1.0 if left else 1.0
    canvas = Canvas(job.slot.width, job.slot.height + 18)
    width, peel = on.width, shown(job, "first_peel")
    bond = on.start + peel
    stop = min(bond + 0.82 * width, on.end - 1.0)
    extent: list[Point3] = [(x, y, 0.0) for x in (0.0, stop + 0.1 * width) for y in (0.0, width)]
    frame = fit(bench(left), extent, Box(12.0, 4.0, job.slot.width - 12.0, 46.0), anchor="top")
    high = FOLD / 0.866 / frame.scale
    profile = propped(bond, 0.1 * width, peel, high)
    cloth_on_bench(canvas, frame, on, stop + 0.1 * width)
    low = [frame((x, on.near, 0.0)) for x in (stop, bond)]
    with canvas.group("new", "liner"):
        canvas.area([*edge(frame, profile, bond, stop, on.near), *low], LINER, THIN)
        fold = [profile(bond + (0.06 * width + (peel - 0.06 * width) * k / 12)) for k in range(13)]
        canvas.line([frame((px, on.near, pz / 2)) for px, pz in fold], THIN)
    panel_on_bench(canvas, frame, on, profile, stop)
    with canvas.group("new", "pressed"):
        hatch(canvas, strip(frame, on, on.start, bond), *BONDED_HATCH, Pen(0.25, RULE))
        canvas.line([frame((bond, on.near, 0.0)), frame((bond, on.far, 0.0))], THIN)
    x = (on.start + bond) / 2
    hand(canvas, "fist", frame((x + 0.1 * peel, 0.76 * width, 0.0)), 172 if left else 8, scale=0.8, flip=left)
    action(canvas, [frame((x, 0.6 * width, 0.0)), frame((x, 0.1 * width, 0.0))])
    if helped(job):
        other = frame((stop - 0.22 * width, 0.42 * width, high / 2))
        hand(canvas, "flat", other, -8 if left else 188, scale=0.75, flip=left, helper=True)
    a, b = sorted((frame((on.start, on.near, 0.0)), frame((bond, on.near, 0.0))))
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
    place = frame((bond + 0.4 * min(peel, 0.2 * width), on.near, high / 2))
    labels = _section(canvas, job, place, frame((stop, 0.0, 0.0))[1], side)
    middle = frame(((bond + peel + stop) / 2 - (0.12 * width if helped(job) else 0.0), 0.5 * width, high / 2))
    labels.append(Label(say(job, "panel"), at=middle, leader=False))
    labels.append(
        Label(say(job, "start-end"), at=frame((on.start, 0.34 * width, 0.0)), wish=90 + side * 100, rank=1)
    )
    return Picture(canvas, labels)


def _section(canvas: Canvas, job: Job, place: Point, bench_edge: float, side: float) -> list[Label]:
    """A cut along the length at the bond line. It keeps the bench's own left and right."""
    across = canvas.width / 2 + side * (canvas.width / 2 - RADIUS - 8.0)
    centre = (across, bench_edge + 2.0 + RADIUS)
    with inset(canvas, centre, RADIUS) as region:
        bond = (centre[0] - side * 5.6, centre[1] + 5.0)
        turn, cloth = bond_section(canvas, region, bond, 16.0, side)
        press(canvas, (bond[0] - side * 1.8, bond[1] - 1.9), (0.0, 1.0))
    canvas.blocked.append(circle(centre, RADIUS))
    rims = (300, 140) if side > 0 else (240, 40)
    link(canvas, place, PLACE, centre, RADIUS, "A", at_place=rims[0], at_detail=rims[1])
    away = 180.0 if side > 0 else 0.0
    return [
        Label(say(job, "liner-folded"), at=turn, wish=270),
        Label(say(job, "cloth"), at=cloth, wish=away),
    ]
