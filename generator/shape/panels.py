"""How many equal panels a shade takes from the sheets that its recipe states."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from generator.base.errors import Fault, GeometryError
from generator.base.message import Message, either, joined, message
from generator.base.units import round_up
from generator.recipe.kits import Supplied
from generator.recipe.models import Panel, SizeRecipe
from generator.shape.blank_hull import blank_box, blank_hull
from generator.shape.development import Development
from generator.shape.enclosing import Rectangle, convex_hull, turned_round
from generator.shape.outline import Point
from generator.shape.say import mm
from generator.shape.section import alike
from generator.shape.shade import Shade
from generator.shape.supplied import count_of

MOST_PANELS = 6
"""More joints than this nobody keeps true over a whole strip (common practice, no source)."""
SEAM_STEP = 1.0
"""What lies over a bend at a joint may stand off by no more, mm (common practice, no source)."""
_NOISE = 1e-6


def in_panels(size: SizeRecipe, whole: Shade) -> Shade:
    """The same shade of the fewest equal panels that come out of a stated sheet and meet off the corners.

    Raises GeometryError where the sheet is too narrow for the height, or too short for ``MOST_PANELS``.
    """
    if whole.development is not None:
        return _of_curved(size, whole, whole.development)
    if size.panel.supplied is not None:
        return _as_supplied(size, whole, size.panel.supplied)
    several = (replace(whole, panels=count) for count in range(1, MOST_PANELS + 1))
    fitting = [one for one in several if lies_on(size.panel, one.panel_length, one.panel_height)]
    if not fitting:
        raise GeometryError([_too_small(size, replace(whole, panels=MOST_PANELS))])
    # Where no number keeps off the corners, the fewest are judged, and refused with what would do.
    return next((one for one in fitting if all(lies_flat(one, x) for x in one.joints)), fitting[0])


def _as_supplied(size: SizeRecipe, whole: Shade, supplied: Supplied) -> Shade:
    """The shade of panels that come cut to length: their overlap follows from the rings."""
    count = count_of(supplied, size, whole.wrapped_length)
    if count > MOST_PANELS:
        raise GeometryError(
            [
                Fault(
                    size.span("panel.supplied.length"),
                    message(
                        "{count} panels of {length} go round these rings",
                        count=count,
                        length=mm(supplied.length),
                    ),
                    message("at most {most} panels", most=MOST_PANELS),
                    message("use a longer panel"),
                )
            ]
        )
    return replace(whole, panels=count, overlap=supplied.length - whole.wrapped_length / count)


def _of_curved(size: SizeRecipe, whole: Shade, development: Development) -> Shade:
    """A tapered shade: a panel comes out of the sheet however it is turned on it, and all are alike."""
    if size.panel.stock_length is None and size.panel.stock_width is None:
        return whole
    margin = whole.margin if whole.kiss_cut else 0.0
    counts = [count for count in range(1, MOST_PANELS + 1) if count == 1 or alike(development, count)]
    least: Rectangle | None = None
    for count in counts:
        shade = replace(whole, panels=count)
        panel = shade.one_panel.development
        assert panel is not None
        if count < counts[-1] and _far_too_large(panel, size.panel):
            continue
        box = blank_box(panel, margin, whole.overlap)
        fits = lies_on(size.panel, box.length, box.width)
        if fits or _turns_into(size.panel, panel, margin, whole.overlap):
            return shade
        least = box
    assert least is not None
    raise GeometryError([_curved_too_large(size, least, counts)])


def _far_too_large(panel: Development, stock: Panel) -> bool:
    """Whether its area, how far it reaches from its seam, or some of its points alone settle it."""
    long, wide = _sheet(stock)
    first, flats = panel.nodes[0].flat, [place for node in panel.nodes for place in node.flat]
    reach = max(math.dist(begin, place) for begin in first for place in flats)
    if panel.area > long * wide or reach > math.hypot(long, wide):
        return True
    # What nowhere reaches farther than the longer side is mostly not too large.
    if math.inf in (long, wide) or reach <= max(long, wide):
        return False
    some = [place for node in (*panel.nodes[::4], panel.nodes[-1]) for place in node.flat]
    return not _turns(convex_hull(some), long, wide)


def _turns_into(panel: Panel, development: Development, margin: float, overlap: float) -> bool:
    """Whether a curved panel comes out of a sheet of a stated length and width, turned in any way."""
    long, wide = _sheet(panel)
    if math.inf in (long, wide):
        return False
    return _turns(blank_hull(development, margin, overlap), long, wide)


def _turns(corners: Sequence[Point], long: float, wide: float) -> bool:
    """Whether a convex hull comes to lie in a rectangle of that length and width, turned in any way."""
    found = turned_round(corners, long, wide)
    return found.along <= long + _NOISE and found.across <= wide + _NOISE


def _curved_too_large(size: SizeRecipe, least: Rectangle, counts: list[int]) -> Fault:
    """``least`` is the rectangle of a panel of the greatest of the counts in which panels are alike."""
    told = _sides([side for side in _sheet(size.panel) if side < math.inf])
    most = counts[-1]
    sides: dict[str, object] = {
        "length": mm(round_up(least.length)),
        "width": mm(round_up(least.width)),
        "sheet": told,
    }
    wrong = message(
        "the curved panel needs a sheet of {length} by {width}; the sheet it is cut from measures {sheet}",
        **sides,
    )
    if most > 1:
        wrong = message(
            "each of {count} curved panels still needs a sheet of {length} by {width}; the sheet it is cut "
            "from measures {sheet}",
            count=most,
            **sides,
        )
    counts_alike = either([str(count) for count in counts[1:]])
    expected = message(
        "a sheet that a panel comes out of: the shade can be made of {counts} panels of one form",
        counts=counts_alike,
    )
    if most == 1:
        expected = message(
            "a sheet that the whole panel comes out of: parts of this shade would not be of one form"
        )
    elif most == MOST_PANELS:
        expected = message("a sheet that a panel comes out of, and at most {most} panels", most=MOST_PANELS)
    return Fault(
        size.span("panel.stock_length" if size.panel.stock_length else "panel.stock_width"),
        wrong,
        expected,
        message("use a larger sheet, or make the shade smaller"),
    )


def stands_off(shade: Shade, joint: float) -> float:
    """How far the free edge at a joint would stand off if it were not bent, mm.

    It runs straight on from where the overlap begins while the ring turns away: the integral over the overlap
    of the sine of the angle turned (own derivation; for one bend of radius r it is b^2 / 2r, as at the seam).
    """
    steps = 100
    begin, step = shade.sheet.psi(joint), shade.overlap / steps
    turned = (shade.sheet.psi(joint + (k + 0.5) * step) - begin for k in range(steps))
    return sum(math.sin(min(max(angle, 0.0), math.pi / 2)) * step for angle in turned)


def lies_flat(shade: Shade, joint: float) -> bool:
    """Whether its edge stands off by no more than a seam may step."""
    return stands_off(shade, joint) <= SEAM_STEP + _NOISE


def lies_on(panel: Panel, length: float, height: float) -> bool:
    """Whether a piece comes out of the sheet. PVC has no direction: the piece may lie along it or across.

    Across only where the recipe states a width: who states a length alone means how long a panel may be.
    """
    long, wide = _sheet(panel)
    along = length <= long + _NOISE and height <= wide + _NOISE
    return along or (wide < math.inf and length <= wide + _NOISE and height <= long + _NOISE)


def lies_across(panel: Panel, length: float, height: float) -> bool:
    """Whether the piece fits only turned, its length across the sheet."""
    long, wide = _sheet(panel)
    return lies_on(panel, length, height) and (length > long + _NOISE or height > wide + _NOISE)


def _sheet(panel: Panel) -> tuple[float, float]:
    """Length and width of the sheet; endless where the recipe states none."""
    return panel.stock_length or math.inf, panel.stock_width or math.inf


def _sides(lengths: Sequence[float]) -> Message:
    """One side of a sheet, or both."""
    if len(lengths) < 2:
        return joined([mm(length) for length in lengths])
    return message("{length} by {width}", length=mm(lengths[0]), width=mm(lengths[1]))


def _too_small(size: SizeRecipe, most: Shade) -> Fault:
    """``most`` is the shade of as many panels as there may be."""
    long, wide = _sheet(size.panel)
    told = _sides([side for side in (long, wide) if side < math.inf])
    high = most.panel_height
    if high > max(long, wide) + _NOISE:
        return Fault(
            size.span("panel.stock_width"),
            message(
                "the panel is {high} high, and the sheet it is cut from measures {sheet}: it comes out"
                " of that neither along nor across",
                high=mm(high),
                sheet=told,
            ),
            message("a sheet of at least {high} one way", high=mm(round_up(high))),
            message(
                "use a wider sheet, or make the shade lower: panels are joined round the shade, not "
                "one above another"
            ),
        )
    across = high > wide + _NOISE
    key = "panel.stock_width" if across or long == math.inf else "panel.stock_length"
    wrong = message(
        "a sheet of {sheet} is too small: {most} panels cut from it do not go round",
        sheet=told,
        most=MOST_PANELS,
    )
    if across:
        wrong = message(
            "a sheet of {sheet} is too small: {most} panels cut from it across, since they are {high} high, "
            "do not go round",
            sheet=told,
            most=MOST_PANELS,
            high=mm(high),
        )
    return Fault(
        size.span(key),
        wrong,
        message(
            "at most {most} panels, so a sheet of at least {length} by {high}",
            most=MOST_PANELS,
            length=mm(round_up(most.panel_length)),
            high=mm(round_up(high)),
        ),
        message("use a larger sheet, or make the shade smaller"),
    )
