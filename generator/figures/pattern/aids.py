"""Small full-scale things to cut out: strips, a gauge, a viewfinder, flags."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import Polygon

from generator.figures.pattern.flat import outward, place
from generator.figures.pattern.model import Drawing, Lettering, Line, Point, Spot
from generator.measures.full_scale import FRAME, PROOF_REACH, proof_scale, strip_growth
from generator.measures.measure import Measures
from generator.shape.development import ENDS, End
from generator.shape.shade import Shade

USUAL = Lettering()
SMALL = 2.9
"""Letters on small pieces, mm to the em: a little over 8 pt."""
SQUARE = math.radians(1.0)
"""A seam edge that leans no more off the rim is cut with a rectangular gauge."""
STEPS = 60


def strips(shade: Shade, measures: Measures, lettering: Lettering) -> Iterator[Drawing]:
    """Long strips, which must be joined from pieces."""
    for end in ENDS if shade.tapered else (None,):
        yield proof_strip(shade, measures, end, lettering)
    if shade.margin and not shade.tapered:
        yield snip_strip(shade)


def small(shade: Shade, lettering: Lettering) -> Iterator[Drawing]:
    """Pieces that fit on a page as they are."""
    if shade.margin and _square(shade):
        yield notch_gauge(shade, lettering)
    yield from (flag("flag-up", lettering), flag("flag-fitter", lettering))


def proof_strip(shade: Shade, measures: Measures, end: End | None, lettering: Lettering = USUAL) -> Drawing:
    """To wrap round a real ring: where its beginning comes to lie, the scale tells what the ring needs.

    Of a straight shade the scale reads the panel length: place p reads p + 2 pi (u + t/2) + overlap, by
    Steiner's formula, whatever the ring's form. Of a taper it reads the way round one ring, that of ``end``.
    """
    scale, strip = proof_scale(shade, end), lettering.strip
    ring = shade.outline if end is None else shade.rim(end)
    here = ring.length + strip_growth()
    length = here + PROOF_REACH + 12.0
    corners = ((0.0, 0.0), (length, 0.0), (length, strip), (0.0, strip))
    name = f"proof-{end}" if end else "proof"
    lines = [Line("cut", "outline", corners, closed=True)]
    at = 0.5 if lettering.large else 0.68
    spots = [Spot(f"{name}-start", (0.0, strip * at), (1.0, 0.0), needed=True, size=SMALL)]
    written = measures[f"{name}_scale" if end is None else f"proof_{end}_scale"]
    for reading, at in scale.ticks:
        high = 7.0 if reading in written.values else 4.6 if reading % 5 == 0 else 3.0
        lines.append(Line("mark", "scale", ((at, 0.0), (at, high))))
    by_reading = dict(scale.ticks)
    for value in written.values:
        spots.append(
            Spot(
                "number",
                (by_reading[round(value)], 7.0),
                along=(0.0, 1.0) if lettering.large else (1.0, 0.0),
                needed=True,
                size=SMALL,
                text=f"{value:g}",
            )
        )
    wing, foot = 2.2, strip - 5.0
    lines.append(Line("mark", "here", ((here, strip), (here, foot), (here - wing, foot + 3.0))))
    lines.append(Line("mark", "here", ((here, foot), (here + wing, foot + 3.0))))
    spots.append(
        Spot(
            f"{name}-here", (here - 2.0, strip - 2.6 * lettering.times), (-1.0, 0.0), needed=True, size=SMALL
        )
    )
    spots.append(Spot(f"{name}-read", (here - PROOF_REACH, 4.0), (-1.0, 0.0), needed=True, size=SMALL))
    return Drawing(name, tuple(lines), tuple(spots), corners)


def snip_strip(shade: Shade) -> Drawing:
    """To lay along the margin of the fitter end: struts, corners, joints, the overlap."""
    length, high = shade.strip_length, shade.margin
    corners = ((0.0, 0.0), (length, 0.0), (length, high), (0.0, high))
    lines = [Line("cut", "outline", corners, closed=True)]
    spots = [Spot("snip-start", (0.0, high / 2), (1.0, 0.0), needed=True, size=SMALL)]
    bends = [station for station in shade.outline.stations() if station.kind == "corner"]
    marks = [("strut", strut.panel) for strut in shade.struts]
    marks += [("corner", shade.on_panel(station.s)) for station in bends]
    marks += [("joint", x) for x in shade.joints]
    marks.append(("snip-end", shade.wrapped_length))
    for noun, x in sorted(marks, key=lambda mark: mark[1]):
        lines.append(Line("mark", noun, ((x, 0.0), (x, high))))
        aside = (-1.0, 0.0) if noun == "snip-end" else (1.0, 0.0)
        spots.append(Spot(noun, (x, high / 2), aside, needed=True, size=SMALL))
    return Drawing("snip", tuple(lines), tuple(spots), corners)


def notch_gauge(shade: Shade, lettering: Lettering = USUAL) -> Drawing:
    """A card with the notch cut out of its corner: lay it on the start end, cut along its inside."""
    wide, high = shade.overlap + 40.0 * lettering.times, shade.margin + 24.0
    corners = (
        (0.0, 0.0), (wide, 0.0), (wide, high), (shade.overlap, high),
        (shade.overlap, high - shade.margin), (0.0, high - shade.margin),
    )  # fmt: skip
    spot = Spot("notch-gauge", (wide / 2, 12.0), needed=True, size=SMALL)
    return Drawing("notch-gauge", (Line("cut", "outline", corners, closed=True),), (spot,), corners)


def flag(noun: str, lettering: Lettering) -> Drawing:
    """To fold round a wire and glue together."""
    wide, half = 66.0 * lettering.times, 20.0
    corners = ((0.0, 0.0), (wide, 0.0), (wide, 2 * half), (0.0, 2 * half))
    lines = (
        Line("cut", "outline", corners, closed=True),
        Line("fold", "middle", ((0.0, half), (wide, half))),
    )
    spots = (
        Spot(noun, (wide / 2, 2.5), needed=True, size=7.0),
        Spot("flag-fold", (wide / 2, half + 6.0), size=SMALL),
    )
    return Drawing(noun, lines, spots, corners)


def viewfinder(shade: Shade) -> Drawing:
    """A window as large as the third of the shade that faces who looks at it."""
    third = shade.wrapped_length / 3
    places = [third + third * k / STEPS for k in range(STEPS + 1)]
    inner = (
        *(place(shade, x, "bottom") for x in places),
        *(place(shade, x, "top") for x in reversed(places)),
    )
    outer = _grown(inner)
    middle = shade.wrapped_length / 2
    off = outward(shade, middle, "top")
    along = (off[1], -off[0])
    above = place(shade, middle, "top")
    below, down = place(shade, middle, "bottom"), outward(shade, middle, "bottom")
    spots = (
        Spot("top", (above[0] + off[0] * 4.0, above[1] + off[1] * 4.0), off, along, size=6.0),
        Spot("viewfinder", (below[0] + down[0] * 4.0, below[1] + down[1] * 4.0), down, along, needed=True),
    )
    lines = (
        # Paper, whatever the panel is: its line is not named as the panel's.
        Line("cut", "outline", outer, closed=True),
        Line("cut", "window", inner, closed=True),
    )
    drawing = Drawing("viewfinder", lines, spots, outer)
    return drawing.turned(-math.atan2(along[1], along[0]))


def _grown(loop: tuple[Point, ...]) -> tuple[Point, ...]:
    grown = Polygon(loop).buffer(FRAME, join_style="mitre", mitre_limit=2.0).simplify(0.005)
    assert isinstance(grown, Polygon)
    return tuple((float(x), float(y)) for x, y in list(grown.exterior.coords)[:-1])


def _square(shade: Shade) -> bool:
    """Whether the start edge stands at a right angle to both rims."""
    low, high = place(shade, 0.0, "bottom"), place(shade, 0.0, "top")
    length = math.dist(low, high)
    up = ((high[0] - low[0]) / length, (high[1] - low[1]) / length)
    for end in ENDS:
        ox, oy = outward(shade, 0.0, end)
        if abs(up[0] * oy - up[1] * ox) > math.sin(SQUARE):
            return False
    return True
