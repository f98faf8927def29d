"""Panels and tape in inches: what is cut one behind another, told so only where all of it still comes out.

A piece has the inches of its size's sheet, each rounded to a line of the rule. Many of them cut from one roll
may ask for more than the roll has, though their millimetres do not: then the plan is told in mm alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from generator.cutting.model import UNIT, Layout, Placed, Strip
from generator.cutting.panels import PanelPlan
from generator.cutting.reels import Reel
from generator.cutting.rows import Stretch
from generator.measures.inches import MM_PER_INCH, NOISE

Sides = Mapping[str, tuple[Fraction, Fraction]]
"""Length and width by a piece's name, inches."""


def panel_sides(plan: PanelPlan) -> Sides:
    """Sides of all panels in inches; none where a roll would not hold its panels as they are told."""
    sides = {piece.name: piece.inches for piece in plan.pieces if piece.inches is not None}
    if len(sides) < len(plan.pieces):
        return {}
    long, wide = (_inches(side) for side in (plan.sheet.length, plan.sheet.width))
    for _, layout in plan.layouts:
        lanes = _lanes(layout.placed)
        across = [max(_side(placed, sides, along=False) for placed in lane) for lane in lanes]
        if sum(across) > wide or any(_taken(lane, sides) > long for lane in lanes):
            return {}
    return sides


def left_on_roll(layout: Layout, sides: Sides) -> float:
    """What panels told in inches leave at the end of a roll at least, mm."""
    ends = [placed.area.x + placed.area.along for placed in layout.placed]
    taken = max((_taken(lane, sides) for lane in _lanes(layout.placed)), default=Fraction(0))
    return min(layout.length - max(ends), float(_inches(layout.length) - taken) * float(MM_PER_INCH))


def row_inches(layout: Layout, row: Stretch, sides: Sides, left: Fraction) -> Fraction | None:
    """Length of a row of the drawing: the panels in it, and at the end of the roll what is left.

    None where several lanes, or a panel parted between two rows, make no such sum.
    """
    lanes = _lanes(layout.placed)
    if len(lanes) != 1:
        return None
    inside = [
        p for p in lanes[0] if row.start - UNIT <= p.area.x and p.area.x + p.area.along <= row.stop + UNIT
    ]
    parts = sum(placed.area.along for placed in inside)
    whole = _taken(inside, sides)
    if abs(parts - row.length) <= UNIT:
        return whole
    last = max((p.area.x + p.area.along for p in lanes[0]), default=0.0)
    rest = layout.length - last
    at_end = abs(row.stop - layout.length) <= UNIT and abs(parts + rest - row.length) <= UNIT
    return whole + left if at_end else None


def tape_lengths(
    strips: Iterable[Strip], rolls: Iterable[Mapping[str, int]], reel: Reel
) -> Mapping[str, Fraction]:
    """Inches of each piece by name; none where a reel would not hold its pieces as they are told."""
    found = {strip.name: strip.inches for strip in strips}
    lengths = {name: inches for name, inches in found.items() if inches is not None}
    if len(lengths) < len(found):
        return {}
    most = _inches(reel.length)
    return lengths if all(on_reel(roll, lengths) <= most for roll in rolls) else {}


def on_reel(pieces: Mapping[str, int], lengths: Mapping[str, Fraction]) -> Fraction:
    """Tape that so many pieces take, inches."""
    return sum((count * lengths[name] for name, count in pieces.items()), Fraction(0))


def _inches(mm: float) -> Fraction:
    return Fraction(mm) / MM_PER_INCH + NOISE


def _lanes(placed: Iterable[Placed]) -> list[list[Placed]]:
    lanes: dict[float, list[Placed]] = {}
    for each in placed:
        lanes.setdefault(round(each.area.y, 2), []).append(each)
    return list(lanes.values())


def _side(placed: Placed, sides: Sides, *, along: bool) -> Fraction:
    # A panel that lies turned on a roll has its width along it.
    length, width = sides[placed.name]
    return length if along != placed.turned else width


def _taken(lane: Iterable[Placed], sides: Sides) -> Fraction:
    return sum((_side(placed, sides, along=True) for placed in lane), Fraction(0))
