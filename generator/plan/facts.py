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

ADULT_TOOLS = frozenset({"iron", "shears", "cutter"})
"""Blades and irons, never a child's: a task with one of them is an adult's, whatever its file says."""

MINUTE_MEASURES = (
    "perimeter",
    "wrapped_length",
    "panel_length",
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
    "relief_cuts",
    "slant",
    "sweep",
)
"""Measures that minutes may be computed from, as a sheet shows them (mm, minutes, or a count); 0 for one that
a shade has not, such as the margin of a trimmed edge or ``braid_cures`` without a braid."""


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
    """Names that minutes may use: p (panel length, m), n (struts), measures, and what conditions use."""
    numbers: dict[str, Kind] = dict.fromkeys(("p", "n", *MINUTE_MEASURES), "number")
    return {**condition_kinds(), **numbers}


def _kind(value: object) -> Kind:
    if isinstance(value, bool):
        return "truth"
    return "text" if isinstance(value, str) else "number"


def facts_of(size: SizeRecipe, measures: Measures) -> dict[str, Any]:
    """The values of all those names for one size."""
    large = measures.exact("ring_length") > LARGE_RING or measures.exact("panel_length") > LARGE_PANEL
    return {
        **size.conditions(),
        "fitter": size.fitter_end,
        "large": large,
        "lamp": size.lamp is not None,
        "sharp": "reliefs" in measures,
        "relief": "reliefs" in measures or "relief_cuts" in measures,
        **_rings(size),
    }


def _rings(size: SizeRecipe) -> dict[str, Any]:
    """Outline of the fitter ring and of the plain one, and whether a compass draws the flat sheet."""
    if size.ends is None:
        return {"fitter_ring": size.outline, "plain_ring": size.outline, "cone": False}
    bottom, top = size.ends.bottom.outline, size.ends.top.outline
    fitter, plain = (top, bottom) if size.fitter_end == "top" else (bottom, top)
    shifted = any(abs(way) > 1e-9 for way in size.ends.shift)
    cone = bottom == top == "circle" and size.ends.bottom.dimensions != size.ends.top.dimensions
    return {"fitter_ring": fitter, "plain_ring": plain, "cone": cone and not shifted}


def minute_values(measures: Mapping[str, float]) -> dict[str, float]:
    """The values that minutes are computed from, out of shown measures by id."""
    values = {name: measures.get(name, 0.0) for name in MINUTE_MEASURES}
    return {"p": measures["panel_length"] / 1000, "n": measures["struts"], **values}
