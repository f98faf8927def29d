"""Figures as small as stamps: what goes, what stays, and that it stays readable."""

from __future__ import annotations

import pytest
from shapely import unary_union

from generator.base.registry import kinds
from generator.figures.draw import PACKAGE
from generator.figures.model import Figure
from generator.figures.pens import INK, SEA
from generator.figures.thumbnail import HEAVY, LIGHT, OUTER, thumbnail
from tests.figures.drawings import SVG, paper, parts, root
from tests.figures.jobs import figure, planned
from tests.figures.laws import shapes

SAMPLES = ("pier-drum/35", "bell-hex", "tide-drum")


def small(sample: str) -> list[tuple[Figure, Figure]]:
    """Each figure of a sample with its thumbnail."""
    names = dict.fromkeys(step.task.figure for step in planned(sample)[2].steps)
    drawn = [figure(sample, name) for name in names if name in kinds(PACKAGE)]
    return [(each, thumbnail(each)) for each in drawn]


@pytest.mark.parametrize("sample", SAMPLES)
def test_no_word_number_detail_or_hand_is_left(sample: str) -> None:
    for _, stamp in small(sample):
        assert not list(root(stamp).iter(f"{SVG}text"))
        assert {part.role for part in parts(stamp)} <= {"context", "new", "removed", "action"}
        names = {part.name for part in parts(stamp)}
        assert names.isdisjoint({"hand", "hand-holding", "kiss-cut", "motif", "print", "strut"})


@pytest.mark.parametrize("sample", SAMPLES)
def test_at_most_one_arrow_is_left_and_one_where_there_was_one(sample: str) -> None:
    for whole, stamp in small(sample):
        before = [s for s in shapes(whole) if s.role == "action" and s.fill == SEA and s.stroke == "none"]
        left = [s for s in shapes(stamp) if s.role == "action" and s.fill == SEA]
        assert len(left) == min(1, len(before)), whole.id


@pytest.mark.parametrize("sample", SAMPLES)
def test_it_fills_its_place_and_nothing_stands_beyond(sample: str) -> None:
    for _, stamp in small(sample):
        sheet = paper(stamp)
        assert sheet.bounds == (0.0, 0.0, 25.0, 20.0)
        ink = unary_union([shape.ink for shape in shapes(stamp)])
        assert sheet.contains(ink.envelope)
        left, top, right, bottom = ink.bounds
        assert right - left > 23.5 or bottom - top > 18.5


@pytest.mark.parametrize("sample", SAMPLES)
def test_lines_keep_the_weights_of_their_size(sample: str) -> None:
    """A line that shrinks with the picture would be a tenth of a millimetre."""
    for _, stamp in small(sample):
        dark = {s.width for s in shapes(stamp) if s.stroke == INK}
        assert {width for width in dark if width <= OUTER} <= {LIGHT, HEAVY, OUTER}, stamp.id
        assert min(dark) >= LIGHT


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_thumbnail_takes_little_room(sample: str) -> None:
    assert sum(len(stamp.svg) for _, stamp in small(sample)) < sum(len(w.svg) for w, _ in small(sample)) / 3


def test_of_four_pictures_of_rolling_one_is_left() -> None:
    rings = [part.name for part in parts(thumbnail(figure("pier-drum/35", "roll")))]
    assert rings.count("arrow") == 1
    assert 1 <= rings.count("panel") <= 2


def test_the_same_figure_gives_the_same_thumbnail() -> None:
    drawn = figure("pier-drum/35", "dock")
    assert thumbnail(drawn).svg == thumbnail(drawn).svg
    assert thumbnail(drawn).id == "small-dock"
