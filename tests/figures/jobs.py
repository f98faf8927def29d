"""Figures' jobs made from the project's own recipes, and from shapes that no recipe has."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.figures.draw import draw_one, draw_small, of_its_panel
from generator.figures.model import HALF_A4, Figure, Job, Slot
from generator.measures.build import measure
from generator.measures.measure import Measures
from generator.plan.build import load_technique, plan
from generator.plan.model import Plan
from generator.recipe.ends import End, Ends
from generator.recipe.models import Makers, Panel, SizeRecipe
from generator.recipe.read import read_recipe
from generator.shape.build import build_shade, outline_keys
from generator.shape.shade import Shade
from generator.sheets.wording import load_words


def _circles(bottom: float, top: float, height: float, **more: Any) -> dict[str, Any]:
    """A taper between two circles, mm."""
    ends = Ends(End("circle", {"diameter": bottom}), End("circle", {"diameter": top}), **more)
    return {"ends": ends, "dimensions": {"diameter": bottom}, "height": height}


def _alike(outline: str, bottom: dict[str, float], top: dict[str, float], height: float) -> dict[str, Any]:
    """A taper between two outlines of one kind."""
    ends = Ends(End(outline, bottom), End(outline, top))
    return {"ends": ends, "outline": outline, "dimensions": bottom, "height": height}


# A recipe, of which the first size is taken, and what is changed in it.
_CHANGED: dict[str, tuple[str, dict[str, Any]]] = {
    "small-low": (
        "pier-drum",
        {"outline": "circle", "dimensions": {"diameter": 160.0}, "height": 130.0, "use": "table"},
    ),
    "long-flat": (
        "ferry-square",
        {
            "outline": "rectangle",
            "dimensions": {"length": 600.0, "width": 150.0, "corner_radius": 30.0},
            "height": 120.0,
        },
    ),
    "narrow-tall": (
        "pier-drum",
        {"outline": "circle", "dimensions": {"diameter": 120.0}, "height": 500.0, "use": "table"},
    ),
    "widest-tall": (
        "ferry-square",
        {"outline": "circle", "dimensions": {"diameter": 600.0}, "height": 500.0},
    ),
    "oval": (
        "pier-drum",
        {"outline": "ellipse", "dimensions": {"length": 300.0, "width": 200.0}, "height": 150.0},
    ),
    "left-square": ("ferry-square", {"hand": "left"}),
    "left-round": ("pier-drum", {"hand": "left"}),
    "trimmed-square": (
        "tide-drum",
        {
            "outline": "square",
            "dimensions": {"side": 260.0, "corner_radius": 45.0},
            "height": 190.0,
            "use": "pendant",
            "hand": "left",
        },
    ),
    "trimmed-small": (
        "tide-drum",
        {"outline": "circle", "dimensions": {"diameter": 160.0}, "height": 130.0, "use": "pendant"},
    ),
    "trimmed-oblong": (
        "tide-drum",
        {
            "outline": "rectangle",
            "dimensions": {"length": 350.0, "width": 180.0, "corner_radius": 25.0},
            "height": 200.0,
        },
    ),
    "wide-above": ("fog-cone", _circles(200.0, 340.0, 200.0)),
    "wide-below-table": ("fog-cone", {**_circles(320.0, 180.0, 210.0), "use": "table"}),
    "hardly-tapered": ("fog-cone", _circles(300.0, 290.0, 220.0)),
    "flat-cone": ("fog-cone", _circles(160.0, 135.0, 180.0)),
    "low-funnel": ("fog-cone", _circles(400.0, 100.0, 150.0)),
    "shifted-cone": ("fog-cone", _circles(320.0, 200.0, 220.0, shift=(0.0, 40.0))),
    "left-cone": ("fog-cone", {"hand": "left"}),
    "oval-taper": (
        "fog-cone",
        _alike("ellipse", {"length": 360.0, "width": 240.0}, {"length": 240.0, "width": 180.0}, 200.0),
    ),
    "hex-taper": (
        "fog-cone",
        _alike(
            "polygon",
            {"sides": 6, "across_flats": 300.0, "corner_radius": 15.0},
            {"sides": 6, "across_flats": 180.0, "corner_radius": 10.0},
            220.0,
        ),
    ),
    "oval-wide-top": (
        "fog-cone",
        _alike("ellipse", {"length": 240.0, "width": 170.0}, {"length": 340.0, "width": 240.0}, 200.0),
    ),
    "left-oval-taper": (
        "fog-cone",
        {
            **_alike("stadium", {"length": 380.0, "width": 220.0}, {"length": 300.0, "width": 140.0}, 190.0),
            "hand": "left",
            "use": "table",
        },
    ),
    "left-hem": ("customs-rect", {"hand": "left"}),
    "joined-left": ("slipway-45", {"hand": "left", "use": "table"}),
    "joined-long": (
        "slipway-45",
        {
            "outline": "rectangle",
            "dimensions": {"length": 600.0, "width": 200.0, "corner_radius": 30.0},
            "height": 130.0,
        },
    ),
    "three-panels": ("slipway-45", {"stock_length": 600.0}),
    "three-oblong": (
        "slipway-45",
        {
            "stock_length": 500.0,
            "hand": "left",
            "outline": "rectangle",
            "dimensions": {"length": 520.0, "width": 260.0, "corner_radius": 40.0},
            "height": 200.0,
        },
    ),
    "joined-hem": ("slipway-45", {"hem": 12.0}),
    "joined-trimmed": ("tide-drum", {"stock_length": 600.0}),
    "joined-tall": ("slipway-45", {"dimensions": {"diameter": 330.0}, "height": 600.0}),
    "joined-cone": ("fog-cone", {**_circles(350.0, 200.0, 220.0), "stock_length": 600.0, "struts": 4}),
    "joined-capstan": ("capstan", {"stock_length": 500.0, "hand": "left"}),
    "wide-top": ("fog-cone", _circles(200.0, 340.0, 200.0)),
    "nearly-straight": ("fog-cone", _circles(300.0, 290.0, 220.0)),
    "hem-cone": ("fog-cone", {"hem": 15.0}),
}


@cache
def _recipe_sizes(recipe: str) -> dict[str, SizeRecipe]:
    path = Path(str(data_folder("recipes"))) / f"{recipe}.yaml"
    return {size.name: size for size in read_recipe(path, outline_keys()).sizes}


def names_in(recipe: str) -> list[str]:
    """The sizes of one of the project's recipes, as ``recipe/size``."""
    return [f"{recipe}/{name}" for name in _recipe_sizes(recipe)]


@cache
def size_of(sample: str) -> SizeRecipe:
    """A sample's size: ``recipe/size``, the first size of ``recipe``, or one of the changed ones."""
    if sample in _CHANGED:
        base, changes = _CHANGED[sample]
        size, changes = size_of(base), dict(changes)
        if "hand" in changes:
            changes["makers"] = Makers(**{**size.makers.model_dump(), "hand": changes.pop("hand")})
        if "stock_length" in changes:
            stock = {"stock_length": changes.pop("stock_length")}
            changes["panel"] = Panel(**{**size.panel.model_dump(exclude_none=True), **stock})
        if "struts" in changes:
            changes["ring"] = size.ring.model_copy(update={"struts": changes.pop("struts")})
        if "hem" in changes:
            seam = size.seam.model_copy(update={"finish": "hem", "hem": changes.pop("hem")})
            changes["seam"] = seam
        return size.model_copy(update=changes)
    recipe, _, name = sample.partition("/")
    sizes = _recipe_sizes(recipe)
    return sizes[name] if name else next(iter(sizes.values()))


@cache
def planned(sample: str) -> tuple[Shade, Measures, Plan]:
    """A sample, computed and planned."""
    size = size_of(sample)
    shade = build_shade(size)
    measures = measure(size, shade)
    return shade, measures, plan(size, measures, load_technique(size.technique))


@cache
def job(sample: str, figure: str) -> Job:
    """The job of the step that asks for a figure."""
    shade, measures, order = planned(sample)
    step = next(step for step in order.steps if step.task.figure == figure)
    words = load_words(ENGLISH).bound(order, measures)
    return of_its_panel(Job(size_of(sample), shade, measures, order, step, words, HALF_A4))


@cache
def figure(sample: str, name: str) -> Figure:
    """The finished figure of a sample."""
    return draw_one(job(sample, name))


@cache
def small_figures(sample: str, name: str, slots: tuple[Slot, ...]) -> tuple[Figure, ...]:
    """The figure of a sample in several small places."""
    return tuple(draw_small(job(sample, name), slots))
