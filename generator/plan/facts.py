"""What a technique's conditions may ask of a recipe, and what its minutes may ask of the measures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from generator.base.registry import kinds
from generator.measures.measure import Measures
from generator.plan.expressions import Kind
from generator.recipe.models import SizeRecipe

LARGE_RING = 400.0
"""A ring wider than this, mm, wants a helper (common practice, no source)."""

LARGE_PANEL = 1300.0
"""So does a longer panel, mm (common practice, no source)."""

LONGEST_COMPASS = 1200.0
"""A strip of card longer than this, mm, nobody swings true on a table (common practice, no source)."""

ADULT_TOOLS = frozenset({"iron", "shears", "cutter"})
"""Blades and irons, never a child's: a task with one of them is an adult's, whatever its file says."""

MINUTE_MEASURES = (
    "perimeter",
    "wrapped_length",
    "panel_length",
    "strip_length",
    "panel_height",
    "finished_height",
    "cloth_length",
    "cloth_width",
    "margin",
    "overlap",
    "ring_tape",
    "seam_tape",
    "ring_length",
    "ring_width",
    "struts",
    "snips",
    "braid_cures",
    "reliefs",
    "panels",
    "relief_cuts",
    "slant",
    "sweep",
)
"""Measures that minutes may be computed from, as a sheet shows them (mm, minutes, or a count); 0 for one that
a shade has not, such as the margin of a trimmed edge or ``braid_cures`` without a braid. ``strip_length`` is
the length of all panels joined; with one panel it is that panel's."""

COUNT_MEASURES = ("panels", "struts")
"""Counts that a task may be done ``times``: once for each panel, once for each strut."""


@cache
def domain() -> Mapping[str, tuple[Any, ...]]:
    """Each name that a condition may ask for, with the values that it can take.

    ``people`` stands for one, two and many.
    """
    yes_no = (True, False)
    return {
        "use": ("pendant", "table"),
        "outline": tuple(kinds("generator.shape.outlines")),
        "taper": yes_no,
        "fitter": ("top", "bottom"),
        "kiss_cut": yes_no,
        "margins": yes_no,
        "hem": yes_no,
        "braid": yes_no,
        "frays": ("little", "much"),
        "direction": ("any", "one-way"),
        "repeat": yes_no,
        "people": (1, 2, 40),
        "hand": ("right", "left"),
        "young": yes_no,
        "own_cloth": yes_no,
        "large": yes_no,
        "lamp": yes_no,
        "sharp": yes_no,
        "two_panels": yes_no,
        "relief": yes_no,
        "cone": yes_no,
        "fitter_ring": tuple(kinds("generator.shape.outlines")),
        "plain_ring": tuple(kinds("generator.shape.outlines")),
    }


@cache
def condition_kinds() -> Mapping[str, Kind]:
    """Kind of each of those names."""
    return {name: _kind(values[0]) for name, values in domain().items()}


@cache
def condition_texts() -> frozenset[str]:
    """Every word that one of those names can be."""
    return frozenset(value for values in domain().values() for value in values if isinstance(value, str))


def minute_kinds() -> dict[str, Kind]:
    """Names that minutes may use: p (panel length, m), n (struts), measures, and what conditions use.

    In a task that is done for each panel p is the length of one, otherwise that of all panels joined.
    """
    numbers: dict[str, Kind] = dict.fromkeys(("p", "n", *MINUTE_MEASURES), "number")
    return {**condition_kinds(), **numbers}


def _kind(value: object) -> Kind:
    if isinstance(value, bool):
        return "truth"
    return "text" if isinstance(value, str) else "number"


def facts_of(size: SizeRecipe, measures: Measures) -> dict[str, Any]:
    """The values of all those names for one size."""
    rolled = measures["strip_length" if "strip_length" in measures else "panel_length"].exact
    assert isinstance(rolled, float)
    large = measures.exact("ring_length") > LARGE_RING or rolled > LARGE_PANEL
    return {
        **size.conditions(),
        "fitter": size.fitter_end,
        "large": large,
        "lamp": size.lamp is not None,
        "sharp": "reliefs" in measures,
        "two_panels": measures.exact("panels") > 1,
        "relief": "reliefs" in measures or "relief_cuts" in measures,
        **_rings(size, measures),
    }


def _rings(size: SizeRecipe, measures: Measures) -> dict[str, Any]:
    """Outline of the fitter ring and of the plain one, and whether a compass draws the flat sheet."""
    if size.ends is None:
        return {"fitter_ring": size.outline, "plain_ring": size.outline, "cone": False}
    bottom, top = size.ends.bottom.outline, size.ends.top.outline
    fitter, plain = (top, bottom) if size.fitter_end == "top" else (bottom, top)
    shifted = any(abs(way) > 1e-9 for way in size.ends.shift)
    round_ = bottom == top == "circle" and size.ends.bottom.dimensions != size.ends.top.dimensions
    cone = round_ and not shifted and measures.exact("outer_radius") <= LONGEST_COMPASS
    return {"fitter_ring": fitter, "plain_ring": plain, "cone": cone}


def minute_values(measures: Mapping[str, float]) -> dict[str, float]:
    """The values that minutes are computed from, out of shown measures by id."""
    values = {name: measures.get(name, 0.0) for name in MINUTE_MEASURES}
    values |= {"strip_length": measures.get("strip_length", measures["panel_length"])}
    values |= {"panels": max(1.0, values["panels"])}
    return {"p": values["strip_length"] / 1000, "n": measures["struts"], **values}


def once(values: Mapping[str, Any], times: str | None) -> tuple[int, dict[str, Any]]:
    """How often a task is done that is done ``times`` a count, and the values for doing it once."""
    if times is None:
        return 1, dict(values)
    p = values["panel_length"] / 1000 if times == "panels" else values["p"]
    return max(1, round(values[times])), {**values, "p": p}
