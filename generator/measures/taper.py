"""The panel of a tapered shade: lengths along both rims, slant, radii and sweep of the flat sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.units import round_nearest
from generator.measures.apex import radii
from generator.measures.bend import bend_strain
from generator.measures.ends import wire_word
from generator.measures.measure import COMMON_PRACTICE, Measure
from generator.measures.practice import practice
from generator.measures.stated import stated
from generator.recipe.models import SizeRecipe
from generator.shape.build import sheet_offset
from generator.shape.development import ENDS, End
from generator.shape.say import plain
from generator.shape.shade import Shade

GROWTH = "parallel surface: each rim grows by 2π × offset × cosine of the slope (own derivation from Steiner)"
NET = "net of a frustum (elementary mensuration); for other rims own derivation from support functions"
FREE_EDGE = "a straight edge past a curve of the flat sheet (own derivation)"


def taper_panel_measures(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    """In the order of ``panel_measures``; shown parts add up to the shown whole."""
    yield from _lengths(size, shade)
    yield from _heights(size, shade)
    yield from _flat_sheet(size, shade)
    yield stated(size, "panel_thickness", "Panel thickness", "panel.thickness", shade.thickness, ruler="mm")
    yield _strain(shade)


def least_slant(shade: Shade) -> float:
    """Length of the shortest straight line of the surface, mm."""
    development = shade.development
    assert development is not None
    return min(development.generator(development.length * k / 48).length for k in range(48))


def shown_slant(shade: Shade) -> float:
    """The slant that a shown panel with two shown margins leaves, mm."""
    height = round_nearest(shade.panel_height)
    return height - 2 * round_nearest(shade.margin, 0.5) if shade.kiss_cut else height


def tightest_end(shade: Shade) -> End:
    """The end whose ring has the tighter bend."""
    return min(ENDS, key=lambda end: (shade.rim(end).smallest_radius, end))


def seam_misfit(shade: Shade) -> float:
    """How far the corner of the straight overlap stands off the curved rim below it, the worse end, mm."""
    development = shade.development
    assert development is not None
    first = development.generator(0.0)
    misfits = []
    for end in ENDS:
        # As far along this rim as the overlap is wide: the flat part or the even curve at the seam.
        under = development.generator(shade.overlap * development.length / shade.rim_length(end))
        here, begun = (line.flat_low if end == "bottom" else line.flat_high for line in (under, first))
        misfits.append(abs(here[1] - begun[1]))
    return max(misfits)


def _growth(size: SizeRecipe, shade: Shade, end: End) -> str:
    return (
        f"{wire_word(shade, end)}, on the middle of a sheet that lies {plain(sheet_offset(size), 3)} outside "
        "the wire"
    )


def _lengths(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    wide, count = shade.wide_end, shade.panels
    overlap = round_nearest(shade.overlap)
    once = {end: shade.rim_length(end) for end in ENDS}
    share = once[wide] / count
    length = round_nearest(share + shade.overlap)
    # What is left of the shown panels, so that they add up on the page.
    round_ = count * (length - overlap)
    inputs = ("tape_thickness", "panel_thickness")
    whole = "Joined panels along their" if count > 1 else "Panel along its"
    of = f" / {count} panels" if count > 1 else ""
    yield Measure(
        id="panel_length",
        label=f"{'Each panel' if count > 1 else 'Panel'} along its wide rim, with the overlap",
        exact=share + shade.overlap,
        shown=length,
        unit="mm",
        formula=f"{_growth(size, shade, wide)}: {plain(once[wide])}{of} + overlap {plain(shade.overlap)}",
        source=GROWTH,
        tolerance=1.0,
        inputs=(f"{wide}_perimeter", *inputs, "overlap", *(("panels",) if of else ())),
    )
    if count > 1:
        yield from _several(size, shade, share, length, overlap)
    yield Measure(
        id="wrapped_length",
        label=f"{whole} wide rim, without the overlap",
        exact=once[wide],
        shown=round_,
        unit="mm",
        formula=_growth(size, shade, wide),
        source=GROWTH,
        tolerance=float(count),
        inputs=(f"{wide}_perimeter", *inputs),
    )
    for end in ENDS:
        yield Measure(
            id=f"{end}_wrapped",
            label=f"{whole} {end} rim, without the overlap",
            exact=once[end],
            shown=round_ if end == wide else round_nearest(once[end]),
            unit="mm",
            formula=_growth(size, shade, end),
            source=GROWTH,
            tolerance=float(count),
            inputs=(f"{end}_perimeter", *inputs),
        )
    yield stated(
        size, "overlap", "Seam overlap", "panel.overlap", shade.overlap, shown=overlap, tolerance=1.0
    )


def _several(
    size: SizeRecipe, shade: Shade, share: float, length: float, overlap: float
) -> Iterator[Measure]:
    """One of several panels without its overlap, and all of them joined, along the wide rim."""
    wide, count = shade.wide_end, shade.panels
    whole = shade.rim_length(wide)
    yield Measure(
        id="panel_wrapped",
        label="Each panel along its wide rim, without the overlap",
        exact=share,
        shown=length - overlap,
        unit="mm",
        formula=f"{_growth(size, shade, wide)}: {plain(whole)} / {count} panels",
        source=GROWTH,
        tolerance=1.0,
        inputs=("panel_length", "overlap"),
    )
    yield Measure(
        id="strip_length",
        label="Joined panels along their wide rim, with the overlap",
        exact=whole + shade.overlap,
        shown=count * (length - overlap) + overlap,
        unit="mm",
        formula=f"{_growth(size, shade, wide)}: {plain(whole)} + overlap {plain(shade.overlap)}",
        source=GROWTH,
        tolerance=float(count),
        inputs=("panel_length", "panels", "overlap"),
    )


def _heights(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    assert size.ends is not None
    margin, height, slant = (
        round_nearest(shade.margin, 0.5),
        round_nearest(shade.panel_height),
        shown_slant(shade),
    )
    yield Measure(
        id="panel_height",
        label="Panel up the slope, with its margin strips" if shade.kiss_cut else "Panel up the slope",
        exact=shade.panel_height,
        shown=height,
        unit="mm",
        formula=f"slant {plain(shade.slant)}"
        + (f" + 2 × margin {plain(shade.margin)}" if shade.kiss_cut else ""),
        source=COMMON_PRACTICE,
        tolerance=1.0,
        inputs=("slant", "margin") if shade.kiss_cut else ("slant",),
    )
    given = size.ends.slant is not None
    step = math.sqrt(max(shade.slant**2 - shade.height**2, 0.0))
    label = "Slant, up the slope from rim to rim"
    if size.ends.shift[1] or not _even(shade):
        label = "Slant at the seam, up the slope from rim to rim"
    yield Measure(
        id="slant",
        label=label,
        exact=shade.slant,
        # What the shown panel leaves, so that the two add up on the page.
        shown=slant,
        unit="mm",
        formula=f"{plain(shade.slant, 2)}, as the recipe says"
        if given
        else f"√(height {plain(shade.height)}² + rim set in {plain(step)}²)",
        source="the recipe" if given else "Pythagoras",
        tolerance=practice("height_tolerance"),
        inputs=("slant",) if given else ("finished_height",),
    )
    yield Measure(
        id="finished_height",
        label="Finished height, straight up",
        exact=shade.height,
        shown=round_nearest(shade.height),
        unit="mm",
        formula=f"√(slant {plain(shade.slant)}² − rim set in {plain(step)}²)"
        if given
        else f"{plain(shade.height, 2)}, as the recipe says",
        source="Pythagoras" if given else "the recipe",
        tolerance=practice("height_tolerance"),
        inputs=("slant",) if given else ("height",),
    )
    if shade.margin:
        yield stated(
            size,
            "margin",
            "Margin to turn in at each rim",
            size.margin_key,
            shade.margin,
            shown=margin,
            tolerance=practice("margin_tolerance"),
            ruler="thirty-seconds",
        )


def _even(shade: Shade) -> bool:
    """Whether the slope is as long everywhere as at the seam, to half a millimetre."""
    development = shade.development
    assert development is not None
    lengths = [development.generator(development.length * k / 16).length for k in range(16)]
    return max(lengths) - min(lengths) < 0.5


def _flat_sheet(size: SizeRecipe, shade: Shade) -> Iterator[Measure]:
    development = shade.development
    assert development is not None
    sweep = abs(math.degrees(development.turning))
    yield Measure(
        id="sweep",
        label=f"Sweep of the {'joined panels' if shade.panels > 1 else 'flat sheet'}, seam edge to seam edge",
        exact=sweep,
        shown=round(sweep, 1),
        unit="deg",
        formula=f"angle through which the flat sheet turns from one seam edge to the other: {plain(sweep)}°",
        source=NET,
        inputs=("bottom_perimeter", "top_perimeter", "slant"),
    )
    if shade.panels > 1:
        yield Measure(
            id="panel_sweep",
            label="Sweep of one panel, edge to edge",
            exact=sweep / shade.panels,
            shown=round(sweep / shade.panels, 1),
            unit="deg",
            formula=f"an equal share of the sweep: {plain(sweep)}° / {shade.panels} panels",
            source=NET,
            inputs=("sweep", "panels"),
        )
    found = radii(development)
    if found is not None:
        outer, inner = round_nearest(found.outer), round_nearest(found.inner)
        if abs(found.outer - found.inner - shade.slant) < 1e-6:
            # What the shown slant leaves, so that radii and slant add up on the page.
            inner = outer - shown_slant(shade)
        beyond = shade.margin if shade.kiss_cut else 0.0
        for end, ring, exact, shown, sign in (
            ("outer", "wide", found.outer, outer, 1.0),
            ("inner", "narrow", found.inner, inner, -1.0),
        ):
            yield Measure(
                id=f"{end}_radius",
                label=f"Radius of the {ring} rim on the flat sheet",
                exact=exact,
                shown=shown,
                unit="mm",
                formula=f"from where all slopes meet to the farthest place of the rim: {plain(exact)}",
                source=NET,
                tolerance=1.0,
                inputs=("bottom_perimeter", "top_perimeter", "slant"),
            )
            yield Measure(
                id=f"{end}_cut",
                label=f"Radius of the {ring} cut line",
                exact=exact + sign * beyond,
                shown=shown + sign * round_nearest(beyond),
                unit="mm",
                formula=f"the rim's radius, and the margin {plain(beyond)} beyond the rim",
                source=COMMON_PRACTICE,
                tolerance=1.0,
                inputs=(f"{end}_radius", "margin"),
            )
    misfit = seam_misfit(shade)
    yield Measure(
        id="seam_misfit",
        label="Corner of the overlap off the curve of the rim",
        exact=misfit,
        shown=round(misfit, 1),
        unit="mm",
        formula=f"the overlap {plain(shade.overlap)} runs straight on, and the rim below it curves: "
        f"{plain(misfit, 2)}",
        source=FREE_EDGE,
        inputs=("overlap", "sweep"),
    )


def _strain(shade: Shade) -> Measure:
    end = tightest_end(shade)
    radius = shade.rim(end).smallest_radius
    return bend_strain(shade.thickness, radius, f"radius {plain(radius)} of the {end} ring")
