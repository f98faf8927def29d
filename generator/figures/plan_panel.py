"""Cloth and panel from above, true to scale, with their dimensions.

Work coordinates: x from the cloth's start end, y from its near edge, in mm as the sheet shows them: parts
add up.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from shapely import MultiPoint, Polygon, box
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import open_arrow
from generator.figures.canvas import Canvas, Point, Role
from generator.figures.cloth import print_flat
from generator.figures.dimensions import dimension
from generator.figures.lay import Lay, corners, spread
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.numbers import shown, text
from generator.figures.pens import (
    BROKEN_OFF,
    CLOTH_BACK,
    EM,
    KISS_CUT,
    LINER,
    NEW,
    PVC,
    PVC_INSIDE,
    RULE,
    THIN,
    Pen,
)
from generator.figures.plan_board import Board
from generator.shape.development import ENDS

CORNER_TAPE = (8.5, 2.6)
"""A strip of low-tack tape on paper, mm."""


def cloth_back(
    canvas: Canvas, view: Board, on: Lay, *, role: Role = "context", pen: Pen = THIN, part: str = "cloth"
) -> None:
    """The cut cloth, wrong side up."""
    with canvas.group(role, part):
        view.area(canvas, corners(0.0, 0.0, on.length, on.width), CLOTH_BACK, pen)


def corner_tape(canvas: Canvas, bounds: tuple[float, float, float, float], role: Role) -> None:
    """Low-tack tape across each corner of the cloth; ``bounds`` are its edges on paper.

    Only the tip of the corner is held: the panel comes close to the edges.
    """
    x0, y0, x1, y1 = bounds
    long, wide = CORNER_TAPE
    for (x, y), angle in (((x0, y0), -45), ((x1, y0), 45), ((x0, y1), 45), ((x1, y1), -45)):
        strip = rotate(box(x - long / 2, y - wide / 2, x + long / 2, y + wide / 2), angle, origin=(x, y))
        with canvas.group(role, "low-tack-tape"):
            canvas.area(strip, LINER, NEW if role == "new" else THIN)


def panel_back(canvas: Canvas, view: Board, on: Lay, *, role: Role = "new", pen: Pen = NEW) -> None:
    """The panel on the cloth with its kiss cuts and the strip that will lie under the seam."""
    outline = on.outline()
    with canvas.group(role, "panel"):
        view.area(canvas, outline, PVC)
    if on.margin:
        inset = spread(on.margin, view.scale)
        with canvas.group("context", "kiss-cut"):
            for end in ENDS:
                view.line(canvas, on.along(end, -inset), KISS_CUT)
    fold = on.across(-spread(on.overlap, view.scale))
    with canvas.group("detail", "overlap"):
        view.area(canvas, [*fold, *reversed(on.across(0.0))], PVC_INSIDE)
        view.line(canvas, fold, THIN)
    with canvas.group(role, "panel"):
        view.area(canvas, outline, None, pen)


def hem_line(canvas: Canvas, view: Board, on: Lay) -> None:
    """Where the hem tab will end."""
    if on.hem:
        with canvas.group("detail", "hem-tab"):
            tab, end = on.across(spread(on.hem, view.scale)), on.across(0.0)
            view.line(canvas, tab, KISS_CUT)
            for a, b in zip(end, tab, strict=True):
                view.line(canvas, [a, b], KISS_CUT)


def trim_lines(canvas: Canvas, view: Board, on: Lay) -> None:
    """Without a kiss cut: where the cloth will be cut later, a margin outside the panel."""
    if on.trim:
        out = spread(on.trim, view.scale)
        with canvas.group("detail", "cut-line"):
            for end in ENDS:
                view.line(canvas, on.along(end, out), KISS_CUT)


def grain_line(canvas: Canvas, view: Board, on: Lay) -> None:
    """The one line of a tapered panel along which the grain stands true."""
    if on.sheet:
        with canvas.group("detail", "grain-line"):
            view.line(canvas, on.grain_line(), BROKEN_OFF)


def face(canvas: Canvas, job: Job, view: Board, keep: BaseGeometry) -> None:
    """The print on a face-up cloth, on the paper area ``keep``. It is never mirrored."""
    x0, x1 = view.pieces[0].start, view.pieces[-1].stop
    y0, y1 = 0.0, (view.bottom - view.top) / view.scale
    for frame in view.each(canvas):
        a, b = frame((x0, y0, 0.0)), frame((x1, y1, 0.0))
        left, bottom = min(a[0], b[0]), max(a[1], b[1])

        def to_paper(p: Point, left: float = left, bottom: float = bottom) -> Point:
            return left + p[0] * view.scale, bottom - p[1] * view.scale

        with canvas.clip(keep):
            print_flat(canvas, job.size, to_paper, x1 - x0, y1 - y0, view.scale)


def word(canvas: Canvas, at: Point, text: str, part: str, anchor: Literal["start", "middle", "end"]) -> None:
    """A word at a fixed place, ``at`` the middle of its height: where no leader is wanted."""
    with canvas.group("label", f"label-{part}"):
        canvas.letters((at[0], at[1] + 0.33 * EM), text, anchor=anchor)


def beside(at: Point, text: str, arrow: float, mirror: bool) -> tuple[Point, Point, Polygon]:
    """Places for an arrow of this width and its word, from ``at`` on: arrow's middle, word's start, room.

    ``mirror`` lets both end at ``at`` instead; the word always stands to the right of its arrow.
    """
    width, high = arrow + 1.2 + text_width(text, EM), 9.0
    left = at[0] - (width if mirror else 0.0)
    room = box(left - 0.8, at[1] - high / 2, left + width + 0.8, at[1] + high / 2)
    return (left + arrow / 2, at[1]), (left + arrow + 1.2, at[1]), room


def print_up(canvas: Canvas, at: Point, length: float = 7.0) -> None:
    """The open arrow that tells where the top of the print is; ``at`` is its middle."""
    open_arrow(canvas, (at[0], at[1] + length / 2), (at[0], at[1] - length / 2), part="print-up")
    canvas.blocked.append(box(at[0] - 2.2, at[1] - length / 2, at[0] + 2.2, at[1] + length / 2))


def table(canvas: Canvas, region: BaseGeometry, pitch: float = 2.4) -> None:
    """The bench top seen from above: sparse dots."""
    x0, y0, x1, y1 = region.bounds
    dots = [
        (x0 + (i + 0.5 * (j % 2)) * pitch, y0 + j * pitch * 0.6)
        for i in range(int((x1 - x0) / pitch) + 2)
        for j in range(int((y1 - y0) / (pitch * 0.6)) + 2)
    ]
    inside = MultiPoint(dots).intersection(region.buffer(-0.3))
    with canvas.group("context", "table"):
        canvas.area(inside.buffer(0.16, quad_segs=3), RULE)


Span = tuple[float, float, str]
"""From, to (work mm), measure id."""


def chain_x(
    canvas: Canvas, job: Job, view: Board, spans: Sequence[Span], y: float, offset: float, *, left: bool
) -> None:
    """Dimensions along the length on one line, above (offset > 0) or below the work's height ``y``.

    A value that does not fit stands outside, past the nearer end of the work.
    """
    middle = (view.pieces[0].start + view.pieces[-1].stop) / 2
    for x0, x1, measure in spans:
        a, b = sorted((view(x0, y), view(x1, y)))
        before = ((x0 + x1) / 2 < middle) != left
        _one(canvas, job, a, b, measure, offset, "start" if before else "end")


def chain_y(canvas: Canvas, job: Job, view: Board, spans: Sequence[Span], x: float, offset: float) -> None:
    """Dimensions across on one line, left (offset > 0) or right of the work's length ``x``."""
    middle = sum(s[0] + s[1] for s in spans) / (2 * len(spans))
    for y0, y1, measure in spans:
        outside: Literal["start", "end"] = "start" if (y0 + y1) / 2 < middle else "end"
        _one(canvas, job, view(x, y0), view(x, y1), measure, offset, outside)


def _one(
    canvas: Canvas,
    job: Job,
    a: Point,
    b: Point,
    measure: str,
    offset: float,
    outside: Literal["start", "end"],
) -> None:
    dimension(
        canvas,
        a,
        b,
        text(job, measure),
        measure=measure,
        value=shown(job, measure),
        offset=offset,
        outside=outside,
    )
