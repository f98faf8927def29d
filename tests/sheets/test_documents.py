"""Kinds of documents, what is missing for one, and that templates hold neither words nor numbers."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import jinja2
import pytest

from generator.base.assets import data_folder
from generator.base.errors import FigureError, UsageError
from generator.sheets import render
from generator.sheets.compose import compose
from generator.sheets.document import document_kind, document_kinds
from generator.sheets.wording import Segment
from tests.sheets.subjects import Texts, sample, subject_of, works

RECIPE = """\
rimfold: 1
title: Test drum
use: table
outline: circle
sizes:
  30: {diameter: 300 mm, height: 200 mm}
"""


def test_kinds_are_found_by_file_name() -> None:
    names = {path.stem for path in (data_folder("templates") / "documents").glob("*.html")}
    assert set(document_kinds()) == names
    assert "step-sheet" in names


def test_a_kind_says_at_its_top_whether_it_is_made_unasked() -> None:
    assert document_kind("work-plan").only_if_asked
    assert not document_kind("step-sheet").only_if_asked


def test_a_document_about_the_whole_plan_needs_what_follows_from_it() -> None:
    assert document_kind("work-plan").outlook
    with pytest.raises(ValueError, match="with its outlook"):
        compose("work-plan", sample("pier-drum"))


def test_an_unknown_kind_is_refused_with_the_kinds_that_there_are() -> None:
    with pytest.raises(UsageError, match=r"no document “poster”; there is .*step-sheet"):
        document_kind("poster")


def test_a_step_without_a_figure_is_an_error_that_names_it() -> None:
    subject = sample("pier-drum")
    without = tuple(figure for figure in subject.figures if figure.id != "dock")
    with pytest.raises(FigureError, match="dock, has no figure"):
        compose("step-sheet", replace(subject, figures=without))


def test_a_sheet_for_no_lamp_tells_no_gap(tmp_path: Path) -> None:
    path = tmp_path / "bare.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    html = compose("step-sheet", subject_of(works(path)["30"])).html
    assert 'data-measure="lamp_gap"' not in html
    assert "measure the gap from lamp to shade" in Texts(html).text


def test_where_the_makers_are_young_marked_steps_belong_to_an_adult(tmp_path: Path) -> None:
    path = tmp_path / "young.yaml"
    path.write_text(RECIPE + "makers: {ages: [12, 15], blades: adult, people: 2}\n", encoding="utf-8")
    subject = subject_of(works(path)["30"])
    html = compose("step-sheet", subject).html
    marked = [step for step in subject.plan.steps if step.adult]
    assert marked
    assert html.count('<span class="tag adult">') == len(marked) + 1  # and once in how to read a card
    assert "A named adult does the marked steps." in Texts(html).text


def test_two_makers_read_how_to_share_a_step_and_one_does_not(tmp_path: Path) -> None:
    path = tmp_path / "pair.yaml"
    path.write_text(RECIPE + "makers: {people: 2}\n", encoding="utf-8")
    assert "Each takes one ring" in compose("step-sheet", subject_of(works(path)["30"])).html
    assert "Each takes one ring" not in compose("step-sheet", sample("pier-drum")).html


def templates() -> list[Path]:
    folder = data_folder("templates")
    return sorted([*folder.glob("*.html"), *(folder / "documents").glob("*.html")])


@pytest.mark.parametrize("path", templates(), ids=lambda path: path.name)
def test_a_template_holds_no_words_and_no_numbers_of_its_own(path: Path) -> None:
    text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    text = re.sub(r"<[^>]*>", "", text)
    assert re.sub(r'(id|style)="[a-z: -]*"', "", text).strip() == ""


def test_the_words_of_the_pages_hold_no_digit() -> None:
    text = (data_folder("templates") / "wording" / "en" / "page.po").read_text(encoding="utf-8")
    assert re.findall(r'^msgstr ".*\d.*"$', text, re.MULTILINE) == []


def test_a_template_that_names_something_unknown_fails() -> None:
    environment = render._environment()
    with pytest.raises(jinja2.UndefinedError):
        environment.from_string("{{ nobody.home }}").render()


def test_a_template_cannot_reach_into_python() -> None:
    environment = render._environment()
    with pytest.raises(jinja2.exceptions.SecurityError):
        environment.from_string("{{ ''.__class__.__mro__ }}").render()


def test_numbers_of_measures_are_bold_named_and_kept_on_one_line() -> None:
    sentence = (
        Segment("Cut "),
        Segment("1155", "cloth_length", "cloth_length"),
        Segment(" × ", keep=True),
        Segment("270 mm", "cloth_width", "cloth_width", keep=True),
        Segment(" before step "),
        Segment("18", "step"),
        Segment(" & rest."),
    )
    assert render.rich(sentence) == (
        'Cut <span class="m"><b class="m" data-measure="cloth_length">1155</b> × '
        '<b class="m" data-measure="cloth_width">270 mm</b></span> before step '
        '<span class="m">18</span> &amp;\u00a0rest.'
    )


def test_a_long_sentence_does_not_end_on_one_short_word_alone() -> None:
    def ended(text: str) -> str:
        return render.rich((Segment(text),))

    assert ended("Run the roller from the middle out to all four edges.").endswith(" all four\u00a0edges.")
    assert ended("It lies flat.") == "It lies flat."
    # Two long words together would leave a gap before them.
    long = "Ask an electrician who is licensed about municipal regulations."
    assert ended(long) == long


def test_the_name_of_a_recipe_is_not_broken_at_its_hyphen() -> None:
    sentence = (Segment("Quote "), Segment("pier-drum", "recipe"), Segment("."))
    assert render.rich(sentence) == 'Quote <span class="m">pier-drum</span>.'


def test_lines_for_notes_fill_their_height_and_no_more() -> None:
    assert render.ruled_lines(89.0) == 10
    assert render.ruled_lines(5.0) == 0
