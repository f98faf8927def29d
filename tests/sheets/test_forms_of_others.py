"""Which form each document gets where another is wished for, and what a person is told of it."""

from __future__ import annotations

import re

import pytest

from generator.base.assets import languages
from generator.base.edition import PAPERS, PRINT_SIZES, Form, PaperName, PrintSize, Voice
from generator.cutting.numbers import PAPER
from generator.figures.model import slot_named
from generator.sheets.document import document_kind, document_kinds, formed
from generator.sheets.forms import form_of, larger, nearer, nearer_at_full_scale, otherwise
from generator.sheets.handout_pages import LOWER, Row
from generator.sheets.said import is_said_in, said_in
from generator.sheets.style import enlarged, greyed, scaled
from generator.sheets.wording import load_words

OURS = (
    "box-label", "class-pack", "crib-sheet", "cut-plan", "handout", "handouts", "kit-insert", "pick-sheet",
    "wall-cards",
)  # fmt: skip
FORMS = [Form(paper.name, size, stated=True) for paper in PAPERS.values() for size in PRINT_SIZES]


def wished(paper: PaperName, size: PrintSize = "normal") -> Form:
    return Form(paper, size, stated=True)


@pytest.mark.parametrize(
    ("paper", "expected"), [("A5", ["A4", "A3", "Letter"]), ("A4", ["A3"]), ("Letter", ["A3"]), ("A3", [])]
)
def test_a_pattern_without_room_is_tried_on_each_larger_paper_the_usual_one_first(
    paper: PaperName, expected: list[str]
) -> None:
    assert [form.paper for form in larger(document_kind("pattern"), wished(paper))] == expected


@pytest.mark.parametrize("form", FORMS, ids=lambda form: f"{form.paper}-{form.print_size}")
@pytest.mark.parametrize("name", OURS)
def test_a_document_gets_a_form_that_it_is_laid_out_for_and_keeps_it(name: str, form: Form) -> None:
    kind = document_kind(name)
    made = form_of(kind, form)
    assert made.paper in formed(kind, made).papers
    assert made.print_size in formed(kind, made).print_sizes
    assert PRINT_SIZES.index(made.print_size) <= PRINT_SIZES.index(form.print_size)
    assert form_of(kind, made) == made
    assert otherwise(kind, made) == ""


@pytest.mark.parametrize("form", FORMS, ids=lambda form: f"{form.paper}-{form.print_size}")
@pytest.mark.parametrize("name", OURS)
def test_a_form_that_is_not_the_one_wished_for_is_told_in_one_line(name: str, form: Form) -> None:
    made, line = form_of(document_kind(name), form), otherwise(document_kind(name), form)
    assert bool(line) == ((made.paper, made.print_size) != (form.paper, form.print_size))
    if line:
        assert line.startswith(f"{name}: laid out ")
        assert f"printed on {made.paper}" in line
        assert "\n" not in line


@pytest.mark.parametrize("language", [code for code in languages() if code != "en"])
def test_the_line_is_told_in_the_language_of_the_reader(language: str) -> None:
    lines = {otherwise(document_kind(name), form) for name in OURS for form in FORMS}
    assert len(lines) > 10
    for line in filter(None, lines):
        told = said_in(line, language)
        assert is_said_in(line, language)
        kind = next(name for name in OURS if line.startswith(f"{name}:"))
        called = load_words(Voice(language)).say(document_kind(kind).title)
        assert told.casefold().startswith(called.casefold())
        assert not told.startswith(f"{kind}:")
        assert not re.search(r"\b(laid|printed|print|and|larger?|for)\b", told), told
        assert {paper for paper in PAPERS if paper in told} == {paper for paper in PAPERS if paper in line}


def test_the_line_names_what_a_document_is_laid_out_for() -> None:
    said = otherwise(document_kind("handout"), wished("A5"))
    assert said == "handout: laid out for A4, Letter and A3; printed on A4"
    said = otherwise(document_kind("box-label"), wished("A4", "larger"))
    assert said == "box-label: laid out in normal and large print; printed on A4 in large print"
    assert str(otherwise(document_kind("handout"), wished("A4", "larger"))) == ""
    said = otherwise(document_kind("crib-sheet"), wished("A5", "large"))
    assert said == ("crib-sheet: laid out for A4, A3 and Letter in large print; printed on A4 in large print")


def test_a_class_pack_is_laid_out_in_every_lettering_on_every_paper_but_the_smallest() -> None:
    kind = document_kind("class-pack")
    for paper in ("A4", "A3", "Letter"):
        for size in PRINT_SIZES:
            assert form_of(kind, wished(PAPERS[paper].name, size)) == wished(PAPERS[paper].name, size)
    said = otherwise(kind, wished("A5", "larger"))
    assert said == (
        "class-pack: laid out for A4, A3 and Letter in large print; printed on A4 in larger print"
    )


def test_every_printed_document_but_the_label_has_both_sizes_of_large_print() -> None:
    small = {
        name
        for name, kind in document_kinds().items()
        if kind.press and form_of(kind, wished("A4", "larger")).print_size != "larger"
    }
    assert small == {"box-label"}


def test_a_pattern_without_room_is_tried_in_smaller_print_before_larger_paper() -> None:
    tried = list(nearer_at_full_scale(document_kind("pattern"), wished("A4", "larger")))
    assert [(form.paper, form.print_size) for form in tried] == [
        ("A4", "large"), ("A4", "normal"), ("A3", "normal"),
    ]  # fmt: skip


def test_a_leaflet_has_whole_pages_in_every_lettering_and_half_ones_in_normal_print_alone() -> None:
    kind = document_kind("kit-insert")
    for size in PRINT_SIZES[1:]:
        for paper in ("A4", "A3", "Letter"):
            assert form_of(kind, wished(PAPERS[paper].name, size)) == wished(PAPERS[paper].name, size)
    assert form_of(kind, wished("A3")) == wished("A4")
    said = otherwise(kind, wished("A5", "large"))
    assert said == "kit-insert: laid out for A4, A3 and Letter in large print; printed on A4 in large print"


def test_cards_for_the_wall_are_of_a3_where_nobody_asks_for_a_paper() -> None:
    kind = document_kind("wall-cards")
    assert form_of(kind, Form()).paper == "A3"
    assert otherwise(kind, Form()) == ""
    assert form_of(kind, wished("A4")).paper == "A4"
    assert form_of(kind, wished("Letter", "larger")).print_size == "larger"


def test_what_a_recipe_states_is_a_paper_that_is_asked_for() -> None:
    assert form_of(document_kind("wall-cards"), Form("Letter", stated=True)).paper == "Letter"
    assert form_of(document_kind("handout"), Form("Letter")).paper == "Letter"


def test_two_sides_of_paper_are_printed_on_whatever_is_wished() -> None:
    assert form_of(document_kind("handout"), wished("Letter")).duplex
    assert not form_of(document_kind("crib-sheet"), wished("Letter")).duplex


def test_what_has_no_room_takes_smaller_lettering_before_other_paper() -> None:
    tried = list(nearer(document_kind("crib-sheet"), wished("A3", "large")))
    assert [(form.paper, form.print_size) for form in tried] == [("A3", "normal"), ("A4", "normal")]
    tried = list(nearer(document_kind("crib-sheet"), wished("A5")))
    assert [(form.paper, form.print_size) for form in tried] == [("A4", "normal")]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: f"{form.paper}-{form.print_size}")
@pytest.mark.parametrize("name", sorted(set(OURS) & set(document_kinds())))
def test_every_place_for_figures_that_a_form_names_is_there(name: str, form: Form) -> None:
    kind = document_kind(name)
    slots = formed(kind, form_of(kind, form)).slots
    assert [slot_named(slot).name for slot in slots] == list(slots)
    for low in LOWER.get(slots[1], ()) if len(slots) > 1 else ():
        assert slot_named(low).width == slot_named(slots[1]).width
        assert slot_named(low).max_height < slot_named(slots[1]).max_height


def test_lettering_of_figures_is_at_least_sixteen_points_in_large_print() -> None:
    em = 10.8
    crib = ("badge-large", "crib-step-large", "cell-a5-caution-large")
    for name in ("handout-large", "handout-large-low", "cover-handout-large", *crib):
        assert slot_named(name).enlarged * em >= 16.0
    assert slot_named("wall-a4").enlarged * em >= 16.0
    for name in ("cell-a5-large", "half-a4-large"):
        assert slot_named(name).enlarged * em >= 16.0
    handout = ("handout-larger", "handout-larger-low", "cover-handout-larger")
    of_crib = ("badge-larger", "crib-step-larger", *handout)
    for name in ("cell-a5-larger", "cell-a5-caution-larger", "half-a4-larger", *of_crib):
        assert slot_named(name).enlarged * em >= 21.0


def test_an_enlarged_style_keeps_its_colours_shares_and_signs() -> None:
    css = "p { font: 600 10pt/12pt x; margin: -2mm 0 0.5mm; width: 50%; color: #12mmAB; flex: 1 1 auto }"
    found = enlarged(css, 1.5)
    assert "600 15.000pt/18.000pt" in found
    assert "-3.000mm 0 0.750mm" in found
    assert "50%" in found
    assert "1 1 auto" in found
    assert (
        enlarged(scaled("a { font-size: 12pt }", wished("A3", "large")), 1.0) == "a { font-size: 18.000pt }"
    )


def test_the_drawing_of_a_cutting_plan_has_the_paper_of_its_page() -> None:
    a3, letter = PAPER.for_form(wished("A3")), PAPER.for_form(wished("Letter"))
    assert (a3.page - PAPER.page, a3.height - PAPER.height) == (87.0, 123.0)
    # The columns of Letter are those of A4.
    assert letter.page == PAPER.page
    assert letter.height == pytest.approx(PAPER.height - 17.6)
    large = PAPER.for_form(wished("A4", "large"))
    assert large.enlarged == 1.5
    assert large.page == PAPER.page
    assert large.page - large.width == 1.5 * (PAPER.page - PAPER.width)
    assert PAPER.for_form(Form()) == PAPER


def test_a_picture_among_its_words_adds_to_their_height() -> None:
    beside, among = (Row(30.0, {"": 28.0, "low": 20.0}, stacked=stacked) for stacked in (False, True))
    assert (beside.height(), among.height()) == (30.0, 58.0)
    assert among.height("low") == 50.0
    assert among.lower == "low"
    assert among.saved == 8.0


def test_a_sign_in_an_address_of_data_becomes_grey_too() -> None:
    # 0.299 × 255 + 0.587 × 199 + 0.114 × 44 = 198
    assert greyed("url(%23FFC72C) #FFC72C") == "url(%23C6C6C6) #C6C6C6"
