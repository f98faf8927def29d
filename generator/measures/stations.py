"""Marks on the rings and along the panel, and the cuts at the rims."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures
from generator.measures.practice import practice
from generator.measures.reliefs import relief_measures, sharp_bends
from generator.measures.taper_marks import taper_marks
from generator.recipe.models import SizeRecipe
from generator.shape.build import end_facts
from generator.shape.development import ENDS, other_end
from generator.shape.say import plain
from generator.shape.shade import Shade

ALONG = "arc length s plus offset × angle turned, on the mid-sheet line"
OFFSET_ARC = "arc length of a parallel curve, s + dψ (do Carmo, exercise 1-7, from memory)"


def station_measures(size: SizeRecipe, shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Seam mark, quarters, corners, struts, snips, notch."""
    yield from _seam(size, shade)
    yield from _joints(shade, so_far)
    yield from taper_marks(shade, _spacing(size)) if shade.tapered else _along_panel(size, shade)
    yield from _cuts(shade, so_far)
    yield from relief_measures(shade)


def _along_panel(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    quarters = shade.pauses
    exactly = [shade.wrapped_length * k / 4 for k in (1, 2, 3)]
    moved = any(abs(a - b) > 1e-9 for a, b in zip(quarters, exactly, strict=True))
    yield _marks(
        "quarters",
        "Pauses about each quarter of the roll, from the start end",
        quarters,
        f"1/4, 2/4 and 3/4 of once round {plain(shade.wrapped_length)}"
        + ("; on a corner, the middle of the next side" if moved else ""),
        "arithmetic",
        practice("drift"),
        ("wrapped_length",),
    )
    corners = tuple(
        shade.on_panel(station.s) for station in shade.outline.stations() if station.kind == "corner"
    )
    yield _marks(
        "corner_stations",
        "Middles of the bends along the panel, from the start end",
        corners,
        f"{ALONG}: {_list(corners)}" if corners else "none: this ring has no corners",
        OFFSET_ARC,
        1.0,
        ("perimeter", "wrapped_length"),
    )
    struts = tuple(strut.panel for strut in shade.struts)
    yield _marks(
        "strut_stations",
        "Struts along the panel, from the start end",
        struts,
        f"{_spacing(size)}; {ALONG}: {_list(struts)}",
        OFFSET_ARC,
        1.0,
        ("perimeter", "wrapped_length", "struts"),
    )


def seam_to_strut(shade: Shade) -> float:
    """Arc length along the fitter ring's wire from the seam to the nearest strut, either way round, mm."""
    length = shade.rim(shade.fitter_end).length
    return min(min(strut.s, length - strut.s) for strut in shade.struts)


def _seam(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    nearest = seam_to_strut(shade)
    facts = end_facts(size, size.fitter_end)
    to_strut = f"along the wire to the nearest strut: {plain(nearest)}; {_spacing(size)}"
    mark = nearest if facts.seam_mark is None else facts.seam_mark
    yield Measure(
        id="seam_mark",
        label=f"Seam mark, from {facts.seam_mark_from}",
        exact=mark,
        shown=round_nearest(mark),
        unit="mm",
        formula=to_strut if facts.seam_mark is None else facts.seam_mark_formula,
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("perimeter", "struts") if facts.seam_mark is None else tuple(size.dimensions),
    )
    yield Measure(
        id="seam_to_strut",
        label="Seam to the nearest strut, along the wire",
        exact=nearest,
        shown=round_nearest(nearest),
        unit="mm",
        formula=to_strut,
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("perimeter", "struts"),
    )


def _joints(shade: Shade, so_far: Measures) -> Iterator[Measure]:
    """Where panels meet, apart from the seam: along the joined panels, and along the wire."""
    if shade.panels == 1:
        return
    once = shade.rim_length(shade.wide_end)
    share = f"once round {plain(once)} / {shade.panels} panels"
    step = so_far.shown("wrapped_length") / shade.panels
    along = tuple(once * k / shade.panels for k in range(1, shade.panels))
    yield Measure(
        id="joint_stations",
        label=f"Joints along the {'wide rim of the ' if shade.tapered else ''}joined panels, from the start",
        exact=along,
        # Whole shown panels, each less its overlap, so that they add up on the page.
        shown=tuple(step * k for k in range(1, shade.panels)),
        unit="mm",
        formula=f"{share}, for each joint: {_list(along)}",
        source="arithmetic",
        tolerance=float(shade.panels),
        inputs=("wrapped_length", "panels"),
    )
    rings = [("joint_marks", " of the fitter ring" if shade.tapered else "", shade.fitter_end)]
    if shade.tapered:
        rings.append(("plain_joint_marks", " of the plain ring", other_end(shade.fitter_end)))
    for id_, ring, end in rings:
        places = tuple(shade.on_outline(x, end) for x in shade.joints)
        yield _marks(
            id_,
            f"Joint marks, from the seam mark along the wire{ring}",
            places,
            f"where the ring meets the joints, on the outside of the wire: {_list(places)}",
            OFFSET_ARC,
            1.0,
            ("perimeter", "joint_stations"),
        )


def _cuts(shade: Shade, so_far: Measures) -> Iterator[Measure]:
    count = float(len(shade.struts))
    yield Measure(
        id="snips",
        label=f"Slits in the {'margin' if shade.margin else 'binding'}, one at each strut",
        exact=count,
        shown=count,
        unit="count",
        formula=f"one for each of {plain(count)} struts",
        source=COMMON_PRACTICE,
        inputs=("struts",),
    )
    yield from _reliefs(shade)
    if not shade.margin:
        return
    for id_, label, of, words in (
        ("notch_length", "Notch in the under layer, along the rim", "overlap", "the seam overlap"),
        ("notch_width", "Notch in the under layer, across the margin", "margin", "the margin"),
    ):
        yield Measure(
            id=id_,
            label=label,
            exact=so_far.exact(of),
            shown=so_far.shown(of),
            unit="mm",
            formula=f"{words}: {plain(so_far.exact(of))}",
            source=COMMON_PRACTICE,
            tolerance=1.0,
            inputs=(of,),
        )


def _reliefs(shade: Shade) -> Iterator[Measure]:
    """Where a corner is tighter than the margin is wide, the turned margin has too little room."""
    end = max(
        ENDS, key=lambda end: (sharp_bends(shade.rim(end), shade.margin), -shade.rim(end).smallest_radius)
    )
    corners, radius = sharp_bends(shade.rim(end), shade.margin), shade.rim(end).smallest_radius
    if not corners:
        return
    yield Measure(
        id="reliefs",
        label="Corners tighter than the margin is wide"
        if shade.tapered
        else "Relief cuts in the margin, each rim",
        exact=float(corners),
        shown=float(corners),
        unit="count",
        formula=f"one a corner: {corners}, of radius {plain(radius)}, under {plain(shade.margin)}",
        source=COMMON_PRACTICE,
        inputs=("margin",),
    )


def _spacing(size: SizeRecipe) -> str:
    how = "equal angles about the centre" if size.ring.spacing == "angle" else "equal lengths along the wire"
    first = size.ring.first_strut
    where = (
        "the first half a space from the seam"
        if first is None
        else f"the first {plain(first)} from the seam, as the recipe says"
    )
    return f"{size.ring.struts} struts at {how}, {where}"


def _list(values: tuple[float, ...]) -> str:
    return ", ".join(plain(value) for value in values)


def _marks(
    id_: str,
    label: str,
    values: tuple[float, ...],
    formula: str,
    source: str,
    tolerance: float,
    inputs: tuple[str, ...],
) -> Measure:
    shown = tuple(round_nearest(value) for value in values)
    return Measure(id_, label, values, shown, "mm", formula, source, tolerance, inputs)
