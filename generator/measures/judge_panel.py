"""Margin, overlap, hem, tape and bend."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.errors import Fault, Warning_
from generator.base.units import round_down, round_up
from generator.measures.braid import least_binding
from generator.measures.measure import Measures
from generator.measures.practice import practice
from generator.measures.taper import least_slant, tightest_end
from generator.measures.wire import LAP, least_margin
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS, other_end
from generator.shape.say import mm, plain
from generator.shape.shade import Shade

NOISE = 1e-6
STRAIN_LIMIT = 0.02
"""Stretch of rigid PVC at a bend above which it may crack or turn white. From memory, no source read."""
CREASE_LIMIT = 0.1
"""Stretch above which a bend is a crease, which wants a straight line. Common practice, no source."""
TAPE_SHARE = 0.75
"""Share of the way round the wire that its tape should cover. Common practice, no source."""


def judge_margin(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """Wide enough to tuck, narrow enough to lie inside; none at all where the edges are trimmed flush."""
    margin, wire = shade.margin, shade.wire
    least = round_up(least_margin(wire))
    if margin == 0:
        if shade.kiss_cut:
            yield Fault(
                size.span("panel.kiss_cut"),
                "the panel is kiss-cut along its margins, but the margin is 0 mm",
                "a margin to cut along, or a panel without kiss cuts",
                f"write kiss_cut: false beside margin: 0 mm, or margin: {mm(least)} or more",
            )
        return
    if margin < least_margin(wire) - NOISE:
        yield Fault(
            size.span(size.margin_key),
            f"a margin of {mm(margin)} is too narrow to tuck behind a wire of {mm(wire)}",
            f"at least {mm(least)}: half round the wire, the wire itself and {mm(LAP)} to hold",
            f"write margin: {mm(least)} or more",
        )
    # Up the slope: a straight shade is as high as its slant.
    tall = least_slant(shade) if shade.tapered else shade.height
    inside, height = shade.narrowest_inside / 2, tall / 2
    most = min(inside, height)
    if margin > most + NOISE:
        ring, rise = (" of the narrow ring", "slant") if shade.tapered else ("", "height")
        of = f"half the smallest inside width{ring}" if inside < height else f"half the {rise}"
        enough = round_down(most)
        fix = f"write margin: {mm(enough)} or less" if enough >= least else "make the shade larger"
        yield Fault(
            size.span(size.margin_key),
            f"a margin of {mm(margin)} is more than {of}, so it would meet itself inside the shade",
            f"at most {mm(max(enough, 0.0))}",
            fix,
        )


def judge_binding(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A binding hides the wire, and the two do not meet half way."""
    if shade.margin or size.braid is None:
        return
    width, least = size.braid.width, round_up(least_binding(size, shade))
    if width < least - NOISE:
        yield Fault(
            size.span("braid.width"),
            f"a binding of {mm(width)} does not hide a wire of {mm(shade.wire)}",
            f"at least {mm(least)}: over the rim, and down both sides as deep as the wire",
            f"write width: {mm(least)} or more",
        )
        return
    most = round_down(shade.height)
    if width > most + NOISE:
        yield Fault(
            size.span("braid.width"),
            f"two bindings of {mm(width)} leave nothing to see of a shade {mm(shade.height)} high",
            f"at most {mm(most)}",
            f"write width: {mm(least)} or a little more",
        )


def judge_overlap(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """Room for the seam tape, and no second layer half round the shade."""
    if size.panel.supplied:
        return  # its overlap was held within its limits when the shade was built
    overlap = shade.overlap
    least = round_up(size.tape.width + 1, 0.5)
    if overlap < size.tape.width + 1 - NOISE:
        yield Fault(
            size.span("panel.overlap"),
            f"a seam overlap of {mm(overlap)} has no room for tape of {mm(size.tape.width)}",
            f"at least {mm(least)}, the tape's width and 1 mm",
            f"write overlap: {mm(least)}, or use narrower tape",
        )
    half = min(shade.rim(end).length for end in ENDS) / shade.panels / 2
    ring = "narrow ring" if shade.tapered else "ring"
    if overlap >= half - NOISE:
        of = "half the length of a panel" if shade.panels > 1 else f"half round the {ring}"
        yield Fault(
            size.span("panel.overlap"),
            f"a seam overlap of {mm(overlap)} goes {of} or more",
            f"less than {mm(half)}",
            f"write overlap: {mm(least)}",
        )


def judge_hem(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A hem that is asked for has a width."""
    if size.seam.finish == "hem" and size.seam.hem <= 0:
        yield Fault(
            size.span("seam.hem"),
            "the seam is to be hemmed, but the hem has no width",
            "more than 0",
            "write hem: 12 mm, or finish: raw",
        )
    inset = practice("tape_inset")
    least = round_up(size.tape.width + inset, 0.5)
    if size.seam.finish == "hem" and 0 < size.seam.hem < size.tape.width + inset - NOISE:
        yield Fault(
            size.span("seam.hem"),
            f"a hem of {mm(size.seam.hem)} is narrower than the seam tape that is to hold it, "
            f"{mm(size.tape.width)}",
            f"at least {mm(least)}, the tape and {mm(inset)} to the fold",
            f"write hem: {mm(least)} or more, or use narrower tape",
        )


def judge_braid(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """Two braids, one at each rim, leave some of the cloth to be seen."""
    # Bindings, which stand where there is no margin, are judged by what shows of them.
    height, name = (least_slant(shade), "slant") if shade.tapered else (shade.height, "height")
    if size.braid is None or not shade.margin or 2 * size.braid.width < height - NOISE:
        return
    enough = round_down(height / 2 - 1)
    yield Fault(
        size.span("braid.width"),
        f"two braids of {mm(size.braid.width)} cover the whole {name}, {mm(height)}",
        f"less than {mm(height / 2)}",
        f"write width: {mm(enough)} or less" if enough > 0 else "make the shade taller",
    )


def judge_tape(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Warning_]:
    """Tape that does not reach round its wire holds badly."""
    reach = TAPE_SHARE * math.pi * shade.wire
    if 0 < size.tape.width < reach - NOISE:
        yield Warning_(
            size.span("tape.width"),
            f"tape of {mm(size.tape.width)} does not reach far enough round a wire of {mm(shade.wire)}; "
            f"{mm(round_up(reach))} would",
        )


def judge_bend(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault | Warning_]:
    """A panel that is bent too tightly may crack; towards a point it cannot be bent at all.

    A corner too tight to bend is creased along a straight line from ring to ring. Where it is round at the
    other ring there is no such line: its slope is part of a cone, which ends in the sharp corner.
    """
    strain = measures.exact("bend_strain")
    if strain <= STRAIN_LIMIT:
        return
    end = tightest_end(shade)
    radius = shade.rim(end).smallest_radius
    enough = round_up(_radius_at(STRAIN_LIMIT, shade.thickness))
    of, dimensions = "", size.dimensions
    if size.ends is not None:
        dimensions = size.ends.at(end).dimensions
        of = f" of the {end} ring"
    key = "corner_radius" if "corner_radius" in dimensions else next(iter(dimensions))
    if size.ends is not None:
        key = f"{end}.{key}"
    other = other_end(end)
    if (
        shade.tapered
        and radius < _radius_at(CREASE_LIMIT, shade.thickness) <= shade.rim(other).smallest_radius
    ):
        yield Fault(
            size.span(key),
            f"corners of radius {mm(radius)}{of} are tighter than the panel can bend: from the rounder "
            f"{other} ring it would have to bend towards a point",
            f"a radius of at least {mm(enough)}, or corners at both rings so sharp that they are creased",
            f"use a {end} ring with a radius of {mm(enough)} or more",
        )
        return
    if radius == 0:
        text = (
            f"the corners{of} are sharp: crease the panel at each one before rolling, and try it on an offcut"
        )
    else:
        text = (
            f"the tightest bend{of}, of radius {mm(radius)}, stretches the panel by {plain(strain * 100)} %, "
            f"more than about {plain(STRAIN_LIMIT * 100)} %, and it may crack: try it on an offcut"
        )
    yield Warning_(size.span(key), f"{text}, or use a radius of {mm(enough)} or more")


def _radius_at(strain: float, thickness: float) -> float:
    """The radius of a ring round which a panel stretches by so much: t / (2r + t) = strain, solved for r."""
    return thickness * (1 - strain) / (2 * strain)
