"""Prepare the seam: the tape on the outside end, its liner on, clear of the edge and of both rims."""

from __future__ import annotations

from shapely import MultiLineString, Polygon, box, unary_union
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import action
from generator.figures.callouts import callout, word
from generator.figures.canvas import Canvas, Point
from generator.figures.dimensions import dimension
from generator.figures.flat_sheet import FlatSheet
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.pens import CLOTH_BACK, CLOTH_FACE, EM, MOTIF, NEW, PVC, SEAM_TAPE, THIN, WHITE
from generator.figures.plan_panel import table
from generator.figures.plane import wave
from generator.figures.state import state_before
from generator.shape.development import ENDS

RADIUS = 14.0
ENLARGED = 16.5
"""Width in the enlarged corner for the tape with its distance from the edge, or for the hem, mm on paper."""
SPREAD, NARROWEST = 0.7, 1.6
"""Lines are drawn at least this far apart, and the tape at least this wide, mm on paper."""
AIR = 1.5
SHOWN_LONG, SHOWN = 35.0, 0.58
"""What is shown of the panel from its end on: mm on paper; of a taper, in heights."""
SMALL = ("scene A", "scene")
"""What of it stands in a small place."""


def draw(job: Job) -> Picture:
    """The outside end from above, true to scale, broken off; its upper corner enlarged."""
    shade, left = job.shade, job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 6, view="plan")
    end = job.slot.width - 12.5

    def flip(x: float) -> float:
        return job.slot.width - x if left else x

    bands = _bands(job)
    _, low, _, high = unary_union(bands).bounds
    scale = (canvas.height - 2 * AIR) / (high - low)
    canvas.scale = scale
    # The outside end's lower corner is the origin of the bands.
    foot = canvas.height - AIR + low * scale
    rim = foot - shade.slant * scale
    state, k = state_before(job), -scale if left else scale
    cloth, pvc = (affine_transform(band, [k, 0, 0, -scale, flip(end), foot]) for band in bands)
    border = "margin-strip" if state.strips else "cloth-margin"
    if shade.margin:
        with canvas.group("context", border):
            canvas.area(cloth, PVC if state.strips else CLOTH_BACK, THIN)
    with canvas.group("context", "panel"):
        canvas.area(pvc, PVC, None if state.strips else THIN)
    if state.strips:
        with canvas.group("context", "kiss-cut"):
            canvas.line(pvc.boundary.difference(cloth.boundary.buffer(0.05)), state.kiss_cut)
    outer = end - max(shown(job, "tape_inset") * scale, SPREAD)
    inner = outer - max(job.size.tape.width * scale, NARROWEST)
    short = max(shown(job, "rim_inset") * scale, SPREAD)
    if shade.hem and state.has("folded hem"):
        fold = min(end - shade.hem * scale, inner - SPREAD)
        _cloth(canvas, _block(flip(fold), rim, flip(end), foot), "hem")
    tape = _block(flip(inner), rim + short, flip(outer), foot - short)
    with canvas.group("new", "seam-tape"):
        canvas.area(tape, SEAM_TAPE, NEW)
    dimension(
        canvas,
        (flip(end), foot - short),
        (flip(end), rim + short),
        text(job, "seam_tape"),
        measure="seam_tape",
        value=shown(job, "seam_tape"),
        offset=7.0 if left else -7.0,
    )
    high = foot - rim
    touch = (flip((inner + outer) / 2), rim + 0.34 * high)
    hand(canvas, "flat", touch, 180 if left else 0, scale=0.8, flip=left)
    beside = flip(inner - 3.4)
    action(canvas, [(beside, touch[1] + 5.0), (beside, min(touch[1] + 17.0, foot - 7.5))], part="smooth")
    centre = (flip(RADIUS + 0.8 + wider(job, "rim_inset")), canvas.height / 2)
    _corner(canvas, job, centre, -1.0 if left else 1.0)
    spot = (flip(outer - 0.4), rim + 0.4)
    at = (20, 50) if left else (160, 130)
    link(canvas, spot, 2.4, centre, RADIUS, "A", at_place=at[0], at_detail=at[1])
    below = foot - max(0.14 * high, 4.0)
    x, y = _inside(job)
    word(canvas, (flip(end + x * scale), foot - y * scale), say(job, "pvc"))
    labels = [
        Label(say(job, "seam-tape"), at=(flip((inner + outer) / 2), below), wish=0 if left else 180),
    ]
    if shade.margin:
        x, y = _beyond(job)
        beyond = (flip(end + x * scale), foot - y * scale)
        labels.append(Label(say(job, border), at=beyond, wish=-40 if left else 220, rank=1))
    return Picture(canvas, labels)


def _bands(job: Job) -> tuple[BaseGeometry, BaseGeometry]:
    """The end of the cloth and of the PVC on it, broken off, real mm from the end's lower corner.

    Of a taper the end is a slanting line of the surface, turned upright, and both rims bend away from it.
    """
    shade = job.shade
    whole = shade.slant + 2 * shade.margin
    if not shade.tapered:
        shown, tall, m = SHOWN_LONG * whole / (job.slot.height + 6 - 2 * AIR), shade.slant, shade.margin
        edge = wave((-shown, -m), (-shown, tall + m), 0.018 * whole, 5, 60)
        cloth: BaseGeometry = Polygon([*edge, (0.0, tall + m), (0.0, -m)])
        return cloth, cloth.intersection(box(-2 * shown, 0.0, 0.0, tall))
    sheet = FlatSheet(shade).turned_so(shade.panel_length)
    first, last = _first(job), shade.panel_length
    low, high = (sheet.line(end, shade.margin, first, last) for end in ENDS)
    edge = wave(high[0], low[0], 0.018 * whole, 5, 60)
    cloth = Polygon([*low, *reversed(high), *edge[1:-1]])
    cloth = cloth.buffer(0)
    return cloth, cloth.intersection(Polygon(sheet.between(first - 0.2 * whole, last, 0.0)).buffer(0))


def _first(job: Job) -> float:
    """Panel coordinate from which on a curved panel is shown."""
    return job.shade.panel_length - SHOWN * (job.shade.slant + 2 * job.shade.margin)


def _inside(job: Job) -> Point:
    """A place on the PVC beside the broken-off edge."""
    shade = job.shade
    if not shade.tapered:
        return -0.62 * SHOWN_LONG * shade.slant / (job.slot.height + 6), 0.42 * shade.slant
    sheet = FlatSheet(shade).turned_so(shade.panel_length)
    return sheet.point(0.6 * _first(job) + 0.4 * shade.panel_length, 0.42 * shade.slant)


def _beyond(job: Job) -> Point:
    """A place on the lower cloth margin."""
    shade = job.shade
    if not shade.tapered:
        return -0.9 * SHOWN_LONG * shade.slant / (job.slot.height + 6), -shade.margin / 2
    sheet = FlatSheet(shade).turned_so(shade.panel_length)
    return sheet.at_rim("bottom", 0.6 * _first(job) + 0.4 * shade.panel_length, shade.margin / 2)


def _corner(canvas: Canvas, job: Job, centre: Point, sign: float) -> None:
    """The tape's upper end, true in proportion: its distances from edge and rim, TOP on its liner."""
    (cx, cy), far = centre, RADIUS + 1.0
    scale = min(1.5, ENLARGED / max(job.shade.hem, shown(job, "tape_inset") + job.size.tape.width))
    edge, rim = cx + sign * 0.68 * RADIUS, cy - 0.2 * RADIUS
    outer = edge - sign * shown(job, "tape_inset") * scale
    inner = outer - sign * job.size.tape.width * scale
    start, low = rim + shown(job, "rim_inset") * scale, cy + RADIUS
    fold = edge - sign * job.shade.hem * scale
    state = state_before(job)
    strips = state.strips
    with inset(canvas, centre, RADIUS) as region:
        table(canvas, _block(edge, cy - far, cx + sign * far, cy + far).intersection(region))
        above = _block(cx - sign * far, cy - far, edge, rim)
        if job.shade.margin:
            with canvas.group("context", "detail-margin"):
                canvas.area(above, PVC if strips else CLOTH_BACK, None if strips else THIN)
        else:
            table(canvas, above.intersection(region))
        with canvas.group("context", "detail-panel"):
            canvas.area(_block(cx - sign * far, rim, edge, cy + far), PVC, None if strips else THIN)
            if strips:
                canvas.line([(edge, cy - far), (edge, cy + far)], THIN)
                canvas.line([(cx - sign * far, rim), (edge, rim)], state.kiss_cut)
        if job.shade.hem:
            _cloth(canvas, _block(fold, rim, edge, cy + far), "detail-hem")
        with canvas.group("new", "detail-seam-tape"):
            canvas.area(_block(inner, start, outer, cy + far), SEAM_TAPE, NEW)
    with canvas.group("context", "top"):
        canvas.letters(
            ((inner + outer) / 2, start + 2.0 + 0.66 * EM),
            say(job, "top"),
            weight=600,
            fill=WHITE,
            anchor="middle",
        )
    if job.shade.hem:
        spot = ((fold + inner) / 2, cy + 0.6 * RADIUS)
        callout(canvas, spot, (cx - sign * 0.8 * RADIUS, low + 3.4), say(job, "hem"), side=0)
    by = fold if job.shade.hem else inner
    with canvas.enlarged():
        dimension(
            canvas,
            (by, rim),
            (by, start),
            text(job, "rim_inset"),
            measure="rim_inset",
            value=shown(job, "rim_inset"),
            offset=-sign * 2.2,
            level=True,
            halo=wider(job, "rim_inset") > 0.0,
        )
    first, last = ((outer, start), (edge, start)) if sign > 0 else ((edge, start), (outer, start))
    with canvas.enlarged():
        dimension(
            canvas,
            first,
            last,
            text(job, "tape_inset"),
            measure="tape_inset",
            value=shown(job, "tape_inset"),
            offset=6.2,
            outside="start" if sign > 0 else "end",
        )


def _cloth(canvas: Canvas, area: Polygon, part: str) -> None:
    """The folded hem: the right side of the cloth, with its threads."""
    x0, y0, x1, y1 = area.bounds
    threads = [
        [(x, y), (x + 0.8, y)] if (i + j) % 2 else [(x + 0.4, y - 0.4), (x + 0.4, y + 0.4)]
        for i, x in enumerate(x0 + 0.4 + 1.5 * k for k in range(int((x1 - x0) / 1.5) + 1))
        for j, y in enumerate(y0 + 1.0 + 1.5 * k for k in range(int((y1 - y0) / 1.5)))
    ]
    with canvas.group("context", part):
        canvas.area(area, CLOTH_FACE)
        canvas.line(MultiLineString(threads).intersection(area.buffer(-0.2)), MOTIF)
        canvas.area(area, None, THIN)


def _block(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
