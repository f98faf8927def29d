"""What a remnant makes: sizes laid on it, and the largest shade of a shape."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box
from shapely.affinity import rotate, translate

from generator.measures.fit import Remnant, comes_out, fit, largest, on_cloth, refusals
from generator.measures.laying import Layout
from generator.measures.scaling import lengths_of, scaled
from generator.recipe.kits import Supplied
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_loop
from generator.shape.build import build_shade
from tests.measures.tapers import capstan, circle, ellipse, fog_cone, taper
from tests.shape.samples import bell_hex, customs_rect, ferry_square, judged, make_size, net_loft, pier_drum

SHAPES: dict[str, Callable[[], SizeRecipe]] = {
    "drum": pier_drum,
    "oval": net_loft,
    "rectangle": customs_rect,
    "hexagon": bell_hex,
    "square": ferry_square,
}
SIDE = st.floats(250, 2500).map(round)


def on(size: SizeRecipe, width: float, length: float | None) -> SizeRecipe:
    covering = size.covering.model_copy(update={"width": float(width), "length": length})
    return size.model_copy(update={"covering": covering})


def pieces(layout: Layout, cut: tuple[float, float]) -> list[Polygon]:
    """The rectangles of a layout."""
    return [
        box(p.across, p.along, p.across + cut[p.turned], p.along + cut[1 - p.turned]) for p in layout.pieces
    ]


def test_a_drum_of_350_lacks_75_mm_of_a_remnant_of_108_by_60_and_one_of_327_fits() -> None:
    # By hand. Cloth for a drum d: π d + 2π 0.325 + 10 + 40 = 3.1416 d + 52.04, up to the next 5. For 350 that
    # is 1151.6, so 1155. 1080 holds (1080 - 52.04) / π = 327.2. In proportion 327 × 220/350 = 205.5.
    found = fit(pier_drum(), Remnant(1080.0, 600.0))
    assert found.as_it_is is not None
    assert found.as_it_is.cut == (1155.0, 270.0)
    assert found.as_it_is.layout is None
    best, same = found.largest.best, found.same_height.best
    assert best is not None
    assert same is not None
    assert (best.size.dimensions["diameter"], best.size.height) == (327.0, 205.0)
    assert (same.size.dimensions["diameter"], same.size.height) == (327.0, 220.0)
    # 205 + 30 + 20 = 255 of 600 are used.
    assert (best.cut, best.spare) == ((1080.0, 255.0), (0.0, 345.0))


def test_a_panel_that_comes_cut_fits_one_size_alone_so_the_largest_shades_do_without_it() -> None:
    # Once round 350 is 1101.6; the panel of 1112 laps by 10.4, and its cloth is that of the drum above.
    drum = pier_drum()
    supplied = Supplied(length=1112.0, height=250.0, margin=15.0)
    cut = drum.model_copy(update={"panel": drum.panel.model_copy(update={"supplied": supplied})})
    found = fit(cut, Remnant(1080.0, 600.0))
    assert found.faults == ()
    assert found.as_it_is is not None
    assert found.as_it_is.cut == (1155.0, 270.0)
    assert found.largest.best is not None
    assert found.largest.best.size.panel.supplied is None
    assert found.largest.best.size.dimensions["diameter"] == 327.0


def test_a_print_with_one_direction_is_not_turned() -> None:
    # 1155 × 270 comes out of 300 × 1200 only turned.
    free, fixed = (fit(pier_drum(), Remnant(300.0, 1200.0, one_way)) for one_way in (False, True))
    assert free.as_it_is is not None
    assert free.as_it_is.layout is not None
    assert free.as_it_is.layout.turned == 1
    assert fixed.as_it_is is not None
    assert fixed.as_it_is.layout is None


def test_two_panels_lie_one_above_the_other_or_not_at_all() -> None:
    # Slipway 45 needs two pieces of 760 × 300.
    size = make_size("circle", {"diameter": 450.0}, 250.0, panel={"stock_length": 1000.0}, ring={"struts": 4})
    found = fit(size, Remnant(900.0, 600.0)).as_it_is
    assert found is not None
    assert found.layout is not None
    assert (found.pieces, found.spare) == (2, (140.0, 0.0))
    short = fit(size, Remnant(900.0, 590.0)).as_it_is
    assert short is not None
    assert short.layout is None


def test_a_shade_whose_lamp_would_be_too_near_is_told_and_not_offered() -> None:
    found = fit(pier_drum(), Remnant(450.0, 300.0)).largest
    # (450 - 52.04) / π = 126.7; a lamp of 60 needs 60 + 2 × 30 + 2 × 3.5 = 127 mm of ring.
    assert found.best is None
    assert found.refused is not None
    assert found.refused.size.dimensions == {"diameter": 126.0}
    assert "the lamp comes within" in found.faults[0].wrong


@given(st.sampled_from(list(SHAPES)), SIDE, SIDE, st.booleans(), st.booleans())
@settings(max_examples=20)
def test_the_largest_passes_every_judge_with_that_cloth_and_no_larger_one_comes_out(
    shape: str, width: int, length: int, one_way: bool, height: bool
) -> None:
    size = on(SHAPES[shape](), width, float(length))
    if one_way:
        size = on(ferry_square(), width, float(length))
    found = largest(size, height=height)
    least = 0
    if found.best is not None:
        named = found.best.size
        assert judged(named).faults == ()
        assert judged(on(named, width, None)).faults == ()
        layout = found.best.layout
        assert layout is not None
        assert all(box(0, 0, width, length).buffer(1e-6).contains(p) for p in pieces(layout, found.best.cut))
        least = round(named.dimensions[next(k for k in named.dimensions if k != "sides")])
    now = size.dimensions[next(k for k in size.dimensions if k != "sides")]
    for value in (*range(least + 1, least + 80), *range(least + 80, 3001, 11)):
        larger = scaled(size, value / now, height=height)
        if min(lengths_of(larger)) >= 40 and max(lengths_of(larger)) <= 3000 and comes_out(larger):
            assert refusals(larger)


@given(st.floats(260, 1000), st.integers(1, 3), st.floats(300, 1500), st.floats(300, 1500), st.booleans())
@settings(max_examples=10)
def test_joined_panels_lie_apart_on_the_remnant_and_no_larger_shade_comes_out(
    sheet: float, struts: int, width: float, length: float, height: bool
) -> None:
    panel = {"stock_length": sheet}
    size = make_size("circle", {"diameter": 400.0}, 200.0, panel=panel, ring={"struts": 2 * struts})
    size = on(size, width, length)
    found = largest(size, height=height)
    least = 0
    if found.best is not None:
        assert judged(found.best.size).faults == ()
        assert found.best.layout is not None
        shapes = pieces(found.best.layout, found.best.cut)
        assert len(shapes) == build_shade(found.best.size).panels
        assert all(box(0, 0, width, length).buffer(1e-3).contains(shape) for shape in shapes)
        assert not any(a.intersection(b).area > 1e-3 for a in shapes for b in shapes if a is not b)
        least = round(found.best.size.dimensions["diameter"])
    for value in range(max(least + 1, 64), 3001, 3):
        larger = scaled(size, value / 400.0, height=height)
        if larger.height <= 3000 and comes_out(larger):
            assert refusals(larger)


TAPERS: dict[str, Callable[..., SizeRecipe]] = {
    "cone": fog_cone,
    "capstan": capstan,
    "oval": lambda **more: taper(ellipse(360.0, 240.0), ellipse(240.0, 180.0), 200.0, **more),
    "slanted": lambda **more: taper(circle(300.0), circle(180.0), slant=200.0, **more),
}


@given(st.sampled_from(list(TAPERS)), SIDE, SIDE, st.sampled_from(["any", "one-way"]), st.booleans())
@settings(max_examples=4)
def test_the_largest_taper_passes_every_judge_and_lies_inside_the_remnant(
    shape: str, width: int, length: int, direction: str, height: bool
) -> None:
    size = on(TAPERS[shape](covering={"direction": direction}), width, float(length))
    found = largest(size, height=height)
    least, now = 0, max(lengths_of(size)[:-1])
    if found.best is not None:
        named, cut = found.best.size, found.best.cut
        assert judged(named).faults == ()
        assert judged(on(named, width, None)).faults == ()
        _check_place(named, found.best.turned, cut)
        across = cut if found.best.layout and not found.best.layout.turned else (cut[1], cut[0])
        assert across[0] <= width + 1e-6
        assert across[1] <= length + 1e-6
        least = round(max(lengths_of(named)[:-1]))
    # Each larger one near it, and some far above.
    for value in (*range(least + 1, least + 6), 2 * least + 50):
        larger = scaled(size, value / now, height=height)
        if min(lengths_of(larger)) >= 40 and max(lengths_of(larger)) <= 3000 and comes_out(larger):
            assert refusals(larger)


def _check_place(size: SizeRecipe, turned: float, cut: tuple[float, float]) -> None:
    """The blank, laid out with shapely, lies in the piece that is cut, its slack round it."""
    shade = build_shade(size)
    development = shade.development
    assert development is not None
    blank = Polygon(blank_loop(development, shade.margin, shade.overlap)).buffer(0)
    upright = development.generator(development.length / 2).tau
    lying = rotate(blank, -math.degrees(upright) - turned, origin=(0, 0))
    x0, y0, x1, y1 = lying.bounds
    ends, edges = size.covering.slack_ends, size.covering.slack_edges
    inside = box(ends, edges, cut[0] - ends, cut[1] - edges)
    assert inside.buffer(1e-3).contains(translate(lying, ends - x0, edges - y0))
    # Cut in steps of 5: less would not do.
    needs = (x1 - x0 + 2 * ends, y1 - y0 + 2 * edges)
    assert cut == tuple(math.ceil(need / 5 - 1e-5) * 5 for need in needs)


def test_a_curved_panel_is_turned_where_upright_it_is_too_wide() -> None:
    # Upright the cone's panel takes 955 + 40 across; the narrowest rectangle round it is narrower than high.
    assert on_cloth(on(fog_cone(), 1000, 600.0)).turned == pytest.approx(0.0, abs=1e-6)
    turned = on_cloth(on(fog_cone(), 960, 620.0))
    assert turned.layout is not None
    assert abs(turned.turned) > 5
    assert turned.cut[0] <= 960
    assert turned.cut[1] <= 620


def test_a_remnant_that_is_too_short_is_told_with_the_length_that_would_do() -> None:
    size = on(pier_drum(), 1400, 200.0)
    (fault,) = judged(size).faults
    assert fault.span == size.span("covering.length")
    assert "a piece of 1155 mm by 270 mm" in fault.wrong
    assert fault.expected == "a cloth at least 270 mm long"
    assert judged(on(pier_drum(), 1400, 270.0)).faults == ()


def test_first_strut_and_shift_scale_with_the_ring() -> None:
    size = fog_cone(ring={"first_strut": 100.0})
    assert size.ends is not None
    moved: Any = size.model_copy(
        update={"ends": type(size.ends)(size.ends.bottom, size.ends.top, None, (-15.0, 31.0))}
    )
    half = scaled(moved, 0.5)
    assert half.ends is not None
    assert half.ends.shift == (-7.0, 15.0)
    assert half.ring.first_strut == 50.0
    assert half.height == 110.0
