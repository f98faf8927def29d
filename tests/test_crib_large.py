"""The crib sheet in large print: pages in one column, nothing of the one side lost, read from its file."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise

import page as checker
import pikepdf
import pypdfium2
import pytest
from PIL import ImageChops

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, LETTERS, PAPERS, Edition, Form, PrintSize, Voice
from generator.base.errors import NoRoomError
from generator.examine import examine
from generator.fitting import print_fitting
from generator.pipeline import Drawn, print_document, sketch, subject_of
from generator.plan.work import Work
from generator.press.geometry import MM_PER_POINT
from generator.press.layout import measure
from generator.press.reading import sheets
from generator.press.sheet import Sheet
from generator.sheets.cards import chains_of
from generator.sheets.compose import compose
from generator.sheets.crib_pages import cell_id
from generator.sheets.packing import Part
from tests.sheets.subjects import Texts
from tests.test_kit_insert_large import margins, squeezed

KIND = "crib-sheet"
LARGE, LARGER = Form("A4", "large", grey=True, duplex=True, stated=True), Form("A4", "larger", stated=True)
FORMS = (LARGE, LARGER)
every_form = pytest.mark.parametrize("form", FORMS, ids=lambda form: form.print_size)
ROUNDING = 0.03
CELL = re.compile(r'<section class="cell[^"]*" id="([a-z-]+)".*?</section>', re.DOTALL)


@cache
def work(recipe: str = "pier-drum", size: str = "35") -> Work:
    found = examine(data_folder("recipes") / f"{recipe}.yaml").work(size)
    assert found is not None
    return found


@cache
def drawn(form: Form, voice: Voice = ENGLISH) -> Drawn:
    return sketch(work(), Edition(voice, form))


@cache
def html(form: Form) -> str:
    return compose(KIND, subject_of(drawn(form), KIND)).html


@cache
def printed(form: Form, voice: Voice = ENGLISH) -> bytes:
    """Printed means that its proof has passed: sizes, overflow, margins, contrast, whole cells, cautions."""
    return print_document(KIND, drawn(form, voice)).pdf


@cache
def read(form: Form) -> tuple[Sheet, ...]:
    return tuple(sheets(printed(form)))


def text_of(sheet: Sheet) -> str:
    return " ".join(" ".join(run.text for run in sheet.runs).split())


def page_of(words: str, form: Form) -> int:
    (found,) = [number for number, sheet in enumerate(read(form), 1) if words in text_of(sheet)]
    return found


def test_whatever_the_one_side_says_is_said_in_large_print() -> None:
    """Number for number, sentence for sentence; but the edition, which stands at the foot of every page."""
    usual = Texts(html(Form()))
    for form in FORMS:
        large = Texts(html(form))
        assert {measure for measure, _ in usual.measured} <= {measure for measure, _ in large.measured}
        page = squeezed(large.text)
        words = {" ".join(each.split()) for each in usual.words}
        lost = {each for each in words if each and squeezed(each) not in page}
        (edition,) = lost
        assert all(edition in text_of(sheet) for sheet in read(form))


@every_form
def test_every_step_is_ticked_off_once_and_in_order(form: Form) -> None:
    found = re.findall(r'<li class="boxed[^"]*"><span class="number[^"]*">(?:<img[^>]*>)?(\d+)<', html(form))
    gate = next(step.number for step in work().plan.steps if step.task.gate)
    assert [int(number) for number in found] == [
        step.number for step in work().plan.steps if step.number != gate
    ]
    before, after = (html(form).index(f">{number}</span>") for number in (gate - 1, gate + 1))
    assert before < html(form).index(f">{gate} Stop<") < after


@every_form
def test_each_caution_of_a_step_stands_before_it_and_its_picture_in_its_cell(form: Form) -> None:
    cautioned = {step.number: len(step.task.cautions) for step in work().plan.steps if step.task.cautions}
    told: dict[int, int] = dict.fromkeys(cautioned, 0)
    for cell in CELL.finditer(html(form)):
        body = cell[0]
        marks = ('class="caution"', 'class="picture"', 'class="do"', 'class="sure"')
        places = [place for mark in marks if (place := body.find(mark)) >= 0]
        assert len(places) >= 3
        assert places == sorted(places)
        assert body.rfind('class="caution"') < body.index('class="picture"')
        for numbers in re.findall(r'class="caution">.*?<b class="m">([\d–, ]+)</b>', body, re.DOTALL):
            for part in numbers.split(","):
                first, _, last = part.strip().partition("–")
                for number in range(int(first), int(last or first) + 1):
                    assert re.search(rf">{number}</span>", body)
                    told[number] += 1
    assert told == cautioned


@every_form
def test_no_page_begins_with_what_a_caution_on_the_page_before_is_for(form: Form) -> None:
    """The page of each step that can hurt has its caution, read from the finished file."""
    told = {4: "Pins prick", 11: "A rotary blade cuts deeply", 24: "Tucking strains thumbs"}
    lines = {4: "Place motif, pin it", 11: "Trim all four sides", 24: "Tuck the plain end"}
    for number, caution in told.items():
        page = text_of(read(form)[page_of(lines[number], form) - 1])
        assert page.index(caution) < page.index(lines[number])


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_at_eighteen_points_the_stop_stands_on_one_page_with_the_steps_that_cannot_wait(paper: str) -> None:
    form = Form(PAPERS[paper].name, "large", stated=True)
    pages = [text_of(sheet) for sheet in sheets(printed(form))]
    (stop,) = [number for number, page in enumerate(pages) if "18 Stop" in page]
    for line in ("Marks on start edge", "Roll, pause at ticks", "overlap"):
        assert line in pages[stop]


def test_at_twenty_four_points_nobody_turns_between_the_steps_that_cannot_wait() -> None:
    """The stop has a page of its own; what it begins stands on the next one."""
    roll = {page_of(line, LARGER) for line in ("Marks on start edge", "Roll, pause at ticks")}
    assert roll == {page_of("18 Stop", LARGER) + 1}


@every_form
def test_what_is_read_at_work_has_the_height_that_was_asked_for(form: Form) -> None:
    asked = LETTERS[form.print_size]
    letters = [letter.thing for sheet in read(form) for run in sheet.runs for letter in run.letters]
    inside = [thing.size for thing in letters if not thing.furniture]
    # The maker's name, and the lettering of pictures, 10.8 points by one and a half or twice.
    assert min(inside) >= 8 / 9 * asked - ROUNDING - 0.01
    assert min(thing.size for thing in letters) >= 0.75 * asked - ROUNDING
    for said in ("Press, square, cool", "Both diagonals", "A hot iron burns", "Have ready", "Cut too short"):
        told = [run for sheet in read(form) for run in sheet.runs if said in run.text]
        assert told
        assert all(run.letters[0].thing.size >= asked - ROUNDING for run in told)


@pytest.mark.parametrize(
    ("paper", "size"),
    [("A4", "large"), ("Letter", "large"), ("A4", "larger"), ("Letter", "larger"), ("A3", "larger")],
)
def test_blocks_of_the_one_column_lie_on_one_another_and_none_is_higher_than_a_page(
    paper: str, size: PrintSize
) -> None:
    form = Form(PAPERS[paper].name, size, stated=True)
    subject = subject_of(drawn(form), KIND)
    assert subject.form == form
    document = compose(KIND, subject)
    ids = {block.id for block in document.blocks}
    placed = [part for part in measure(document.html, subject.drawings).placed if part.id in ids]
    assert [part.id for part in placed] == [
        block.id for block in document.blocks if block.id in {part.id for part in placed}
    ]
    for before, after in pairwise(placed):
        assert after.top == pytest.approx(before.bottom, abs=0.05), after.id
    assert max(part.height for part in placed) <= document.rooms.other
    for first, room in ((True, document.rooms.first), (False, document.rooms.other)):
        above, below = margins(document.html, first=first)
        assert -0.01 <= form.sheet.height - above - below - room <= 1.1
        assert min(above, below) >= 10.0


def test_steps_that_no_page_holds_are_refused_in_words() -> None:
    document = compose(KIND, subject_of(drawn(LARGER), KIND))
    seen = drawn(LARGER).glance
    assert seen is not None
    # Alone on a first page of 266 mm.
    high = Part(cell_id(seen.before[0].cells[0]), 300.0)
    with pytest.raises(NoRoomError, match=r"steps in the crib-sheet of Pier drum 35 are 34 mm higher"):
        document.arrange([high])


@every_form
def test_pages_are_whole_sheets(form: Form) -> None:
    sizes = {page.get_size() for page in pypdfium2.PdfDocument(printed(form))}
    assert len(sizes) == 1
    width, height = sizes.pop()
    assert width * MM_PER_POINT == pytest.approx(form.sheet.width, abs=0.1)
    assert height * MM_PER_POINT == pytest.approx(form.sheet.height, abs=0.1)


@every_form
def test_it_has_no_failure_in_the_machine_checker(form: Form) -> None:
    """page-validation 0.11.0, profile ``ua1``."""
    report = checker.validate_pdf_bytes(printed(form), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_in_grey_no_page_has_a_colour() -> None:
    for page in pypdfium2.PdfDocument(printed(LARGE)):
        red, green, blue = page.render(scale=0.5).to_pil().convert("RGB").split()
        assert ImageChops.difference(red, green).getextrema() == (0, 0)
        assert ImageChops.difference(green, blue).getextrema() == (0, 0)


@pytest.mark.parametrize(
    ("voice", "form", "size"),
    [
        (Voice("de"), LARGER, ("slipway-45", "45")),
        (Voice("fr", "inch"), Form("Letter", "larger", stated=True), ("pier-drum", "35")),
        (Voice("es", "both"), Form("A3", "larger", stated=True), ("pier-drum", "35")),
        (Voice("de", "inch"), Form("Letter", "large", stated=True), ("fog-cone", "35")),
    ],
    ids=lambda value: getattr(value, "language", getattr(value, "paper", "")),
)
def test_it_is_printed_in_every_language_on_every_paper_in_millimetres_and_inches(
    voice: Voice, form: Form, size: tuple[str, str]
) -> None:
    """page-validation 0.11.0, profile ``ua1``, of a file that has passed its own proof."""
    found = work(*size)
    fitted = print_fitting(KIND, sketch(found, Edition(voice, form)))
    assert (fitted.form, fitted.note) == (form, "")
    report = checker.validate_pdf_bytes(fitted.pressed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    with pikepdf.open(io.BytesIO(fitted.pressed.pdf)) as file:
        assert str(file.Root.Lang) == voice.language
    text = " ".join(text_of(sheet) for sheet in sheets(fitted.pressed.pdf))
    assert {str(step.number) for step in found.plan.steps} <= set(re.findall(r"\d+", text))


def test_a_chain_of_steps_is_one_for_the_cells_that_hold_them() -> None:
    """Pier drum: 7 to 9 without a pause, in the two cells of 6 to 10; the stop and all that it begins."""
    chains = chains_of(work().plan)
    blocks = {block.id: block for block in compose(KIND, subject_of(drawn(LARGE), KIND)).blocks}
    seen = drawn(LARGE).glance
    assert seen is not None
    for box in seen.boxes:
        for cell in box.cells:
            inside = {chains[step.number] for step in cell.steps if step.number in chains}
            assert inside == ({blocks[cell_id(cell)].chain} - {""})
    assert blocks["stop"].gate
    assert blocks["stop"].chain == chains[18]
