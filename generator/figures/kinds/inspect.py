"""Inspect: the finished shade on the table, right way up, five numbered checks and what passes at each."""

from __future__ import annotations

from generator.figures.arrows import numbered
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.insets import inset
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text
from generator.figures.outer_sizes import height_line, is_round, size_names, widths
from generator.figures.pens import BENCH, CLOTH_FACE, EM, HEAVY, INK, NEW, THIN
from generator.figures.plane import add
from generator.figures.state import state_before
from generator.figures.upright import Upright, rim_place, stand
from generator.figures.view import Box, Point3, bench
from generator.shape.outline import Outline
from generator.shape.shade import Shade

DETAIL = 11.5
"""Radius of the detail of the seam, mm."""
STEP = 2.4
"""Paper mm in the detail for one mm of step: it must be seen."""
DISC = 2.3
LOWEST = 42.0
"""Where sizes stand on both sides of a taper it stands above the detail: its lowest place, mm."""


def draw(job: Job) -> Picture:
    """Height and widths with what they may differ by; the step at the seam; what must be seen at the rim."""
    shade, width = job.shade, job.slot.width
    left = job.size.makers.hand == "left"
    out = -1.0 if left else 1.0
    canvas = Canvas(width, job.slot.max_height)
    upright = _fit(job, canvas, left)
    _table(canvas, upright)
    upright.draw(canvas, trimmed=state_before(job).edged)
    seam = [upright.frame(upright.wall.point(upright.wall.start, h)) for h in (0.0, shade.slant)]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    crowded = _crowded(job)
    # Where a taper's width has the side of the height, the height goes to the other; above stands its size.
    right, above = left != crowded, crowded or not shade.tapered
    # Then there is room for the values alone; the card says what passes.
    passes = (None, None) if crowded else ("height_tolerance", "width_tolerance")
    height = height_line(canvas, job, upright, right=right, tolerance=passes[0], above=above)
    numbered(canvas, height, "1")
    for place in widths(canvas, job, upright, beside="high", tolerance=passes[1], top_depth=not crowded):
        numbered(canvas, place, "2")
    centre = _detail_place(canvas, upright, left, crowded)
    _seam_detail(canvas, job, centre, left)
    with canvas.group("detail", "detail-place"):
        canvas.circle(seam[1], 2.2, None, NEW)
    numbered(canvas, add(seam[1], (0.0, 4.6)), "3")
    numbered(canvas, add(centre, (out * 0.7 * DETAIL, 0.7 * DETAIL)), "3")
    _rim_checks(canvas, job, upright, left)
    return Picture(canvas, [])


def _detail_place(canvas: Canvas, upright: Upright, left: bool, crowded: bool) -> Point:
    """The middle of the detail, beside the lower part of the shade and clear of the sizes round it."""
    x = DETAIL + 0.6 if left else canvas.width - DETAIL - 0.6
    if crowded:
        return x, canvas.height - DETAIL - 1.4
    low, high = upright.side(not left)
    return x, max(high[1] + 8.0 + DETAIL, low[1] + 6.0 - DETAIL)


def _rim_checks(canvas: Canvas, job: Job, upright: Upright, left: bool) -> None:
    """Rim and level, both judged at the upper rim; counted from the side on which the work begins."""
    out = -1.0 if left else 1.0
    if upright.shade.tapered:
        _beside_rim(canvas, job, upright, left)
        return
    rim = upright.rim("top")
    y = min(p[1] for p in rim) - (4.6 if is_round(job, "top") else 8.6)
    first = max(min(out * p[0] for p in rim) + 1.0, DISC + 0.8 - (canvas.width if left else 0.0))
    for number, noun, share in (("5", "level", 0.06), ("4", "raw-edge-hidden", 0.5)):
        words = say(job, noun)
        _named(
            canvas, number, words, rim_place(rim, True, 1 - share if left else share), (first * out, y), out
        )
        first += 2 * DISC + 3.4 + text_width(words, EM)


def _beside_rim(canvas: Canvas, job: Job, upright: Upright, left: bool) -> None:
    """Above a taper its size stands: both checks are named above the detail, one below the other."""
    out, rim = (-1.0 if left else 1.0), upright.rim("top")
    wide = DISC + 1.2 + text_width(say(job, "raw-edge-hidden"), EM)
    x = canvas.width - wide - 0.6 if not left else wide + 0.6
    y = DISC + 1.2
    # The upper name belongs to the farther place, so that the leaders do not cross.
    for number, noun, share in (("4", "raw-edge-hidden", 0.7), ("5", "level", 0.93)):
        place = rim_place(rim, True, 1 - share if left else share)
        _named(canvas, number, say(job, noun), place, (x, y), out)
        y += 2 * DISC + 1.2


def _crowded(job: Job) -> bool:
    """Whether a taper has a size away from the maker beside its lower rim, where else the height stands."""
    return job.shade.tapered and size_names(job, "bottom")[1] is not None


def _fit(job: Job, canvas: Canvas, left: bool) -> Upright:
    """The shade as large as the sizes on all sides and the detail beside it let it be."""
    shade, round_ = job.shade, is_round(job, "bottom")
    near, far, floor = 12.6, 2 * DETAIL + 4.2, canvas.height - 13.0
    above = 12.0
    across, deep = shade.rim("bottom").width / 2, shade.rim("bottom").depth / 2
    corner: list[Point3] = [] if round_ else [(across, -deep, 0.0)]
    if shade.tapered:
        far, floor = far + 1.4, floor - 1.8
        above = 14.6 if is_round(job, "top") else 17.0
        if _crowded(job):
            near, far, floor = 14.0, 27.0, LOWEST
            corner.append((-across, deep, 0.0))
    while True:
        place = Box(far if left else near, above, canvas.width - (near if left else far), floor)
        upright = stand(job.size, shade, bench(left), place, corner, anchor="top")
        excess = _detail_place(canvas, upright, left, _crowded(job))[1] + DETAIL - (canvas.height - 1.2)
        if excess <= 0 or floor < 30:
            return upright
        floor -= max(excess, 0.5)


def _foot(shade: Shade) -> Outline:
    return shade.rim("bottom") if shade.tapered else shade.sheet


def _table(canvas: Canvas, upright: Upright) -> None:
    """The flat table under the shade: light, a little larger than the rim."""
    outline = _foot(upright.shade).offset(3.4 / upright.frame.scale)
    points = [upright.frame(upright.embed(outline.point(outline.length * k / 240), 0.0)) for k in range(240)]
    with canvas.group("context", "table"):
        canvas.area(points, BENCH)


def _named(canvas: Canvas, number: str, words: str, place: Point, disc: Point, out: float) -> None:
    """A numbered place: leader, disc, what passes."""
    with canvas.group("label", f"check-{number}"):
        canvas.line([place, disc], THIN)
        canvas.area(circle(place, 0.55), INK)
        at = add(disc, (out * (DISC + 1.2), 0.33 * EM))
        canvas.letters(at, words, anchor="start" if out > 0 else "end")
    numbered(canvas, disc, number)


def _seam_detail(canvas: Canvas, job: Job, centre: Point, left: bool) -> None:
    """The seam at the rim from outside: the outside end may stand no more than the step off the other rim."""
    x, y = centre
    out = -1.0 if left else 1.0
    step = STEP * shown(job, "seam_step")
    roll = min(5.0, STEP * job.shade.wire)
    under, over = y + 2.0, y + 2.0 + step
    with inset(canvas, centre, DETAIL):
        with canvas.group("detail", "start-end"):
            canvas.area(
                [(x - out * 20, under), (x, under), (x, y + 20), (x - out * 20, y + 20)], CLOTH_FACE, THIN
            )
            canvas.line([(x - out * 20, under + roll), (x, under + roll)], THIN)
        with canvas.group("detail", "outside-end"):
            canvas.area(
                [(x, over), (x + out * 20, over), (x + out * 20, y + 20), (x, y + 20)], CLOTH_FACE, NEW
            )
            canvas.line([(x, over + roll), (x + out * 20, over + roll)], THIN)
            canvas.line([(x, over), (x, y + 20)], HEAVY)
    with canvas.group("label", "label-seam"):
        canvas.letters((x - out * 1.6, y - 1.2), say(job, "seam"), anchor="end" if out > 0 else "start")
    dimension(
        canvas,
        (x, over),
        (x, under),
        f"≤ {text(job, 'seam_step')}",
        measure="seam_step",
        value=shown(job, "seam_step"),
        offset=4.0,
        across=(out, 0.0),
        outside="end",
    )
