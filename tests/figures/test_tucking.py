"""The figures of the rim: notch, turn and snip, tuck either end; the section that they share."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas
from generator.figures.draw import PACKAGE
from generator.figures.hands import hand
from generator.figures.kinds.notch import start_goes
from generator.figures.model import HALF_A4
from generator.figures.pens import WIDTHS, WIRE_OUTER
from generator.figures.rim_section import RimSection, rim_section
from generator.figures.sections import wrap_angle
from generator.figures.tools import tool
from generator.figures.wall import standing
from tests.checks.published import Published, chosen
from tests.figures.drawings import check_texts_stand_apart, line_widths, paper, parts, words
from tests.figures.jobs import figure, job

FIGURES = ("notch", "turn-and-snip", "tuck-plain-end", "tuck-fitter-end")
SAMPLES = ("pier-drum/35", "ferry-square", "net-loft", "bell-hex")
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s in SAMPLES for f in FIGURES]


@cache
def recorded(sample: str, name: str) -> Canvas:
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


def shapes(canvas: Canvas, part: str) -> list[BaseGeometry]:
    return [mark.shape for mark in canvas.marks() if mark.group.part == part]


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_rim_figure_shows_what_to_do_and_what_changes(sample: str, name: str) -> None:
    roles = {part.role for part in parts(figure(sample, name))}
    assert {"action", "label", "context"} <= roles
    assert roles & {"new", "removed"}
    arrows = [p for p in parts(figure(sample, name)) if p.role == "action" and p.name == "arrow"]
    assert 1 <= len(arrows) <= 3


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_every_value_in_a_rim_figure_is_its_measures(sample: str, name: str) -> None:
    work = job(sample, name)
    for part in parts(figure(sample, name)):
        if part.measure is not None:
            assert part.value == work.measures.shown(part.measure)
            assert work.words.number(part.value or 0.0) in "".join(part.texts)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_no_text_of_a_rim_figure_lies_on_another_or_leaves_the_paper(sample: str, name: str) -> None:
    check_texts_stand_apart(figure(sample, name))


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_rim_figure_keeps_to_its_slot_and_to_the_four_widths(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    left, top, right, bottom = paper(drawn).buffer(0.3).bounds
    assert drawn.width == HALF_A4.width
    assert drawn.height <= HALF_A4.max_height
    for part in parts(drawn):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name
    assert line_widths(drawn) <= {*WIDTHS, WIRE_OUTER}


@pytest.mark.parametrize("name", ["notch", "turn-and-snip", "tuck-fitter-end"])
def test_a_left_handed_rim_has_the_same_words_and_values(name: str) -> None:
    right, left = figure("ferry-square", name), figure("left-square", name)
    assert sorted(word.text for word in words(left)) == sorted(word.text for word in words(right))


@pytest.mark.parametrize("sample", [*SAMPLES, "fog-cone", "capstan", "wide-above"])
def test_the_three_sections_stand_clear_of_one_another(sample: str) -> None:
    canvas = recorded(sample, "tuck-plain-end")
    cloths = [mark.shape for mark in canvas.marks() if mark.group.part == "cloth" and mark.fill]
    assert len(cloths) == 3
    assert all(a.distance(b) > 0.7 for a, b in pairwise(cloths))


def test_a_section_is_the_same_for_both_hands() -> None:
    assert figure("left-square", "tuck-plain-end").svg == figure("ferry-square", "tuck-plain-end").svg


@pytest.mark.parametrize("sample", [*SAMPLES, "left-square"])
def test_the_start_end_goes_the_way_the_standing_shade_has_it(sample: str) -> None:
    """The plain end up, the seam at the far wall, seen from inside: which way do stations run?"""
    work = job(sample, "notch")
    shade = work.shade
    wall = standing(shade, turn=math.pi)
    seam, later = wall.point(0.0, 0.0), wall.point(20.0, 0.0)
    assert seam[1] > 0
    # With its plain end below, the shade is turned over about an axis away from the maker.
    over = -1.0 if shade.fitter_end == "top" else 1.0
    assert (later[0] - seam[0]) * over * start_goes(work) > 0
    canvas = recorded(sample, "notch")
    screen = start_goes(work) * (-1 if work.size.makers.hand == "left" else 1)
    start, outside = (unary_union(shapes(canvas, part)).centroid.x for part in ("start-end", "outside-end"))
    assert (start - outside) * screen > 0


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_piece_that_is_cut_away_is_of_the_start_end_alone(sample: str) -> None:
    canvas = recorded(sample, "notch")
    piece = max(shapes(canvas, "cut-away"), key=lambda s: s.area)
    kept = max(shapes(canvas, "start-end"), key=lambda s: s.area)
    assert piece.distance(kept) < 0.01
    assert piece.intersection(kept).area < 0.01
    groups = [mark.group.part for mark in canvas.marks()]
    # The outside end is painted first: it lies behind, away from the maker's blades.
    assert groups.index("outside-end") < groups.index("cut-away")


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_slit_stops_short_of_the_rims_edge_by_its_measure(sample: str) -> None:
    canvas = recorded(sample, "turn-and-snip")
    slit = max(shapes(canvas, "slit-detail"), key=lambda s: s.area)
    rim = max(shapes(canvas, "margin-detail"), key=lambda s: s.area)
    strut = max(shapes(canvas, "strut-section"), key=lambda s: s.area)
    stop = slit.bounds[1] - max(rim.bounds[1], min(s.bounds[1] for s in shapes(canvas, "margin-detail")))
    edge = next(s for s in shapes(canvas, "margin-detail") if isinstance(s, LineString)).bounds[1]
    assert stop > 0
    scale = (slit.bounds[1] - edge) / job(sample, "turn-and-snip").measures.shown("slit_stop")
    assert scale == pytest.approx(2.4, rel=0.01)
    assert strut.bounds[1] == pytest.approx(slit.bounds[1], abs=0.05)


MARGINS = st.floats(10.0, 30.0)
WIRES = st.floats(2.0, 6.0)


def of(wire: float, margin: float, cloth: float = 0.4, tape: float = 0.2) -> RimSection:
    return RimSection(wire=wire, tape=tape, panel=0.4, cloth=cloth, margin=margin, wrap=280.0)


@given(MARGINS, WIRES)
def test_the_margin_keeps_its_length_wherever_it_is_pushed(margin: float, wire: float) -> None:
    # Craft's refusal, common practice: a margin must go half round the wire and once up it, with a lap.
    assume(margin >= math.pi * wire / 2 + wire + 3)
    section = of(wire, margin)
    for line in (section.hanging(), section.pushed(), section.tucked()):
        assert LineString(line).length == pytest.approx(margin, abs=1e-6)


@given(MARGINS, WIRES)
def test_the_cloth_pierces_neither_the_wire_nor_the_panel(margin: float, wire: float) -> None:
    assume(margin >= math.pi * wire / 2 + wire + 3)
    section = of(wire, margin)
    for line, gap in ((section.hanging(), 0.0), (section.pushed(), 0.0), (section.tucked(), section.gap())):
        middle = Dot(section.centre(gap))
        cloth = LineString(line)
        # A polygon of 48 sides lies inside its circle by a thousandth.
        assert cloth.distance(middle) >= section.taped + section.cloth / 2 - 0.01
        below = cloth.intersection(Polygon([(-99, -99), (99, -99), (99, -0.01), (-99, -0.01)]))
        parts_inside = getattr(below, "geoms", [below])
        for part in parts_inside:
            inside = [x for x, z in part.coords if z < -0.05]
            assert all(x <= -section.cloth / 2 + 1e-6 for x in inside)


@given(MARGINS)
def test_a_tucked_raw_edge_ends_under_the_rim_and_a_hanging_one_below_the_wire(margin: float) -> None:
    section = of(3.5, margin)
    assume(margin >= math.pi * 3.5 / 2 + 3.5 + 3)
    assert section.tucked()[-1][1] < -0.0
    assert section.hanging()[-1][1] < -2 * section.taped + 1.0


@pytest.mark.parametrize("published", chosen("F-wrap", "fabric used by a half turn"), ids=lambda v: v.id)
def test_half_a_turn_uses_the_fabric_that_is_published(published: Published) -> None:
    """Values computed two ways; source as given beside each value."""
    wire, cloth = 2 * published.params["w"], published.params["t_fabric"]
    section = of(wire, 99.0, cloth=cloth, tape=0.0)
    turned = LineString(section._round(90, 270))
    assert turned.length == pytest.approx(published.value, rel=1e-3)


def test_a_tape_of_three_quarters_of_the_wires_girth_covers_three_quarters_of_a_turn() -> None:
    assert wrap_angle(0.75 * math.pi * 4.0, 4.0, 0.0) == pytest.approx(270.0)
    assert wrap_angle(99.0, 4.0, 0.1) < 360.0


@pytest.mark.parametrize("scale", [1.0, 2.5, 4.0])
def test_layers_too_thin_to_be_seen_are_spread(scale: float) -> None:
    work = job("pier-drum/35", "tuck-plain-end")
    section = rim_section(work.shade, work.size.tape, scale)
    assert section.panel * scale >= 0.7
    assert section.tape * scale >= 0.7
    assert section.cloth * scale >= 0.7
    assert section.margin == work.shade.margin


@pytest.mark.parametrize("pose", ["pinch", "flat", "fist", "hold"])
@pytest.mark.parametrize("angle", [0.0, 118.0, -75.0])
def test_a_hand_touches_its_place_and_its_cuff_is_behind(pose: str, angle: float) -> None:
    canvas = Canvas(80, 60)
    hand(canvas, pose, (40.0, 30.0), angle, scale=0.75)  # type: ignore[arg-type]
    shape = unary_union([mark.shape for mark in canvas.marks()])
    assert shape.distance(Dot(40.0, 30.0)) < 0.5
    cuff = list(canvas.marks())[-1].shape.centroid
    ahead = (math.cos(math.radians(angle)), -math.sin(math.radians(angle)))
    assert (cuff.x - 40.0) * ahead[0] + (cuff.y - 30.0) * ahead[1] < -3.0
    assert {mark.group.role for mark in canvas.marks()} == {"action"}


def test_a_second_persons_cuff_is_hatched() -> None:
    own, second = Canvas(80, 60), Canvas(80, 60)
    hand(own, "flat", (40.0, 30.0), 0.0)
    hand(second, "flat", (40.0, 30.0), 0.0, helper=True)
    assert len(list(second.marks())) == len(list(own.marks())) + 4


@pytest.mark.parametrize(
    "name", ["shears", "scissors", "rotary-cutter", "roller", "tucking-tool", "pencil", "iron", "rule"]
)
def test_a_tool_has_its_tip_at_the_point_of_work_and_its_body_behind(name: str) -> None:
    canvas = Canvas(80, 60)
    tool(canvas, name, (40.0, 30.0), 0.0)
    shape = unary_union([mark.shape for mark in canvas.marks()])
    assert shape.distance(Dot(40.0, 30.0)) < 1.6
    assert shape.bounds[2] < 41.2
    assert shape.centroid.x < 38.5


def test_a_tool_that_nobody_has_drawn_is_an_error() -> None:
    with pytest.raises(KeyError):
        tool(Canvas(10, 10), "hammer", (5.0, 5.0), 0.0)
