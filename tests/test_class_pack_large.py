"""The tutor's pack in large print: laid out anew, nothing of it lost, read back from the file."""

from __future__ import annotations

import re
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import page as checker
import pypdfium2
import pytest
from PIL import ImageChops

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, LETTERS, UNITS, Edition, Form, PrintSize, Voice
from generator.base.errors import FigureError
from generator.examine import Examined, examine
from generator.figures.room_plan import room_plan
from generator.lesson.room import room_of
from generator.pipeline import gather, print_document, subject_of
from generator.press.geometry import MM_PER_POINT
from generator.press.reading import sheets
from generator.press.sheet import Sheet
from generator.sheets.compose import compose
from generator.sheets.wording import load_words
from tests.figures.drawings import words as lettering
from tests.lesson.classes import CLASS, class_of

SAMPLES = ("ferry-square", "pier-drum")
LARGE, LARGER = Form("A4", "large", grey=True, duplex=True), Form("A4", "larger")
FORMS = (LARGE, LARGER)
ROUNDING = 0.03
IN_FIGURES = 10.8
"""Lettering of a figure before it is enlarged, points."""
every_form = pytest.mark.parametrize("form", FORMS, ids=lambda form: form.print_size)


@cache
def examined(name: str) -> Examined:
    return examine(data_folder("recipes") / f"{name}.yaml")


@cache
def html(name: str, form: Form) -> str:
    found = examined(name)
    return compose(
        "class-pack", subject_of(gather(found.works, Edition(ENGLISH, form), found.roster), "class-pack")
    ).html


@cache
def printed(name: str, voice: Voice, form: Form) -> bytes:
    """Printed means that its proof has passed: sizes, overflow, margins, contrast, whole cards, cautions."""
    found = examined(name)
    return print_document("class-pack", gather(found.works, Edition(voice, form), found.roster)).pdf


@cache
def read(form: Form) -> tuple[Sheet, ...]:
    return tuple(sheets(printed("pier-drum", ENGLISH, form)))


class Said(HTMLParser):
    """What stands on a page, text by text, and what its pictures tell; heads of tables apart."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.texts: set[str] = set()
        self._open: list[str] = []
        self.feed(source[source.index("<body") : source.index("</html>")])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Remember where we are, and what a picture says."""
        self.texts.add(f"picture: {dict(attrs).get('alt')}")
        if tag not in ("img", "br", "col", "wbr"):
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Leave it."""
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Keep the words: those of heads have another place in large print."""
        text = " ".join(data.replace("\u200b", "").split())
        if text and "thead" not in self._open:
            self.texts.add(text)


@every_form
@pytest.mark.parametrize("name", SAMPLES)
def test_whatever_the_usual_pack_says_is_said_in_large_print(name: str, form: Form) -> None:
    missing = Said(html(name, Form())).texts - Said(html(name, form)).texts
    # The room has another scale on another page.
    assert {text for text in missing if not re.fullmatch(r"1 : \d+", text)} == set()


@every_form
@pytest.mark.parametrize("name", SAMPLES)
def test_values_of_a_row_stand_behind_the_heads_of_its_column(name: str, form: Form) -> None:
    usual, large = html(name, Form()), html(name, form)
    heads = set(re.findall(r'<th scope="col"[^>]*>([^<]+)</th>', usual))
    behind = set(re.findall(r'<span class="soft">([^<]+)</span> ', large))
    # What names its row, as the clock, the tool or the hazard, needs no word before it.
    left = heads - behind - set(re.findall(r'<th scope="col"[^>]*>([^<]+)</th>', large))
    named = {"Clock", "What", "What you do", "No.", "Name", "Tool", "Shade", "Hazard"}
    assert left <= named
    assert {"Latest", "Actual", "Shared tools", "Longest wait", "Needed", "Buy", "Seen to by"} <= behind


@every_form
@pytest.mark.parametrize("name", SAMPLES)
def test_the_rows_of_the_run_sheet_follow_the_clock(name: str, form: Form) -> None:
    times = re.findall(r'<span class="at">(\d\d):(\d\d)</span>', html(name, form))
    minutes = [int(hour) * 60 + int(minute) for hour, minute in times]
    usual = re.findall(r'<th scope="row" class="at">(\d\d):(\d\d)</th>', html(name, Form()))
    assert times == usual
    assert all(one <= other for one, other in pairwise(minutes))


@every_form
def test_every_page_stands_upright(form: Form) -> None:
    sizes = {page.get_size() for page in pypdfium2.PdfDocument(printed("pier-drum", ENGLISH, form))}
    assert len(sizes) == 1
    width, height = sizes.pop()
    assert width * MM_PER_POINT == pytest.approx(form.sheet.width, abs=0.1)
    assert height * MM_PER_POINT == pytest.approx(form.sheet.height, abs=0.1)


@every_form
def test_all_text_has_the_height_that_was_asked_for(form: Form) -> None:
    """18 or 24 points; words in pictures have nine tenths of that, running lines three quarters."""
    asked = LETTERS[form.print_size]
    in_figures = IN_FIGURES * asked / LETTERS["normal"]
    found = [letter.thing for sheet in read(form) for run in sheet.runs for letter in run.letters]
    sizes = {round(thing.size, 1) for thing in found if not thing.furniture}
    assert {size for size in sizes if size < asked - ROUNDING} <= {round(in_figures, 1)}
    assert min(thing.size for thing in found) >= 0.75 * asked - ROUNDING
    texts = [run for sheet in read(form) for run in sheet.runs if "Walk round" in run.text]
    assert texts
    assert all(run.letters[0].thing.size == pytest.approx(asked, abs=ROUNDING) for run in texts)


@every_form
def test_the_machine_checker_finds_no_failure(form: Form) -> None:
    report = checker.validate_pdf_bytes(printed("pier-drum", ENGLISH, form), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_in_grey_no_page_has_a_colour() -> None:
    for page in pypdfium2.PdfDocument(printed("pier-drum", ENGLISH, LARGE)):
        red, green, blue = page.render(scale=0.3).to_pil().convert("RGB").split()
        assert ImageChops.difference(red, green).getextrema() == (0, 0)
        assert ImageChops.difference(green, blue).getextrema() == (0, 0)


def test_printed_on_both_sides_the_filing_edge_is_at_the_inner_side() -> None:
    for sheet in read(LARGE):
        left = min(run.box.left for run in sheet.runs) * MM_PER_POINT
        right = LARGE.sheet.width - max(run.box.right for run in sheet.runs) * MM_PER_POINT
        inner, outer = (left, right) if sheet.number % 2 else (right, left)
        assert inner >= 19.9, sheet.number
        assert outer >= 11.9, sheet.number


@pytest.mark.parametrize(
    ("name", "voice", "form"),
    [
        ("pier-drum", Voice("de", "inch"), Form("Letter", "larger", grey=True)),
        ("ferry-square", Voice("fr", "both"), Form("A4", "larger")),
        ("ferry-square", Voice("es"), Form("A3", "large", grey=True)),
        ("pier-drum", Voice("fr", "inch"), Form("A3", "larger")),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_it_passes_its_proof_on_other_paper_in_other_languages_and_units(
    name: str, voice: Voice, form: Form
) -> None:
    """Each language and each unit once or more; print_document raises for a page that fails."""
    pages = pypdfium2.PdfDocument(printed(name, voice, form))
    found = examined(name)
    assert found.roster is not None
    text = " ".join(page.get_textpage().get_text_range() for page in pages)
    for guest in found.roster.guests:
        assert (guest.name or guest.work.size.covering.name) in text


@pytest.mark.parametrize("size", ["large", "larger"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("name", SAMPLES)
def test_the_room_is_drawn_as_wide_as_its_page_and_true_to_scale(
    name: str, paper: str, size: PrintSize
) -> None:
    form = next(Form(each, size) for each in ("A4", "A3", "Letter") if each == paper)
    found = examined(name)
    assert found.roster is not None
    room = room_of(found.roster, form)
    figure = room_plan(room, load_words(ENGLISH))
    # Margins of 20 mm and 12 mm; Letter has the columns of A4.
    assert figure.width <= (178.0 if paper == "Letter" else form.sheet.width - 32.0)
    group = re.search(r'data-part="table-1".*?<path d="([^"]+)"', figure.svg, re.S)
    assert group is not None
    points = [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", group[1])]
    stated = room.kinds[0]
    for side, real in ((0, stated[1].value), (1, stated[2].value)):
        span = max(p[side] for p in points) - min(p[side] for p in points)
        assert span == pytest.approx(real / room.scale.value, abs=0.05)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("size", ["large", "larger"])
@pytest.mark.parametrize("name", SAMPLES)
def test_on_the_plan_of_the_room_no_value_leaves_the_paper_or_lies_on_another(
    name: str, size: PrintSize, units: str
) -> None:
    found = examined(name)
    assert found.roster is not None
    unit = next(each for each in UNITS if each == units)
    for language in ("en", "de", "fr", "es"):
        figure = room_plan(room_of(found.roster, Form("A4", size)), load_words(Voice(language, unit)))
        boxes = [each.box for each in lettering(figure)]
        for k, one in enumerate(boxes):
            left, top, right, bottom = one.bounds
            assert left >= 0
            assert top >= 0
            assert right <= figure.width
            assert bottom <= figure.height
            assert not any(one.intersects(other) for other in boxes[k + 1 :])


def test_a_room_whose_places_would_touch_in_large_print_is_refused_so_that_smaller_print_is_tried(
    tmp_path: Path,
) -> None:
    old = "[{length: 180 cm, depth: 75 cm, count: 4}]"
    many = class_of(tmp_path, CLASS.replace(old, "[{length: 3 m, depth: 1 m, count: 12}]"))
    words = load_words(ENGLISH)
    for form in FORMS:
        with pytest.raises(FigureError, match="plan of the room"):
            room_plan(room_of(many, form), words)
    assert room_plan(room_of(many, Form()), words).width > 0
    assert room_plan(room_of(many, Form("A3", "large")), words).width > 0
