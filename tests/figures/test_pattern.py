"""Full-scale drawings: where the lines of the flat sheet lie, what a scale reads, how a drawing is tiled."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as Dot
from shapely import Polygon, box, unary_union
from shapely.affinity import rotate, translate

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, PAPERS
from generator.examine import examine
from generator.figures.pattern.aids import notch_gauge, proof_strip, snip_strip, viewfinder
from generator.figures.pattern.draw import draw_pattern
from generator.figures.pattern.flat import bend_places, flat_sheet, relief_places
from generator.figures.pattern.model import Drawing, Pattern
from generator.figures.pattern.tiles import laid_out
from generator.measures.build import measure
from generator.measures.full_scale import full_scale_measures, numbered, proof_scale
from generator.measures.measure import Measures
from generator.plan.work import Work
from generator.recipe.models import SizeRecipe
from generator.shape.blank import blank_loop
from generator.shape.build import build_shade
from generator.shape.shade import Shade
from generator.sheets.wording import load_words
from tests.figures.jobs import size_of

SAMPLES = sorted(path.stem for path in data_folder("recipes").glob("*.yaml"))


@cache
def works(recipe: str) -> tuple[Work, ...]:
    return examine(data_folder("recipes") / f"{recipe}.yaml").works


def full(work: Work) -> Measures:
    return full_scale_measures(work.shade, work.measures)


def pattern_of(work: Work, paper: str = "A4") -> Pattern:
    measures = full(work)
    words = load_words(ENGLISH).bound(work.plan, measures)
    return draw_pattern(work.size, work.shade, measures, words, PAPERS[paper])


def sheet_of(recipe: str) -> tuple[Work, Drawing]:
    work = works(recipe)[0]
    return work, flat_sheet(work.size, work.shade, full(work))


def lines(drawing: Drawing, part: str) -> list[tuple[tuple[float, float], ...]]:
    return [line.points for line in drawing.lines if line.part == part]


@pytest.mark.parametrize("recipe", SAMPLES)
def test_every_sample_has_a_pattern_in_which_every_needed_name_finds_room(recipe: str) -> None:
    for work in works(recipe):
        pattern = pattern_of(work)
        names = [leaf.name for leaf in pattern.leaves if leaf.name]
        assert len(names) == len(set(names)) >= 2
        assert all(re.fullmatch(r"[A-Z][1-9]\d?", name) for name in names)
        for leaf in pattern.leaves:
            assert (leaf.figure.width, leaf.figure.height) == leaf.page.frame
            assert f"{leaf.figure.alt[:4]}" in ("Tile", "Stri")


@pytest.mark.parametrize("paper", PAPERS)
def test_a_pattern_can_be_made_on_each_paper_and_larger_paper_takes_fewer_pages(paper: str) -> None:
    work = works("fog-cone")[0]
    leaves = pattern_of(work, paper).leaves
    assert {(leaf.page.width, leaf.page.height) for leaf in leaves} <= {
        (PAPERS[paper].width, PAPERS[paper].height),
        (PAPERS[paper].height, PAPERS[paper].width),
    }
    assert len(leaves) < 14 if paper == "A3" else len(leaves) >= 14


def test_marks_of_a_drum_lie_where_arithmetic_puts_them() -> None:
    _, drawing = sheet_of("pier-drum")
    once = math.pi * 250 + 2 * math.pi * (0.15 + 0.175)
    xs = sorted(points[0][0] for points in lines(drawing, "strut"))
    # Three struts, the first half a space from the seam; slits stop 1 mm short of the rim.
    assert xs == pytest.approx([once / 6, once / 2, once * 5 / 6])
    assert {y for points in lines(drawing, "strut") for _, y in points} == {
        181.0,
        195.0,
    }
    (outline,) = lines(drawing, "outline")
    assert Polygon(outline).area == pytest.approx((once + 10) * 210)
    assert [points[0][0] for points in lines(drawing, "overlap")] == pytest.approx([once])
    assert lines(drawing, "bend") == []
    (low, high) = lines(drawing, "grain")[0]
    assert low == pytest.approx((once / 2, 0.0))
    assert high == pytest.approx((once / 2, 180.0))


def test_bends_of_a_hexagon_begin_and_end_where_its_sides_do() -> None:
    # Flat sides 2 (140 - 15) tan 30°, bends 60° of radius 15.325: side and bend by turns, the first
    # bend half a side after the seam.
    side, bend = 250 * math.tan(math.pi / 6), math.pi / 3 * (15 + 0.325)
    wanted = [side / 2 + k * (side + bend) + more for k in range(6) for more in (0.0, bend)]
    assert bend_places(works("bell-hex")[0].shade) == pytest.approx(wanted)


def test_without_kiss_cuts_the_sheet_ends_at_the_rims_and_the_cloth_a_margin_beyond() -> None:
    _, drawing = sheet_of("bell-hex")
    assert {line.layer for line in drawing.lines if line.part in ("outline", "cloth-edge")} == {"cut", "mark"}
    ys = [y for _, y in lines(drawing, "outline")[0]]
    cloth = [y for _, y in lines(drawing, "cloth-edge")[0]]
    assert (min(ys), max(ys), min(cloth), max(cloth)) == (0.0, 220.0, -15.0, 235.0)


def test_a_taper_stands_upright_at_its_grain_line_and_has_as_many_relief_cuts_as_the_measures_say() -> None:
    for recipe in ("fog-cone", "capstan"):
        work, drawing = sheet_of(recipe)
        ((ax, ay), (bx, by)) = lines(drawing, "grain")[0]
        assert by > ay
        if recipe == "fog-cone":
            assert ax == pytest.approx(bx, abs=1e-6)
        count = work.measures.shown("relief_cuts")
        assert len(lines(drawing, "relief")) == 2 * count == len(relief_places(work.shade))
        for points in lines(drawing, "relief"):
            assert math.dist(*points) == pytest.approx(work.measures.exact("relief_depth"))


def test_cuts_fall_on_the_margin_and_kiss_cuts_within_the_sheet() -> None:
    for recipe in SAMPLES:
        _, drawing = sheet_of(recipe)
        whole = Polygon(drawing.loop).buffer(0.02)
        for line in drawing.lines:
            assert whole.covers(unary_union([Dot(point) for point in line.points])), (recipe, line.part)


RINGS = st.one_of(
    st.builds(lambda d: {"outline": "circle", "dimensions": {"diameter": d}}, st.floats(200, 600)),
    st.builds(
        lambda a, share: {"outline": "ellipse", "dimensions": {"length": a, "width": a * share}},
        st.floats(250, 500),
        st.floats(0.6, 0.95),
    ),
    st.builds(
        lambda side, r: {"outline": "square", "dimensions": {"side": side, "corner_radius": r}},
        st.floats(200, 450),
        st.floats(20, 90),
    ),
)


def shade_with(changes: dict[str, object]) -> Shade:
    size: SizeRecipe = size_of("pier-drum/35").model_copy(update=changes)
    return build_shade(size)


@settings(max_examples=30, deadline=None)
@given(ring=RINGS, real=RINGS)
def test_the_strip_reads_the_panel_length_of_whatever_ring_it_is_wrapped_round(
    ring: dict[str, object], real: dict[str, object]
) -> None:
    # A strip made for one ring is a ruler: at the way round another ring it must read that ring's own panel.
    made, other = shade_with(ring), shade_with(real)
    reading, at = proof_scale(made).ticks[0]
    assert all(b[1] - a[1] == pytest.approx(1.0) for a, b in pairwise(proof_scale(made).ticks))
    # Laid round the wire the strip's middle is half its thickness outside it: by Steiner 2 pi 0.1 / 2 longer.
    wrapped = other.outline.offset(0.1 / 2).length
    assert wrapped - at + reading == pytest.approx(other.panel_length, abs=1e-6)


def test_the_scale_is_numbered_by_its_measure_and_points_at_the_ring_of_the_recipe() -> None:
    work = works("pier-drum")[1]
    strip = proof_strip(work.shade, full(work), None)
    once = math.pi * 350
    # Panel pi x 350 + 2 pi (0.15 + 0.175) + 10 = 1111.6 mm; the first ten from 20 mm before it on is 1100.
    numbers = {spot.text: spot.at[0] for spot in strip.spots if spot.text}
    assert list(numbers) == ["1100", "1110", "1120", "1130"]
    # The paper of the strip, 0.1 thick, lies round the wire with its middle 0.05 outside it.
    paper = 2 * math.pi * 0.05
    assert numbers["1110"] == pytest.approx(1110 - 10 - 2 * math.pi * 0.325 + paper)
    assert lines(strip, "here")[0][0][0] == pytest.approx(once + paper)


def test_a_snip_strip_has_the_stations_of_the_table_and_a_gauge_the_notch() -> None:
    work = works("ferry-square")[0]
    strip = snip_strip(work.shade)
    assert [p[0][0] for p in lines(strip, "strut")] == pytest.approx(work.measures["strut_stations"].exact)
    assert [p[0][0] for p in lines(strip, "corner")] == pytest.approx(work.measures["corner_stations"].exact)
    gauge = Polygon(lines(notch_gauge(work.shade), "outline")[0])
    missing = box(*gauge.bounds).area - gauge.area
    assert missing == pytest.approx(work.measures.exact("notch_length") * work.measures.exact("notch_width"))


def test_a_viewfinder_shows_a_third_of_the_way_round_from_rim_to_rim() -> None:
    for recipe in ("pier-drum", "fog-cone"):
        shade = works(recipe)[0].shade
        window = Polygon(lines(viewfinder(shade), "window")[0])
        taper = shade.development
        whole = taper.area if taper else shade.wrapped_length * shade.height
        assert window.area == pytest.approx(whole / 3, rel=1e-3)


@pytest.mark.parametrize("recipe", SAMPLES)
def test_tiles_hold_the_whole_drawing_and_none_of_them_is_empty(recipe: str) -> None:
    _, drawing = sheet_of(recipe)
    grid = laid_out(drawing, PAPERS["A4"])
    area = Polygon(grid.drawing.loop)
    windows = [box(*tile.window) for tile in grid.tiles]
    assert area.difference(unary_union(windows)).area < 0.5
    assert all(window.intersection(area).area > 1.0 for window in windows)
    left, bottom, right, top = unary_union(windows).bounds
    x0, y0, x1, y1 = grid.drawing.box
    assert left + 1 < x0 < x1 < right - 1
    assert bottom + 1 < y0 < y1 < top - 1
    assert grid.drawing.box[2] - grid.drawing.box[0] > 0


def test_a_tile_that_would_be_empty_is_left_out() -> None:
    _, drawing = sheet_of("fog-cone")
    grid = laid_out(drawing, PAPERS["A4"])
    assert len(grid.tiles) < grid.rows * grid.columns


@pytest.mark.parametrize("recipe", ["pier-drum", "customs-rect", "fog-cone"])
def test_the_drawing_for_a_cutter_is_in_millimetres_with_one_named_group_a_layer(recipe: str) -> None:
    work, drawing = sheet_of(recipe)
    root = ElementTree.fromstring(pattern_of(work).svg)
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    assert root.attrib["width"] == f"{width:.3f}mm"
    assert root.attrib["height"] == f"{height:.3f}mm"
    groups = [child for child in root if child.tag.endswith("}g")]
    assert [group.attrib["id"] for group in groups] == ["cut", "kiss-cut", "fold", "mark", "text"]
    by_id = {group.attrib["id"]: group for group in groups}
    cut = [path for path in by_id["cut"] if path.tag.endswith("}path")]
    assert len(cut) == 1
    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", cut[0].attrib["d"])
    loop = [(float(x), float(y)) for x, y in pairs]
    wanted = lines(drawing, "outline")[0]
    assert Polygon(loop).length == pytest.approx(Polygon(wanted).length, abs=0.05)
    fold = [path for path in by_id["fold"] if path.tag.endswith("}path")]
    assert len(fold) == (1 if work.shade.hem else 0)
    assert any((text.text or "") == "TOP" for text in by_id["text"])


def joined(**changes: object) -> tuple[Work, Drawing]:
    """Slipway 45, which is joined from two panels of 718 mm, or something like it."""
    work = works("slipway-45")[0]
    size = work.size.model_copy(update=changes)
    shade = build_shade(size)
    made = replace(work, size=size, shade=shade, measures=measure(size, shade))
    return made, flat_sheet(size, shade, full(made))


def test_the_pattern_of_joined_panels_is_one_panel_with_its_overlap_and_the_joint_where_the_next_begins() -> (
    None
):
    _, drawing = joined()
    share = (450 * math.pi + 2 * math.pi * (0.15 + 0.175)) / 2
    (outline,) = lines(drawing, "outline")
    assert Polygon(outline).area == pytest.approx((share + 10) * 280)
    assert [points[0][0] for points in lines(drawing, "overlap")] == pytest.approx([share])
    # Four struts, the first half a space from the seam: both panels have two, at the same places.
    assert [points[0][0] for points in lines(drawing, "strut")] == pytest.approx([share / 4, share * 3 / 4])
    assert not any(line.panels for line in drawing.lines)
    assert lines(drawing, "grain")[0][0][0] == pytest.approx(share / 2)


def test_a_mark_that_not_all_panels_have_says_whose_it_is() -> None:
    # Three struts from 118 mm on: 1413.7/3 = 471.2 apart, so at 118, 589 and 1060; the joint is at 706.9.
    ring = works("slipway-45")[0].size.ring.model_copy(update={"struts": 3, "first_strut": 118.0})
    work, drawing = joined(ring=ring)
    struts = [(line.panels, round(line.points[0][0])) for line in drawing.lines if line.part == "strut"]
    assert sorted(struts) == [((1,), 118), ((1,), 590), ((2,), 354)]
    pattern = pattern_of(work)
    assert "strut, panel 2" in pattern.whole.svg
    assert {"1", "2"} <= pattern.names


def test_bends_that_differ_from_panel_to_panel_are_told_with_their_panels() -> None:
    # Three panels of a pentagon: its five corners cannot lie alike on them.
    pentagon = {"sides": 5, "across_flats": 400.0, "corner_radius": 5.0}
    size = works("slipway-45")[0].size
    panel = size.panel.model_copy(update={"stock_length": 500.0, "stock_width": None})
    _, drawing = joined(outline="polygon", dimensions=pentagon, height=200.0, panel=panel)
    bends = [line for line in drawing.lines if line.part == "bend"]
    assert len(bends) == 10
    assert all(line.panels for line in bends)
    share = Polygon(lines(drawing, "outline")[0]).bounds[2] - 10
    assert all(0 <= line.points[0][0] <= share for line in bends)


@settings(max_examples=20, deadline=None)
@given(sheet=st.floats(300, 1200), real=st.floats(300, 500))
def test_the_strip_of_joined_panels_reads_how_long_each_must_be(sheet: float, real: float) -> None:
    size = size_of("slipway-45")
    panel = size.panel.model_copy(update={"stock_length": sheet, "stock_width": None})
    made = build_shade(size.model_copy(update={"panel": panel}))
    other = build_shade(
        size.model_copy(update={"panel": panel, "dimensions": {"diameter": real}, "height": 200.0})
    )
    reading, at = proof_scale(made).ticks[0]
    # The strip is a ruler: so many mm of it for one of a panel. The other ring in as many panels as this one.
    wrapped = other.outline.offset(0.1 / 2).length
    each = other.wrapped_length / made.panels + other.overlap
    assert reading + (wrapped - at) / made.panels == pytest.approx(each, abs=1e-6)
    numbers = numbered(made)
    gaps = [(b - a) * made.panels for a, b in pairwise(numbers)]
    assert len(numbers) >= 2
    assert all(10 <= gap <= 25 for gap in gaps)


@pytest.mark.parametrize(("recipe", "count"), [("beacon-50", 2), ("joined-capstan", 2)])
def test_panels_of_a_taper_laid_side_by_side_are_its_whole_flat_sheet(recipe: str, count: int) -> None:
    size = size_of(recipe)
    shade = build_shade(size)
    assert shade.panels == count
    development, panel = shade.development, shade.one_panel.development
    assert development is not None
    assert panel is not None
    one = Polygon(blank_loop(panel, 0.0, 0.0))
    low = panel.generator(panel.length).flat_low
    # The next panel's start lies on this one's joint, turned by what this one turns.
    second = translate(rotate(one, math.degrees(panel.turning), origin=(0, 0)), *low)
    whole = Polygon(blank_loop(development, 0.0, 0.0)).buffer(0)
    joined = shapely.union_all([one, second], grid_size=1e-4)
    assert joined.area == pytest.approx(2 * one.area, abs=0.5)
    assert shapely.symmetric_difference(joined, whole, grid_size=1e-4).area < 0.5
    drawn = flat_sheet(size, shade, full_scale_measures(shade, measure(size, shade)))
    # Neither has kiss cuts: the sheet ends at the rims.
    area, edge = Polygon(lines(drawn, "outline")[0]).area, panel.generator(panel.length).length
    assert area == pytest.approx(development.area / count + shade.overlap * edge, rel=0.01)
