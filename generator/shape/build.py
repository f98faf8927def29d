"""From one size of a recipe to its shade: outlines found by file, checked in words, given their struts."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from generator.base.errors import GeometryError
from generator.base.outline_keys import OutlineKeys
from generator.base.registry import kinds, load_kind
from generator.recipe.models import SizeRecipe
from generator.shape.development import Development, End
from generator.shape.facts import OutlineFacts
from generator.shape.faults import dimension_faults, front_step, strut_faults, taper_faults
from generator.shape.outline import Outline
from generator.shape.panels import in_panels
from generator.shape.shade import TURN, Shade, Strut
from generator.shape.supplied import margin_of, supplied_faults

_OUTLINES = "generator.shape.outlines"


def outline_keys() -> dict[str, OutlineKeys]:
    """The keys that each outline takes from a recipe, by the outline's name; one file, one outline."""
    found: dict[str, OutlineKeys] = {}
    for name in kinds(_OUTLINES):
        keys = load_kind(_OUTLINES, name).KEYS
        assert isinstance(keys, OutlineKeys)
        found[name] = keys
    return found


def outline_facts(size: SizeRecipe) -> OutlineFacts:
    """Formulas of the size's outline in words."""
    facts = load_kind(_OUTLINES, size.outline).facts(size.dimensions)
    assert isinstance(facts, OutlineFacts)
    return facts


def end_facts(size: SizeRecipe, end: End) -> OutlineFacts:
    """Formulas of one ring of a tapered size in words; of a straight one those of its outline."""
    if size.ends is None:
        return outline_facts(size)
    ring = size.ends.at(end)
    facts = load_kind(_OUTLINES, ring.outline).facts(ring.dimensions)
    assert isinstance(facts, OutlineFacts)
    return facts


def build_shade(size: SizeRecipe) -> Shade:
    """Geometry of one size. Raises GeometryError with all faults that forbid a shape at all."""
    faults = dimension_faults(size)
    if faults:
        raise GeometryError(faults)
    development = build_development(size) if size.ends is not None else None
    if development is None:
        outline = fitter_rim = _outline(size.outline, size.dimensions)
    else:
        wide_top = development.top.length > development.bottom.length
        outline = development.top if wide_top else development.bottom
        fitter_rim = development.top if size.fitter_end == "top" else development.bottom
    faults = strut_faults(size, fitter_rim)
    if faults:
        raise GeometryError(faults)
    sheet = outline.offset(sheet_offset(size))
    faults = supplied_faults(size, sheet.length)
    if faults:
        raise GeometryError(faults)
    shade = Shade(
        kind=size.outline,
        outline=outline,
        sheet=sheet,
        height=size.height if development is None else development.height,
        margin=margin_of(size),
        overlap=size.panel.overlap,
        hem=size.seam.hem if size.seam.finish == "hem" else 0.0,
        thickness=size.panel.thickness,
        wire=size.ring.wire,
        struts=(),
        fitter_end=size.fitter_end,
        recess=size.ring.recess,
        hole=size.ring.hole,
        kiss_cut=size.panel.kiss_cut,
        development=development,
    )
    places = strut_places(
        fitter_rim, size.ring.struts, size.ring.first_strut, by_angle=size.ring.spacing == "angle"
    )
    struts = tuple(Strut(s, fitter_rim.psi(s), fitter_rim.point(s), shade.on_panel(s)) for s in places)
    return in_panels(size, replace(shade, struts=struts))


def sheet_offset(size: SizeRecipe) -> float:
    """How far the middle of the sheet lies outside the wire: the tape and half the panel, mm."""
    return size.tape.thickness + size.panel.thickness / 2


def build_development(size: SizeRecipe) -> Development:
    """The side of a tapered size. Raises GeometryError where height or slant leave no surface."""
    assert size.ends is not None
    bottom, top = (_outline(end.outline, end.dimensions) for end in (size.ends.bottom, size.ends.top))
    faults = taper_faults(size, bottom, top)
    if faults:
        raise GeometryError(faults)
    x, y = size.ends.shift
    height = size.height
    if size.ends.slant is not None:
        height = math.sqrt(size.ends.slant**2 - front_step(bottom, top, y) ** 2 - x**2)
    # The panel is rolled print up with its top away from the maker, so that its stations run clockwise seen
    # from above. An outline looks the same either way round; a shift to the side does not.
    return Development(bottom, top, height, (-x, y), sheet_offset(size))


def _outline(kind: str, dimensions: Mapping[str, float]) -> Outline:
    made: Outline = load_kind(_OUTLINES, kind).make(dimensions)
    return made


def strut_places(outline: Outline, count: int, first: float | None, *, by_angle: bool) -> tuple[float, ...]:
    """Arc lengths of the struts from the seam, in order, mm.

    Even by arc length or by angle about the centre; the first half a space from the seam, or at ``first``.
    """
    if by_angle:
        start = math.pi / count if first is None else polar_angle(outline, first)
        angles = [(start + TURN * k / count) % TURN for k in range(count)]
        return tuple(sorted(_at_polar_angle(outline, angle) for angle in angles))
    space = outline.length / count
    begin = space / 2 if first is None else first
    return tuple(sorted((begin + space * k) % outline.length for k in range(count)))


def polar_angle(outline: Outline, s: float) -> float:
    """Angle at the centre from the seam to the point at s, counter-clockwise, 0 to 2 pi."""
    x, y = outline.point(s)
    return math.atan2(x, -y) % TURN


def _at_polar_angle(outline: Outline, angle: float) -> float:
    """Arc length at which the ray from the centre leaves the outline, by halving; the angle grows with s."""
    low, high = 0.0, outline.length
    # The ends are 0 and a full turn by definition and never evaluated, so the jump at the seam does no harm.
    while high - low > 1e-12 * outline.length:
        middle = (low + high) / 2
        if not low < middle < high:
            break
        if polar_angle(outline, middle) < angle:
            low = middle
        else:
            high = middle
    return (low + high) / 2
