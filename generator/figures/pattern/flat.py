"""The flat sheet of a shade as lines on paper: where to cut, score, fold, and what to mark."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon

from generator.base.errors import FigureError
from generator.base.message import message
from generator.figures.pattern.model import Drawing, Line, Point, Spot
from generator.figures.pattern.panels import Mark, on_one
from generator.measures.blank import cloth_lie
from generator.measures.measure import Measures
from generator.measures.reliefs import reliefs_of
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_loop
from generator.shape.development import ENDS, Development, End
from generator.shape.matching import Facet
from generator.shape.shade import Shade

TICK = 6.0
"""Length of a tick inside a rim where there is no margin to hold it, mm."""
STROKE = 0.01
"""Half the step for the direction of a rim, mm."""
NEAR = 0.6
"""Lines nearer than this would look like one heavy line, mm."""
ARROW = 7.0
"""Length of an arrow's head, mm."""


def flat_sheet(size: SizeRecipe, whole: Shade, measures: Measures) -> Drawing:
    """The pattern of a panel, print towards the maker, the line of the grain upright.

    Of several panels it is that of each: a mark that not all have says whose it is.
    """
    shade = whole.one_panel
    loop, grain, marks = outline(shade), grain_place(size, shade), _marks_of(whole)
    lines = (
        *_edges(shade, loop),
        *_seam(shade, measures),
        *_bends(shade, marks),
        *_sides(shade, marks),
        *_struts(shade, measures, marks),
        *_notches(shade),
        *_reliefs(shade, measures, marks),
        *_middle(shade, grain),
    )
    drawing = Drawing("panel", lines, tuple(_spots(shade, marks)), _with_hem(shade, loop))
    if shade.development is None:
        return drawing
    return drawing.turned(-shade.development.generator(grain).tau)


@dataclass(frozen=True, slots=True)
class Marks:
    """What is marked on one panel; places on a rim with that rim."""

    bends: tuple[Mark, ...]
    sides: tuple[tuple[Mark, End], ...]
    struts: tuple[Mark, ...]
    reliefs: tuple[tuple[Mark, End], ...]


def _marks_of(whole: Shade) -> Marks:
    """Marks of all panels on one of them. Panels of a taper are of one form: their bends are alike."""
    panel = whole.one_panel
    if panel.development is not None:
        bends = tuple(Mark(x) for x in bend_places(panel))
        sides = tuple((Mark(x), end) for x, end in side_places(panel))
    else:
        bends = tuple(on_one(whole, bend_places(whole)))
        places = side_places(whole)
        sides = tuple(
            (mark, end) for end in ENDS for mark in on_one(whole, [x for x, rim in places if rim == end])
        )
    cuts = relief_places(whole)
    return Marks(
        bends,
        # A side that begins at a joint is not marked there: the joint is its middle.
        tuple((mark, end) for mark, end in sides if NEAR < mark.x < panel.wrapped_length - NEAR),
        tuple(on_one(whole, [strut.panel for strut in whole.struts])),
        tuple((mark, end) for end in ENDS for mark in on_one(whole, [x for x, rim in cuts if rim == end])),
    )


def _with_hem(shade: Shade, loop: tuple[Point, ...]) -> tuple[Point, ...]:
    """The outer edge of all that is drawn."""
    if not shade.hem:
        return loop
    whole = Polygon(loop).union(Polygon(_hem(shade)).buffer(1e-6))
    assert isinstance(whole, Polygon)
    return tuple((float(x), float(y)) for x, y in list(whole.exterior.coords)[:-1])


def _hem(shade: Shade) -> tuple[Point, ...]:
    """Corners of the hem's tab, from the outside edge's lower end."""
    first, last = place(shade, shade.strip_length, "bottom"), place(shade, shade.strip_length, "top")
    return first, _along(shade, first), _along(shade, last), last


def outline(shade: Shade, margin: float | None = None) -> tuple[Point, ...]:
    """The outer edge with margins and overlap, counter-clockwise from the lower corner of the start."""
    margin = shade.margin if margin is None else margin
    if shade.development is not None:
        return without_loops(blank_loop(shade.development, margin, shade.overlap))
    return (
        (0.0, -margin),
        (shade.strip_length, -margin),
        (shade.strip_length, shade.height + margin),
        (0.0, shade.height + margin),
    )


def without_loops(loop: tuple[Point, ...]) -> tuple[Point, ...]:
    """An edge that does not cross itself.

    Where a plane part ends in one point of a hollow rim the edge parallel to it turns back for some
    hundredths of a millimetre; no knife follows that.
    """
    area = Polygon(loop)
    if area.is_valid:
        return loop
    largest = max(shapely.get_parts(shapely.make_valid(area)), key=lambda part: part.area)
    points = list(shapely.orient_polygons(largest).exterior.coords)[:-1]
    return tuple((float(x), float(y)) for x, y in points)


def rim(shade: Shade, end: End, margin: float = 0.0) -> tuple[Point, ...]:
    """One rim from the start edge to the outside edge, or the curve parallel to it a margin outside."""
    if shade.development is None:
        y = -margin if end == "bottom" else shade.height + margin
        return (0.0, y), (shade.strip_length, y)
    points = list(shade.development.outline_points(end, margin))
    tau = shade.development.turning
    x, y = points[-1]
    return (*points, (x + shade.overlap * math.cos(tau), y + shade.overlap * math.sin(tau)))


def place(shade: Shade, x: float, end: End) -> Point:
    """A rim's point at panel coordinate x."""
    return shade.flat(x, 0.0 if end == "bottom" else shade.slant)


def outward(shade: Shade, x: float, end: End) -> Point:
    """Unit vector off a rim, away from the sheet, at panel coordinate x."""
    low, high = max(x - STROKE, 0.0), min(x + STROKE, shade.strip_length)
    (ax, ay), (bx, by) = place(shade, low, end), place(shade, high, end)
    length = math.dist((ax, ay), (bx, by))
    sign = -1.0 if end == "bottom" else 1.0
    if length < 1e-9 and shade.development is not None:
        # All straight lines of this plane part meet in one point of the rim.
        tau = shade.development.generator(x).tau
        return -sign * math.sin(tau), sign * math.cos(tau)
    return -sign * (by - ay) / length, sign * (bx - ax) / length


def _off(at: Point, along: Point, by: float) -> Point:
    return at[0] + along[0] * by, at[1] + along[1] * by


def _edges(shade: Shade, loop: tuple[Point, ...]) -> Iterator[Line]:
    if shade.kiss_cut or not shade.margin:
        yield Line("cut", "outline", loop, "cut", closed=True)
    else:
        # The sheet ends at the rims; beyond them there is cloth alone.
        yield Line("cut", "outline", outline(shade, 0.0), "cut", closed=True)
        yield Line("mark", "cloth-edge", loop, "cloth-edge", closed=True)
    if shade.kiss_cut and shade.margin:
        for end in ENDS:
            yield Line("kiss-cut", f"rim-{end}", rim(shade, end), "kiss-cut")
    if shade.hem:
        corners = _hem(shade)
        yield Line("mark", "hem", corners, "hem")
        yield Line("fold", "hem-fold", (corners[0], corners[-1]), "hem-fold")


def _along(shade: Shade, at: Point) -> Point:
    """A point of the outside edge moved on by the hem."""
    tau = shade.development.turning if shade.development else 0.0
    return at[0] + shade.hem * math.cos(tau), at[1] + shade.hem * math.sin(tau)


def _seam(shade: Shade, measures: Measures) -> Iterator[Line]:
    wrapped, length = shade.wrapped_length, shade.strip_length
    yield Line("mark", "overlap", (place(shade, wrapped, "bottom"), place(shade, wrapped, "top")), "overlap")
    inset, width, short = (measures.exact(key) for key in ("tape_inset", "tape_width", "rim_inset"))
    left, right = max(length - inset - width, wrapped), length - inset
    low, high = short, shade.slant - short
    corners = tuple(shade.flat(x, h) for x, h in ((left, low), (right, low), (right, high), (left, high)))
    # Where the tape fills the overlap its inner edge is the overlap's line: twice drawn it would look heavy.
    yield Line("mark", "seam-tape", corners, "seam-tape", closed=left > wrapped + NEAR)


def bend_places(shade: Shade) -> tuple[float, ...]:
    """Panel coordinates of the lines on which a bend begins or ends, or of a sharp corner."""
    if shade.development is not None:
        return tuple(x for x in shade.development.breaks() if x > 0)
    stations = shade.outline.stations()
    wanted = "tangent" if any(station.kind == "tangent" for station in stations) else "corner"
    return tuple(shade.on_panel(station.s) for station in stations if station.kind == wanted)


def _bends(shade: Shade, marks: Marks) -> Iterator[Line]:
    for mark in marks.bends:
        ends = (place(shade, mark.x, "bottom"), place(shade, mark.x, "top"))
        yield Line("mark", "bend", ends, "bend", panels=mark.panels)


def side_places(shade: Shade) -> tuple[tuple[float, End], ...]:
    """Panel coordinates of the middles of sides, each with its rim, without those at the seam."""
    if shade.development is None:
        sides = (station.s for station in shade.outline.stations() if station.kind == "side")
        return tuple((shade.on_panel(s), end) for s in sides if s > 0 for end in ENDS)
    development = shade.development
    breaks = (*development.breaks(), development.length)
    found: list[tuple[float, End]] = []
    for part, start, stop in zip(development.parts, breaks, breaks[1:], strict=False):
        # The side of the seam is cut in half by it.
        if isinstance(part, Facet) and start > 1e-6 and stop < development.length - 1e-6:
            for end, side in zip(ENDS, (part.low, part.high), strict=True):
                if math.dist(*side) > NEAR:
                    found.append(((start + stop) / 2, end))
    return tuple(found)


def _tick(shade: Shade, x: float, end: End, depth: float | None = None) -> tuple[Point, Point]:
    """Across the margin, from the rim; inside the rim where nothing is turned in."""
    at, off = place(shade, x, end), outward(shade, x, end)
    return at, _off(at, off, depth if depth is not None else shade.margin or -TICK)


def _sides(shade: Shade, marks: Marks) -> Iterator[Line]:
    for mark, end in marks.sides:
        yield Line("mark", "side", _tick(shade, mark.x, end), panels=mark.panels)


def _struts(shade: Shade, measures: Measures, marks: Marks) -> Iterator[Line]:
    stop, end = measures.exact("slit_stop") if shade.margin else 0.0, shade.fitter_end
    for mark in marks.struts:
        at, off = place(shade, mark.x, end), outward(shade, mark.x, end)
        slit = (_off(at, off, stop), _off(at, off, shade.margin))
        tick = slit if shade.margin else _tick(shade, mark.x, end)
        yield Line("mark", "strut", tick, panels=mark.panels)


def _notches(shade: Shade) -> Iterator[Line]:
    """In the margin of the start end, which comes to lie under the other."""
    if not shade.margin:
        return
    for end in ENDS:
        at, off = place(shade, shade.overlap, end), outward(shade, shade.overlap, end)
        yield Line("mark", "notch", (at, _off(at, off, shade.margin)))


Reliefs = tuple[tuple[float, End], ...]
"""Panel coordinates of relief cuts, each with its rim."""


def relief_places(shade: Shade) -> Reliefs:
    """The relief cuts of a taper; none on a straight shade."""
    development = shade.development
    if development is None:
        return ()
    found = reliefs_of(shade)
    return tuple((_on_rim(development, end, cut.place), end) for end in ENDS for cut in found.at(end))


def _on_rim(development: Development, end: End, wanted: float) -> float:
    """Panel coordinate at a length along a rim: false position, the Illinois way (Dowell and Jarratt 1971,
    from memory), which is quick where both grow almost alike."""
    low, high = 0.0, development.length
    under, over = -wanted, development.rim_length(end) - wanted
    side = 0
    for _ in range(60):
        x = (low * over - high * under) / (over - under)
        miss = development.rim_place(end, x) - wanted
        if abs(miss) < 1e-5:
            return x
        if miss < 0:
            low, under, over = x, miss, over / 2 if side == -1 else over
            side = -1
        else:
            high, over, under = x, miss, under / 2 if side == 1 else under
            side = 1
    return (low + high) / 2


def _reliefs(shade: Shade, measures: Measures, marks: Marks) -> Iterator[Line]:
    for mark, end in marks.reliefs:
        at, off = place(shade, mark.x, end), outward(shade, mark.x, end)
        stop = measures.exact("slit_stop")
        cut = (_off(at, off, stop), _off(at, off, shade.margin))
        yield Line("mark", "relief", cut, panels=mark.panels)


def grain_place(size: SizeRecipe, shade: Shade) -> float:
    """Panel coordinate of the line along which the threads run up the shade: mostly opposite the seam."""
    return cloth_lie(size, shade).grain if shade.tapered else shade.wrapped_length / 2


def _middle(shade: Shade, x: float) -> Iterator[Line]:
    low, high = place(shade, x, "bottom"), place(shade, x, "top")
    length = math.dist(low, high)
    if length < 4 * ARROW:
        raise FigureError(message("the sheet is too low for the line of the grain"))
    ux, uy = (high[0] - low[0]) / length, (high[1] - low[1]) / length
    yield Line("mark", "grain", (low, high), "grain")
    tip = _off(high, (ux, uy), -0.12 * length)
    sides = [
        (tip[0] - ARROW * ux + side * ARROW * 0.36 * uy, tip[1] - ARROW * uy - side * ARROW * 0.36 * ux)
        for side in (-1, 1)
    ]
    yield Line("mark", "grain-arrow", (sides[0], tip, sides[1]))


def _spots(shade: Shade, marks: Marks) -> Iterator[Spot]:
    """Names of places, the most needed first."""
    half, wrapped = shade.slant / 2, shade.wrapped_length
    tau = shade.development.turning if shade.development else 0.0
    last = (math.cos(tau), math.sin(tau))
    yield Spot("start-end", shade.flat(0.0, half), (1.0, 0.0), needed=True)
    yield Spot("outside-end", shade.flat(wrapped, half), (-last[0], -last[1]), last, needed=True)
    for share in (0.36, 0.16, 0.64, 0.84):
        inward, along = _directions(shade, wrapped * share, "top")
        below = _off(place(shade, wrapped * share, "top"), inward, 9.0)  # clear of the line's own name
        yield Spot("top", below, inward, along, needed=True, anywhere=True, size=9.0)
    for noun, low in (("title", 0.5), ("cloth-side", 0.3)):
        for share in (0.2, 0.32, 0.42, 0.6, 0.7, 0.8):
            inward, along = _directions(shade, wrapped * share, "top")
            at = shade.flat(wrapped * share, shade.slant * low)
            yield Spot(noun, at, inward, along, needed=True, anywhere=True, size=5.6)
    for mark in marks.struts:
        yield replace(_beside_tick(shade, "strut", mark.x, shade.fitter_end), panels=mark.panels)
    for end in ENDS if shade.margin else ():
        yield _beside_tick(shade, "notch", shade.overlap, end)
    for mark, end in marks.reliefs:
        yield replace(_beside_tick(shade, "relief", mark.x, end), needed=False, panels=mark.panels)
    for mark, end in marks.sides:
        inward, along = _directions(shade, mark.x, end)
        yield Spot("side", place(shade, mark.x, end), inward, along, panels=mark.panels)


def _directions(shade: Shade, x: float, end: End) -> tuple[Point, Point]:
    """Into the sheet, and along its rim in the way of the panel coordinate."""
    ox, oy = outward(shade, x, end)
    return (-ox, -oy), ((oy, -ox) if end == "top" else (-oy, ox))


def _beside_tick(shade: Shade, noun: str, x: float, end: End) -> Spot:
    """The name of a tick: after it in the margin, or below it in the sheet."""
    inward, along = _directions(shade, x, end)
    at = place(shade, x, end)
    if not shade.margin:
        return Spot(noun, _off(at, inward, TICK), inward, along, needed=True)
    return Spot(noun, _off(at, inward, -shade.margin / 2), along, along, needed=True)
