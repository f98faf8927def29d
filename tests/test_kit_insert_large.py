"""The leaflet of a kit in large print: on whole sheets, nothing of it lost, read back from its file."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import page as checker
import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import ImageChops

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, LETTERS, PAPERS, Edition, Form, PrintSize, Voice, Wishes
from generator.build import make
from generator.examine import examine
from generator.jobs import jobs_for, printed_otherwise
from generator.pipeline import Drawn, illustrate, print_document, print_sheets, subject_of
from generator.plan.work import Work
from generator.press.geometry import MM_PER_POINT
from generator.press.layout import measure
from generator.press.reading import sheets
from generator.press.sheet import Sheet
from generator.sheets.compose import compose
from generator.sheets.document import kind_for
from tests.sheets.subjects import Texts

LARGE, LARGER = Form("A4", "large", grey=True, duplex=True, stated=True), Form("A4", "larger", stated=True)
FORMS = (LARGE, LARGER)
every_form = pytest.mark.parametrize("form", FORMS, ids=lambda form: form.print_size)
RECIPE = data_folder("recipes") / "pier-drum.yaml"
KIND = "kit-insert"
ROUNDING = 0.03
CAUTION = re.compile(r'<div class="caution">.*?<p>(.*?)</p></div>', re.DOTALL)


@cache
def work() -> Work:
    found = examine(RECIPE).work("25")
    assert found is not None
    return found


@cache
def folded(folder: Path) -> Work:
    """The same with a leaflet that is folded from one sheet."""
    path = folder / RECIPE.name
    text = RECIPE.read_text("utf-8")
    path.write_text(text.replace("\nkits:\n", "\nkits:\n  format: folded\n", 1), encoding="utf-8")
    found = examine(path).work("25")
    assert found is not None
    assert found.size.kits is not None
    assert found.size.kits.format == "folded"
    return found


@cache
def drawn(form: Form, voice: Voice = ENGLISH) -> Drawn:
    return illustrate(work(), Edition(voice, form))


@cache
def html(form: Form) -> str:
    return compose(KIND, subject_of(drawn(form), KIND)).html


@cache
def printed(form: Form, voice: Voice = ENGLISH) -> bytes:
    """Printed means that its proof has passed: sizes, overflow, margins, contrast, whole cards, cautions."""
    return print_document(KIND, drawn(form, voice)).pdf


@cache
def read(form: Form) -> tuple[Sheet, ...]:
    return tuple(sheets(printed(form)))


def text_of(sheet: Sheet) -> str:
    return " ".join(" ".join(run.text for run in sheet.runs).split())


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b]", "", text)


def test_whatever_the_small_leaflet_says_is_said_in_large_print() -> None:
    """Number for number, sentence for sentence: but heads of columns, and where the faults stand."""
    usual = Texts(html(Form()))
    for form in FORMS:
        large = Texts(html(form))
        assert {measure for measure, _ in usual.measured} <= {measure for measure, _ in large.measured}
        page = squeezed(large.text)
        heads = {"Part", "You see", "Mend it"}
        lost = {
            word for words in usual.words if (word := " ".join(words.split())) and squeezed(word) not in page
        }
        note = "Mend these before you go on; faults of the finished shade stand on the last page."
        assert lost == heads | {note}


@every_form
def test_the_faults_follow_what_says_that_they_follow(form: Form) -> None:
    page = Texts(html(form)).text
    note = page.index("faults of the finished shade follow.")
    assert note < page.index("Faults by what you see")
    assert "last page" not in page


@every_form
def test_every_caution_stands_before_the_picture_and_the_words_of_its_step_on_its_page(form: Form) -> None:
    source = html(form)
    cards = re.findall(r'<section class="card[^"]*" id="(step-[a-z-]+)".*?</section>', source, re.DOTALL)
    bodies = re.findall(r'<section class="card[^"]*" id="step-[a-z-]+".*?</section>', source, re.DOTALL)
    assert cards == [f"step-{step.id}" for step in work().plan.steps]
    for step, body in zip(work().plan.steps, bodies, strict=True):
        assert len(CAUTION.findall(body)) == len(step.task.cautions)
        marks = ("<h3>", 'class="caution"', 'class="picture"', 'class="do"', 'class="proof"')
        places = [body.find(mark) for mark in marks]
        assert (places[1] >= 0) is bool(step.task.cautions)
        there = [place for place in places if place >= 0]
        assert len(there) >= 4
        assert there == sorted(there)
    # Word for word those of the small leaflet: there each cell stands twice, to be measured.
    small = {squeezed(re.sub(r"<[^>]+>", "", each)) for each in CAUTION.findall(html(Form()))}
    assert {squeezed(re.sub(r"<[^>]+>", "", each)) for each in CAUTION.findall(source)} == small


@every_form
def test_each_step_has_its_picture_once_and_in_order(form: Form) -> None:
    shown = re.findall(r'<div class="picture"><img src="figure:([a-z-]+)"', html(form))
    assert shown == [step.task.figure for step in work().plan.steps]


@every_form
def test_what_is_read_at_work_has_the_height_that_was_asked_for(form: Form) -> None:
    """18 or 24 points; what is proved and listed 16 or 21, as on a step sheet; running lines 13.5 or 18."""
    asked = LETTERS[form.print_size]
    letters = [letter.thing for sheet in read(form) for run in sheet.runs for letter in run.letters]
    assert min(thing.size for thing in letters if not thing.furniture) >= 8 / 9 * asked - ROUNDING - 0.01
    assert min(thing.size for thing in letters) >= 0.75 * asked - ROUNDING
    told = [
        run for sheet in read(form) for run in sheet.runs if run.text.strip().startswith("Lay the panel flat")
    ]
    assert told
    assert all(run.letters[0].thing.size == pytest.approx(asked, abs=ROUNDING) for run in told)


@pytest.mark.parametrize("size", ["large", "larger"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
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


def margins(source: str, *, first: bool) -> tuple[float, float]:
    """Margins above and below a page, mm, as the last rules for it say."""
    above = below = 0.0
    for selector, body in re.findall(r"@page( :first)? \{((?:[^{}]|\{[^{}]*\})*)\}", source):
        if selector and not first:
            continue
        if every := re.search(r"margin: (\S+)mm \S+mm (\S+)mm", body):
            above, below = float(every[1]), float(every[2])
        if top := re.search(r"margin-top: (\S+)mm", body):
            above = float(top[1])
        if bottom := re.search(r"margin-bottom: (\S+)mm", body):
            below = float(bottom[1])
    return above, below


@every_form
def test_pages_are_whole_sheets(form: Form) -> None:
    sizes = {page.get_size() for page in pypdfium2.PdfDocument(printed(form))}
    assert len(sizes) == 1
    width, height = sizes.pop()
    assert width * MM_PER_POINT == pytest.approx(form.sheet.width, abs=0.1)
    assert height * MM_PER_POINT == pytest.approx(form.sheet.height, abs=0.1)


def test_at_eighteen_points_two_steps_stand_on_a_page() -> None:
    assert len(read(LARGE)) < len(work().plan.steps)


@every_form
def test_the_list_of_steps_names_the_page_of_each(form: Form) -> None:
    document = pypdfium2.PdfDocument(printed(form))
    heads = {}
    for each in document.get_toc():
        place = each.get_dest()
        if place is not None and (found := re.match(r"(\d+) \D", each.get_title())):
            heads[int(found[1])] = place.get_index() + 1
    assert sorted(heads) == [step.number for step in work().plan.steps]
    words = drawn(form).words
    whole = " ".join(text_of(sheet) for sheet in read(form))
    for step in work().plan.steps:
        title = words.say(f"{step.task.key}.title")
        assert f"{step.number} {title} page {heads[step.number]}" in whole


@every_form
def test_it_has_no_failure_in_the_machine_checker(form: Form) -> None:
    """page-validation 0.11.0, profile ``ua1``."""
    report = checker.validate_pdf_bytes(printed(form), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


@pytest.mark.parametrize(
    ("voice", "form"),
    [
        (Voice("de"), LARGER),
        (Voice("fr", "inch"), Form("Letter", "larger", stated=True)),
        (Voice("es", "both"), Form("A4", "large", stated=True)),
        (Voice("en", "inch"), Form("A3", "large", stated=True)),
        (Voice("de"), Form("A3", "larger", stated=True)),
    ],
    ids=lambda value: f"{getattr(value, 'language', getattr(value, 'paper', ''))}",
)
def test_it_is_printed_in_every_language_on_every_paper_in_millimetres_and_inches(
    voice: Voice, form: Form
) -> None:
    """page-validation 0.11.0, profile ``ua1``, of a file that has passed its own proof."""
    report = checker.validate_pdf_bytes(printed(form, voice), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    with pikepdf.open(io.BytesIO(printed(form, voice))) as file:
        assert str(file.Root.Lang) == voice.language
    titles = [each.get_title() for each in pypdfium2.PdfDocument(printed(form, voice)).get_toc()]
    numbers = [int(found[1]) for title in titles if (found := re.match(r"(\d+) \D", title))]
    assert numbers == [step.number for step in work().plan.steps]


def test_in_grey_no_page_has_a_colour() -> None:
    for page in pypdfium2.PdfDocument(printed(LARGE)):
        red, green, blue = page.render(scale=0.5).to_pil().convert("RGB").split()
        assert ImageChops.difference(red, green).getextrema() == (0, 0)
        assert ImageChops.difference(green, blue).getextrema() == (0, 0)


@every_form
def test_the_last_page_has_contact_lot_issue_edition_and_a_code_that_reads(form: Form) -> None:
    last = text_of(read(form)[-1])
    size = work().size
    assert size.kits is not None
    assert size.maker is not None
    for said in (size.maker.name, f"Lot {size.kits.lot}", "Issue 1.", "edition"):
        assert said in last
    document = pypdfium2.PdfDocument(printed(form))
    image = document[len(document) - 1].render(scale=200 / 72).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(image)] == [size.kits.link]


def test_there_is_nothing_to_fold_in_large_print_and_so_no_file_for_a_printer(tmp_path: Path) -> None:
    assert kind_for(KIND, work().size, LARGE).print_file is None
    assert kind_for(KIND, work().size).print_file == "kits"
    made = make(folded(tmp_path), (KIND,), tmp_path, Wishes(print_size="large"))
    (path,) = [path for path, _ in made.documents]
    assert path.name == "kit-insert.en.large.pdf"
    with pikepdf.open(path) as file:
        assert [round(float(side) * MM_PER_POINT) for side in file.pages[0].mediabox[2:]] == [210, 297]


def test_a_folded_leaflet_says_in_one_line_that_its_large_print_is_flat(tmp_path: Path) -> None:
    found = folded(tmp_path)
    assert kind_for(KIND, found.size).template == "documents/folded/kit-insert.html"
    assert kind_for(KIND, found.size, LARGE).template == "documents/kit-insert.html"
    jobs = jobs_for((found,), (found,), [KIND]).jobs
    said = "pier-drum: kit-insert: laid out to be folded in normal print"
    assert printed_otherwise(jobs, Wishes(print_size="large")) == (
        f"{said}; printed flat on A4 in large print",
    )
    assert printed_otherwise(jobs, Wishes(paper="A5", print_size="larger")) == (
        f"{said} and for A4, A3 and Letter in large print; printed flat on A4 in larger print",
    )
    assert printed_otherwise(jobs) == ()
    booklet = jobs_for((work(),), (work(),), [KIND]).jobs
    assert printed_otherwise(booklet, Wishes(print_size="larger")) == ()


def test_the_small_leaflet_still_has_its_file_for_a_printer() -> None:
    drum = illustrate(work(), Edition())
    pressed = print_document(KIND, drum)
    assert print_sheets(KIND, work(), pressed) is not None
    assert print_sheets(KIND, work(), pressed, LARGE) is None
