"""The figures from trimming to the taped rings, and the hem and the braid of recipes that have them."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from generator.figures.draw import draw_one
from generator.figures.model import HALF_A4, Figure
from generator.figures.pens import WIDTHS
from generator.figures.sections import band, wrap_angle
from generator.figures.view import Frame, bench
from generator.figures.wire_piece import WirePiece
from tests.figures.drawings import Part, extent, line_widths, paper, parts, root, words
from tests.figures.jobs import figure, job

ALL = ("trim", "break-kiss-cuts", "release-margins", "prepare-seam", "tape-rings", "wrap-tape")
UNSCORED = ("trim", "prepare-seam", "tape-rings", "wrap-tape", "glue-braid")
SHOWN = {
    "pier-drum/35": ALL,
    "customs-rect": ("trim", "fold-hem", "prepare-seam", "break-kiss-cuts", "tape-rings"),
    "left-hem": ("trim", "fold-hem", "prepare-seam", "break-kiss-cuts", "tape-rings"),
    "bell-hex": UNSCORED,
    "left-square": ("break-kiss-cuts", "release-margins", "prepare-seam"),
    "small-low": ("prepare-seam", "tape-rings", "wrap-tape"),
    "long-flat": ("prepare-seam", "tape-rings"),
    "oval": ("prepare-seam", "wrap-tape"),
}
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s, names in SHOWN.items() for f in names]
NO_ARROW = ("hand", "tool", "cut-line")


def named(drawn: Figure, name: str) -> list[Part]:
    return [part for part in parts(drawn) if part.name == name]


def box_of(drawn: Figure, name: str) -> Polygon:
    points = [p for part in named(drawn, name) for p in part.points]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return box(min(xs), min(ys), max(xs), max(ys))


def values(drawn: Figure) -> dict[str, float | None]:
    return {part.measure: part.value for part in parts(drawn) if part.measure is not None}


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_shows_what_is_new_and_what_to_do(sample: str, name: str) -> None:
    found = parts(figure(sample, name))
    assert {"new", "action", "label", "context"} <= {part.role for part in found}
    arrows = [p for p in found if p.role == "action" and not p.name.startswith(NO_ARROW)]
    assert arrows
    assert len([p for p in arrows if p.name not in ("then", "turn-mark-arrow")]) <= 3


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_dimension_says_what_its_measure_says(sample: str, name: str) -> None:
    work = job(sample, name)
    for part in parts(figure(sample, name)):
        if part.measure is not None:
            shown = work.measures.shown(part.measure)
            assert part.value == shown
            assert work.words.number(shown) in part.texts


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_nothing_leaves_the_paper_neither_hand_nor_arrow_nor_word(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    sheet = paper(drawn)
    left, top, right, bottom = sheet.bounds
    assert drawn.width == HALF_A4.width
    assert drawn.height <= HALF_A4.max_height
    for part in parts(drawn):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name
    assert all(sheet.contains(word.box) for word in words(drawn))


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_no_text_lies_on_another_or_under_a_hand(sample: str, name: str) -> None:
    drawn = figure(sample, name)
    for a, b in combinations(words(drawn), 2):
        assert not a.box.buffer(-0.05).intersects(b.box.buffer(-0.05)), (a.text, b.text)
    hands = [Polygon(p.points).convex_hull for p in parts(drawn) if p.name.startswith("hand")]
    assert not any(word.box.buffer(-0.4).intersects(hand) for word in words(drawn) for hand in hands)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_lines_are_drawn_in_the_four_widths(sample: str, name: str) -> None:
    # ISO 128-2:2020, line widths 0.25, 0.35, 0.5 and 0.7, from memory. The wire is a cased line.
    assert line_widths(figure(sample, name)) - {0.6, 0.7, 1.15, 1.4} <= set(WIDTHS)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_figure_names_four_things_at_most(sample: str, name: str) -> None:
    nouns = {t for p in parts(figure(sample, name)) if p.role == "label" for t in p.texts if len(t) > 1}
    assert 1 <= len(nouns) <= 4
    assert all(len(noun.split()) <= 3 for noun in nouns)


def test_without_a_kiss_cut_the_cut_runs_a_margin_outside_the_panel_along_a_gauge() -> None:
    scored, plain = figure("pier-drum/35", "trim"), figure("bell-hex", "trim")
    assert "margin" not in values(scored)
    assert values(plain)["margin"] == job("bell-hex", "trim").measures.shown("margin")
    assert named(scored, "kiss-cut")
    assert named(scored, "weight")
    assert not named(plain, "kiss-cut")
    assert named(plain, "tool-gauge")


def test_only_a_hemmed_end_keeps_a_tab_when_it_is_trimmed() -> None:
    assert "hem" not in values(figure("pier-drum/35", "trim"))
    for sample in ("customs-rect", "left-hem"):
        assert values(figure(sample, "trim"))["hem"] == job(sample, "trim").measures.shown("hem")
        assert named(figure(sample, "trim"), "hem-tab")


@pytest.mark.parametrize("sample", ["pier-drum/35", "customs-rect", "bell-hex"])
def test_the_waste_is_hatched_and_lies_in_front_of_the_edge_that_is_trimmed(sample: str) -> None:
    drawn = figure(sample, "trim")
    (waste,) = named(drawn, "waste")
    assert waste.role == "removed"
    assert len(waste.points) > 60
    edge = box_of(drawn, "trimmed-edge")
    assert max(y for _, y in waste.points) > edge.bounds[3] + 2


@pytest.mark.parametrize("sample", ["pier-drum/35", "customs-rect", "bell-hex"])
def test_the_turn_mark_stands_where_the_work_has_just_been_turned_over(sample: str) -> None:
    work = job(sample, "trim")
    before = [s.task.face for s in work.plan.steps if s.number < work.step.number and s.task.face]
    assert bool(named(figure(sample, "trim"), "turn-mark")) == (before[-1] != work.step.task.face)


def test_the_strip_is_bent_down_and_then_pulled_off_the_same_long_edge() -> None:
    bent, pulled = figure("pier-drum/35", "break-kiss-cuts"), figure("pier-drum/35", "release-margins")
    assert values(bent) == values(pulled) == {"margin": 15.0}
    assert named(bent, "margin-strip")[0].role == "new"
    assert named(pulled, "margin-strip")[0].role == "removed"
    assert named(pulled, "cloth-margin")[0].role == "new"


@pytest.mark.parametrize("sample", ["pier-drum/35", "customs-rect", "bell-hex", "left-square", "small-low"])
def test_the_seam_tape_is_drawn_true_to_its_length_on_the_end_that_it_is_for(sample: str) -> None:
    drawn, work = figure(sample, "prepare-seam"), job(sample, "prepare-seam")
    scale = float(root(drawn).get("data-scale", "0"))
    tape = named(drawn, "seam-tape")[0]
    wide, high = extent(tape.points)
    assert root(drawn).get("data-view") == "plan"
    assert high / scale == pytest.approx(work.measures.shown("seam_tape"), rel=0.02)
    assert wide < high
    outside_right = work.size.makers.hand == "right"
    middle = sum(x for x, _ in tape.points) / len(tape.points)
    assert (middle > HALF_A4.width / 2) == outside_right


@pytest.mark.parametrize("sample", ["customs-rect", "left-hem"])
def test_with_a_hem_the_seam_tape_stands_wholly_on_the_folded_cloth(sample: str) -> None:
    drawn = figure(sample, "prepare-seam")
    for hem, tape in (("hem", "seam-tape"), ("detail-hem", "detail-seam-tape")):
        assert box_of(drawn, hem).buffer(0.05).contains(box_of(drawn, tape))
    assert not named(figure("pier-drum/35", "prepare-seam"), "hem")


def test_the_hem_is_dimensioned_where_it_lies_on_the_pvc() -> None:
    assert values(figure("customs-rect", "fold-hem")) == {
        "hem": job("customs-rect", "fold-hem").measures.shown("hem")
    }


@given(wire=st.floats(2.0, 8.0), thickness=st.floats(0.05, 0.5), share=st.floats(0.2, 0.95))
def test_tape_has_the_same_section_wrapped_as_flat(wire: float, thickness: float, share: float) -> None:
    # Width times thickness stays when a band is bent about its middle line (Pappus, from memory).
    width = share * math.pi * (wire + thickness)
    angle = wrap_angle(width, wire, thickness)
    bent = band((0.0, 0.0), wire / 2, wire / 2 + thickness, -angle / 2, angle / 2)
    assert bent.area == pytest.approx(width * thickness, rel=2e-3)
    assert min(x for x, _ in bent.exterior.coords) > -wire / 2 - thickness


def test_the_gap_of_the_wrapped_tape_faces_the_inside_of_the_shade() -> None:
    for sample in ("pier-drum/35", "bell-hex"):
        drawn = figure(sample, "wrap-tape")
        (tape,) = named(drawn, "wrapped-tape")
        where = {word.text: word.box for word in words(drawn)}
        band_box = box_of(drawn, "wrapped-tape")
        left = [p for p in tape.points if p[0] < band_box.bounds[0] + 0.4]
        assert max(y for _, y in left) - min(y for _, y in left) > 2
        assert where["inside"].bounds[0] < where["outside"].bounds[0]


@given(
    wrapped=st.floats(0.0, 1.0),
    s=st.floats(-30.0, 60.0),
    sample=st.sampled_from(["pier-drum/35", "bell-hex", "small-low"]),
)
def test_tape_keeps_its_width_however_far_it_is_wrapped(wrapped: float, s: float, sample: str) -> None:
    work = job(sample, "wrap-tape")
    ring = WirePiece(Frame(bench(), 1.0, 0.0, 0.0), work.shade, work.size.tape.width)
    across = [ring.tape(s, u, wrapped) for u in ring.steps(-ring.width / 2, ring.width / 2, 200)]
    assert sum(math.dist(a, b) for a, b in pairwise(across)) == pytest.approx(ring.width, rel=1e-3)
    middle = ring.at(s, 0.0)
    assert math.dist(ring.tape(s, 0.0, wrapped), middle) == pytest.approx(work.shade.wire / 2)


@pytest.mark.parametrize("sample", ["pier-drum/35", "long-flat"])
def test_the_tape_starts_beside_the_seam_mark(sample: str) -> None:
    drawn = figure(sample, "tape-rings")
    mark, tape = box_of(drawn, "seam-mark"), box_of(drawn, "ring-tape")
    assert mark.bounds[0] < tape.bounds[0] + 5
    assert mark.distance(tape) < 1.0
    assert values(drawn) == {"tape_gap": job(sample, "tape-rings").measures.shown("tape_gap")}


def test_the_braid_runs_from_the_seam_towards_the_hand_that_holds_it() -> None:
    drawn = figure("bell-hex", "glue-braid")
    seam, braid = box_of(drawn, "seam"), box_of(drawn, "braid")
    assert seam.distance(braid) < 0.5
    assert braid.bounds[0] < seam.bounds[0] - 10
    assert braid.bounds[2] < seam.bounds[2] + 1
    assert named(drawn, "glue")


@pytest.mark.parametrize("name", ["trim", "fold-hem", "prepare-seam", "break-kiss-cuts", "tape-rings"])
def test_a_left_handed_makers_picture_has_the_same_words_and_values(name: str) -> None:
    right, left = figure("customs-rect", name), figure("left-hem", name)
    assert sorted(word.text for word in words(left)) == sorted(word.text for word in words(right))
    assert values(left) == values(right)


def test_the_same_recipe_gives_the_same_drawing() -> None:
    for name in ("trim", "fold-hem"):
        assert draw_one(job("customs-rect", name)).svg == figure("customs-rect", name).svg
