"""The fitter's place, and the lamp's distance from the covering."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault, Warning_
from generator.base.units import round_down, round_up
from generator.measures.measure import Measures
from generator.measures.practice import practice
from generator.recipe.models import SizeRecipe
from generator.shape.development import other_end
from generator.shape.say import mm
from generator.shape.shade import Shade

NOISE = 1e-6


def judge_fitter(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault | Warning_]:
    """Recess inside the height, hole inside the ring, the fitter at the usual end."""
    if shade.recess >= shade.height - NOISE:
        yield Fault(
            size.span("ring.recess"),
            f"a recess of {mm(shade.recess)} goes through the whole height, {mm(shade.height)}",
            f"less than {mm(shade.height)}",
            "measure from the ring's plane to the hub, and write that as recess",
        )
    inside = fitter_inside(shade)
    if shade.hole is not None and shade.hole >= inside - NOISE:
        yield Fault(
            size.span("ring.hole"),
            f"a hole of {mm(shade.hole)} does not fit inside the ring, {mm(inside)} across",
            f"less than {mm(inside)}",
            "measure the hole of the fitter, or the lamp holder that goes through it",
        )
    usual = "top" if size.use == "pendant" else "bottom"
    if size.fitter_end != usual:
        kind = "a pendant" if size.use == "pendant" else "a table lamp"
        yield Warning_(
            size.span("ring.fitter"),
            f"the fitter ring of {kind} usually sits at the {usual}, and this recipe puts it at the "
            f"{size.fitter_end}",
        )


def fitter_inside(shade: Shade) -> float:
    """Smallest width between the wires of the fitter ring, mm."""
    if not shade.tapered:
        return shade.smallest_inside
    return 2 * abs(shade.rim(shade.fitter_end).point(0.0)[1]) - 2 * shade.wire


def judge_lamp(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault | Warning_]:
    """Sideways the lamp must keep its distance; towards the open end there is no covering, so a warning."""
    # A ring moved off the lamp's line is told as that.
    if size.lamp is None or (shade.tapered and shade.smallest_inside <= NOISE):
        return
    limit = practice("lamp_limit")
    if measures.exact("lamp_gap") < limit - NOISE:
        shown = measures.shown("lamp_gap")
        wide = round_up(size.lamp.diameter + 2 * limit + 2 * shade.wire)
        thin = round_down(shade.smallest_inside - 2 * limit)
        ring = f"a {'narrow ' if shade.tapered else ''}ring at least {mm(wide)} across its narrow way"
        fix = f"use a lamp of at most {mm(thin)} across, or {ring}" if thin > 0 else f"use {ring}"
        wrong = f"the lamp comes within {mm(shown)} of the covering"
        if shown < 0:
            inside = mm(shade.smallest_inside)
            wrong = f"a lamp of {mm(size.lamp.diameter)} does not fit inside the ring, {inside} across"
        yield Fault(size.span("lamp.diameter"), wrong, f"a gap of at least {mm(limit)}", fix)
    if "lamp_gap_end" not in measures:
        return
    end, shown = measures.exact("lamp_gap_end"), measures.shown("lamp_gap_end")
    open_end = other_end(shade.fitter_end)
    if end < -NOISE:
        yield Warning_(
            size.span("lamp.length"),
            f"the lamp stands out of the open {open_end} by {mm(-end)}; use a shorter lamp or a taller shade",
        )
    elif end < limit - NOISE:
        yield Warning_(
            size.span("lamp.length"),
            f"the end of the lamp is {mm(shown)} from the open {open_end}, less than {mm(limit)}; "
            "nothing covers it there, but keep the opening clear",
        )
