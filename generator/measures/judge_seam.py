"""Where the seam stands: away from struts, on a flat that holds its overlap."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.errors import Fault, Warning_
from generator.base.message import message
from generator.base.units import round_down, round_nearest
from generator.measures.measure import Measures
from generator.measures.practice import practice
from generator.measures.stations import seam_to_strut
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS, End
from generator.shape.outline import Outline
from generator.shape.say import end_ring, mm, ways
from generator.shape.shade import Shade

NOISE = 1e-6


def judge_seam_strut(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """The overlap, on either side of the mark, needs a wire without a strut."""
    nearest = seam_to_strut(shade)
    needed = shade.overlap + shade.wire
    if nearest >= needed - NOISE:
        return
    midway = shade.rim(shade.fitter_end).length / (2 * len(shade.struts))
    if midway < needed:
        fix = message("use a ring with fewer struts, or a smaller overlap")
    else:
        fix = message(
            "turn the ring so that the seam stands midway between two struts, and write {text}",
            text=f"first_strut: {mm(round_nearest(midway))}",
        )
    yield Fault(
        size.span("ring.first_strut" if size.ring.first_strut is not None else "ring.struts"),
        message(
            "the seam stands on a strut: the nearest one is {nearest} from the seam mark", nearest=mm(nearest)
        ),
        message("at least {needed}, the overlap and the wire", needed=mm(needed)),
        fix,
    )


def judge_seam_corner(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault | Warning_]:
    """The flat beyond the seam mark holds the overlap, or the bend there is gentle enough.

    A free edge that is not bent stands off by b^2 / 2r where b of it lies over a bend of radius r, and by no
    more than b times the sine of the bend. More than a seam may step is a refusal; less is a warning. Own
    derivation (first term of the circle's sagitta).
    """
    for end in ENDS if shade.tapered else (shade.wide_end,):
        yield from _on_corner(size, shade, end)


def _on_corner(size: SizeRecipe, shade: Shade, end: End) -> Iterator[Fault | Warning_]:
    outline = shade.rim(end)
    flat, bend = _flat_and_bend(outline)
    if bend == 0:
        return
    over = shade.overlap - flat
    radius = outline.smallest_radius
    step = practice("seam_step")
    if over <= NOISE or radius >= shade.overlap**2 / (2 * step):
        return
    stands_off = over * math.sin(min(bend, math.pi / 2))
    if radius > 0:
        stands_off = min(stands_off, over * over / (2 * radius))
    key = "corner_radius"
    if size.ends is not None:
        dimensions = size.ends.at(end).dimensions
        key = f"{end}.corner_radius"
    else:
        dimensions = size.dimensions
    if stands_off <= step:
        text = message(
            "the flat beyond the seam mark is {flat} long, so {over} of the overlap lies over the bend: "
            "press it there until it holds",
            flat=mm(flat),
            over=mm(over),
        )
        if shade.tapered:
            text = message(
                "{ring}: the flat beyond the seam mark is {flat} long, so {over} of the overlap lies over "
                "the bend: press it there until it holds",
                ring=end_ring(end),
                flat=mm(flat),
                over=mm(over),
            )
        yield Warning_(size.span(size.overlap_key), text)
        return
    smaller = round_down(radius - over / math.tan(bend / 2)) if bend < math.pi else -1.0
    fix = message("make the ring larger")
    if "corner_radius" in dimensions and smaller >= 0:
        fix = ways([message("use a corner radius of {smaller} or less", smaller=mm(smaller)), fix])
    wrong = message(
        "the seam stands on a corner: beyond its mark the side is flat for {flat}, and the overlap "
        "is {overlap}",
        flat=mm(flat),
        overlap=mm(shade.overlap),
    )
    if shade.tapered:
        wrong = message(
            "{ring}: the seam stands on a corner: beyond its mark the side is flat for {flat}, and the "
            "overlap is {overlap}",
            ring=end_ring(end),
            flat=mm(flat),
            overlap=mm(shade.overlap),
        )
    yield Fault(
        size.span(key if "corner_radius" in dimensions else size.overlap_key),
        wrong,
        message("at least {needed} of flat on the side that carries the seam", needed=mm(2 * shade.overlap)),
        fix,
    )


def _flat_and_bend(outline: Outline) -> tuple[float, float]:
    """Length of the straight from the seam mark to the first bend (mm), that bend's angle; 0, 0: no bends."""
    stations = outline.stations()
    corners = [station for station in stations if station.kind == "corner"]
    if not corners:
        return 0.0, 0.0
    bend = 2 * corners[0].psi
    return corners[0].s - bend * outline.smallest_radius / 2, bend
