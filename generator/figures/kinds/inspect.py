"""Inspect: the finished shade as it will be used, with the five checks numbered."""

from __future__ import annotations

from generator.figures.arrows import numbered
from generator.figures.canvas import Canvas
from generator.figures.dimensions import dimension
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import HEAVY, INK, NEW, PVC_INSIDE, THIN
from generator.figures.plane import add, between
from generator.figures.rings import ring
from generator.figures.view import Box, bench, fit
from generator.figures.wall import paint, print_on, standing


def draw(job: Job) -> Picture:
    """The shade stands on its lower rim; height hangs on the silhouette, width below."""
    shade, size = job.shade, job.size
    canvas = Canvas(job.slot.width, job.slot.height + 8)
    view = bench(size.makers.hand == "left")
    wall = standing(shade)
    ends = [wall.point(x, h) for x in wall.stations for h in (0.0, shade.height)]
    frame = fit(view, ends, Box(20, 5, job.slot.width - 17, canvas.height - 9))
    high = shade.height
    top_is_fitter = shade.fitter_end == "top"

    def embed(p: tuple[float, float], h: float) -> tuple[float, float, float]:
        return (-p[0], p[1], h)

    paint(canvas, frame, wall, 0, high, front=False, fill=PVC_INSIDE, pen=THIN, part="inside")
    ring(canvas, frame, shade, embed, 0.0, part="lower-ring", fitter=not top_is_fitter, inward=1)
    ring(canvas, frame, shade, embed, high, part="upper-ring", fitter=top_is_fitter, inward=-1)
    paint(canvas, frame, wall, 0, high, front=True, part="shade", role="new")
    print_on(canvas, frame, wall, size, 0, high)
    paint(canvas, frame, wall, 0, high, front=True, fill="none", pen=NEW, part="shade", role="new")
    seam = [frame(wall.point(0.0, 0.0)), frame(wall.point(0.0, high))]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    low = wall.edge(frame, 0, wall.stop, 0.0)
    up = wall.edge(frame, 0, wall.stop, high)
    k = max(range(len(low)), key=lambda i: low[i][0])
    m = job.measures
    dimension(
        canvas, low[k], up[k], f"{job.words.number(m.shown('finished_height'))} ± "
        f"{job.words.number(m.shown('height_tolerance'))}",
        measure="finished_height", value=m.shown("finished_height"), offset=-6.0,
    )
    leftmost = min(range(len(low)), key=lambda i: low[i][0])
    dimension(
        canvas, low[leftmost], low[k], f"{job.words.number(m.shown('ring_length'))}", measure="ring_length",
        value=m.shown("ring_length"), offset=-9.0,
    )
    numbered(canvas, add(between(*seam, 0.5), (0, 0)), "3", fill=INK)
    labels = [
        Label(job.words.say("label.seam"), at=between(*seam, 0.3), wish=200),
        Label(job.words.say("label.rim"), at=up[len(up) // 3], wish=90),
        Label(job.words.say("label.fitter-ring"), part="upper-ring", wish=120),
    ]
    return Picture(canvas, labels)
