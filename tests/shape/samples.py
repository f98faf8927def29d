"""Sizes built from the models directly, with the house's values where a test says nothing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.base.spans import Span
from generator.measures.build import measure
from generator.measures.judge import Judgement, judge
from generator.measures.measure import Measures
from generator.recipe.models import (
    Braid,
    Covering,
    Lamp,
    Makers,
    Panel,
    Ring,
    Seam,
    SizeRecipe,
    Tape,
)
from generator.shape.build import build_shade

SECTIONS: dict[str, dict[str, Any]] = {
    "covering": {
        "name": "Plain cloth",
        "width": 1400.0,
        "direction": "any",
        "slack_ends": 20.0,
        "slack_edges": 10.0,
        "frays": "little",
    },
    "panel": {"thickness": 0.35, "margin": 15.0, "overlap": 10.0, "kiss_cut": True},
    "ring": {"wire": 3.5, "struts": 3, "recess": 25.0, "spacing": "arc"},
    "tape": {"width": 9.0, "thickness": 0.15},
    "makers": {"people": 1, "hand": "right", "blades": "adult", "own_cloth": False},
    "seam": {"finish": "raw", "hem": 12.0},
}
LINES = """
outline diameter length width side sides across_flats corner_radius height
covering covering.width covering.length covering.repeat covering.repeat.around
panel panel.margin panel.overlap
ring ring.struts ring.first_strut ring.recess ring.fitter ring.hole
tape tape.width
lamp lamp.diameter lamp.length
seam seam.hem
braid braid.width panel.kiss_cut
"""
SPANS: dict[str, Span] = {
    "": Span("sample.yaml", 1, 1),
    **{key: Span("sample.yaml", line, 3) for line, key in enumerate(LINES.split(), 2)},
}


def make_size(
    outline: str,
    dimensions: Mapping[str, float],
    height: float,
    *,
    use: str = "pendant",
    lamp: Mapping[str, Any] | None = None,
    braid: Mapping[str, Any] | None = None,
    **sections: Mapping[str, Any],
) -> SizeRecipe:
    """A size; ``sections`` such as ``panel={"margin": 10.0}`` go over the house's values."""
    merged = {name: {**values, **sections.get(name, {})} for name, values in SECTIONS.items()}
    return SizeRecipe(
        name="1",
        recipe="sample",
        title="Sample",
        technique="rolled-edge",
        use="table" if use == "table" else "pendant",
        outline=outline,
        dimensions=dict(dimensions),
        height=height,
        covering=Covering(**merged["covering"]),
        panel=Panel(**merged["panel"]),
        ring=Ring(**merged["ring"]),
        tape=Tape(**merged["tape"]),
        lamp=None if lamp is None else Lamp(**{"kind": "LED", **lamp}),
        makers=Makers(**merged["makers"]),
        seam=Seam(**merged["seam"]),
        braid=None if braid is None else Braid(**{"cures": "1 h", **braid}),
        maker=None,
        link=None,
        digest="0" * 64,
        spans=SPANS,
        stated=frozenset(),
    )


def measured(size: SizeRecipe) -> Measures:
    """All measures of a size."""
    return measure(size, build_shade(size))


def judged(size: SizeRecipe) -> Judgement:
    """What is wrong with a size."""
    shade = build_shade(size)
    return judge(size, shade, measure(size, shade))


def pier_drum() -> SizeRecipe:
    """Round, 350 by 220, pendant."""
    return make_size("circle", {"diameter": 350.0}, 220.0, lamp={"diameter": 60.0})


def ferry_square(side: float = 260.0, width: float = 1400.0) -> SizeRecipe:
    """Square of 260 with r 45, height 190, table, one-way print."""
    return make_size(
        "square",
        {"side": side, "corner_radius": 45.0},
        190.0,
        use="table",
        covering={"direction": "one-way", "width": width},
    )


def net_loft() -> SizeRecipe:
    """Straight-sided oval of 350 by 200, height 220, table, stripes of 40 mm."""
    return make_size(
        "stadium",
        {"length": 350.0, "width": 200.0},
        220.0,
        use="table",
        covering={"repeat": {"around": 40.0}},
    )


def customs_rect() -> SizeRecipe:
    """Rectangle of 350 by 180 with r 25, height 200, hemmed."""
    return make_size(
        "rectangle",
        {"length": 350.0, "width": 180.0, "corner_radius": 25.0},
        200.0,
        seam={"finish": "hem"},
    )


def tide_drum(width: float = 16.0, **sections: Mapping[str, Any]) -> SizeRecipe:
    """Round, 300 by 200, table; no margin, edges bound with a braid of 16 mm."""
    none = {"margin": 0.0, "kiss_cut": False}
    return make_size(
        "circle",
        {"diameter": 300.0},
        200.0,
        use="table",
        **{"panel": none, "braid": {"width": width}, **sections},
    )


def bell_hex() -> SizeRecipe:
    """Hexagon of 280 across flats with r 15, height 220, no kiss cut."""
    return make_size(
        "polygon",
        {"sides": 6, "across_flats": 280.0, "corner_radius": 15.0},
        220.0,
        panel={"kiss_cut": False},
    )


def skiff_oval() -> SizeRecipe:
    """Ellipse of 300 by 110 with a globe of 95: refused."""
    return make_size("ellipse", {"length": 300.0, "width": 110.0}, 200.0, lamp={"diameter": 95.0})
