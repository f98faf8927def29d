"""Inspect: the finished shade on the table, right way up, five numbered checks and what passes at each."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import numbered
from generator.figures.canvas import Canvas, Letters, Mark, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.extents import overflow, rise
from generator.figures.insets import inset
from generator.figures.joints import joint_at
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.outer_sizes import height_line, is_round, size_names, widths
from generator.figures.pens import BENCH, CLOTH_FACE, EM, HEAVY, INK, NEW, THIN
from generator.figures.plane import add, distance
from generator.figures.stamps import stamped
from generator.figures.state import state_before
from generator.figures.taper_sizes import past_upper_depth
from generator.figures.upright import Upright, rim_place, stand
from generator.figures.view import Box, Point3, bench
from generator.shape.outline import Outline
from generator.shape.shade import Shade

DETAIL = 11.5
"""Radius of the detail of the seam, mm."""
BESIDE_SEAM = 9.0
"""Room for a word beside the seam's line within the circle of the detail, mm."""
STEP = 2.4
"""Paper mm in the detail for one mm of step: it must be seen."""
DISC = 2.3
LEGEND = 12.6
"""Where sizes stand on all sides: height of what is said below the shade, mm."""

LONG = 34.0
"""A name wider than this has no room beside a taper's upper size, mm."""


def draw(job: Job) -> Picture:
    """Height and widths with what they may differ by; the step at the seam; what must be seen at the rim."""
    if _crowded(job):
        return _crowded_checks(job)
    more = (0.0, 0.0)
    for _ in range(4):
        picture = _checks(job, more)
        left, right = overflow(picture.canvas)
        if left + right < 0.01:
            break
        more = (more[0] + left, more[1] + right)
    return picture


def _checks(job: Job, more: tuple[float, float]) -> Picture:
    """The picture with so much more room left and right of the shade for what stands there, mm."""
    shade, width = job.shade, job.slot.width
    left = job.size.makers.hand == "left"
    canvas = Canvas(width, job.slot.max_height)
    upright = _fit(job, canvas, left, more)
    seam = _shade(canvas, upright, edged=state_before(job).edged)
    # A taper's height stands where the work begins, so that the names have the other side.
    height = height_line(
        canvas, job, upright, right=left, tolerance="height_tolerance", above=not shade.tapered
    )
    numbered(canvas, height, "1")
    for place in widths(canvas, job, upright, beside="high", tolerance="width_tolerance"):
        numbered(canvas, place, "2")
    _seam_check(canvas, job, seam, _detail_place(canvas, upright, left), left)
    _rim_checks(canvas, job, upright, left)
    return Picture(canvas, _joint_name(job, upright))


def _crowded_checks(job: Job) -> Picture:
    """A taper with sizes on all sides, as large as they let it be; what passes and the names stand below."""
    place = Box(8.0, 12.0, job.slot.width - 8.0, job.slot.max_height - LEGEND - 7.0)
    for _ in range(24):
        canvas, deep = _crowded_attempt(job, place)
        left, right = overflow(canvas)
        high = max(0.0, 1.5 - rise(canvas))
        if left + right + high + deep < 0.01:
            break
        place = Box(place.left + left, place.top + high, place.right - right, place.bottom - deep)
    return Picture(canvas, [])


def _crowded_attempt(job: Job, place: Box) -> tuple[Canvas, float]:
    """The picture with the shade in this place; and how much too deep its sizes reach, mm."""
    left, width = job.size.makers.hand == "left", job.slot.width
    canvas = Canvas(width, job.slot.max_height)
    upright = stand(job.size, job.shade, bench(left), place, anchor="top")
    seam = _shade(canvas, upright, edged=state_before(job).edged)
    once = Canvas(width, canvas.height)
    widths(once, job, upright)
    offset = past_upper_depth(once, job, upright, not left)
    numbered(canvas, height_line(canvas, job, upright, right=not left, offset=offset), "1")
    for spot in widths(canvas, job, upright):
        numbered(canvas, spot, "2")
    sizes = [_shape(item) for item in canvas.items if item.group.role in ("dimension", "label")]
    deep = max(0.0, max(shape.bounds[3] for shape in sizes) - (canvas.height - LEGEND))
    centre = (DETAIL + 0.6 if left else width - DETAIL - 0.6, canvas.height - DETAIL - 0.6)
    detail = circle(centre, DETAIL + 0.8)
    if any(shape.intersects(detail) for shape in sizes):
        deep = max(deep, 0.8)
    _seam_check(canvas, job, seam, centre, left)
    for number, end, share, down in (("4", "top", 0.88, 4.2), ("5", "bottom", 0.24, -4.2)):
        rim = upright.rim("top" if end == "top" else "bottom")
        _at_rim(canvas, number, rim_place(rim, False, 1 - share if left else share), down)
    legend(canvas, job, left)
    return canvas, deep


def _shape(item: Mark | Letters) -> BaseGeometry:
    return item.shape if isinstance(item, Mark) else item.box


def _at_rim(canvas: Canvas, number: str, spot: Point, down: float) -> None:
    """A disc on the shade beside the place at its rim that is looked at."""
    with canvas.group("label", f"check-{number}"):
        canvas.line([spot, add(spot, (0.0, down))], THIN)
        canvas.area(circle(spot, 0.55), INK)
    numbered(canvas, add(spot, (0.0, down)), number)


@stamped
def legend(canvas: Canvas, job: Job, left: bool) -> None:
    """What passes at each number, in rows below the shade, beside the detail; a small place leaves it out."""
    rows: tuple[tuple[tuple[str, str, str | None], ...], ...] = (
        (
            ("1", f"± {text(job, 'height_tolerance')}", "height_tolerance"),
            ("2", f"± {text(job, 'width_tolerance')}", "width_tolerance"),
            ("5", say(job, "level"), None),
        ),
        (("4", say(job, "raw-edge-hidden"), None),),
    )
    y = canvas.height - LEGEND + DISC + 0.6
    for row in rows:
        x = 2 * DETAIL + 5.0 if left else DISC + 0.8
        for number, words, measure in row:
            numbered(canvas, (x, y), number)
            x += DISC + 1.2
            value = shown(job, measure) if measure else None
            with canvas.group("dimension" if measure else "label", f"passes-{number}", measure, value):
                canvas.letters((x, y + 0.33 * EM), words)
            x += text_width(words, EM) + DISC + 3.0
        y += 2 * DISC + 1.6


def _shade(canvas: Canvas, upright: Upright, *, edged: bool) -> list[Point]:
    """The shade on its table, its seam heavy; returns the seam's lower and upper end."""
    _table(canvas, upright)
    upright.draw(canvas, trimmed=edged)
    seam = [upright.frame(upright.wall.point(upright.wall.start, h)) for h in (0.0, upright.shade.slant)]
    with canvas.group("context", "seam"):
        canvas.line(seam, HEAVY)
    return seam


def _seam_check(canvas: Canvas, job: Job, seam: list[Point], centre: Point, left: bool) -> None:
    """The step at the seam: its place at the rim, and the detail."""
    _seam_detail(canvas, job, centre, left)
    with canvas.group("detail", "detail-place"):
        canvas.circle(seam[1], 2.2, None, NEW)
    numbered(canvas, add(seam[1], (0.0, 4.6)), "3")
    numbered(canvas, add(centre, ((-1.0 if left else 1.0) * 0.7 * DETAIL, 0.7 * DETAIL)), "3")


def _joint_name(job: Job, upright: Upright) -> list[Label]:
    """The name of a joint that is seen: nobody shall take it for the seam."""
    at = joint_at(upright.frame, upright.wall, job.shade)
    return [] if at is None else [Label(say(job, "joint"), at=at, rank=1)]


def _detail_place(canvas: Canvas, upright: Upright, left: bool) -> Point:
    """The middle of the detail, beside the lower part of the shade and clear of the sizes round it."""
    x = DETAIL + 0.6 if left else canvas.width - DETAIL - 0.6
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


def _fit(job: Job, canvas: Canvas, left: bool, more: tuple[float, float]) -> Upright:
    """The shade as large as the sizes on all sides and the detail beside it let it be."""
    shade, round_ = job.shade, is_round(job, "bottom")
    near, far, floor = 12.6, 2 * DETAIL + 4.2, canvas.height - 13.0
    above = 12.0
    across, deep = shade.rim("bottom").width / 2, shade.rim("bottom").depth / 2
    corner: list[Point3] = [] if round_ else [(across, -deep, 0.0)]
    if shade.tapered:
        far, floor = far + 1.4, floor - 1.8
        above = 14.6 if is_round(job, "top") else 17.0
        # Of the left hand the names stand where the upper size's value ends.
        crowded = left and is_round(job, "top") and wider(job, "width_tolerance") > 0.0
        if crowded or text_width(say(job, "raw-edge-hidden"), EM) > LONG:
            # Long words stand above the upper size, not beside it.
            above += 2 * (2 * DISC + 1.2)
    while True:
        sides = (far, near) if left else (near, far)
        place = Box(sides[0] + more[0], above, canvas.width - sides[1] - more[1], floor)
        upright = stand(job.size, shade, bench(left), place, corner, anchor="top")
        centre = _detail_place(canvas, upright, left)
        excess = centre[1] + DETAIL - (canvas.height - 1.2)
        # The outer end of the size along the bench must not run into the detail.
        end = upright.frame((across, -deep, 0.0))
        size_end = add(end, (-4.0 if left else 4.0, 6.6))
        if not round_ and distance(centre, size_end) < DETAIL + 1.4 and far < 40.0:
            far += 1.0
        elif excess <= 0 or floor < 30:
            return upright
        else:
            floor -= max(excess, 0.5)


def _outline(shade: Shade) -> Outline:
    return shade.rim("bottom") if shade.tapered else shade.sheet


def _table(canvas: Canvas, upright: Upright) -> None:
    """The flat table under the shade: light, a little larger than the rim."""
    outline = _outline(upright.shade).offset(3.4 / upright.frame.scale)
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
    # A fraction stands above the rims within the circle: they lie lower for it.
    under = y + 2.0 + min(2.6, wider(job, "seam_step"))
    over = under + step
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
        # A long word reaches past the seam's line above it, never to the circle.
        words = say(job, "seam")
        end = min(0.3, text_width(words, EM) - BESIDE_SEAM)
        canvas.letters((x + out * max(-1.6, end), y - 1.2), words, anchor="end" if out > 0 else "start")
    with canvas.enlarged():
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
