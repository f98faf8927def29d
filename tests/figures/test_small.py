"""Figures in small places: laid out anew, never shrunk; less of each, and all of it readable."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas, Letters, Mark
from generator.figures.draw import PACKAGE, draw_one
from generator.figures.model import (
    CELL_A5,
    CELL_A5_CAUTION,
    CELL_A6,
    CELL_A6_CAUTION,
    CRIB,
    FULL,
    HALF_A4,
    HANDOUT,
    SMALL_SLOTS,
    WALL,
    Slot,
)
from generator.figures.pens import EM
from generator.figures.small.anatomy import take_apart
from generator.figures.small.carry import Move, carry
from generator.figures.small.field import CELL, Field, boxes
from generator.figures.small.pieces import Anatomy, columns_of
from generator.figures.small.tie import tangents
from tests.figures import laws
from tests.figures.drawings import SVG, line_widths, parts, root
from tests.figures.jobs import figure, job, planned, small_figures
from tests.figures.small_laws import CASED_SMALL, check_small, names

EVERY_STEP = {
    "pier-drum/35": CELL_A5,
    "bell-hex": CELL_A5_CAUTION,
    "customs-rect": HANDOUT,
    "fog-cone": CRIB,
    "slipway-45": CELL_A6,
    "tide-drum": CELL_A6_CAUTION,
    "beacon-50": CELL_A5,
    "coble-oval": CELL_A6,
}
"""All steps of a sample in one place; between them the places see every task, both hands, taper and joint."""
OUTLINES = ("pier-drum/25", "oval", "net-loft", "customs-rect", "ferry-square", "bell-hex", "capstan")
"""Each outline once in every place."""
SHAPED = (
    "choose-use",
    "prove-rings",
    "mark-rings",
    "stop-and-orient",
    "dock",
    "roll",
    "close-seam",
    "inspect",
)
"""Figures that show the outline; the others look the same for all."""


@cache
def kinds_of(sample: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(step.task.figure for step in planned(sample)[2].steps))


def checked(sample: str, name: str, slots: tuple[Slot, ...]) -> None:
    for slot, drawn in zip(slots, small_figures(sample, name, slots), strict=True):
        try:
            check_small(job(sample, name), drawn, slot)
        except AssertionError as error:
            raise AssertionError(f"{sample}, {name}, {slot.name}: {error}") from error


@pytest.mark.parametrize("sample", EVERY_STEP)
def test_every_step_obeys_every_law_in_a_small_place(sample: str) -> None:
    for name in kinds_of(sample):
        checked(sample, name, (EVERY_STEP[sample],))


@pytest.mark.parametrize("sample", OUTLINES)
def test_every_outline_obeys_every_law_in_every_small_place(sample: str) -> None:
    for name in SHAPED:
        checked(sample, name, SMALL_SLOTS)


def test_no_two_drawings_of_a_step_share_an_id() -> None:
    whole = figure("pier-drum/35", "dock")
    drawn = [whole, *small_figures("pier-drum/35", "dock", SMALL_SLOTS)]
    ids = [found for each in drawn for found in re.findall(r' id="([^"]+)"', each.svg)]
    assert len(ids) == len(set(ids))
    assert {each.alt for each in drawn} == {whole.alt}


def test_a_figure_is_named_after_its_task_in_every_place() -> None:
    """Two tasks may share a picture; a document asks for the task's."""
    work = job("slipway-45", "notch")
    later = next(s for s in work.plan.steps if s.task.figure == "notch" and s.number != work.step.number)
    drawn = draw_one(replace(work, step=later, slot=CRIB))
    assert (drawn.id, drawn.number) == (later.id, later.number)


def test_names_and_arrows_are_in_nearly_all_small_figures() -> None:
    drawn = [f for name in kinds_of("pier-drum/35") for f in small_figures("pier-drum/35", name, (CELL_A5,))]
    assert all(names(each) for each in drawn)
    assert sum(len(names(each)) for each in drawn) > 2 * len(drawn)


def test_a_gate_says_hold_in_every_place() -> None:
    for drawn in small_figures("pier-drum/35", "stop-and-orient", SMALL_SLOTS):
        assert any("HOLD" in part.texts for part in parts(drawn))


def test_a_sequence_stays_a_sequence() -> None:
    for drawn in small_figures("pier-drum/35", "tuck-plain-end", SMALL_SLOTS[:-1]):
        assert {"a", "b", "c"} <= {text for part in parts(drawn) for text in part.texts}


def test_a_wall_card_is_three_times_as_large_in_all() -> None:
    """267 × 162 mm with lettering of 32 pt, as the project's table of printed formats has it."""
    work = job("ferry-square", "laminate")
    once = draw_one(replace(work, slot=replace(WALL, enlarged=1.0)))
    wall = draw_one(replace(work, slot=WALL))
    assert (wall.width, wall.height) == pytest.approx((267.0, 3 * once.height))
    assert wall.height <= 162.0
    assert {round(3 * width, 4) for width in line_widths(once)} == line_widths(wall)
    sizes = {float(text.get("font-size", "0")) for text in root(wall).iter(f"{SVG}text")}
    assert all(size / 25.4 * 72 >= 32 for size in sizes)
    assert not re.search(r'stroke-width="(0"|-)', wall.svg)


@pytest.mark.parametrize("name", ["roll", "dock", "stop-and-orient", "inspect"])
def test_a_drawing_for_the_wall_obeys_every_law(name: str) -> None:
    slot = replace(WALL, enlarged=1.0)
    check_small(job("ferry-square", name), draw_one(replace(job("ferry-square", name), slot=slot)), slot)


def test_in_a_full_column_every_figure_obeys_every_law() -> None:
    for name in kinds_of("capstan"):
        work = replace(job("capstan", name), slot=FULL)
        drawn = draw_one(work)
        assert (drawn.width, drawn.height <= FULL.max_height) == (120.0, True), name
        laws.check_names(work, drawn)
        laws.check_dimensions(work, drawn)
        laws.check_conventions(drawn, CASED_SMALL)
        laws.check_paper(drawn)
        assert len(names(drawn)) <= 8, name


@cache
def anatomy(sample: str, name: str) -> Anatomy:
    return take_apart(load_kind(PACKAGE, name).draw(replace(job(sample, name), slot=HALF_A4)))


def test_a_picture_that_is_carried_at_its_own_size_is_the_same_picture() -> None:
    """What carries a stamp is drawn again: it must come out as it was, or the stamp has lost something."""
    for name in kinds_of("pier-drum/35"):
        taken = anatomy("pier-drum/35", name)
        for piece in (*taken.bands, *taken.details):
            canvas = Canvas(80.0, 80.0)
            carry(canvas, piece.things, Move(1.0))
            before = [item for thing in piece.things for item in thing.items]
            assert len(canvas.items) == len(before), (name, piece.name)
            for was, now in zip(before, canvas.items, strict=True):
                assert was.group.part == now.group.part
                if isinstance(was, Mark) and isinstance(now, Mark):
                    assert (was.pen, was.fill) == (now.pen, now.fill)
                    assert was.shape.hausdorff_distance(now.shape) < 1e-6, (name, was.group.part)
                if isinstance(was, Letters) and isinstance(now, Letters):
                    assert now.at == pytest.approx(was.at)


def test_nothing_of_a_picture_is_lost_when_it_is_taken_apart() -> None:
    for name in kinds_of("pier-drum/35"):
        work = replace(job("pier-drum/35", name), slot=HALF_A4)
        picture = load_kind(PACKAGE, name).draw(work)
        taken = take_apart(picture)
        pieces = (*taken.bands, *taken.details)
        found = {name_.label.text for piece in pieces for name_ in piece.names}
        assert {label.text for label in picture.labels} <= found
        values = {value.items[0].group.measure for piece in pieces for value in piece.values}
        drawn = {item.group.measure for item in picture.canvas.items if item.group.measure}
        assert drawn <= values


def test_a_line_between_two_words_goes_with_them() -> None:
    whole = {
        item.group.part
        for item in load_kind(PACKAGE, "wrap-tape").draw(job("pier-drum/35", "wrap-tape")).canvas.items
    }
    taken = anatomy("pier-drum/35", "wrap-tape")
    left = {thing.part for piece in (*taken.bands, *taken.details) for thing in piece.things}
    assert "sides" in whole
    assert "sides" not in left


def test_pictures_side_by_side_are_columns_and_rows_are_bands() -> None:
    rolling = anatomy("pier-drum/35", "roll")
    assert len(rolling.bands) == 2
    assert [column.name for column in columns_of(rolling.bands[0])][:2] == ["1a", "1b"]


def test_a_detail_knows_its_place_in_the_scene() -> None:
    taken = anatomy("pier-drum/35", "laminate")
    (detail,) = taken.details
    assert detail.name == "A"
    assert detail.place is not None
    left, top, right, bottom = taken.bands[0].bounds
    (x, y), radius = detail.place
    assert left < x < right
    assert top < y < bottom
    assert radius > 0


def test_a_word_close_before_or_behind_another_on_its_line_reads_on() -> None:
    field = Field(60.0, 30.0)
    field.word((20.0, 10.0, 30.0, 13.0))
    behind, off, before, below = (31.5, 10.5), (33.0, 10.0), (11.0, 9.5), (31.0, 14.0)
    places = boxes([(x, y, x + 8.0, y + 3.0) for x, y in (behind, off, before, below)])
    assert field.reads_on(places, 2.4).tolist() == [True, False, True, False]


LENGTHS = st.floats(0.0, 40.0)


@given(
    LENGTHS, LENGTHS, st.floats(0.1, 20.0), st.floats(0.1, 20.0), st.floats(0.0, 30.0), st.floats(0.0, 30.0)
)
def test_cells_are_counted_as_one_by_one(
    x: float, y: float, width: float, height: float, left: float, top: float
) -> None:
    """Sums over boxes against the plain count of cells (summed-area tables, Crow 1984, from memory)."""
    field = Field(40.0, 40.0)
    field.fill(box(left, top, left + 7.0, top + 3.0))
    place = boxes([(x, y, x + width, y + height)])
    rows, columns = np.nonzero(field.hard)
    c0, r0, c1, r1 = (math.floor(v / CELL) for v in (x, y, x + width, y + height))
    plain = int(((columns >= c0) & (columns <= c1) & (rows >= r0) & (rows <= r1)).sum())
    assert int(field.count("hard", place)[0]) == plain


@given(st.floats(0.5, 3.0), st.floats(8.0, 15.0), st.floats(0.0, 6.28), st.floats(18.0, 60.0))
def test_tangents_touch_both_circles(small: float, large: float, turn: float, apart: float) -> None:
    """A tangent is at right angles to the radius where it touches (Euclid, Elements III.18)."""
    a, b = (0.0, 0.0), (apart * math.cos(turn), apart * math.sin(turn))
    for line in tangents(a, small, b, large):
        (x0, y0), (x1, y1) = line.coords
        for (cx, cy), (px, py), radius in ((a, (x0, y0), small), (b, (x1, y1), large)):
            assert math.dist((cx, cy), (px, py)) == pytest.approx(radius)
            across = (px - cx) * (x1 - x0) + (py - cy) * (y1 - y0)
            assert across == pytest.approx(0.0, abs=1e-6)


def test_the_same_job_gives_the_same_small_figure() -> None:
    work = replace(job("bell-hex", "close-seam"), slot=HANDOUT)
    assert draw_one(work).svg == draw_one(work).svg


def test_lettering_keeps_its_size_where_the_scene_shrinks() -> None:
    """Capitals of 2.5 mm at least, ISO 3098-1 (from memory)."""
    for drawn in small_figures("pier-drum/35", "rough-cut", (CELL_A5, CELL_A6)):
        sizes = {float(text.get("font-size", "0")) for text in root(drawn).iter(f"{SVG}text")}
        assert sizes == {EM}
