"""The label of a box in large print: a sheet with all that the small one says, read back from its file."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import page as checker
import pypdfium2
import pytest
import zxingcpp

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, Edition, Form, Voice
from generator.examine import examine
from generator.fitting import Fitted, print_fitting
from generator.pipeline import outline_of, print_sheets, subject_of
from generator.plan.work import Work
from generator.press.geometry import MM_PER_POINT
from generator.press.reading import sheets
from generator.press.sheet import Sheet
from generator.sheets.compose import compose
from tests.sheets.subjects import Texts
from tests.test_kit_insert_large import squeezed

KIND = "box-label"
RECIPE = data_folder("recipes") / "pier-drum.yaml"
LARGE, LETTER = Form("A4", "large", stated=True), Form("Letter", "large", stated=True)
EDITION, PICTURE = 13.5, 16.2
"""Lettering of the edition line, and of the picture: 10.8 points, once and a half as large."""
ROUNDING = 0.03


@cache
def work(size: str = "35") -> Work:
    found = examine(RECIPE).work(size)
    assert found is not None
    return found


@cache
def printed(form: Form, voice: Voice = ENGLISH, size: str = "35") -> Fitted:
    return print_fitting(KIND, outline_of(work(size), KIND, Edition(voice, form)))


def sheet(form: Form) -> Sheet:
    (only,) = sheets(printed(form).pressed.pdf)
    return only


def test_it_says_whatever_the_small_one_says() -> None:
    usual, large = (
        Texts(compose(KIND, subject_of(outline_of(work(), KIND, Edition(ENGLISH, form)), KIND)).html)
        for form in (Form(), LARGE)
    )
    assert set(usual.measured) == set(large.measured)
    said = squeezed(large.text)
    assert [words for words in usual.words if squeezed(words) not in said] == []


@pytest.mark.parametrize("form", [LARGE, LETTER], ids=lambda form: form.paper)
def test_all_that_is_read_is_eighteen_points_high(form: Form) -> None:
    found = [letter.thing.size for run in sheet(form).runs for letter in run.letters]
    assert min(found) >= EDITION - ROUNDING
    for run in sheet(form).runs:
        high = min(letter.thing.size for letter in run.letters)
        if high < 18.0 - ROUNDING:
            edition = "pier-drum 35 ·" in run.text
            assert high >= (EDITION if edition else PICTURE) - ROUNDING, run.text
            assert edition or re.search(r"ring|print|Ø|220", run.text), run.text


@pytest.mark.parametrize("form", [LARGE, LETTER], ids=lambda form: form.paper)
def test_one_stands_on_a_sheet_with_its_marks_for_every_box(form: Form) -> None:
    pressed = printed(form).pressed
    assert pressed.pages == 1
    width, height = (side * MM_PER_POINT for side in pypdfium2.PdfDocument(pressed.pdf)[0].get_size())
    assert width == pytest.approx(186.0, abs=0.1)
    assert height == pytest.approx(form.sheet.height - 22.0, abs=0.1)
    ganged = print_sheets(KIND, work(), pressed, form)
    assert ganged is not None
    assert ganged.pages == work().size.boxes
    page = pypdfium2.PdfDocument(ganged.pdf)[0]
    assert [side * MM_PER_POINT for side in page.get_size()] == pytest.approx(
        [form.sheet.width, form.sheet.height], abs=0.1
    )
    image = page.render(scale=200 / 72).to_pil()
    kits = work().size.kits
    assert kits is not None
    assert [code.text for code in zxingcpp.read_barcodes(image)] == [kits.link]


def test_it_is_read_name_picture_facts_caution_and_the_side_of_the_box_last() -> None:
    said = squeezed(
        Texts(compose(KIND, subject_of(outline_of(work(), KIND, Edition(form=LARGE)), KIND)).html).text
    )
    parts = ("Kitforapendantshade", "thiswayup", "Inside", "Lamp,atmost", "Heatcanstartafire", "LotPD-03")
    places = [said.rindex(part) if part == "LotPD-03" else said.index(part) for part in parts]
    assert all(before < after for before, after in pairwise(places))


@pytest.mark.parametrize(
    ("voice", "form", "size"),
    [
        (Voice("de", "both"), LARGE, "35"),
        (Voice("fr", "both"), LETTER, "25"),
        (Voice("es", "inch"), LETTER, "25"),
        (ENGLISH, LARGE, "35"),
    ],
    ids=lambda value: getattr(value, "language", getattr(value, "paper", value)),
)
def test_it_has_room_in_every_language_and_no_failure_in_the_machine_checker(
    voice: Voice, form: Form, size: str
) -> None:
    """page-validation 0.11.0, profile ``ua1``, of a file that has passed its own proof."""
    found = printed(form, voice, size)
    assert (found.form, found.note) == (form, "")
    report = checker.validate_pdf_bytes(found.pressed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_names_that_have_no_room_in_large_print_make_the_small_label_and_a_line(tmp_path: Path) -> None:
    path = tmp_path / RECIPE.name
    text = RECIPE.read_text("utf-8")
    assert text.count("title: Pier drum\n") == 1
    long = "Wherrymaster Lightkeeper Breakwater Harbourmaster Signalstation Lanternhouse"
    path.write_text(text.replace("title: Pier drum\n", f"title: {long}\n"), encoding="utf-8")
    found = examine(path).work("35")
    assert found is not None
    fitted = print_fitting(KIND, outline_of(found, KIND, Edition(Voice("fr", "both"), LETTER)))
    assert fitted.form.print_size == "normal"
    assert fitted.note.endswith("too little room on Letter in large print; printed on Letter in normal print")
