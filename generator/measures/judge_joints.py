"""Where panels are joined: away from struts, on a part of the ring that lets the overlap lie flat."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from generator.base.errors import Fault
from generator.base.message import Message, message, plural
from generator.base.units import round_nearest, round_up
from generator.measures.measure import Measures
from generator.recipe.models import SizeRecipe
from generator.shape.build import strut_places
from generator.shape.panels import MOST_PANELS, lies_flat
from generator.shape.say import mm, ways
from generator.shape.shade import Shade

NOISE = 1e-6


def judge_joint_strut(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """A joint needs what the seam needs: the overlap on either side of its mark, and no strut there."""
    needed = shade.overlap + shade.wire
    at, nearest = min(
        ((x, joint_to_strut(shade, x)) for x in shade.joints), key=lambda pair: pair[1], default=(0.0, needed)
    )
    if nearest >= needed - NOISE:
        return
    first = clear_first_strut(size, shade)
    if first is not None:
        fix = message(
            "turn the ring, so that the seam and every joint stand clear: write {text}",
            text=f"ring: {{first_strut: {mm(first)}}}",
        )
    else:
        fix = message("use a ring with fewer struts")
        fewer = range(0) if shade.tapered else range(shade.panels - 1, 0, -1)
        longer = _other_count(shade, fewer, _struts_clear)
        if longer:
            sheet = message(
                "a sheet at least {length} long, for {panels}",
                length=mm(_sheet_for(longer)),
                panels=_told(longer),
            )
            fix = ways([fix, sheet])
    key = "ring.first_strut" if size.ring.first_strut is not None else "ring.struts"
    yield Fault(
        size.span(key),
        message(
            "a joint of the panels stands on a strut: {nearest} from one, at {at} from the start end",
            nearest=mm(nearest),
            at=mm(at),
        ),
        message("at least {needed}, the overlap and the wire", needed=mm(needed)),
        fix,
    )


def judge_joint_bend(size: SizeRecipe, shade: Shade, measures: Measures) -> Iterator[Fault]:
    """The overlap beyond a joint lies on a flat, or on a bend so gentle that its edge does not stand off.

    Of a taper all panels are of one form, so that a joint stands as the seam does, which is judged by itself.
    """
    if shade.tapered:
        return
    bent = next((x for x in shade.joints if not lies_flat(shade, x)), None)
    if bent is None:
        return
    found = []
    longer = _other_count(shade, range(shade.panels - 1, 0, -1), _bends_clear)
    if longer:
        found.append(
            message(
                "use a sheet at least {length} long, for {panels}",
                length=mm(_sheet_for(longer)),
                panels=_told(longer),
            )
        )
    shorter = _other_count(shade, range(shade.panels + 1, MOST_PANELS + 1), _bends_clear)
    if shorter and size.panel.supplied:
        found.append(
            message(
                "use panels of {length}, for {panels}", length=mm(_sheet_for(shorter)), panels=_told(shorter)
            )
        )
    elif shorter:
        found.append(
            message(
                "write {text}, for {panels}",
                text=f"stock_length: {mm(_sheet_for(shorter))}",
                panels=_told(shorter),
            )
        )
    yield Fault(
        size.span(size.overlap_key if size.panel.supplied else "panel.stock_length"),
        message(
            "a joint of the panels stands on a corner: {bent} from the start end, where {overlap}"
            " of overlap would lie over the bend",
            bent=mm(bent),
            overlap=mm(shade.overlap),
        ),
        message("joints on the flat of a side"),
        ways(found) or message("use a ring with rounder corners"),
    )


def joint_to_strut(shade: Shade, joint: float) -> float:
    """Way along the wire from a joint to the nearest strut, either way round, mm."""
    length, s = shade.rim(shade.fitter_end).length, shade.on_outline(joint)
    return min(min((strut.s - s) % length, (s - strut.s) % length) for strut in shade.struts)


def clear_first_strut(size: SizeRecipe, shade: Shade) -> float | None:
    """The place of the first strut, on whole mm, that keeps struts farthest from seam and joints; or None.

    Struts may stand anywhere between two spaces; of all whole places the best is taken, the first of equals.
    """
    needed = shade.overlap + shade.wire
    rim = shade.rim(shade.fitter_end)
    length, count = rim.length, size.ring.struts
    marks = [0.0, *(shade.on_outline(x) for x in shade.joints)]
    by_angle = size.ring.spacing == "angle"

    def clearance(first: float) -> float:
        places = strut_places(rim, count, first, by_angle=by_angle)
        return min(min((p - m) % length, (m - p) % length) for p in places for m in marks)

    if by_angle:
        tried = [float(mark) for mark in range(0, int(length / count) + 1, 2)]
    else:
        # Seen modulo the space between struts, a strut is farthest from all marks in the middle of a gap.
        space = length / count
        folded = sorted({round(mark % space, 6) for mark in marks})
        tried = [round_nearest((a + b) / 2) % length for a, b in pairwise([*folded, folded[0] + space])]
    best = max(tried, key=lambda first: (round(clearance(first), 3), -first))
    return best if clearance(best) >= needed - NOISE else None


def _struts_clear(shade: Shade) -> bool:
    needed = shade.overlap + shade.wire
    return all(joint_to_strut(shade, x) >= needed - NOISE for x in shade.joints)


def _bends_clear(shade: Shade) -> bool:
    return all(lies_flat(shade, x) for x in shade.joints)


def _other_count(shade: Shade, counts: range, clear: Callable[[Shade], bool]) -> Shade | None:
    """The shade in the first of these numbers of panels whose joints are clear."""
    several = (replace(shade, panels=count) for count in counts)
    return next((one for one in several if clear(one)), None)


def _sheet_for(shade: Shade) -> float:
    return round_up(shade.panel_length)


def _told(shade: Shade) -> Message:
    return plural("{count} panels", "one panel", count=shade.panels)
