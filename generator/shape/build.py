"""From one size of a recipe to its shade: the outline found by file, checked in words, given its struts."""

from __future__ import annotations

import math

from generator.base.errors import GeometryError
from generator.base.outline_keys import OutlineKeys
from generator.base.registry import kinds, load_kind
from generator.recipe.models import SizeRecipe
from generator.shape.facts import OutlineFacts
from generator.shape.faults import dimension_faults, strut_faults
from generator.shape.outline import Outline
from generator.shape.panels import in_panels
from generator.shape.shade import TURN, Shade, Strut

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


def build_shade(size: SizeRecipe) -> Shade:
    """Geometry of one size. Raises GeometryError with all faults that forbid a shape at all."""
    faults = dimension_faults(size)
    if faults:
        raise GeometryError(faults)
    outline: Outline = load_kind(_OUTLINES, size.outline).make(size.dimensions)
    first = size.ring.first_strut
    faults = strut_faults(size, outline)
    if faults:
        raise GeometryError(faults)
    sheet = outline.offset(size.tape.thickness + size.panel.thickness / 2)
    places = strut_places(outline, size.ring.struts, first, by_angle=size.ring.spacing == "angle")
    growth = sheet.length - outline.length
    struts = []
    for s in places:
        psi = outline.psi(s)
        struts.append(Strut(s, psi, outline.point(s), s + growth * psi / TURN))
    whole = Shade(
        kind=size.outline,
        outline=outline,
        sheet=sheet,
        height=size.height,
        margin=size.panel.margin,
        overlap=size.panel.overlap,
        hem=size.seam.hem if size.seam.finish == "hem" else 0.0,
        thickness=size.panel.thickness,
        wire=size.ring.wire,
        struts=tuple(struts),
        fitter_end=size.fitter_end,
        recess=size.ring.recess,
        hole=size.ring.hole,
        kiss_cut=size.panel.kiss_cut,
    )
    return in_panels(size, whole)


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
