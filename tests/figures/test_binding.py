"""The figures of the binding, and what other figures show where there is no margin."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as Dot

from generator.base.registry import load_kind
from generator.figures.binding import Bound, bound
from generator.figures.canvas import Canvas
from generator.figures.draw import PACKAGE, draw_one
from generator.figures.model import HALF_A4
from generator.figures.pens import (
    NEW_WIRE_CORE,
    NEW_WIRE_OUTER,
    WIDTHS,
    WIRE_CORE,
    WIRE_OUTER,
)
from generator.figures.rim_section import RimSection
from generator.figures.upright import stand
from generator.figures.view import Box, bench
from generator.recipe.models import Makers
from tests.figures.drawings import line_widths, paper, parts, words
from tests.figures.jobs import figure, job, size_of

# Wires are drawn as cased lines of their own weight; a pale place for one is as wide.
WIRES = {WIRE_OUTER, WIRE_CORE, NEW_WIRE_OUTER, NEW_WIRE_CORE, 1.3}
OWN = ("fold-binding", "bind-plain-end", "bind-fitter-end")
CHANGED = ("trim", "position-panel", "prepare-seam", "stop-and-orient", "dock", "roll", "close-seam")
SAMPLES = ("tide-drum", "trimmed-square", "trimmed-small", "trimmed-oblong")
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s in SAMPLES for f in (*OWN, *CHANGED)]


@cache
def recorded(sample: str, name: str) -> Canvas:
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_values_are_the_measures_and_no_text_lies_on_another(sample: str, name: str) -> None:
    work, drawn = job(sample, name), figure(sample, name)
    for part in parts(drawn):
        if part.measure is not None:
            assert part.value in work.measures[part.measure].values
            assert work.words.number(part.value or 0.0) in "".join(part.texts)
    for word in words(drawn):
        assert paper(drawn).contains(word.box), word.text
    for a, b in combinations(words(drawn), 2):
        assert not a.box.buffer(-0.05).intersects(b.box.buffer(-0.05)), (a.text, b.text)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_keeps_to_its_slot_and_to_the_four_widths(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    assert drawn.width == HALF_A4.width
    assert drawn.height <= HALF_A4.max_height
    assert line_widths(drawn) - WIRES <= set(WIDTHS)


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", OWN)
def test_a_figure_of_the_binding_shows_what_to_do_and_what_is_new(sample: str, name: str) -> None:
    found = parts(figure(sample, name))
    arrows = [part for part in found if part.role == "action" and part.name in ("turn", "fold", "arrow")]
    assert 1 <= len(arrows) <= 3
    assert any(part.role == "new" for part in found)


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", CHANGED)
def test_no_cloth_margin_kiss_cut_or_gauge_is_drawn_where_there_is_none(sample: str, name: str) -> None:
    names = {part.name for part in parts(figure(sample, name))}
    assert names.isdisjoint({"cloth-margin", "detail-margin", "kiss-cut", "tool-gauge", "dimension-margin"})
    said = {word.text for word in words(figure(sample, name))}
    assert said.isdisjoint({"cloth margin", "margin", "kiss cut", "gauge", "cut line"})


def test_a_panel_with_margins_still_has_them_in_the_same_figures() -> None:
    for name in ("prepare-seam", "stop-and-orient", "dock", "roll"):
        assert "cloth-margin" in {part.name for part in parts(figure("pier-drum/35", name))}


@pytest.mark.parametrize("name", OWN)
def test_the_left_hand_changes_no_word_and_no_value(name: str) -> None:
    right = job("tide-drum", name)
    makers = Makers(**{**right.size.makers.model_dump(), "hand": "left"})
    left = draw_one(replace(right, size=right.size.model_copy(update={"makers": makers})))
    drawn = figure("tide-drum", name)
    assert sorted(word.text for word in words(left)) == sorted(word.text for word in words(drawn))
    assert left.svg != drawn.svg


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_parts_of_the_binding_are_in_proportion_where_it_is_flat(sample: str) -> None:
    work, canvas = job(sample, "fold-binding"), recorded(sample, "fold-binding")
    flat = [mark.shape for mark in canvas.marks() if mark.group.part == "binding-flat"]
    line = next(mark.shape for mark in canvas.marks() if mark.group.part == "fold-line")
    top, bottom = flat[0].bounds[1], flat[0].bounds[3]
    share = (line.bounds[1] - top) / (bottom - top)
    assert share == pytest.approx(work.measures.shown("binding_fold") / work.measures.shown("braid_width"))


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_plain_end_is_above_while_it_is_bound(sample: str) -> None:
    work = job(sample, "bind-plain-end")
    over = work.shade.fitter_end == "top"
    view = stand(size_of(sample), work.shade, bench(), Box(0, 0, 60, 40), over=over)
    assert not view.fitter_above
    plain = 0.0 if work.shade.fitter_end == "top" else work.shade.height
    assert plain == view.top
    upper, lower = view.edge(view.top), view.edge(work.shade.height - view.top)
    assert min(p[1] for p in upper) < min(p[1] for p in lower)


def test_a_shade_that_is_turned_over_is_the_same_shade() -> None:
    """Half a turn about a level axis: distances stay, and so does the way in which the stations run."""
    work = job("trimmed-oblong", "bind-plain-end")
    views = [stand(work.size, work.shade, bench(), Box(0, 0, 60, 40), over=over) for over in (False, True)]
    places = [(0.0, 0.0), (100.0, 0.0), (300.0, 50.0), (0.0, 200.0)]
    found = [[view.wall.point(x, h) for x, h in places] for view in views]
    for i, j in combinations(range(4), 2):
        assert math.dist(found[0][i], found[0][j]) == pytest.approx(math.dist(found[1][i], found[1][j]))
    volumes = []
    for origin, *ends in found:
        a, b, c = (tuple(end[k] - origin[k] for k in range(3)) for end in ends)
        crossed = (b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0])
        volumes.append(sum(p * q for p, q in zip(a, crossed, strict=True)))
    assert volumes[0] == pytest.approx(volumes[1])
    assert abs(volumes[0]) > 1.0


def of(wire: float, width: float, fold: float) -> Bound:
    rim = RimSection(wire=wire, tape=0.2, panel=0.4, cloth=0.4, margin=0.0, wrap=280.0)
    return bound(rim, width, fold, 3.0)


@given(st.floats(2.0, 6.0), st.floats(16.0, 40.0))
def test_the_binding_keeps_its_width_however_it_is_turned(wire: float, width: float) -> None:
    fold = (width - wire - 0.6) / 2
    binding = of(wire, width, fold)
    for line in (binding.opened(60.0), binding.turning(), binding.pressed()):
        assert LineString(line).length == pytest.approx(width, rel=1e-6)
        assert line[0][1] == -fold


@given(st.floats(2.0, 6.0), st.floats(16.0, 40.0))
def test_the_binding_pierces_neither_the_wire_nor_the_panel(wire: float, width: float) -> None:
    binding = of(wire, width, (width - wire - 0.6) / 2)
    middle = Dot(binding.rim.centre())
    for line in (binding.turning(), binding.pressed()):
        assert LineString(line).distance(middle) >= binding.rim.taped + binding.thick / 2 - 0.03
        inside = [x for x, z in line if z < -2 * binding.rim.taped]
        outer = binding.rim.panel + binding.rim.cloth
        assert all(x <= -binding.thick / 2 + 1e-6 or x >= outer for x in inside)


def test_the_finished_shade_shows_its_bindings_only_where_it_is_bound() -> None:
    assert "binding" in {part.name for part in parts(figure("tide-drum", "choose-use"))}
    assert "binding" in {part.name for part in parts(figure("tide-drum", "inspect"))}
    assert "binding" not in {part.name for part in parts(figure("bell-hex", "inspect"))}
