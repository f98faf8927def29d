"""Step sheets as printed for other paper and in large print: read back from the file."""

from __future__ import annotations

import re
from functools import cache

import page as checker
import pypdfium2
import pytest
from PIL import ImageChops

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, Edition, Form
from generator.examine import examine
from generator.pipeline import Drawn, illustrate, print_document
from generator.press.geometry import MM_PER_POINT
from generator.press.reading import sheets
from generator.press.sheet import Sheet

SMALL, LARGE, WIDE = Form("A5"), Form("A4", "large", grey=True, duplex=True), Form("A3")
FORMS = (SMALL, LARGE, WIDE)
every_form = pytest.mark.parametrize("form", FORMS, ids=lambda form: f"{form.paper}-{form.print_size}")


@cache
def drawn(form: Form) -> Drawn:
    work = examine(data_folder("recipes") / "pier-drum.yaml").work("35")
    assert work is not None
    return illustrate(work, Edition(ENGLISH, form))


@cache
def printed(form: Form) -> bytes:
    return print_document("step-sheet", drawn(form)).pdf


@cache
def read(form: Form) -> tuple[Sheet, ...]:
    return tuple(sheets(printed(form)))


@every_form
def test_each_page_has_the_size_of_its_paper(form: Form) -> None:
    sizes = {page.get_size() for page in pypdfium2.PdfDocument(printed(form))}
    assert len(sizes) == 1
    width, height = sizes.pop()
    assert width * MM_PER_POINT == pytest.approx(form.sheet.width, abs=0.1)
    assert height * MM_PER_POINT == pytest.approx(form.sheet.height, abs=0.1)


@every_form
def test_the_same_steps_stand_in_the_same_order(form: Form) -> None:
    titles = [each.get_title() for each in pypdfium2.PdfDocument(printed(form)).get_toc()]
    numbers = [int(found[1]) for title in titles if (found := re.match(r"(\d+) \D", title))]
    assert numbers == [step.number for step in drawn(form).work.plan.steps]


@every_form
def test_it_has_no_failure_in_the_machine_checker(form: Form) -> None:
    report = checker.validate_pdf_bytes(printed(form), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_in_large_print_nothing_is_under_sixteen_points_but_the_running_lines() -> None:
    letters = [letter for sheet in read(LARGE) for run in sheet.runs for letter in run.letters]
    assert min(letter.thing.size for letter in letters if not letter.thing.furniture) >= 15.98
    assert min(letter.thing.size for letter in letters) >= 13.48


def test_on_small_paper_instructions_are_ten_points_high() -> None:
    first = drawn(SMALL).words.instructions(drawn(SMALL).work.plan.steps[0].task.key)[0]
    start = "".join(segment.text for segment in first)[:20]
    runs = [run for sheet in read(SMALL) for run in sheet.runs if run.text.strip().startswith(start)]
    assert runs
    assert all(run.letters[0].thing.size == pytest.approx(10.0, abs=0.02) for run in runs)


def test_in_grey_no_page_has_a_colour() -> None:
    for page in pypdfium2.PdfDocument(printed(LARGE)):
        red, green, blue = page.render(scale=0.5).to_pil().convert("RGB").split()
        assert ImageChops.difference(red, green).getextrema() == (0, 0)
        assert ImageChops.difference(green, blue).getextrema() == (0, 0)


def test_printed_on_both_sides_the_filing_edge_is_at_the_inner_side() -> None:
    for sheet in read(LARGE):
        left = min(run.box.left for run in sheet.runs) * MM_PER_POINT
        right = LARGE.sheet.width - max(run.box.right for run in sheet.runs) * MM_PER_POINT
        inner, outer = (left, right) if sheet.number % 2 else (right, left)
        assert inner >= 19.9, sheet.number
        assert outer >= 11.9, sheet.number


def test_on_large_paper_a_line_of_instructions_has_at_most_seventy_five_letters() -> None:
    runs = [run for sheet in read(WIDE) for run in sheet.runs]
    lines = [run.text.strip() for run in runs if run.letters[0].thing.size == pytest.approx(12.0, abs=0.05)]
    assert lines
    assert max(map(len, lines)) <= 75
