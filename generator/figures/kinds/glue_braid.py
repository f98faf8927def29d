"""Glue the braid: laid along the rim on a thin line of glue, its end held low, the join at the seam."""

from __future__ import annotations

from shapely import LineString

from generator.figures.arrows import action, press
from generator.figures.canvas import Canvas
from generator.figures.hands import hand
from generator.figures.hatch import hatch
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say
from generator.figures.pens import HEAVY, HIDDEN, LINER, NEW, PVC_INSIDE, THIN
from generator.figures.plane import add
from generator.figures.rings import ring
from generator.figures.view import Box, bench, fit
from generator.figures.wall import paint, print_on, standing


def draw(job: Job) -> Picture:
    """The finished shade on its lower rim; the braid runs from the seam to the hand."""
    shade, size = job.shade, job.size
    left = size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 10)
    wall = standing(shade)
    high = shade.height
    ends = [wall.point(x, h) for x in wall.stations for h in (0.0, high)]
    frame = fit(bench(left), ends, Box(15, 5, job.slot.width - 17, canvas.height - 3))
    width = size.braid.width if size.braid else 10.0
    width = max(width, 2.2 / frame.scale)

    def embed(p: tuple[float, float], h: float) -> tuple[float, float, float]:
        return (-p[0], p[1], h)

    top_is_fitter = shade.fitter_end == "top"
    paint(canvas, frame, wall, 0, high, front=False, fill=PVC_INSIDE, pen=THIN, part="inside")
    ring(canvas, frame, shade, embed, high, part="upper-ring", fitter=top_is_fitter, inward=-1)
    paint(canvas, frame, wall, 0, high, front=True, part="shade")
    print_on(canvas, frame, wall, size, 0, high - width)
    paint(canvas, frame, wall, 0, high, front=True, fill="none", pen=THIN, part="shade")
    seam = [frame(wall.point(0.0, 0.0)), frame(wall.point(0.0, high))]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    front = [(a, b) for is_front, a, b in wall.runs(frame) if is_front]
    first = next(((a, b) for a, b in front if a <= 0.0), front[0])
    stop = first[0] + (first[1] - first[0]) * 0.86
    with canvas.group("new", "braid"):
        laid = wall.patch(frame, 0.0, stop, high - width, high)
        canvas.area(laid, LINER, NEW)
        hatch(canvas, laid, 60, 1.2)
    with canvas.group("context", "glue"):
        for a, b in front:
            for x0, x1 in ((max(a, stop), b),) if a <= stop else ((a, b),):
                if x1 - x0 > 1:
                    canvas.line(wall.edge(frame, x0, x1, high - width / 2), HIDDEN)
    end = frame(wall.point(stop, high - width / 2))
    before = frame(wall.point(stop * 0.97, high - width / 2))
    out = (-1.0, -0.12) if end[0] < before[0] else (1.0, -0.12)
    tail = [end, add(end, out, 5.0), add(end, (out[0], 0.05), 9.0)]
    with canvas.group("new", "braid"):
        strip = LineString(tail).buffer(width * frame.scale / 2, cap_style="flat")
        canvas.area(strip, LINER, NEW)
        hatch(canvas, strip, 60, 1.2)
    hand(canvas, "pinch", tail[-1], 0 if out[0] < 0 else 180, scale=0.75, flip=out[0] > 0)
    share = 0.35
    on_top = frame(wall.point(stop * share, high))
    press(canvas, add(on_top, (0.0, 1.2)), (0.0, 1.0))
    path = [add(p, (0.0, width * frame.scale + 2.6)) for p in wall.edge(frame, stop * 0.42, stop * 0.92, high)]
    action(canvas, path, part="lay")
    labels = [
        Label(say(job, "braid"), part="braid", inside=False, wish=80),
        Label(say(job, "seam"), at=((seam[0][0] + seam[1][0]) / 2, seam[0][1] * 0.75 + seam[1][1] * 0.25), wish=0),
        Label(say(job, "glue"), at=frame(wall.point(min(b for _, b in front[:1]) * 0.999, high - width / 2)), wish=200,
              rank=1),
    ]
    return Picture(canvas, labels)
