"""Margin, overlap, hem, tape and bend."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.base.errors import Fault, Warning_
from generator.base.message import message
from generator.base.units import round_down, round_up
from generator.measures.braid import least_binding
from generator.measures.measure import Measures
from generator.measures.practice import practice
from generator.measures.taper import least_slant, tightest_end
from generator.measures.wire import LAP, least_margin
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS, other_end
from generator.shape.say import dimension, end_ring, mm, plain
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
                message("the panel is kiss-cut along its margins, but the margin is 0 mm"),
                message("a margin to cut along, or a panel without kiss cuts"),
                message(
                    "write {text} beside {margin}, or {other} or more",
                    text="kiss_cut: false",
                    margin="margin: 0 mm",
                    other=f"margin: {mm(least)}",
                ),
            )
        return
    if margin < least_margin(wire) - NOISE:
        yield Fault(
            size.span(size.margin_key),
            message(
                "a margin of {margin} is too narrow to tuck behind a wire of {wire}",
                margin=mm(margin),
                wire=mm(wire),
            ),
            message(
                "at least {least}: half round the wire, the wire itself and {lap} to hold",
                least=mm(least),
                lap=mm(LAP),
            ),
            message("write {text} or more", text=f"margin: {mm(least)}"),
        )
    # Up the slope: a straight shade is as high as its slant.
    tall = least_slant(shade) if shade.tapered else shade.height
    inside, height = shade.narrowest_inside / 2, tall / 2
    most = min(inside, height)
    if margin > most + NOISE:
        of = message("half the height")
        if inside < height:
            of = message("half the smallest inside width")
            if shade.tapered:
                of = message("half the smallest inside width of the narrow ring")
        elif shade.tapered:
            of = message("half the slant")
        enough = round_down(most)
        fix = (
            message("write {text} or less", text=f"margin: {mm(enough)}")
            if enough >= least
            else message("make the shade larger")
        )
        yield Fault(
            size.span(size.margin_key),
            message(
                "a margin of {margin} is more than {of}, so it would meet itself inside the shade",
                margin=mm(margin),
                of=of,
            ),
            message("at most {most}", most=mm(max(enough, 0.0))),
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
            message(
                "a binding of {width} does not hide a wire of {wire}", width=mm(width), wire=mm(shade.wire)
            ),
            message(
                "at least {least}: over the rim, and down both sides as deep as the wire", least=mm(least)
            ),
            message("write {text} or more", text=f"width: {mm(least)}"),
        )
        return
    most = round_down(shade.height)
    if width > most + NOISE:
        yield Fault(
            size.span("braid.width"),
            message(
                "two bindings of {width} leave nothing to see of a shade {height} high",
                width=mm(width),
                height=mm(shade.height),
            ),
            message("at most {most}", most=mm(most)),
            message("write {text} or a little more", text=f"width: {mm(least)}"),
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
            message(
                "a seam overlap of {overlap} has no room for tape of {width}",
                overlap=mm(overlap),
                width=mm(size.tape.width),
            ),
            message("at least {least}, the tape's width and 1 mm", least=mm(least)),
            message("write {text}, or use narrower tape", text=f"overlap: {mm(least)}"),
        )
    half = min(shade.rim(end).length for end in ENDS) / shade.panels / 2
    if overlap >= half - NOISE:
        wrong = message("a seam overlap of {overlap} goes half round the ring or more", overlap=mm(overlap))
        if shade.panels > 1:
            wrong = message(
                "a seam overlap of {overlap} goes half the length of a panel or more", overlap=mm(overlap)
            )
        elif shade.tapered:
            wrong = message(
                "a seam overlap of {overlap} goes half round the narrow ring or more", overlap=mm(overlap)
            )
        yield Fault(
            size.span("panel.overlap"),
            wrong,
            message("less than {limit}", limit=mm(half)),
            message("write {text}", text=f"overlap: {mm(least)}"),
        )


def judge_hem(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A hem that is asked for has a width."""
    if size.seam.finish == "hem" and size.seam.hem <= 0:
        yield Fault(
            size.span("seam.hem"),
            message("the seam is to be hemmed, but the hem has no width"),
            message("more than 0"),
            message("write {text}, or {other}", text="hem: 12 mm", other="finish: raw"),
        )
    inset = practice("tape_inset")
    least = round_up(size.tape.width + inset, 0.5)
    if size.seam.finish == "hem" and 0 < size.seam.hem < size.tape.width + inset - NOISE:
        yield Fault(
            size.span("seam.hem"),
            message(
                "a hem of {hem} is narrower than the seam tape that is to hold it, {width}",
                hem=mm(size.seam.hem),
                width=mm(size.tape.width),
            ),
            message("at least {least}, the tape and {inset} to the fold", least=mm(least), inset=mm(inset)),
            message("write {text} or more, or use narrower tape", text=f"hem: {mm(least)}"),
        )


def judge_braid(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """Two braids, one at each rim, leave some of the cloth to be seen."""
    # Bindings, which stand where there is no margin, are judged by what shows of them.
    height, name = (
        (least_slant(shade), dimension("slant")) if shade.tapered else (shade.height, dimension("height"))
    )
    if size.braid is None or not shade.margin or 2 * size.braid.width < height - NOISE:
        return
    enough = round_down(height / 2 - 1)
    yield Fault(
        size.span("braid.width"),
        message(
            "two braids of {width} cover the whole {name}, {height}",
            width=mm(size.braid.width),
            name=name,
            height=mm(height),
        ),
        message("less than {limit}", limit=mm(height / 2)),
        message("write {text} or less", text=f"width: {mm(enough)}")
        if enough > 0
        else message("make the shade taller"),
    )


def judge_tape(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Warning_]:
    """Tape that does not reach round its wire holds badly."""
    reach = TAPE_SHARE * math.pi * shade.wire
    if 0 < size.tape.width < reach - NOISE:
        yield Warning_(
            size.span("tape.width"),
            message(
                "tape of {width} does not reach far enough round a wire of {wire}; {reach} would",
                width=mm(size.tape.width),
                wire=mm(shade.wire),
                reach=mm(round_up(reach)),
            ),
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
    dimensions = size.dimensions if size.ends is None else size.ends.at(end).dimensions
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
            message(
                "{ring}: corners of radius {radius} are tighter than the panel can bend: from the other, "
                "rounder ring it would have to bend towards a point",
                ring=end_ring(end),
                radius=mm(radius),
            ),
            message(
                "a radius of at least {enough}, or corners at both rings so sharp that they are creased",
                enough=mm(enough),
            ),
            message("use a ring there with a radius of {enough} or more", enough=mm(enough)),
        )
        return
    if radius == 0:
        text = message(
            "the corners are sharp: crease the panel at each one before rolling, and try it on an offcut, or "
            "use a radius of {enough} or more",
            enough=mm(enough),
        )
    else:
        text = message(
            "the tightest bend, of radius {radius}, stretches the panel by {strain} %, more than about "
            "{limit} %, and it may crack: try it on an offcut, or use a radius of {enough} or more",
            radius=mm(radius),
            strain=plain(strain * 100),
            limit=plain(STRAIN_LIMIT * 100),
            enough=mm(enough),
        )
    if size.ends is not None:
        text = message("{ring}: {text}", ring=end_ring(end), text=text)
    yield Warning_(size.span(key), text)


def _radius_at(strain: float, thickness: float) -> float:
    """The radius of a ring round which a panel stretches by so much: t / (2r + t) = strain, solved for r."""
    return thickness * (1 - strain) / (2 * strain)
