"""Tapered sizes for the tests of measures and judges."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.base.spans import Span
from generator.recipe.ends import End, Ends
from generator.recipe.models import SizeRecipe
from tests.shape.samples import SPANS, make_size

Ring = tuple[str, dict[str, float]]

_LINES = ("bottom", "top", "slant", "bottom.corner_radius", "top.corner_radius", "covering.direction")
TAPER_SPANS = {**SPANS, **{key: Span("sample.yaml", line, 5) for line, key in enumerate(_LINES, 100)}}


def circle(diameter: float) -> Ring:
    """A round ring."""
    return "circle", {"diameter": diameter}


def square(side: float, radius: float) -> Ring:
    """A square one with rounded corners."""
    return "square", {"side": side, "corner_radius": radius}


def ellipse(length: float, width: float) -> Ring:
    """An oval one."""
    return "ellipse", {"length": length, "width": width}


def taper(
    bottom: Ring,
    top: Ring,
    height: float = 0.0,
    *,
    slant: float | None = None,
    shift: tuple[float, float] = (0.0, 0.0),
    bare: bool = False,
    **sections: Any,
) -> SizeRecipe:
    """A tapered size; ``bare``: panel and tape have no thickness, so that the sheet lies on the wires."""
    if bare:
        sections["panel"] = {"thickness": 0.0, **sections.get("panel", {})}
        sections["tape"] = {"thickness": 0.0, **sections.get("tape", {})}
    leading: Mapping[str, float] = bottom[1] if bottom[0] != "circle" or top[0] == "circle" else top[1]
    outline = bottom[0] if leading is bottom[1] else top[0]
    size = make_size(outline, leading, height, **sections)
    ends = Ends(End(*bottom), End(*top), slant, shift)
    return size.model_copy(update={"ends": ends, "spans": TAPER_SPANS})


def fog_cone(*, bare: bool = False, **sections: Any) -> SizeRecipe:
    """200 over 350, 220 straight up, a pendant."""
    return taper(circle(350.0), circle(200.0), 220.0, bare=bare, **sections)


def capstan(**sections: Any) -> SizeRecipe:
    """A square below, a circle above, a table shade without kiss cuts."""
    panel = {"kiss_cut": False, **sections.pop("panel", {})}
    ring = {"struts": 4, **sections.pop("ring", {})}
    return taper(square(240.0, 30.0), circle(200.0), 180.0, use="table", panel=panel, ring=ring, **sections)


def coble_oval(**sections: Any) -> SizeRecipe:
    """An oval over an oval, both axes shorter by the same 80 mm; a pendant without kiss cuts."""
    panel = {"kiss_cut": False, **sections.pop("panel", {})}
    ring = {"struts": 4, **sections.pop("ring", {})}
    return taper(ellipse(360.0, 260.0), ellipse(280.0, 180.0), 200.0, panel=panel, ring=ring, **sections)


def polygon_ring(sides: int, flats: float, radius: float = 12.0) -> Ring:
    """A ring of flat sides."""
    return "polygon", {"sides": float(sides), "across_flats": flats, "corner_radius": radius}
