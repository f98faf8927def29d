"""The fitter's place, and the lamp's distance from the covering."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault, Warning_
from generator.base.message import message
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
            message(
                "a recess of {recess} goes through the whole height, {height}",
                recess=mm(shade.recess),
                height=mm(shade.height),
            ),
            message("less than {limit}", limit=mm(shade.height)),
            message("measure from the ring's plane to the hub, and write that as recess"),
        )
    inside = fitter_inside(shade)
    if shade.hole is not None and shade.hole >= inside - NOISE:
        yield Fault(
            size.span("ring.hole"),
            message(
                "a hole of {hole} does not fit inside the ring, {inside} across",
                hole=mm(shade.hole),
                inside=mm(inside),
            ),
            message("less than {limit}", limit=mm(inside)),
            message("measure the hole of the fitter, or the lamp holder that goes through it"),
        )
    usual = "top" if size.use == "pendant" else "bottom"
    if size.fitter_end != usual:
        text = message(
            "the fitter ring of a table lamp usually sits at the bottom, and this recipe puts it at the top"
        )
        if size.use == "pendant":
            text = message(
                "the fitter ring of a pendant usually sits at the top, and this recipe puts it at the bottom"
            )
        yield Warning_(size.span("ring.fitter"), text)


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
        ring = message("a ring at least {wide} across its narrow way", wide=mm(wide))
        if shade.tapered:
            ring = message("a narrow ring at least {wide} across its narrow way", wide=mm(wide))
        fix = (
            message("use a lamp of at most {thin} across, or {ring}", thin=mm(thin), ring=ring)
            if thin > 0
            else message("use {ring}", ring=ring)
        )
        wrong = message("the lamp comes within {gap} of the covering", gap=mm(shown))
        if shown < 0:
            inside = mm(shade.smallest_inside)
            wrong = message(
                "a lamp of {diameter} does not fit inside the ring, {inside} across",
                diameter=mm(size.lamp.diameter),
                inside=inside,
            )
        yield Fault(
            size.span("lamp.diameter"), wrong, message("a gap of at least {limit}", limit=mm(limit)), fix
        )
    if "lamp_gap_end" not in measures:
        return
    end, shown = measures.exact("lamp_gap_end"), measures.shown("lamp_gap_end")
    open_end = other_end(shade.fitter_end)
    if end < -NOISE:
        yield Warning_(
            size.span("lamp.length"),
            message(
                "the lamp stands out of the open top by {length}; use a shorter lamp or a taller shade",
                length=mm(-end),
            )
            if open_end == "top"
            else message(
                "the lamp stands out of the open bottom by {length}; use a shorter lamp or a taller shade",
                length=mm(-end),
            ),
        )
    elif end < limit - NOISE:
        yield Warning_(
            size.span("lamp.length"),
            message(
                "the end of the lamp is {gap} from the open top, less than {limit}; nothing "
                "covers it there, but keep the opening clear",
                gap=mm(shown),
                limit=mm(limit),
            )
            if open_end == "top"
            else message(
                "the end of the lamp is {gap} from the open bottom, less than {limit}; nothing "
                "covers it there, but keep the opening clear",
                gap=mm(shown),
                limit=mm(limit),
            ),
        )
