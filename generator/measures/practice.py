"""Values of the trade that no formula gives: how far, how close, how much. A workshop may disagree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.measures.measure import COMMON_PRACTICE, Measure, Rounding, Ruler, Unit, Value
from generator.shape.panels import SEAM_STEP
from generator.shape.shade import Shade

LAMP_SOURCE = (
    "IEC 60598-1, distance asked of parts that fail the glow-wire test at 650 °C (from memory; "
    "the lamp's own marking may ask for more)"
)

_VALUES: tuple[tuple[str, str, Value, Unit, str], ...] = (
    ("first_peel", "Liner peeled back first", 50.0, "mm", COMMON_PRACTICE),
    ("peel", "Liner drawn off at a time", (50.0, 100.0), "mm", COMMON_PRACTICE),
    ("motif_clear", "Motif clear of the panel's ends, at least", 10.0, "mm", COMMON_PRACTICE),
    ("bow", "Bow of the threads over the cloth, at most", 3.0, "mm", COMMON_PRACTICE),
    ("weave", "Weave out of line with the panel, at most", 1.0, "mm", COMMON_PRACTICE),
    ("bubble", "Bubble under the cloth, at most", 3.0, "mm", COMMON_PRACTICE),
    ("tape_inset", "Seam tape in from the outside edge", 1.0, "mm", COMMON_PRACTICE),
    ("rim_inset", "Seam tape short of each rim", 2.0, "mm", COMMON_PRACTICE),
    ("tape_gap", "Gap where the ring tape meets itself", 2.0, "mm", COMMON_PRACTICE),
    ("ring_agreement", "The two rings differ, at most", 2.0, "mm", COMMON_PRACTICE),
    ("drift", "Edge off the wire while rolling, at most", 2.0, "mm", COMMON_PRACTICE),
    ("seam_step", "Step between the rims at the seam, at most", SEAM_STEP, "mm", COMMON_PRACTICE),
    ("slit_stop", "Slit at a strut stops short of the rim edge", 1.0, "mm", COMMON_PRACTICE),
    ("margin_tolerance", "Cloth margin, plus or minus", 1.0, "mm", COMMON_PRACTICE),
    ("height_tolerance", "Finished height, plus or minus", 2.0, "mm", COMMON_PRACTICE),
    ("width_tolerance", "Finished width or diameter, plus or minus", 3.0, "mm", COMMON_PRACTICE),
    (
        "relief_limit",
        "Misfit of a turned margin that one relief cut takes, at most",
        6.0,
        "mm",
        COMMON_PRACTICE,
    ),
    ("relief_clear", "Relief cut clear of the seam and of struts, at least", 10.0, "mm", COMMON_PRACTICE),
    ("binding_lap", "Binding laps over its own start", 10.0, "mm", COMMON_PRACTICE),
    ("lamp_limit", "Lamp to cloth, at least", 30.0, "mm", LAMP_SOURCE),
)

_ROUNDED: Mapping[str, Rounding] = {
    **dict.fromkeys(("motif_clear", "relief_clear", "lamp_limit"), "up"),
    **dict.fromkeys(
        ("bow", "weave", "bubble", "ring_agreement", "drift", "seam_step", "relief_limit"), "down"
    ),
    **dict.fromkeys(("margin_tolerance", "height_tolerance", "width_tolerance"), "down"),
}
"""In inches what is asked at least is never less, and what is allowed at most never more."""
_RULERS: Mapping[str, Ruler] = dict.fromkeys(("first_peel", "peel"), "quarters")
"""How much liner to draw off is guessed by hand."""

OF_MARGINS = ("slit_stop", "margin_tolerance")
"""Values of cloth that is turned in."""
_OF_TWO_SIZES = {"ring_agreement": "Either ring off its stated way round, at most"}
"""Labels that are others where the two rings are not alike."""
OF_TAPERS = ("relief_limit", "relief_clear")
"""Values of a margin that turns on a slope."""
OF_BINDINGS = ("binding_lap",)
"""Values of an edge that is bound."""

_BY_ID: dict[str, Value] = {name: value for name, _, value, _, _ in _VALUES}


def practice(name: str) -> float:
    """One value of the trade, in its unit. Raises KeyError for a name that is not in the list."""
    value = _BY_ID[name]
    assert not isinstance(value, tuple)
    return value


def practice_measures(shade: Shade) -> Iterator[Measure]:
    """Those that the shade has a use for, as measures."""
    for name, label, value, unit, source in _VALUES:
        without = {*(OF_BINDINGS if shade.margin else OF_MARGINS), *(() if shade.tapered else OF_TAPERS)}
        if name in without or (name in OF_TAPERS and not shade.margin):
            continue
        if shade.tapered:
            label = _OF_TWO_SIZES.get(name, label)
        formula = "the limit of the standard" if source == LAMP_SOURCE else "a value of the trade"
        yield Measure(
            name,
            label,
            value,
            value,
            unit,
            formula,
            source,
            rounding=_ROUNDED.get(name, "nearest"),
            ruler=_RULERS.get(name, "sixteenths"),
        )
