"""The figures of use, of the rings before taping, of pressing and of the last checks, and the silhouette."""

from __future__ import annotations

import math
from collections import defaultdict
from functools import cache
from itertools import combinations

import pytest
from shapely import unary_union
from shapely.geometry.base import BaseGeometry

from generator.base.registry import load_kind
from generator.figures.canvas import Canvas
from generator.figures.draw import PACKAGE
from generator.figures.kinds.mark_rings import measured_from
from generator.figures.model import HALF_A4, Figure
from generator.figures.pens import WIDTHS
from generator.figures.silhouette import PLACE, silhouette
from tests.figures.drawings import Part, line_widths, paper, parts, words
from tests.figures.jobs import figure, job

OWN_CLOTH = ("ferry-square", "left-square")
FIGURES = ("choose-use", "prove-rings", "press-cloth", "mark-rings", "inspect")
HANDLED = ("prove-rings", "press-cloth", "mark-rings")
SAMPLES = ("pier-drum/35", "ferry-square", "net-loft", "customs-rect", "bell-hex", "long-flat", "oval")
EVERY = [pytest.param(s, f, id=f"{s}-{f}") for s in SAMPLES for f in (*FIGURES, "silhouette")]
EVERY += [pytest.param(s, "try-cloth", id=f"{s}-try-cloth") for s in OWN_CLOTH]
CASED = {1.15, 0.6, 1.4, 0.7, 0.55, 2.0, 3.0, 2.4}
"""Widths of dark lines with a light core: wire, struts, flex, the iron's grip."""


@cache
def drawn(sample: str, name: str) -> Figure:
    if name != "silhouette":
        return figure(sample, name)
    work = job(sample, "choose-use")
    return silhouette(work.size, work.shade, work.measures, work.words, work.plan)


@cache
def recorded(sample: str, name: str) -> Canvas:
    """What a figure draws, before it becomes SVG."""
    canvas = load_kind(PACKAGE, name).draw(job(sample, name)).canvas
    assert isinstance(canvas, Canvas)
    return canvas


@cache
def groups(sample: str, name: str) -> tuple[Part, ...]:
    return tuple(parts(drawn(sample, name)))


def drawn_area(canvas: Canvas, part: str) -> BaseGeometry:
    whole = unary_union([mark.shape for mark in canvas.marks() if mark.group.part == part])
    assert not whole.is_empty, part
    return whole


def texts_by_measure(sample: str, name: str) -> dict[str, str]:
    found: dict[str, str] = defaultdict(str)
    for part in groups(sample, name):
        if part.measure is not None:
            found[part.measure] += "".join(part.texts)
    return dict(found)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_the_new_part_is_told_from_what_was_there(sample: str, name: str) -> None:
    found = groups(sample, name)
    assert {"new", "context", "label"} <= {part.role for part in found}
    assert all(part.name for part in found)


@pytest.mark.parametrize("name", HANDLED)
@pytest.mark.parametrize("sample", SAMPLES)
def test_handling_is_shown_by_one_arrow_and_a_hand(sample: str, name: str) -> None:
    names = [part.name for part in groups(sample, name) if part.role == "action"]
    assert names.count("arrow") == 1
    assert any(n.startswith("hand") for n in names)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_every_dimension_prints_its_measure(sample: str, name: str) -> None:
    work = job(sample, "choose-use")
    for part in groups(sample, name):
        if part.measure is not None:
            assert part.value == work.measures.shown(part.measure)
    for measure, text in texts_by_measure(sample, name).items():
        assert work.words.number(work.measures.shown(measure)) in text


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_a_digit_stands_only_in_a_dimension_or_a_numbered_disc(sample: str, name: str) -> None:
    for part in groups(sample, name):
        if any(letter.isdigit() for text in part.texts for letter in text):
            assert part.measure is not None or part.name.startswith("number-"), part.texts


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_no_text_lies_on_another_or_leaves_the_paper(sample: str, name: str) -> None:
    sheet = paper(drawn(sample, name))
    found = list(words(drawn(sample, name)))
    for word in found:
        assert sheet.contains(word.box), word.text
    for a, b in combinations(found, 2):
        assert not a.box.buffer(-0.1).intersects(b.box.buffer(-0.1)), (a.text, b.text)


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_the_drawing_keeps_to_its_slot_and_to_the_four_widths(sample: str, name: str) -> None:
    done = drawn(sample, name)
    slot = PLACE if name == "silhouette" else HALF_A4
    assert done.width == slot.width
    assert done.height <= slot.max_height
    left, top, right, bottom = paper(done).buffer(0.3).bounds
    for part in groups(sample, name):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name
    assert line_widths(done) <= {*WIDTHS, *CASED}


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_the_drawing_fills_more_than_half_of_the_width(sample: str, name: str) -> None:
    done = drawn(sample, name)
    xs = [x for part in groups(sample, name) if part.role != "label" for x, _ in part.points]
    assert max(xs) - min(xs) >= 0.55 * done.width


@pytest.mark.parametrize("name", ["choose-use", "silhouette"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_a_table_shade_stands_on_its_hidden_fitter_and_a_pendant_hangs_from_it(
    sample: str, name: str
) -> None:
    names = {part.name for part in groups(sample, name)}
    # Common practice, no source: the fitter sits at the top of a pendant, at the bottom for a table lamp.
    table = job(sample, "choose-use").size.use == "table"
    assert ({"base", "hidden-fitter"} <= names) is table
    assert ("flex" in names) is not table
    assert "print-up" in names


@pytest.mark.parametrize("name", ["choose-use", "inspect"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_the_fitter_ring_is_the_upper_one_only_on_a_pendant(sample: str, name: str) -> None:
    canvas = recorded(sample, name)
    fitter, plain = (drawn_area(canvas, f"{which}-ring").bounds for which in ("fitter", "plain"))
    assert (fitter[3] < plain[3]) is (job(sample, name).size.use == "pendant")


def test_the_hole_of_the_fitter_is_printed_only_if_the_recipe_states_it() -> None:
    work = job("pier-drum/35", "choose-use")
    stated = work.size.ring.hole is not None
    assert ("hole" in texts_by_measure("pier-drum/35", "choose-use")) is stated
    assert "dimension-hole" in {part.name for part in groups("pier-drum/35", "choose-use")}


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_silhouette_is_true_to_proportion(sample: str) -> None:
    """The body's size on paper, in the bench view: elevation 30, azimuth -15 degrees."""
    shade = job(sample, "choose-use").shade
    shade_part = next(p for p in groups(sample, "silhouette") if p.name == "shade")
    xs, ys = [p[0] for p in shade_part.points], [p[1] for p in shade_part.points]
    a, e = math.radians(15), math.radians(30)
    loop = [shade.sheet.point(shade.sheet.length * k / 720) for k in range(720)]
    across = [-x * math.cos(a) - y * math.sin(a) for x, y in loop]
    back = [-x * math.sin(a) * math.sin(e) + y * math.cos(a) * math.sin(e) for x, y in loop]
    rightmost = max(range(720), key=lambda k: across[k])
    leftmost = min(range(720), key=lambda k: across[k])
    # Of the body the outside is drawn: between the silhouettes, from the near lower rim to the upper rim.
    tall = shade.height * math.cos(e) + max(back[rightmost], back[leftmost]) - min(back)
    wide = max(across) - min(across)
    assert (max(xs) - min(xs)) / (max(ys) - min(ys)) == pytest.approx(wide / tall, rel=0.01)


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", ["silhouette", "inspect"])
def test_a_round_shade_has_one_width_and_any_other_has_two(sample: str, name: str) -> None:
    found = texts_by_measure(sample, name)
    assert "finished_height" in found
    if job(sample, "inspect").size.outline == "circle":
        assert found["ring_diameter"].startswith("Ø")
        assert "ring_length" not in found
    else:
        assert {"ring_length", "ring_width"} <= set(found)


@pytest.mark.parametrize("sample", SAMPLES)
def test_five_checks_are_numbered_and_say_what_passes(sample: str) -> None:
    discs = [part.name for part in groups(sample, "inspect") if part.name.startswith("number-")]
    assert {name.removeprefix("number-") for name in discs} == set("12345")
    found, work = texts_by_measure(sample, "inspect"), job(sample, "inspect")
    number, shown = work.words.number, work.measures.shown
    assert f"± {number(shown('height_tolerance'))}" in found["finished_height"]
    for width in ("ring_diameter", "ring_length", "ring_width"):
        if width in found:
            assert f"± {number(shown('width_tolerance'))}" in found[width]
    assert found["seam_step"] == f"≤ {number(shown('seam_step'))}"


@pytest.mark.parametrize("sample", ["pier-drum/25", "pier-drum/35", "pier-drum/45", "oval", "bell-hex"])
def test_the_measure_along_the_wire_begins_at_the_nearest_strut_or_at_a_corners_middle(sample: str) -> None:
    work = job(sample, "mark-rings")
    start = measured_from(work.shade, 1.0, work.shade.kind)
    assert abs(start) == pytest.approx(work.measures.exact("seam_mark"), abs=1e-6)
    outline = work.shade.outline
    if work.size.outline == "polygon":
        places = [station.s for station in outline.stations() if station.kind == "corner"]
    else:
        places = [strut.s for strut in work.shade.struts]
    assert min(abs(start % outline.length - s) for s in places) < 1e-6


@pytest.mark.parametrize("sample", ["ferry-square", "customs-rect", "net-loft", "long-flat"])
def test_the_set_square_touches_the_ring_from_outside_where_it_is_outermost(sample: str) -> None:
    canvas = recorded(sample, "mark-rings")
    square = drawn_area(canvas, "set-square")
    ring = drawn_area(canvas, "fitter-ring")
    # Drawn wire is some tenths of a mm wider than true, and covers the square's edge.
    assert square.distance(ring) < 0.7
    assert square.buffer(-0.9).intersection(ring).is_empty


@pytest.mark.parametrize("sample", SAMPLES)
def test_both_seam_marks_stand_one_straight_above_the_other(sample: str) -> None:
    canvas = recorded(sample, "mark-rings")
    marks = [mark.shape for mark in canvas.marks() if mark.group.part == "seam-mark"]
    assert len(marks) == 2
    upper, lower = sorted(marks, key=lambda mark: mark.centroid.y)
    assert upper.centroid.x == pytest.approx(lower.centroid.x, abs=1e-6)
    assert lower.centroid.y - upper.centroid.y > 10.0


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_round_ring_is_measured_with_a_strip_and_a_straight_side_from_a_set_square(sample: str) -> None:
    work = job(sample, "mark-rings")
    names = {part.name for part in groups(sample, "mark-rings")}
    assert ("paper-strip" in names) is (work.size.outline in ("circle", "ellipse"))
    assert ("set-square" in names) is (work.size.outline in ("rectangle", "square", "stadium"))
    assert "seam_mark" in texts_by_measure(sample, "mark-rings")


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_flat_strip_is_measured_from_the_mark_to_its_last_end(sample: str) -> None:
    found = texts_by_measure(sample, "prove-rings")
    work = job(sample, "prove-rings")
    assert found == {"perimeter": work.words.number(work.measures.shown("perimeter"))}
    canvas = recorded(sample, "prove-rings")
    strip = drawn_area(canvas, "flat-strip")
    line = drawn_area(canvas, "dimension-perimeter")
    left, _, right, _ = strip.bounds
    ends = sorted((line.bounds[0], line.bounds[2]))
    assert min(abs(ends[0] - left), abs(ends[1] - right)) < 0.01
    assert 3.0 < max(ends[0] - left, right - ends[1]) < 8.0


@pytest.mark.parametrize("name", FIGURES)
def test_the_left_hand_changes_the_picture_and_no_value(name: str) -> None:
    assert texts_by_measure("ferry-square", name) == texts_by_measure("left-square", name)
    right, left = recorded("ferry-square", name), recorded("left-square", name)
    part = {"choose-use": "print-up", "prove-rings": "arrow", "press-cloth": "arrow"}.get(name)
    part = part or {"mark-rings": "set-square", "inspect": "detail-rim"}[name]
    a, b = drawn_area(right, part).centroid, drawn_area(left, part).centroid
    assert a.x + b.x == pytest.approx(right.width, abs=1.5)
    assert abs(a.x - b.x) > 10


@pytest.mark.parametrize(("sample", "name"), EVERY)
def test_the_picture_says_in_a_sentence_what_it_shows(sample: str, name: str) -> None:
    done = drawn(sample, name)
    assert done.alt.endswith(".")
    assert done.alt in done.svg
    assert done.number == (0 if name == "silhouette" else job(sample, name).step.number)
