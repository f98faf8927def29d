"""Figures of the rings and of the whole shade where the rings differ."""

from __future__ import annotations

import math
from functools import cache

import pytest
from shapely import LineString, unary_union

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas, Mark, only_areas, only_lines
from generator.figures.draw import PACKAGE
from generator.figures.kinds.close_seam import lying
from generator.figures.model import HALF_A4, Figure
from generator.figures.outer_sizes import size_names
from generator.figures.rim_inside import STEEPEST, leaning
from generator.figures.rolling import bench_view, facing, rolling_path
from generator.figures.silhouette import silhouette
from generator.figures.upright import stand
from generator.figures.view import Box, bench, fit
from generator.figures.wall import rolled
from generator.shape.development import ENDS, other_end
from tests.figures.drawings import check_texts_stand_apart, extent, paper, parts
from tests.figures.jobs import figure, job

ROUND = ("fog-cone", "wide-above", "wide-below-table", "hardly-tapered", "low-funnel", "left-cone")
SAMPLES = (*ROUND, "shifted-cone", "capstan", "oval-taper", "hex-taper")
FIGURES = (
    "choose-use",
    "prove-rings",
    "mark-rings",
    "stop-and-orient",
    "dock",
    "roll",
    "close-seam",
    "notch",
    "relief-cuts",
    "turn-and-snip",
    "tuck-plain-end",
    "tuck-fitter-end",
    "inspect",
)
HARD = ("mark-rings", "roll", "close-seam", "inspect")
"""The pictures that depend most on sizes and outlines."""
EVERY = [
    pytest.param(s, f, id=f"{s}-{f}")
    for s in SAMPLES
    for f in (FIGURES if s in ("fog-cone", "wide-above", "capstan") else HARD)
]
NEW = [p for p in EVERY if str(p.id).startswith(("fog-cone", "capstan"))]


@cache
def whole(sample: str) -> Figure:
    """The picture of the finished shade."""
    work = job(sample, "choose-use")
    return silhouette(work.size, work.shade, work.measures, work.words, work.plan)


@cache
def recorded(sample: str, name: str) -> Canvas:
    """What a figure draws, before it becomes SVG."""
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


def drawn(sample: str, name: str) -> Figure:
    if name == "relief-cuts" and not any(
        step.task.figure == name for step in job(sample, "choose-use").plan.steps
    ):
        pytest.skip("this taper needs no relief")
    return figure(sample, name)


def marks(canvas: Canvas, part: str) -> list[Mark]:
    return [mark for mark in canvas.marks() if mark.group.part == part]


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_every_picture_of_a_taper_keeps_to_its_paper_and_its_texts_apart(sample: str, name: str) -> None:
    done = drawn(sample, name)
    left, top, right, bottom = paper(done).buffer(0.3).bounds
    assert done.height <= HALF_A4.max_height
    for part in parts(done):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name
    check_texts_stand_apart(done)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_every_value_in_a_picture_of_a_taper_is_its_measures(sample: str, name: str) -> None:
    done, measures = drawn(sample, name), job(sample, name).measures
    for part in parts(done):
        if part.measure is not None:
            assert part.value in measures[part.measure].values, part.name


@pytest.mark.parametrize(("sample", "name"), NEW)
def test_what_a_step_adds_to_a_taper_is_seen(sample: str, name: str) -> None:
    drawn(sample, name)
    canvas = recorded(sample, name)
    role = "removed" if name == "notch" else "new"
    new = {mark.group.part for mark in canvas.marks() if mark.group.role == role}
    assert new
    for part in new:
        seen = canvas.visible(part)
        assert not only_areas(seen).is_empty or not only_lines(seen).is_empty, part


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_whole_shows_both_rings_and_the_height_as_they_are_measured(sample: str) -> None:
    work, done = job(sample, "choose-use"), whole(sample)
    told = {part.measure: part.value for part in parts(done) if part.measure}
    for end in ENDS:
        names = {n for n in (f"{end}_diameter", *size_names(work, end)) if n and n in work.measures}
        assert names
        assert names <= told.keys()
    assert told["finished_height"] == work.measures.shown("finished_height")
    for measure, value in told.items():
        assert value == work.measures.shown(measure)
    check_texts_stand_apart(done)


@pytest.mark.parametrize("sample", ["oval-taper", "hex-taper", "oval-wide-top", "left-oval-taper", "capstan"])
def test_a_taper_is_inspected_at_both_ends_and_told_what_passes(sample: str) -> None:
    work, done = job(sample, "inspect"), figure(sample, "inspect")
    told = {part.measure: " ".join(part.texts) for part in parts(done) if part.measure and part.texts}
    for end in ENDS:
        names = {n for n in (f"{end}_diameter", *size_names(work, end)) if n and n in work.measures}
        assert names
        assert names <= told.keys()
    everything = " ".join(told.values())
    for tolerance in ("height_tolerance", "width_tolerance"):
        assert f"± {work.words.number(work.measures.shown(tolerance))}" in everything
    numbers = {part.name for part in parts(done) if part.name.startswith("number-")}
    assert numbers == {f"number-{k}" for k in range(1, 6)}
    assert done.height <= HALF_A4.max_height
    check_texts_stand_apart(done)


@pytest.mark.parametrize("sample", ["oval-taper", "hex-taper", "shifted-cone", "capstan", "fog-cone"])
def test_the_slant_is_told_also_where_it_differs_round_the_shade(sample: str) -> None:
    """It is measured at the seam: there it stands, unless it is as long all round."""
    work = job(sample, "choose-use")
    slants = [part for part in parts(whole(sample)) if part.measure == "slant" and part.texts]
    assert [part.value for part in slants] == [work.measures.shown("slant")]


@pytest.mark.parametrize("sample", [sample for sample in ROUND if sample != "low-funnel"])
def test_both_diameters_are_drawn_in_their_true_proportion(sample: str) -> None:
    wide = {part.measure: part for part in parts(whole(sample)) if part.measure}
    lengths = {}
    for end in ENDS:
        # The extension lines stand at both ends of the diameter: their distance, not that of what is written.
        xs = [x for x, _ in wide[f"{end}_diameter"].points]
        upright = sorted({x for x in xs if xs.count(x) >= 2})
        lengths[end] = upright[-1] - upright[0]
    size = job(sample, "choose-use").size.ends
    assert size is not None
    true = size.bottom.dimensions["diameter"] / size.top.dimensions["diameter"]
    assert lengths["bottom"] / lengths["top"] == pytest.approx(true, rel=0.02)


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_height_of_a_taper_is_drawn_straight_up(sample: str) -> None:
    work = job(sample, "choose-use")
    upright = stand(work.size, work.shade, bench(), Box(0.0, 0.0, 60.0, 60.0))
    low, high = upright.frame((0.0, 0.0, 0.0)), upright.frame((0.0, 0.0, work.shade.height))
    heights = [part for part in parts(whole(sample)) if part.measure == "finished_height"]
    xs = [x for part in heights for x, _ in part.points]
    ys = [y for part in heights for _, y in part.points]
    upright_lines = {x for x in xs if xs.count(x) >= 2}
    assert upright_lines, "a dimension line that stands upright"
    assert low[0] == pytest.approx(high[0])
    assert max(ys) - min(ys) > 5.0


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 0.75])
def test_a_taper_rests_on_a_line_that_points_away_from_the_maker(sample: str, share: float) -> None:
    shade = job(sample, "roll").shade
    c = share * shade.wrapped_length
    wall = rolled(shade, c, c + 20.0, facing(shade, c))
    low, high = wall.point(c, 0.0), wall.point(c, shade.slant)
    assert low[0] == pytest.approx(high[0], abs=1e-6)
    assert high[1] > low[1]
    assert (low[2], high[2]) == pytest.approx((0.0, 0.0), abs=1e-6)


@pytest.mark.parametrize("sample", ["fog-cone", "wide-above", "left-cone", "capstan"])
def test_the_rings_of_a_taper_swing_along_an_arc_ahead_of_them(sample: str) -> None:
    work = job(sample, "roll")
    left = work.size.makers.hand == "left"
    turn = facing(work.shade, 0.0)
    extent_ = [(-300.0, -300.0, 0.0), (300.0, 300.0, 300.0)]
    frame = fit(bench_view(work.shade, left), extent_, Box(0.0, 0.0, 40.0, 30.0))
    path = rolling_path(frame, work.shade, 0.0, turn=turn)
    assert (path[-1][0] - path[0][0]) * (-1 if left else 1) > 2
    assert LineString(path).length > math.dist(path[0], path[-1])


@pytest.mark.parametrize("sample", ["fog-cone", "wide-above", "low-funnel", "left-cone"])
def test_the_dock_shows_two_rings_of_their_own_sizes(sample: str) -> None:
    canvas, shade = recorded(sample, "dock"), job(sample, "dock").shade
    wide = {}
    for end in ENDS:
        part = "fitter-ring" if end == shade.fitter_end else "plain-ring"
        loops = [m.shape for m in marks(canvas, part) if m.shape.geom_type == "LineString"]
        left, _, right, _ = max(loops, key=lambda loop: loop.length).bounds
        wide[end] = right - left
    true = (shade.rim("bottom").width - shade.wire) / (shade.rim("top").width - shade.wire)
    # Both lean alike, so that they are foreshortened alike.
    assert wide["bottom"] / wide["top"] == pytest.approx(true, rel=0.02)


@pytest.mark.parametrize("sample", ["fog-cone", "wide-above", "wide-below-table", "capstan", "oval-taper"])
def test_rings_are_marked_one_in_the_other_in_their_true_proportion(sample: str) -> None:
    canvas, shade = recorded(sample, "mark-rings"), job(sample, "mark-rings").shade
    assert canvas.view == "plan"
    assert canvas.scale is not None
    for end in ENDS:
        part = "fitter-ring" if end == shade.fitter_end else "plain-ring"
        left, _, right, _ = unary_union([m.shape for m in marks(canvas, part)]).bounds
        assert (right - left) / canvas.scale == pytest.approx(shade.rim(end).width - shade.wire, rel=0.01)


@pytest.mark.parametrize("sample", SAMPLES)
def test_both_marks_and_the_middle_of_the_hub_stand_in_one_line(sample: str) -> None:
    canvas = recorded(sample, "mark-rings")
    middles = [mark.shape.centroid.x for mark in marks(canvas, "seam-mark")]
    hub = [mark.shape.centroid.x for mark in marks(canvas, "through-the-middle") if mark.fill]
    assert len(middles) == 2
    assert middles == pytest.approx([hub[0], hub[0]])


@pytest.mark.parametrize("sample", SAMPLES)
def test_each_ring_of_a_taper_has_a_strip_of_its_own_length(sample: str) -> None:
    work, told = job(sample, "prove-rings"), parts(drawn(sample, "prove-rings"))
    strips = {part.measure: part for part in told if part.measure}
    assert strips.keys() == {f"{end}_perimeter" for end in ENDS}
    longer, shorter = (f"{end}_perimeter" for end in (work.shade.wide_end, work.shade.narrow_end))
    assert extent(strips[longer].points)[0] > extent(strips[shorter].points)[0]


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_seam_of_a_taper_is_closed_where_it_is_seen_the_plain_end_near(sample: str) -> None:
    shade = job(sample, "close-seam").shade
    wall, _ = lying(shade)
    ends = {"bottom": 0.0, "top": shade.slant}
    plain, fitter = (ends[end] for end in (other_end(shade.fitter_end), shade.fitter_end))
    assert wall.point(wall.stop, plain)[1] < wall.point(wall.stop, fitter)[1]
    assert bench().faces(wall.outward(wall.stop - 1.0, wall.stop))


def test_a_rim_that_is_up_leans_outwards_where_it_is_the_wide_one() -> None:
    for sample, sign in (("fog-cone", -1), ("wide-above", 1)):
        shade = job(sample, "notch").shade
        assert leaning(shade, "top") * sign > 0
        assert leaning(shade, "bottom") == pytest.approx(-leaning(shade, "top"))
    steep = job("low-funnel", "notch").shade
    assert leaning(steep, "bottom") == pytest.approx(STEEPEST)
    assert leaning(job("pier-drum", "notch").shade, "top") == 0.0


@pytest.mark.parametrize("sample", ["fog-cone", "wide-above"])
def test_relief_cuts_stand_beside_the_slits_and_have_their_own_depth(sample: str) -> None:
    told = {part.measure for part in parts(drawn(sample, "relief-cuts")) if part.measure}
    assert told == {"relief_depth", "slit_stop"}
    assert marks(recorded(sample, "turn-and-snip"), "relief")
    assert not marks(recorded("pier-drum/35", "turn-and-snip"), "relief")
