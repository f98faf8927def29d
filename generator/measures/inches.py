"""Lengths in inches, as fractions that stand on a rule.

An inch is 25.4 mm exactly (NIST SP 811, appendix B; ISO 80000-3: both from memory). What is converted is the
exact length, once; it is rounded the way in which its millimetres are (``Measure.rounding``), to a line of
the rule that suits the work (``Measure.ruler``):

- cloth, tape, binding and tables to an eighth: what is bought or trimmed (common practice, no source);
- panel, rings, marks and what must fit to a sixteenth, the finest line that is found at once (likewise);
- a margin, and what is shorter than a quarter of an inch, to a thirty-second. Two margins and a height make a
  panel: half a step each keeps all three within their tolerances, as half a millimetre does in the metric. A
  short length would lose up to half of itself to a sixteenth;
- what a hand only guesses at (how much liner to draw off) to a quarter;
- what is bought by the length (cloth, rolls, tape on a reel) in feet, to a quarter, from ten feet on:
  nobody counts hundreds of inches. Below that, and for tables and ways in a room, inches to an eighth: rules
  are marked so, and a recipe reads inches alone;
- wire, thickness of a sheet or a tape, and what is shorter than a thirty-second, in millimetres alone: they
  are bought by the millimetre, or not measured with a rule at all.

Parts add up in inches where they do in millimetres: ``closed`` makes one of them what is left of the others.
A rest that would then be off by more than its tolerance keeps its own conversion, and no sum is claimed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import cast

from generator.measures.measure import Measure, Rounding, Ruler

MM_PER_INCH = Fraction(254, 10)
STEPS: Mapping[Ruler, Fraction] = {
    "quarters": Fraction(1, 4),
    "eighths": Fraction(1, 8),
    "sixteenths": Fraction(1, 16),
    "thirty-seconds": Fraction(1, 32),
}
FINE, FINER = Fraction(1, 32), Fraction(1, 64)
SHORT = Fraction(1, 4)
"""A length under this is told by thirty-seconds, inches."""
INCHES_PER_FOOT = 12
LONG = Fraction(120)
"""What is bought by the length is told in feet from this on, inches."""
FOOT_STEP = Fraction(3)
"""A quarter of a foot, inches."""
METRE = 1000
NOISE = Fraction(1, 10**6)
"""Steps by which a length may miss a line of the rule and still count as on it, as in ``base/units.py``."""

Chain = tuple[str, Callable[[Mapping[str, Fraction]], Fraction]]
"""A measure, and what others make of it."""

_CHAINS: tuple[Chain, ...] = (
    ("wrapped_length", lambda v: v["panels"] * (v["panel_length"] - v["overlap"])),
    ("panel_wrapped", lambda v: v["panel_length"] - v["overlap"]),
    ("strip_length", lambda v: v["wrapped_length"] + v["overlap"]),
    ("bottom_wrapped", lambda v: v["wrapped_length"]),
    ("top_wrapped", lambda v: v["wrapped_length"]),
    ("finished_height", lambda v: v["panel_height"] - 2 * v["margin"]),
    ("finished_height", lambda v: v["panel_height"]),
    ("slant", lambda v: v["panel_height"] - 2 * v["margin"]),
    ("slant", lambda v: v["panel_height"]),
    ("inner_radius", lambda v: v["outer_radius"] - v["slant"]),
    ("outer_cut", lambda v: v["outer_radius"] + v["margin"]),
    ("outer_cut", lambda v: v["outer_radius"]),
    ("inner_cut", lambda v: v["inner_radius"] - v["margin"]),
    ("inner_cut", lambda v: v["inner_radius"]),
    (
        "slack_end_rest",
        lambda v: v["cloth_length"] - v["panel_length"] - v.get("hem", Fraction(0)) - v["slack_ends"],
    ),
    (
        "slack_edge_rest",
        lambda v: (
            v["cloth_width"] - v["finished_height"] - 2 * v.get("margin", Fraction(0)) - v["slack_edges"]
        ),
    ),
    ("seam_tape", lambda v: v["finished_height"] - 2 * v["rim_inset"]),
    ("seam_tape", lambda v: v["slant"] - 2 * v["rim_inset"]),
    ("ring_tape", lambda v: 2 * v["ring_tape_each"]),
    ("ring_tape", lambda v: v["bottom_ring_tape"] + v["top_ring_tape"]),
    ("notch_length", lambda v: v["overlap"]),
    ("notch_width", lambda v: v["margin"]),
    ("relief_depth", lambda v: v["margin"] - v["slit_stop"]),
    ("binding_total", lambda v: 2 * v["binding_length"]),
    ("binding_inside", lambda v: v["braid_width"] - v["binding_fold"]),
)
"""What is left of other measures, after these; a chain holds where the shown millimetres close it."""


def rounded(length: Fraction, step: Fraction, rounding: Rounding) -> Fraction:
    """Inches as a multiple of ``step``."""
    steps = length / step
    if rounding == "up":
        return math.ceil(steps - NOISE) * step
    if rounding == "down":
        return math.floor(steps + NOISE) * step
    return math.floor(steps + Fraction(1, 2) + NOISE) * step


def inches_of(measure: Measure) -> tuple[Fraction, ...] | None:
    """A length's value or values in inches; None if it is no length, or is told in millimetres alone."""
    if measure.unit not in ("mm", "m") or measure.ruler == "mm":
        return None
    if measure.inches is not None:
        return measure.inches
    exact = measure.exact if isinstance(measure.exact, tuple) else (measure.exact,)
    if not exact:
        return None
    unit = METRE if measure.unit == "m" else 1
    lengths = [Fraction(value) * unit / MM_PER_INCH for value in exact]
    step = _step(measure.ruler, max(lengths))
    found = tuple(rounded(length, step, measure.rounding) for length in lengths)
    return found if all(found) else None


def in_steps(mm: float, ruler: Ruler, rounding: Rounding) -> Fraction:
    """A length in inches on the lines of a ruler; 0 if it is less than the first of them."""
    inches = Fraction(mm) / MM_PER_INCH
    return rounded(inches, _step(ruler, inches), rounding)


def in_feet(measure: Measure, inches: tuple[Fraction, ...]) -> bool:
    """Whether these inches of a measure are told in feet: it is long, and they are quarters of a foot."""
    return measure.ruler == "feet" and max(inches) >= LONG and all(each % FOOT_STEP == 0 for each in inches)


def _step(ruler: Ruler, longest: Fraction) -> Fraction:
    bought = FOOT_STEP if longest >= LONG else STEPS["eighths"]
    step = bought if ruler == "feet" else STEPS[ruler]
    return min(step, FINE) if longest < SHORT else step


def tolerance_in_inches(tolerance: float) -> Fraction:
    """How far the work may be off, given in mm, in inches: down, so that it allows no more."""
    exact = Fraction(tolerance) / MM_PER_INCH
    return rounded(exact, FINE, "down") or rounded(exact, FINER, "down")


def closed(measures: Mapping[str, Measure]) -> dict[str, Measure]:
    """The same measures; those that are what is left of others say so in inches too."""
    found = dict(measures)
    _cover(found)
    for name, rest in chains(measures):
        if found[name].inches is None:
            _close(found, name, rest)
    _stations(found)
    _diagonal(found)
    return found


def chains(measures: Mapping[str, Measure]) -> Iterator[Chain]:
    """The chains that the shown millimetres of these measures close."""
    shown = _Shown(measures)
    for name, rest in _CHAINS:
        if name in measures:
            try:
                if abs(rest(shown) - shown[name]) < Fraction(1, 1000):
                    yield name, rest
            except KeyError:
                continue


class _Known(Mapping[str, Fraction]):
    """Values of measures by name, each worked out when it is asked for: a chain asks for few."""

    def __init__(self, measures: Mapping[str, Measure]) -> None:
        self._measures = measures

    def _value(self, measure: Measure) -> Fraction | None:
        raise NotImplementedError

    def __getitem__(self, key: str) -> Fraction:
        value = self._value(self._measures[key])
        if value is None:
            raise KeyError(key)
        return value

    def __iter__(self) -> Iterator[str]:
        return (key for key, each in self._measures.items() if self._value(each) is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class _Shown(_Known):
    """Shown values of single-valued measures, in their unit."""

    def _value(self, measure: Measure) -> Fraction | None:
        return Fraction(measure.shown) if isinstance(measure.shown, float) else None


class _Inches(_Known):
    """Printed inches of single-valued lengths; counts as they are."""

    def _value(self, measure: Measure) -> Fraction | None:
        inches = inches_of(measure)
        if inches is not None and len(inches) == 1:
            return inches[0]
        if measure.unit == "count" and isinstance(measure.shown, float):
            return Fraction(measure.shown)
        return None


def _close(found: dict[str, Measure], name: str, rest: Callable[[Mapping[str, Fraction]], Fraction]) -> None:
    measure = found[name]
    try:
        inches = rest(_Inches(found))
    except KeyError:  # a part is told in millimetres alone: so is what is left
        found[name] = replace(measure, ruler="mm")
        return
    off = abs(float(inches * MM_PER_INCH) - cast(float, measure.exact))
    if measure.tolerance is None or off <= measure.tolerance:
        found[name] = replace(measure, inches=(inches,)) if inches > 0 else replace(measure, ruler="mm")


def _cover(found: dict[str, Measure]) -> None:
    """A straight shade's cloth also holds the panel and the slack as they are printed."""
    closing = {name for name, _ in chains(found)}
    known = _Inches(found)
    # Where the strips of a kiss-cut panel become its margins they are part of its height.
    strips = "finished_height" in found and found["panel_height"].shown != found["finished_height"].shown
    margins: tuple[str, ...] = () if strips else ("margin", "margin")
    covers: tuple[tuple[str, str, tuple[str, ...]], ...] = (
        ("cloth_length", "slack_end_rest", ("panel_length", "hem", "slack_ends", "slack_ends")),
        ("cloth_width", "slack_edge_rest", ("panel_height", *margins, "slack_edges", "slack_edges")),
    )
    for name, rest, parts in covers:
        if rest not in closing or name not in known:
            continue
        need = sum((known[part] for part in parts if part in known), Fraction(0))
        least = rounded(need, STEPS[found[name].ruler], "up")
        found[name] = replace(found[name], inches=(max(known[name], least),))


def _stations(found: dict[str, Measure]) -> None:
    """Joints stand where whole printed panels end."""
    joints, known = found.get("joint_stations"), _Inches(found)
    if joints is None or not joints.values or "wrapped_length" not in known:
        return
    step = known["wrapped_length"] / known["panels"]
    places = tuple(step * k for k in range(1, len(joints.values) + 1))
    found["joint_stations"] = replace(joints, inches=places)


def _diagonal(found: dict[str, Measure]) -> None:
    """Corner to corner of the cut as it is printed, like the millimetres."""
    known = _Inches(found)
    if "diagonal" in found and "cloth_length" in known and "cloth_width" in known:
        exact = Fraction(math.hypot(known["cloth_length"], known["cloth_width"]))
        found["diagonal"] = replace(found["diagonal"], inches=(rounded(exact, Fraction(1, 16), "nearest"),))
