"""The curved panel of a tapered shade: its pattern, its place on the cloth, its edges and its seam end."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from shapely import LineString, MultiPoint

from generator.figures.flat_sheet import FlatSheet
from generator.figures.lay import lay, on_bench
from generator.figures.model import HALF_A4, Figure
from generator.figures.near_edge import long_edge, outside_corner
from generator.figures.pens import WIDTHS
from generator.measures.blank import cloth_lie
from tests.figures.drawings import (
    Part,
    check_texts_stand_apart,
    extent,
    line_widths,
    paper,
    parts,
    root,
)
from tests.figures.jobs import figure, job

SAMPLES = ("fog-cone", "capstan", "low-funnel", "wide-top", "nearly-straight", "left-cone", "hem-cone")
CONES = ("fog-cone", "low-funnel", "wide-top", "left-cone")
PLANS = ("make-pattern", "place-motif", "rough-cut", "position-panel", "burnish", "prepare-seam")
FIGURES = (*PLANS, "lay-face-down", "anchor", "laminate", "trim")
SCORED = ("break-kiss-cuts", "release-margins")
EVERY = [
    *((sample, name) for sample in ("fog-cone", "capstan", "low-funnel", "wide-top") for name in FIGURES),
    *((sample, name) for sample in ("fog-cone", "low-funnel", "wide-top") for name in SCORED),
    *((sample, name) for sample in ("nearly-straight", "left-cone") for name in PLANS),
    ("capstan", "cut-panel"),
    *(("hem-cone", name) for name in ("position-panel", "trim", "fold-hem", "prepare-seam")),
]


def named(drawn: Figure, name: str) -> list[Part]:
    return [part for part in parts(drawn) if part.name == name]


def scale_of(drawn: Figure) -> float:
    return float(root(drawn).get("data-scale", "0"))


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_shows_what_is_new_and_what_to_do(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    assert {"new", "action", "label"} <= {part.role for part in parts(drawn)}
    assert line_widths(drawn) <= set(WIDTHS)
    assert drawn.height <= HALF_A4.max_height


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_its_texts_stand_apart_on_the_paper(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    check_texts_stand_apart(drawn)
    left, top, right, bottom = paper(drawn).buffer(0.3).bounds
    for part in parts(drawn):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_dimension_says_what_its_measure_says(sample: str, name: str) -> None:
    work = job(sample, name)
    for part in parts(figure(sample, name)):
        if part.measure is not None:
            values = work.measures[part.measure].values
            assert part.value in values
            assert all(work.words.number(value) in "".join(part.texts) for value in values)


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_panel_lies_on_its_cloth_with_the_slack_that_is_shown(sample: str) -> None:
    work = job(sample, "position-panel")
    on, lie = lay(work), cloth_lie(work.size, work.shade)
    assert on.end - on.start == pytest.approx(lie.across, abs=0.5)
    assert on.far - on.near == pytest.approx(lie.up, abs=0.5)
    assert on.length - on.end == pytest.approx(work.measures.shown("slack_end_rest"), abs=1.0)
    assert on.width - on.far == pytest.approx(work.measures.shown("slack_edge_rest"), abs=1.0)


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_panel_is_drawn_true_to_its_scale_and_never_broken(sample: str) -> None:
    drawn, work = figure(sample, "position-panel"), job(sample, "position-panel")
    panel = named(drawn, "panel")[0]
    sheet = lay(work).sheet
    assert sheet is not None
    xs, ys = zip(*sheet.loop(sheet.edge), strict=True)
    wide, high = extent(panel.points)
    assert wide / scale_of(drawn) == pytest.approx(max(xs) - min(xs), rel=0.01)
    assert high / scale_of(drawn) == pytest.approx(max(ys) - min(ys), rel=0.01)
    assert not any(part.points for part in named(drawn, "break"))


@pytest.mark.parametrize("sample", CONES)
def test_the_edges_of_a_cone_are_arcs_of_its_own_radii(sample: str) -> None:
    # The circle through three points (elementary): radius of rim and margin together.
    work = job(sample, "position-panel")
    drawn, shade, measures = figure(sample, "position-panel"), work.shade, work.measures
    sheet = lay(work).sheet
    assert sheet is not None
    outer = measures.exact("outer_radius") + shade.margin
    inner = measures.exact("inner_radius") - shade.margin
    for end, radius in ((shade.wide_end, outer), (shade.narrow_end, inner)):
        points = sheet.line(end, shade.margin, 0.0, shade.wrapped_length)
        a, b, c = points[0], points[len(points) // 3], points[2 * len(points) // 3]
        sides = math.dist(a, b), math.dist(b, c), math.dist(c, a)
        area = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2
        assert math.prod(sides) / (4 * area) == pytest.approx(radius, rel=0.002)
    # And the drawn outline lies on these curves.
    outline = LineString(sheet.loop(sheet.edge)).buffer(1.5)
    panel = named(drawn, "panel")[0].points
    left = min(x for x, _ in panel)
    low = max(y for _, y in panel)
    x0, y0 = (min(v) for v in zip(*sheet.loop(sheet.edge), strict=True))
    wide = extent(panel)[0] / scale_of(drawn)
    mirrored = work.size.makers.hand == "left"
    for x, y in panel:
        along = (x - left) / scale_of(drawn)
        spot = (x0 + (wide - along if mirrored else along), y0 + (low - y) / scale_of(drawn))
        assert outline.intersects(MultiPoint([spot]))


@pytest.mark.parametrize("sample", SAMPLES)
def test_on_one_line_of_the_panel_the_grain_stands_true(sample: str) -> None:
    work = job(sample, "position-panel")
    on = lay(work)
    (ax, ay), (bx, by) = on.grain_line()
    lean = abs(math.atan2(bx - ax, by - ay))
    assert min(lean, abs(lean - math.pi / 2)) < math.radians(0.6)
    assert any(part.points for part in named(figure(sample, "position-panel"), "grain-line"))


@pytest.mark.parametrize("sample", CONES)
def test_the_radii_of_a_pattern_are_drawn_true_from_the_pin(sample: str) -> None:
    drawn, measures = figure(sample, "make-pattern"), job(sample, "make-pattern").measures
    (pin,) = named(drawn, "pin")
    x, y = (sum(values) / len(values) for values in zip(*pin.points, strict=True))
    rims = [math.dist((x, y), p) / scale_of(drawn) for p in named(drawn, "rims")[0].points]
    for value in ("outer_radius", "inner_radius"):
        assert any(r == pytest.approx(measures.shown(value), rel=0.01) for r in rims)
    assert max(rims) == pytest.approx(measures.shown("outer_radius"), rel=0.01)
    assert min(rims) == pytest.approx(measures.shown("inner_radius"), rel=0.01)


def test_a_pattern_without_a_pin_is_laid_together_from_printed_sheets() -> None:
    assert named(figure("fog-cone", "make-pattern"), "strip")
    sheets = figure("capstan", "make-pattern")
    assert not named(sheets, "strip")
    assert len({points[0] for part in named(sheets, "cross") for points in [part.points]}) >= 3


def test_a_pin_that_is_too_far_away_is_shown_on_a_broken_strip() -> None:
    assert named(figure("flat-cone", "make-pattern"), "break")
    assert not named(figure("fog-cone", "make-pattern"), "break")


def test_without_kiss_cuts_the_curved_panel_shows_none() -> None:
    assert any(part.points for part in named(figure("fog-cone", "position-panel"), "kiss-cut"))
    assert not named(figure("capstan", "position-panel"), "kiss-cut")
    assert any(part.points for part in named(figure("capstan", "position-panel"), "cut-line"))


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_seam_tape_is_as_long_as_it_says_and_straight(sample: str) -> None:
    drawn = figure(sample, "prepare-seam")
    tape = named(drawn, "seam-tape")[0]
    length = job(sample, "prepare-seam").measures.shown("seam_tape")
    # Its ends stand at least 0.7 mm off the rims on paper (ISO 128: gaps between parallel lines).
    assert extent(tape.points)[1] == pytest.approx(length * scale_of(drawn), abs=1.4)
    assert len({round(x, 1) for x, _ in tape.points}) == 2


@pytest.mark.parametrize("sample", ["fog-cone", "low-funnel", "wide-top", "capstan"])
def test_the_outside_end_stands_upright_before_the_maker(sample: str) -> None:
    shade = job(sample, "trim").shade
    edge = outside_corner(shade, 0.0)
    assert edge(0.0, 0.0) == pytest.approx((0.0, 0.0), abs=1e-6)
    assert edge(0.0, 0.5 * shade.slant)[0] == pytest.approx(0.0, abs=0.02 * shade.slant)
    gone = [edge(-10.0 * k, 0.0) for k in range(12)]
    steps = [math.dist(a, b) for a, b in pairwise(gone)]
    assert steps == pytest.approx([10.0] * 11, abs=0.1)


@pytest.mark.parametrize("sample", ["fog-cone", "low-funnel", "wide-top"])
def test_the_longer_edge_bends_away_from_the_bench_edge(sample: str) -> None:
    # A chord's sagitta (elementary): s squared over twice the radius, for short lengths.
    work = job(sample, "break-kiss-cuts")
    edge = long_edge(work.shade, 0.0, 30.0)
    radius = work.measures.exact("outer_radius")
    assert edge(30.0, 0.0) == pytest.approx((30.0, 0.0), abs=0.01)
    assert edge(80.0, 0.0)[1] == pytest.approx(50.0**2 / (2 * radius), rel=0.05)


@pytest.mark.parametrize("sample", ["fog-cone", "low-funnel"])
def test_cloth_and_panel_keep_their_places_when_they_are_turned_on_the_bench(sample: str) -> None:
    work = job(sample, "anchor")
    flat, turned = lay(work), on_bench(work, 0.0)
    assert turned.cloth().area == pytest.approx(flat.cloth().area)
    (ax, ay), (bx, by) = (turned.at(0.0, share) for share in (0.0, 1.0))
    assert ax == pytest.approx(bx, abs=0.01)
    assert ay < by
    corner = flat.cloth().exterior.coords[0], turned.cloth().exterior.coords[0]
    before, after = (math.dist(c, on.at(100.0, 0.0)) for c, on in zip(corner, (flat, turned), strict=True))
    assert before == pytest.approx(after)


@pytest.mark.parametrize("x", [0.0, 200.0, 430.0])
def test_a_line_beside_a_rim_keeps_its_distance(x: float) -> None:
    sheet = FlatSheet(job("fog-cone", "trim").shade)
    for end in ("bottom", "top"):
        on, off = sheet.at_rim(end, x), sheet.at_rim(end, x, 15.0)
        assert math.dist(on, off) == pytest.approx(15.0)


@pytest.mark.parametrize("name", ["position-panel", "place-motif", "prepare-seam"])
def test_a_left_handed_makers_picture_has_the_same_values(name: str) -> None:
    def values(sample: str) -> list[tuple[str, float | None]]:
        return sorted((p.measure, p.value) for p in parts(figure(sample, name)) if p.measure)

    assert values("left-cone") == values("fog-cone")
