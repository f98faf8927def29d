"""Roll: four pictures on one fixed bench, with the rings where arc length puts them, and a scale of quarters."""

from __future__ import annotations

from generator.figures.arrows import small_action
from generator.figures.canvas import Canvas
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.pens import (
    CLOTH_BACK,
    HEAVY,
    NEW,
    PVC,
    PVC_INSIDE,
    SEA,
    SEAM_TAPE,
    THIN,
    Pen,
)
from generator.figures.plane import wave
from generator.figures.rings import ring
from generator.figures.view import Box, Frame, bench, fit
from generator.figures.wall import paint, print_on, ring_motion, rolled

QUARTERS = (0.0, 0.25, 0.5, 0.75)


def draw(job: Job) -> Picture:
    """Start, one quarter, two, three: two columns of two."""
    shade, left = job.shade, job.size.makers.hand == "left"
    gutter, row = 2.0, (job.slot.height + 16) / 2
    canvas = Canvas(job.slot.width, 2 * row)
    cell = (job.slot.width - gutter) / 2
    view = bench(left)
    whole = shade.wrapped_length
    reach = shade.outline.width * 1.05
    extent = []
    for share in QUARTERS:
        c = share * whole
        for x in (c - shade.outline.width * 0.62, c + reach):
            for y in (-shade.margin, shade.height + shade.margin):
                for z in (0.0, shade.outline.depth):
                    extent.append((x - c, y, z))
    for index, share in enumerate(QUARTERS):
        column, line = index % 2, index // 2
        x0, y0 = column * (cell + gutter), line * row
        place = Box(x0 + 0.5, y0 + 2.5, x0 + cell - 0.5, y0 + row - 6.5)
        frame = fit(view, extent, place, anchor="bottom")
        frame = Frame(view, frame.scale, frame.left - frame.scale * view.project((share * whole, 0, 0))[0],
                      frame.base + frame.scale * view.project((share * whole, 0, 0))[1])
        _state(canvas, frame, job, share)
    return Picture(canvas, [])


def _state(canvas: Canvas, frame: Frame, job: Job, share: float) -> None:
    shade, size = job.shade, job.size
    c = share * shade.wrapped_length
    stop = min(c + shade.outline.width * 1.02, shade.panel_length)
    wall = rolled(shade, c, stop)
    m, high = shade.margin, shade.height
    for low, top, fill in ((-m, 0.0, CLOTH_BACK), (high, high + m, CLOTH_BACK), (0.0, high, PVC)):
        paint(canvas, frame, wall, low, top, front=False, fill=fill, pen=THIN, part="panel")
    embed = ring_motion(shade, c)
    far_is_fitter = shade.fitter_end == "top"
    ring(canvas, frame, shade, embed, high, part="far-ring", fitter=far_is_fitter, inward=-1, taped=True, role="new")
    ring(canvas, frame, shade, embed, 0.0, part="near-ring", fitter=not far_is_fitter, inward=1, taped=True, role="new")
    if share:
        paint(canvas, frame, wall, -m, high + m, front=True, pen=None, part="rolled", role="new")
        print_on(canvas, frame, wall, size, -m, high + m)
        paint(canvas, frame, wall, -m, high + m, front=True, fill="none", pen=NEW, part="rolled", role="new")
