"""Prepare the seam: the tape on the PVC of the outside end, its liner on, clear of the edge and of both rims."""

from __future__ import annotations

from shapely import Polygon, box

from generator.figures.arrows import press
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.hatch import hatch
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.pens import BROKEN_OFF, CLOTH_BACK, CLOTH_FACE, NEW, PVC, SEAM_TAPE, THIN
from generator.figures.plane import wave


def draw(job: Job) -> Picture:
    """The outside end from above, true to scale, broken off; its upper corner enlarged."""
    shade, left = job.shade, job.size.makers.hand == "left"
    high, m = shade.height, shade.margin
    canvas = Canvas(job.slot.width, job.slot.height + 6, view="plan")
    scale = (canvas.height - 3) / (high + 2 * m)
    radius = min(15.0, canvas.height / 2 - 1)
    canvas.scale = scale
    top = 1.5
    y_top, y_low = top + m * scale, top + (m + high) * scale
    far, end = radius * 2 + 4.0, job.slot.width - 12.0
    if shade.hem:
        end -= shade.hem * scale
    flip = (lambda x: job.slot.width - x) if left else (lambda x: x)

    def strip(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
        return [(flip(x0), y0), (flip(x1), y0), (flip(x1), y1), (flip(x0), y1)]

    with canvas.group("context", "cloth-margin"):
        canvas.area(strip(far, top, end, y_low + m * scale), CLOTH_BACK, None)
        canvas.line(
            [
                (flip(far), top),
                (flip(end), top),
                (flip(end), y_low + m * scale),
                (flip(far), y_low + m * scale),
            ],
            THIN,
        )
    with canvas.group("context", "panel"):
        canvas.area(strip(far, y_top, end, y_low), PVC)
        canvas.line([(flip(far), y_top), (flip(end), y_top), (flip(end), y_low), (flip(far), y_low)], THIN)
        canvas.line(wave((flip(far), top), (flip(far), y_low + m * scale), 0.9, 2), BROKEN_OFF)
    if shade.hem:
        with canvas.group("context", "hem"):
            canvas.area(strip(end - shade.hem * scale, y_top, end, y_low), CLOTH_FACE, THIN)
    inset_x, rim = shown(job, "tape_inset"), shown(job, "rim_inset")
    tape_w = job.size.tape.width
    x1 = end - max(inset_x * scale, 0.7)
    x0 = x1 - tape_w * scale
    y0, y1 = y_top + max(rim * scale, 0.7), y_low - max(rim * scale, 0.7)
    with canvas.group("new", "seam-tape"):
        canvas.area(strip(x0, y0, x1, y1), SEAM_TAPE, NEW)
    dimension(
        canvas,
        (flip(end), y1),
        (flip(end), y0),
        text(job, "seam_tape"),
        measure="seam_tape",
        value=shown(job, "seam_tape"),
        offset=-7.0 if not left else 7.0,
    )
    press(canvas, (flip((x0 + x1) / 2), y_low - (y_low - y_top) * 0.33), (0.0, 1.0))
    centre = (flip(radius + 0.8), canvas.height / 2)
    _corner(canvas, job, centre, radius, left)
    spot = (flip(end - tape_w * scale * 0.4), y_top + 0.6)
    link(
        canvas,
        spot,
        2.6,
        centre,
        radius,
        "A",
        at_place=160 if not left else 20,
        at_detail=125 if not left else 55,
    )
    labels = [
        Label(say(job, "seam-tape"), part="seam-tape", inside=False, wish=180 if not left else 0),
        Label(say(job, "pvc"), at=(flip(far + 8), y_top + (y_low - y_top) * 0.3), leader=False, rank=1),
        Label(say(job, "cloth-margin"), at=(flip(far + 9), y_low + m * scale / 2), wish=70, rank=1),
    ]
    return Picture(canvas, labels)


def _corner(canvas: Canvas, job: Job, centre: Point, radius: float, left: bool) -> None:
    """The tape's upper outer corner, true in proportion: distances to the outside edge and to the rim."""
    scale = radius / 6.2
    inset_x, rim = shown(job, "tape_inset") * scale, shown(job, "rim_inset") * scale
    sign = -1.0 if left else 1.0
    edge = centre[0] + sign * radius * 0.42
    rim_y = centre[1] - radius * 0.30
    with inset(canvas, centre, radius) as region:
        with canvas.group("context", "detail-margin"):
            canvas.area(
                _block(centre[0] - sign * radius * 1.1, centre[1] - radius * 1.1, edge, rim_y),
                CLOTH_BACK,
                THIN,
            )
        with canvas.group("context", "detail-table"):
            table = _block(
                edge, centre[1] - radius * 1.1, centre[0] + sign * radius * 1.1, centre[1] + radius * 1.1
            )
            hatch(canvas, table.intersection(region), 25, 2.6)
        with canvas.group("context", "detail-panel"):
            canvas.area(
                _block(centre[0] - sign * radius * 1.1, rim_y, edge, centre[1] + radius * 1.1), PVC, THIN
            )
        with canvas.group("new", "detail-seam-tape"):
            canvas.area(
                _block(
                    edge - sign * inset_x,
                    rim_y + rim,
                    edge - sign * (inset_x + job.size.tape.width * scale),
                    centre[1] + radius * 1.1,
                ),
                SEAM_TAPE,
                NEW,
            )
    x = edge - sign * (inset_x + 3.2)
    dimension(
        canvas,
        (x, rim_y),
        (x, rim_y + rim),
        text(job, "rim_inset"),
        measure="rim_inset",
        value=shown(job, "rim_inset"),
        offset=0.0,
        outside="start",
    )
    y = rim_y + rim + 5.0
    near, far = (edge - sign * inset_x, y), (edge, y)
    if left:
        near, far = far, near
    dimension(
        canvas,
        near,
        far,
        text(job, "tape_inset"),
        measure="tape_inset",
        value=shown(job, "tape_inset"),
        offset=0.0,
        outside="end" if not left else "start",
    )


def _block(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return box(min(x0, x1), y0, max(x0, x1), y1)
