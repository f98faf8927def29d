"""Cutting plans as drawings: true to scale, every piece and cut there, names and numbers apart."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.base.assets import data_folder, languages
from generator.base.edition import ENGLISH, PRINT_SIZES, Form, PrintSize, Voice
from generator.cutting.batch import ClothPlan, cut_batch
from generator.cutting.guillotine import cut_cloth
from generator.cutting.model import Piece
from generator.cutting.numbers import Book, cloth_numbers
from generator.cutting.panels import Sheet, cut_panels
from generator.cutting.roll_numbers import PAPER, BatchNumbers, batch_numbers
from generator.cutting.rows import fit
from generator.examine import examine
from generator.figures.cut_layout import cloth_figures, cut_figures
from generator.figures.model import Figure
from generator.sheets.wording import load_words
from tests.figures import drawings, laws

WORDS = load_words(ENGLISH)


@cache
def pier_drum() -> tuple[BatchNumbers, dict[str, Figure]]:
    """The twenty-four boxes of the sample."""
    works = examine(data_folder("recipes") / "pier-drum.yaml").works
    numbers = batch_numbers(cut_batch(works))
    return numbers, {figure.id: figure for figure in cut_figures(numbers, WORDS)}


def cloth_of(rows: list[tuple[str, float, float, int]], width: float, turn: bool) -> ClothPlan:
    pieces = tuple(Piece(*row) for row in rows)
    return ClothPlan("Linen", width, turn, not turn, pieces, cut_cloth(pieces, width, turn), ())


def drawn(plan: ClothPlan) -> tuple[Figure, ...]:
    return cloth_figures(cloth_numbers(Book(), plan, "cut_cloth_1"), WORDS, "cut-cloth-1")


def check_laws(figure: Figure) -> None:
    laws.check_scale(figure)
    laws.check_conventions(figure)
    laws.check_paper(figure)


def numbers_in(figures: tuple[Figure, ...]) -> list[int]:
    """Numbers of cuts, as they stand in the drawings."""
    parts = (part for figure in figures for part in drawings.parts(figure))
    return [int(text) for part in parts if re.fullmatch(r"cut-\d+", part.name) for text in part.texts]


def pieces_in(figures: tuple[Figure, ...], scale: int) -> Counter[tuple[str, int, int]]:
    """Name and real sides of each piece that is drawn, along the cloth first."""
    found: Counter[tuple[str, int, int]] = Counter()
    for figure in figures:
        for part in drawings.parts(figure):
            if match := re.fullmatch(r"piece-(.+)-\d+", part.name):
                wide, high = drawings.extent(part.points)
                found[match[1], round(wide * scale / 5) * 5, round(high * scale / 5) * 5] += 1
    return found


def test_every_drawing_of_a_batch_obeys_the_laws_of_figures() -> None:
    _, figures = pier_drum()
    assert list(figures) == ["cut-cloth-1", "cut-panel-1", "cut-reel-1"]
    for figure in figures.values():
        check_laws(figure)


def test_the_cloth_shows_every_piece_at_its_size_and_every_cut_with_its_number() -> None:
    numbers, figures = pier_drum()
    (cloth,) = numbers.cloths
    figure = figures["cut-cloth-1"]
    expected = Counter(
        (placed.name, round(placed.area.along), round(placed.area.across))
        for placed in cloth.plan.layout.placed
    )
    assert pieces_in((figure,), cloth.fit.scale) == expected
    assert sum(expected.values()) == 24
    cuts = len(cloth.plan.layout.cuts)
    assert set(numbers_in((figure,))) == set(range(1, cuts + 1))


def test_rows_of_a_long_cloth_add_up_to_its_length() -> None:
    numbers, _ = pier_drum()
    (cloth,) = numbers.cloths
    assert len(cloth.rows) == 2
    assert sum(row.value for row in cloth.rows) == cloth.length.value


def test_rolls_cut_alike_are_drawn_once_with_their_count() -> None:
    numbers, figures = pier_drum()
    (panel,) = numbers.panels
    texts = [text for part in drawings.parts(figures["cut-panel-1"]) for text in part.texts]
    assert sum("rolls like this" in text for text in texts) == len(panel.alike)
    assert sum(alike.count.value for alike in panel.alike) == panel.count.value == 3


def test_a_print_that_has_an_up_is_told_with_an_arrow() -> None:
    one_way = drawn(cloth_of([("26", 1015, 240, 8)], 1350, False))
    either = drawn(cloth_of([("26", 1015, 240, 8)], 1350, True))
    assert [any(p.name == "print-up" for p in drawings.parts(f[0])) for f in (one_way, either)] == [
        True,
        False,
    ]


def test_what_is_longer_than_a_page_shows_lengths_that_are_alike_once_and_goes_on() -> None:
    plan = cloth_of([("25", 840, 230, 60), ("35", 1155, 270, 60)], 1400, True)
    numbers = cloth_numbers(Book(), plan, "cut_cloth_1")
    figures = cloth_figures(numbers, WORDS, "cut-cloth-1")
    assert [figure.id for figure in figures][:2] == ["cut-cloth-1", "cut-cloth-1-2"]
    placed = numbers.drawn.placed
    times = [round(each.value) if each else 1 for each in numbers.times]
    inside = [sum(row.start - 1 < one.area.x < row.stop - 1 for one in placed) for row in numbers.fit.rows[0]]
    assert max(times) > 1
    assert sum(pieces_in(figures, numbers.fit.scale).values()) == len(placed) == sum(inside)
    assert sum(n * many for n, many in zip(inside, times, strict=True)) == 120
    rows = sum(row.value * many for row, many in zip(numbers.rows, times, strict=True))
    assert rows == plan.layout.length
    assert set(numbers_in(figures)) == set(range(1, len(numbers.drawn.cuts) + 1))
    notes = [text for figure in figures for part in drawings.parts(figure) for text in part.texts]
    assert sum(text.startswith("lengths like this") for text in notes) == sum(many > 1 for many in times)
    for figure in figures:
        check_laws(figure)
        assert figure.height <= 250


def test_a_single_sheet_is_drawn_whole() -> None:
    (plan,) = cut_panels([Piece("45", 718, 280, 12)], Sheet(1000, 700, single=True))
    assert [layout.length for _, layout in plan.layouts] == [1000]
    fitted = fit([layout for _, layout in plan.layouts], PAPER, rest=True)
    assert [[(row.start, row.stop) for row in rows] for rows in fitted.rows] == [[(0, 1000)]]


@st.composite
def cloths(draw: st.DrawFn) -> ClothPlan:
    width = draw(st.integers(180, 320)) * 5.0
    rows = [
        (name, draw(st.integers(100, 240)) * 5.0, draw(st.integers(30, 70)) * 5.0, draw(st.integers(0, 6)))
        for name in draw(st.sampled_from([("25",), ("25", "35"), ("25", "35", "45x20")]))
    ]
    turn = draw(st.booleans())
    assume(any(count for *_, count in rows))
    assume(all(length <= width or (turn and high <= width) for _, length, high, _ in rows))
    return cloth_of(rows, width, turn)


@settings(deadline=None, max_examples=40)
@given(cloths())
def test_no_number_lies_on_a_name_and_none_is_missing(plan: ClothPlan) -> None:
    figures = drawn(plan)
    # Of lengths that are cut alike one is drawn where a page does not hold all.
    told = {cut.number for cut in cloth_numbers(Book(), plan, "cut_cloth_1").drawn.cuts}
    assert set(numbers_in(figures)) == told
    assert told == set(range(1, len(told) + 1))
    for figure in figures:
        check_laws(figure)


def test_the_same_batch_gives_the_same_drawing() -> None:
    works = examine(data_folder("recipes") / "pier-drum.yaml").works
    again = {figure.id: figure.svg for figure in cut_figures(batch_numbers(cut_batch(works)), WORDS)}
    assert again == {name: figure.svg for name, figure in pier_drum()[1].items()}


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("size", PRINT_SIZES)
def test_the_legend_of_a_cloth_with_an_up_stays_on_the_page_in_every_lettering(
    size: PrintSize, language: str
) -> None:
    plan = cloth_of([("26", 1015.0, 240.0, 8)], 1370.0, turn=False)
    numbers = cloth_numbers(Book(), plan, "cut_cloth_1", Form("A4", size))
    words = load_words(Voice(language))
    signs = {words.say(f"label.{noun}") for noun in ("cut-offcut", "cut-order", "print-up")}
    for figure in cloth_figures(numbers, words, "cut-cloth-1"):
        legend = [each for each in drawings.words(figure) if each.text in signs]
        assert {each.text for each in legend} == signs
        # The page has 178 mm between its margins.
        assert all(each.box.bounds[0] >= 0 and each.box.bounds[2] <= 178.0 for each in legend)
        assert all(each.box.bounds[3] <= figure.height for each in legend)
        assert not any(a.box.intersects(b.box) for a, b in combinations(legend, 2))
