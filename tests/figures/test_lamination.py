"""The figures from choosing the place on the cloth to burnishing the bonded face."""

from __future__ import annotations

import pytest

from generator.figures.draw import draw_one
from generator.figures.model import HALF_A4, Figure
from generator.figures.pens import WIDTHS
from generator.figures.plan_board import board
from generator.figures.view import Box
from tests.figures.drawings import check_texts_stand_apart, extent, line_widths, paper, parts, root, words
from tests.figures.jobs import figure, job

FIGURES = (
    "place-motif",
    "rough-cut",
    "lay-face-down",
    "position-panel",
    "anchor",
    "laminate",
    "burnish",
)
PLANS = ("place-motif", "rough-cut", "lay-face-down", "position-panel", "burnish")
SAMPLES = ("pier-drum/35", "bell-hex", "left-hem", "long-flat")
EXTREMES = ("narrow-tall", "widest-tall")
PAIRS = [
    *((sample, name) for sample in SAMPLES for name in FIGURES),
    *(("net-loft", name) for name in ("place-motif", "rough-cut", "burnish")),
    *((sample, name) for sample in EXTREMES for name in ("position-panel", "laminate")),
]
EVERY = [pytest.param(sample, name, id=f"{sample}-{name}") for sample, name in PAIRS]


def dimensions(drawn: Figure) -> list[tuple[str, float]]:
    return [(part.measure, part.value or 0.0) for part in parts(drawn) if part.measure is not None]


def sum_of(drawn: Figure, *measures: str) -> float:
    return sum(value for measure, value in dimensions(drawn) if measure in measures)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_shows_what_is_new_and_what_to_do(sample: str, name: str) -> None:
    roles = [part.role for part in parts(figure(sample, name))]
    assert {"new", "action", "label"} <= set(roles)
    assert "" not in roles


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_each_handling_figure_has_an_action_arrow(sample: str, name: str) -> None:
    arrows = [p for p in parts(figure(sample, name)) if p.role == "action" and p.name == "arrow"]
    assert 1 <= len(arrows) <= 3


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_dimension_says_what_its_measure_says(sample: str, name: str) -> None:
    work = job(sample, name)
    for part in parts(figure(sample, name)):
        if part.measure is None:
            continue
        shown = work.measures[part.measure].values
        assert part.value in shown
        assert all(work.words.number(value) in "".join(part.texts) for value in shown)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_no_text_lies_on_another_or_leaves_the_paper(sample: str, name: str) -> None:
    check_texts_stand_apart(figure(sample, name))


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_nothing_is_drawn_beyond_the_slot(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    sheet = paper(drawn).buffer(0.3)
    assert drawn.width == HALF_A4.width
    assert drawn.height <= HALF_A4.max_height
    left, top, right, bottom = sheet.bounds
    for part in parts(drawn):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_lines_are_drawn_in_the_four_widths(sample: str, name: str) -> None:
    # ISO 128-2:2020, line widths 0.25, 0.35, 0.5 and 0.7, from memory.
    assert line_widths(figure(sample, name)) <= set(WIDTHS)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_carries_four_labels_at_most_beside_its_direction_arrows(sample: str, name: str) -> None:
    named = [
        p.texts[0]
        for p in parts(figure(sample, name))
        if p.role == "label" and p.texts and len(p.texts[0]) > 1 and not p.texts[0].startswith("print up")
    ]
    assert 1 <= len(named) <= 4
    assert all(len(name.split()) <= 3 for name in named)


@pytest.mark.parametrize("sample", [*SAMPLES, *EXTREMES, "customs-rect"])
def test_the_borders_and_the_panel_add_up_to_the_cloth(sample: str) -> None:
    drawn, measures = figure(sample, "position-panel"), job(sample, "position-panel").measures
    along = sum_of(drawn, "slack_ends", "panel_length", "hem", "slack_end_rest")
    across = sum_of(drawn, "slack_edges", "margin", "panel_height", "slack_edge_rest")
    assert along == measures.shown("cloth_length")
    assert across == measures.shown("cloth_width")


def test_without_a_kiss_cut_a_margin_of_cloth_stands_on_either_side_of_the_panel() -> None:
    shown = [measure for measure, _ in dimensions(figure("bell-hex", "position-panel"))]
    assert shown.count("margin") == 2
    assert "margin" not in [m for m, _ in dimensions(figure("pier-drum/35", "position-panel"))]


def test_only_a_panel_with_kiss_cuts_shows_them() -> None:
    for name in ("position-panel", "anchor", "laminate"):
        assert "kiss-cut" in {part.name for part in parts(figure("pier-drum/35", name))}
        assert "kiss-cut" not in {part.name for part in parts(figure("bell-hex", name))}


def test_only_a_hemmed_seam_has_its_tab_at_the_outside_end() -> None:
    assert "hem" not in [m for m, _ in dimensions(figure("pier-drum/35", "position-panel"))]
    for sample, outside in (("customs-rect", max), ("left-hem", min)):
        drawn = figure(sample, "position-panel")
        tab = next(part for part in parts(drawn) if part.name == "hem-tab")
        panel = [p for part in parts(drawn) if part.name == "panel" for p in part.points]
        edge = outside(x for x, _ in panel)
        assert any(abs(x - edge) < 3.0 for x, _ in tab.points)
        assert outside(x for x, _ in tab.points) != edge


@pytest.mark.parametrize(("sample", "name"), [pair for pair in PAIRS if pair[1] in PLANS])
def test_a_plan_says_its_scale_and_any_break_in_it(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    scale = float(root(drawn).get("data-scale", "0"))
    assert root(drawn).get("data-view") == "plan"
    measures = job(sample, name).measures
    of_panel = name == "place-motif"
    length = measures.shown("panel_length" if of_panel else "cloth_length") * scale
    broken = any(part.name == "break" for part in parts(drawn))
    assert broken == (length > HALF_A4.width)


def test_a_window_whose_pattern_is_centred_is_never_broken() -> None:
    assert "break" not in {part.name for part in parts(figure("long-flat", "place-motif"))}


@pytest.mark.parametrize("sample", [s for s in SAMPLES if s != "long-flat"])
def test_the_blank_is_drawn_true_to_its_scale(sample: str) -> None:
    drawn, measures = figure(sample, "rough-cut"), job(sample, "rough-cut").measures
    scale = float(root(drawn).get("data-scale", "0"))
    blank = next(part for part in parts(drawn) if part.name == "blank")
    width, height = extent(blank.points)
    assert width / scale == pytest.approx(measures.shown("cloth_length"), rel=0.01)
    assert height / scale == pytest.approx(measures.shown("cloth_width"), rel=0.01)


@pytest.mark.parametrize("sample", [*SAMPLES, *EXTREMES])
def test_the_panels_height_is_true_even_where_its_length_is_broken(sample: str) -> None:
    drawn, measures = figure(sample, "position-panel"), job(sample, "position-panel").measures
    scale = float(root(drawn).get("data-scale", "0"))
    panel = [p for part in parts(drawn) if part.name == "panel" for p in part.points]
    assert extent(tuple(panel))[1] / scale == pytest.approx(measures.shown("panel_height"), rel=0.01)


@pytest.mark.parametrize("name", ["rough-cut", "position-panel", "anchor"])
def test_a_left_handed_makers_picture_has_the_same_words_and_values(name: str) -> None:
    right, left = figure("customs-rect", name), figure("left-hem", name)
    assert sorted(word.text for word in words(left)) == sorted(word.text for word in words(right))
    assert sorted(dimensions(left)) == sorted(dimensions(right))


def test_the_start_end_lies_on_the_left_and_for_the_left_hand_on_the_right() -> None:
    for sample, sign in (("pier-drum/35", 1), ("bell-hex", -1)):
        drawn = figure(sample, "position-panel")
        where = {part.measure: part.points for part in parts(drawn) if part.measure}
        start = sum(x for x, _ in where["slack_ends"]) / len(where["slack_ends"])
        rest = sum(x for x, _ in where["slack_end_rest"]) / len(where["slack_end_rest"])
        assert sign * (rest - start) > 20


def test_the_motif_is_centred_only_where_there_is_one() -> None:
    assert "motif_centre" not in [m for m, _ in dimensions(figure("pier-drum/35", "place-motif"))]
    assert "motif_centre" in [m for m, _ in dimensions(figure("net-loft", "place-motif"))]
    both = [m for m, _ in dimensions(figure("ferry-square", "place-motif"))]
    assert {"motif_centre", "motif_height", "motif_edge"} <= set(both)


def test_cloth_too_narrow_for_the_blank_lets_the_grain_run_along_it() -> None:
    across = next(p for p in parts(figure("pier-drum/35", "rough-cut")) if p.name == "grain" and p.points)
    along = next(p for p in parts(figure("pier-drum/45", "rough-cut")) if p.name == "grain" and p.points)
    wide, high = extent(across.points)
    assert high > wide
    wide, high = extent(along.points)
    assert wide > high


def test_the_work_is_turned_over_before_it_is_laid_face_down_and_before_it_is_burnished() -> None:
    for name in ("lay-face-down", "burnish"):
        assert "turn-mark" in {part.name for part in parts(figure("pier-drum/35", name))}


def test_a_panel_lies_in_front_of_the_liner_that_is_drawn_out_beneath_it() -> None:
    names = [part.name for part in parts(figure("pier-drum/35", "laminate"))]
    assert names.index("cloth") < names.index("liner") < names.index("panel")


def test_the_same_shade_is_drawn_the_same_twice() -> None:
    for name in ("position-panel", "laminate"):
        assert draw_one(job("left-hem", name)).svg == figure("left-hem", name).svg


@pytest.mark.parametrize("left", [False, True])
@pytest.mark.parametrize(("length", "width", "broken"), [(500.0, 200.0, False), (1900.0, 130.0, True)])
def test_both_pieces_of_a_view_keep_lengths_true(
    left: bool, length: float, width: float, broken: bool
) -> None:
    view = board(left, Box(5.0, 5.0, 75.0, 45.0), length, width, 15.0)
    assert view.broken is broken
    assert view.bottom - view.top == pytest.approx(width * view.scale)
    for x in (0.0, length - 40.0):
        a, b = view(x, 10.0), view(x + 40.0, 10.0)
        assert abs(b[0] - a[0]) == pytest.approx(40.0 * view.scale)
        assert (b[0] > a[0]) is not left
    ends = sorted((view(0.0, 0.0)[0], view(length, 0.0)[0]))
    assert 5.0 - 1e-9 <= ends[0] < ends[1] <= 75.0 + 1e-9
