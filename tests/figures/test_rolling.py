"""The figures of rolling: stop and orient, dock, roll, close the seam."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from shapely import LineString, Polygon, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas, Letters
from generator.figures.draw import PACKAGE
from generator.figures.kinds.close_seam import lying
from generator.figures.model import HALF_A4
from generator.figures.pens import WIDTHS
from generator.figures.rolling import ring_extent, rolling_path
from generator.figures.view import Frame, bench
from tests.figures.drawings import check_texts_stand_apart, line_widths, paper, parts, words
from tests.figures.jobs import figure, job
from tests.figures.long_words import LongWords

FIGURES = ("stop-and-orient", "dock", "roll", "close-seam")
SAMPLES = ("pier-drum/35", "ferry-square", "bell-hex", "long-flat")
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s in SAMPLES for f in FIGURES]


@cache
def recorded(sample: str, name: str) -> Canvas:
    """What a figure draws, before it becomes SVG."""
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


def shapes(canvas: Canvas, part: str) -> list[BaseGeometry]:
    return [mark.shape for mark in canvas.marks() if mark.group.part == part]


def centre(canvas: Canvas, part: str) -> tuple[float, float]:
    left, top, right, bottom = unary_union(shapes(canvas, part)).bounds
    return (left + right) / 2, (top + bottom) / 2


def closed_loops(canvas: Canvas, part: str) -> list[LineString]:
    """Wire loops of a ring, the smallest first: hub, then wire."""
    lines = [s for s in shapes(canvas, part) if isinstance(s, LineString)]
    loops = [s for s in lines if math.dist(s.coords[0], s.coords[-1]) < 1e-6]
    return sorted(loops, key=lambda loop: loop.length)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_rolling_figure_shows_what_is_new_and_what_to_do(sample: str, name: str) -> None:
    roles = {part.role for part in parts(figure(sample, name))}
    assert {"new", "action", "label", "context"} <= roles
    assert "" not in roles


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_rolling_figure_has_one_arrow_a_picture_and_three_at_most(sample: str, name: str) -> None:
    arrows = [p for p in parts(figure(sample, name)) if p.role == "action" and p.name == "arrow"]
    assert len(arrows) == 4 if name == "roll" else 1 <= len(arrows) <= 3


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_every_value_in_a_rolling_figure_is_its_measures(sample: str, name: str) -> None:
    work = job(sample, name)
    for part in parts(figure(sample, name)):
        if part.measure is not None:
            assert part.value in work.measures[part.measure].values
            assert work.words.number(part.value or 0.0) in "".join(part.texts)
        else:
            assert not any(letter.isdigit() for text in part.texts for letter in text), part.name


@pytest.mark.parametrize("sample", [*SAMPLES, "slipway-45", "joined-left"])
def test_the_leader_of_what_is_left_keeps_off_the_bar_of_what_is_rolled(sample: str) -> None:
    drawn = recorded(sample, "roll")
    (leader,) = [shape for shape in shapes(drawn, "callout") if isinstance(shape, LineString)]
    bars = unary_union(shapes(drawn, "rolled-so-far"))
    assert leader.distance(bars) > 0.1


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_no_text_of_a_rolling_figure_lies_on_another_or_leaves_the_paper(sample: str, name: str) -> None:
    check_texts_stand_apart(figure(sample, name))


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_rolling_figure_keeps_to_its_slot_and_to_the_four_widths(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    left, top, right, bottom = paper(drawn).buffer(0.3).bounds
    assert drawn.width == HALF_A4.width
    assert drawn.height <= HALF_A4.max_height
    for part in parts(drawn):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name
    # Cased wire is exempt: a dark line with a light core.
    assert line_widths(drawn) <= {*WIDTHS, 1.15, 0.6, 1.4, 1.3, 0.9, 0.4}


@pytest.mark.parametrize("name", ["stop-and-orient", "dock"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_the_fitter_ring_stands_at_the_far_edge_of_a_pendant_and_at_the_near_edge_for_a_table(
    sample: str, name: str
) -> None:
    canvas = recorded(sample, name)
    fitter, plain = closed_loops(canvas, "fitter-ring")[-1], closed_loops(canvas, "plain-ring")[-1]
    # Away from the maker is up on paper, and y counts down.
    fitter_is_far = fitter.centroid.y < plain.centroid.y
    # Common practice, no source: at the top for a pendant, whose top lies away from the maker.
    assert fitter_is_far is (job(sample, name).size.use == "pendant")


@pytest.mark.parametrize("name", ["stop-and-orient", "dock"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_the_hub_is_set_back_towards_the_other_ring(sample: str, name: str) -> None:
    work = job(sample, name)
    canvas = recorded(sample, name)
    loops = closed_loops(canvas, "fitter-ring")
    hub, wire = loops[0].centroid, loops[-1].centroid
    other = closed_loops(canvas, "plain-ring")[-1].centroid
    left = work.size.makers.hand == "left"
    # Both rings stand square to the panel's length, so the way inwards is the bench's own y.
    inwards = -1.0 if work.shade.fitter_end == "top" else 1.0
    right, up = bench(left).project((0.0, inwards, 0.0))
    offset = (hub.x - wire.x) * right - (hub.y - wire.y) * up
    assert offset > 0
    if name == "dock":
        assert (other.x - wire.x) * right - (other.y - wire.y) * up > 0


@pytest.mark.parametrize("sample", SAMPLES)
def test_in_the_section_the_hub_stands_over_the_pvc(sample: str) -> None:
    canvas = recorded(sample, "stop-and-orient")
    wire, hub = centre(canvas, "section-wire"), centre(canvas, "section-hub")
    pvc = centre(canvas, "section-pvc")
    assert (hub[0] - wire[0]) * (pvc[0] - wire[0]) > 0
    arrow = max(
        (s for s in shapes(canvas, "arrow") if abs(s.centroid.y - hub[1]) < 3.0), key=lambda s: s.bounds[2]
    )
    assert (arrow.centroid.x - hub[0]) * (pvc[0] - wire[0]) > 0


@pytest.mark.parametrize("sample", SAMPLES)
def test_both_seam_marks_stand_on_the_corners_of_the_pvc_and_not_on_the_cloth(sample: str) -> None:
    canvas = recorded(sample, "dock")
    pvc = shapes(canvas, "panel")[0]
    cloth = shapes(canvas, "cloth-margin")[0]
    marks = {(round(s.centroid.x, 2), round(s.centroid.y, 2)) for s in shapes(canvas, "seam-mark")}
    on_pvc = [Dot(m) for m in marks if Dot(m).distance(pvc.boundary) < 0.05]
    assert len(on_pvc) == 2
    assert isinstance(cloth, Polygon)
    corners = [Dot(p) for p in cloth.exterior.coords]
    assert all(min(mark.distance(corner) for corner in corners) > 0.3 for mark in on_pvc)


@pytest.mark.parametrize("sample", SAMPLES)
def test_from_above_the_ring_lies_on_the_pvc_flush_with_its_edge(sample: str) -> None:
    canvas = recorded(sample, "dock")
    bars = shapes(canvas, "ring-from-above")
    margins = [s for s in shapes(canvas, "cloth-margin")[1:] if isinstance(s, Polygon) or s.area > 1]
    assert len([bar for bar in bars if bar.area > 1]) == 2
    for bar in (bar for bar in bars if bar.area > 1):
        touching = [m for m in margins if bar.distance(m) < 0.01]
        assert touching
        assert all(bar.intersection(m).area < 0.05 for m in touching)


@pytest.mark.parametrize("sample", [*SAMPLES, "net-loft", "oval"])
def test_a_roll_never_rests_on_a_corner(sample: str) -> None:
    shade = job(sample, "roll").shade
    for share, c in zip((0.25, 0.5, 0.75), shade.pauses, strict=True):
        assert abs(c - share * shade.wrapped_length) < shade.wrapped_length / 8
        turned = shade.sheet.psi(c + 2.0) - shade.sheet.psi(c - 2.0)
        even = 4.0 / shade.wrapped_length * 2 * math.pi
        assert turned < 3 * even


@pytest.mark.parametrize("sample", ["pier-drum/35", "left-square", "long-flat"])
def test_the_rolling_arrow_starts_clear_of_the_ring_and_goes_on_ahead(sample: str) -> None:
    work = job(sample, "roll")
    left = work.size.makers.hand == "left"
    frame = Frame(bench(left), 0.06, 40.0, 40.0)
    path = rolling_path(frame, work.shade, 0.0)
    ring = LineString(frame.path(ring_extent(work.shade, 0.0))).convex_hull
    assert Dot(path[0]).distance(ring) > 1.0
    assert (path[-1][0] - path[0][0]) * (-1 if left else 1) > 3.0
    assert path[-1][1] > path[0][1]


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_scale_is_thick_up_to_where_the_ring_rests(sample: str) -> None:
    canvas = recorded(sample, "roll")
    thick = shapes(canvas, "rolled-so-far")
    bars = [s for s in thick if s.area > 0 and isinstance(s, Polygon)]
    # A quarter, a half, three quarters, and once round: the last has no value of its own.
    assert len(bars) == 4
    values = [m.group.value for m in canvas.texts() if m.group.measure == "quarters"]
    assert tuple(values) == job(sample, "roll").measures["quarters"].values


@pytest.mark.parametrize("sample", [*SAMPLES, "left-square", "net-loft", "narrow-tall"])
def test_the_last_picture_is_closed_the_start_of_the_sheet_on_the_table_again(sample: str) -> None:
    """Once round, a place that touched the table touches it again: the cycloid's next cusp (from memory)."""
    shade, canvas = job(sample, "roll").shade, recorded(sample, "roll")
    start = shade.pose(shade.wrapped_length)(shade.standing(0.0, 0.0))
    assert start[0] == pytest.approx(shade.wrapped_length, abs=0.05)
    assert start[2] == pytest.approx(0.0, abs=0.05)
    # Each mark is a dot and its halo: the last four are those of the last picture.
    lowest = max(shapes(canvas, "seam-mark")[-4:], key=lambda shape: shape.centroid.y).centroid
    near = "plain-ring" if shade.fitter_end == "top" else "fitter-ring"
    _, top, _, foot = shapes(canvas, near)[-1].bounds
    assert lowest.y > foot - 0.3 * (foot - top)
    named = [word.box for word in words(figure(sample, "roll")) if word.text == "overlap"]
    assert len(named) == 1
    assert named[0].centroid.y > lowest.y


@pytest.mark.parametrize("sample", [*SAMPLES, "left-square", "net-loft"])
def test_the_section_of_the_seam_has_its_outside_end_where_the_bench_has_it(sample: str) -> None:
    work = job(sample, "close-seam")
    wall, _ = lying(work.shade)
    view = bench(work.size.makers.hand == "left")
    edge, before = (view.project(wall.point(x, 0.0))[0] for x in (wall.stop, wall.stop - 15.0))
    canvas = recorded(sample, "close-seam")
    outside, start = centre(canvas, "section-outside-end"), centre(canvas, "section-start-end")
    assert (outside[0] - start[0]) * (before - edge) > 0


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_seam_is_closed_lying_on_top_with_the_plain_end_near(sample: str) -> None:
    shade = job(sample, "close-seam").shade
    wall, turned = lying(shade)
    heights = [wall.point(x, 0.0)[2] for x in wall.stations]
    seam = wall.point(wall.stop - shade.overlap / 2, 0.0)[2]
    assert seam == pytest.approx(max(heights), abs=0.2)
    plain, fitter = (0.0, shade.height) if shade.fitter_end == "top" else (shade.height, 0.0)
    assert wall.point(0.0, plain)[1] < wall.point(0.0, fitter)[1]
    assert turned is (shade.fitter_end == "bottom")


@pytest.mark.parametrize("name", FIGURES)
def test_a_left_handed_rolling_picture_has_the_same_values(name: str) -> None:
    def values(sample: str) -> list[tuple[str, float]]:
        return sorted((p.measure, p.value or 0.0) for p in parts(figure(sample, name)) if p.measure)

    assert values("left-square") == values("ferry-square")


def test_the_work_goes_to_the_right_and_for_the_left_hand_to_the_left() -> None:
    for sample, sign in (("ferry-square", 1), ("left-square", -1)):
        canvas = recorded(sample, "dock")
        start = unary_union(shapes(canvas, "start-edge")).centroid.x
        assert sign * (shapes(canvas, "panel")[0].centroid.x - start) > 5


def test_the_same_shade_is_rolled_the_same_twice() -> None:
    from generator.figures.draw import draw_one

    assert draw_one(job("ferry-square", "dock")).svg == figure("ferry-square", "dock").svg


@pytest.mark.parametrize("name", ["dock", "turn-and-snip"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_long_words_stand_within_a_detail_or_beside_it(sample: str, name: str) -> None:
    work = job(sample, name)
    canvas = load_kind(PACKAGE, name).draw(replace(work, words=LongWords(work.words))).canvas
    edges = [shape.exterior for shape in shapes(canvas, "detail") if isinstance(shape, Polygon)]
    lines = [item for item in canvas.items if isinstance(item, Letters) and len(item.text) > 1]
    assert edges
    assert lines
    assert [item.text for item in lines for edge in edges if edge.crosses(item.box)] == []
