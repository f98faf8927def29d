"""The leaflet in a kit's box, read back from its printed pages and from the print sheets."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import page as checker
import pikepdf
import pypdfium2
import pytest
import zxingcpp

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, Edition, Form
from generator.base.errors import NoRoomError, RecipeError
from generator.build import make
from generator.examine import examine
from generator.fitting import print_fitting
from generator.pipeline import illustrate, print_document
from generator.plan.work import Work
from generator.press.checks.numbers import numbers_in
from generator.press.reading import sheets
from generator.sheets.cards import chains_of
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.document import Document, Subject, document_kind, kind_for
from generator.sheets.kinds import kit_insert
from generator.sheets.wording import load_words
from tests.sheets.subjects import Texts, subject_of

RECIPES = data_folder("recipes")
KITS = '\nkits:\n  count: {{{size}: 5}}\n  lot: LT-07\n  link: "https://example.org/kit"\n  format: {form}\n'
SAMPLES = sorted(path.stem for path in RECIPES.glob("*.yaml"))
MM = 25.4 / 72
SIZES = {"booklet": (148, 210), "folded": (105, 148)}
"""A5 and A6 (ISO 216, from memory), mm."""


@cache
def packed(name: str, form: str, folder: Path) -> Work:
    """The first size of a sample, with kits of it."""
    text = re.sub(
        r"^kits:\n(?:[ #].*\n|\n)*", "", (RECIPES / f"{name}.yaml").read_text("utf-8"), flags=re.MULTILINE
    )
    path = folder / f"{name}.yaml"
    size = examine(RECIPES / f"{name}.yaml").works[0].size.name
    path.write_text(text + KITS.format(size=size, form=form), encoding="utf-8")
    return examine(path).works[0]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("recipes")


@dataclass(frozen=True)
class Leaflet:
    """Both files of one leaflet."""

    work: Work
    reading: bytes
    printing: bytes

    @property
    def pages(self) -> list[str]:
        """The words of each page, in the order in which they are painted."""
        return [" ".join(" ".join(run.text for run in sheet.runs).split()) for sheet in sheets(self.reading)]


@pytest.fixture(scope="module", params=["booklet", "folded"])
def leaflet(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Leaflet:
    out = tmp_path_factory.mktemp(request.param)
    work = packed("pier-drum", request.param, out)
    made = make(work, ("kit-insert",), out)
    paths = [path for path, _ in made.documents]
    assert [path.name for path in paths] == ["kit-insert.en.pdf", "kit-insert.en.print.pdf"]
    return Leaflet(work, *(path.read_bytes() for path in paths))


def form(leaflet: Leaflet) -> str:
    assert leaflet.work.size.kits is not None
    return leaflet.work.size.kits.format


def test_it_has_eight_pages_of_its_size(leaflet: Leaflet) -> None:
    with pikepdf.open(io.BytesIO(leaflet.reading)) as file:
        sizes = {tuple(round(float(side) * MM) for side in page.mediabox[2:]) for page in file.pages}
        assert len(file.pages) == 8
    assert sizes == {SIZES[form(leaflet)]}


def test_it_has_no_failure_in_the_machine_checker(leaflet: Leaflet) -> None:
    report = checker.validate_pdf_bytes(leaflet.reading, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    assert report.is_compliant


def test_steps_run_without_a_gap_and_each_has_its_check_and_its_picture_or_its_neighbours(
    leaflet: Leaflet,
) -> None:
    said = " ".join(leaflet.pages)
    words = load_words(ENGLISH).bound(leaflet.work.plan, leaflet.work.measures)
    place = 0
    for step in leaflet.work.plan.steps:
        title = f"{step.number} {words.say(f'{step.task.key}.title')}"
        place = said.index(title, place)
        assert words.say(f"{step.task.key}.check").split(".")[0][:30] in said[place:]
    with pikepdf.open(io.BytesIO(leaflet.reading)) as file:
        figures = [
            str(item.get("/Alt", ""))
            for item in file.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Figure"
        ]
    pictured = [step for step in leaflet.work.plan.steps if words.say(f"alt.{step.task.figure}") in figures]
    assert len(pictured) == len(leaflet.work.plan.steps) or form(leaflet) == "folded"
    assert len(pictured) >= 18


def test_each_caution_stands_before_the_instructions_of_its_step_on_the_same_page(leaflet: Leaflet) -> None:
    words = load_words(ENGLISH).bound(leaflet.work.plan, leaflet.work.measures)
    pages = leaflet.pages
    for step in leaflet.work.plan.steps:
        title = f"{step.number} {words.say(f'{step.task.key}.title')}"
        (page,) = [page for page in pages if title in page]
        after = page[page.index(title) :]
        for name in step.task.cautions:
            hazard = after.index(words.say(f"caution.{name}.hazard"))
            avoid = after.index(words.say(f"caution.{name}.avoid").split()[0], hazard)
            first = "".join(part.text for part in words.brief(step.task.key)[0]).split()[0]
            assert hazard < avoid < after.index(f" {first} ", avoid), step.id


def test_no_leaf_is_turned_in_what_the_gate_begins(leaflet: Leaflet) -> None:
    """On one sheet all panels are seen together; in a booklet a left page and the next are."""
    words = load_words(ENGLISH).bound(leaflet.work.plan, leaflet.work.measures)
    plan = leaflet.work.plan
    gate = next(step for step in plan.steps if step.task.gate)
    chains = chains_of(plan)
    chain = [step for step in plan.steps if chains.get(step.number) == chains[gate.number]]
    assert len(chain) == 4
    titles = [f"{step.number} {words.say(f'{step.task.key}.title')}" for step in chain]
    on = sorted({number for number, page in enumerate(leaflet.pages, 1) for title in titles if title in page})
    spread = (
        {number // 2 for number in on} if form(leaflet) == "booklet" else {3 <= number <= 6 for number in on}
    )
    assert len(spread) == 1
    assert all(spread)


def test_every_number_comes_from_the_shade_the_kit_or_the_plan(leaflet: Leaflet) -> None:
    work = leaflet.work
    known = {f"{value:g}" for measure in work.with_kit.measures.values() for value in measure.values}
    known |= {f"{measure.tolerance:g}" for measure in work.measures.values() if measure.tolerance}
    known |= {str(step.number) for step in work.plan.steps}
    # Pages; the lot; minutes of stages and of the whole: what is on the sheet too.
    known |= (
        {"8"}
        | numbers_in("LT-07 25")
        | {str(sum(s.whole[k] for s in stage.steps)) for stage in work.plan.stages for k in (0, 1)}
    )
    known |= numbers_in(duration(work))
    lines = [run.text for sheet in sheets(leaflet.reading) for run in sheet.runs if "edition" not in run.text]
    assert numbers_in(" ".join(lines)) - known == set()


def duration(work: Work) -> str:
    both = [sum(step.whole[k] for step in work.plan.steps) for k in (0, 1)]
    return " ".join(f"{minutes // 60} {minutes % 60:02d} {minutes}" for minutes in both)


def test_the_code_on_the_back_reads(leaflet: Leaflet) -> None:
    image = pypdfium2.PdfDocument(leaflet.reading)[7].render(scale=300 / 72).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(image)] == ["https://example.org/kit"]


def test_print_sheets_hold_the_same_pages_cover_and_back_side_by_side(leaflet: Leaflet) -> None:
    front = next(sheets(leaflet.printing))
    middle = (front.box.left + front.box.right) / 2
    # In the booklet the cover is on the right of the first side; on the folded sheet at its lower right.
    (title,) = [run for run in front.runs if run.text.strip() == "Pier drum 25"]
    (lot,) = [run for run in front.runs if run.text.strip().startswith("Lot LT-07")]
    assert title.box.left > middle > lot.box.left
    assert title.letters[0].along[0] > 0.99
    assert lot.letters[0].along[0] > 0.99
    words = sorted("".join(run.text.split()) for sheet in sheets(leaflet.printing) for run in sheet.runs)
    assert words == sorted(
        "".join(run.text.split()) for sheet in sheets(leaflet.reading) for run in sheet.runs
    )


def loose(work: Work) -> tuple[Subject, Document]:
    """The leaflet of a work as it is composed to be measured, with grey boxes for figures."""
    subject = subject_of(work.with_kit, 34.0)
    subject = replace(subject, kit=work.kit)
    return subject, compose("kit-insert", subject)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_box_holds_what_the_kit_says_and_the_rest_is_what_one_also_needs(name: str, folder: Path) -> None:
    work = packed(name, "booklet", folder)
    assert work.kit is not None
    subject, _ = loose(work)
    view = kit_insert.views(subject, wording(subject))["insert"]
    assert len(view["box"]) == len(work.kit.supplied)
    assert len(view["needed"]) == len(work.kit.needed) + len(work.kit.needed_tools)
    used = {*work.plan.tools, *work.plan.consumables}
    assert {part.name for part in work.kit.supplied} | {*work.kit.needed, *work.kit.needed_tools} == used
    for row, part in zip(view["box"], work.kit.supplied, strict=True):
        assert [segment.measure for segment in row.count] == [part.count.id]
        assert "".join(segment.text for segment in row.name) != ""


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b]", "", text)


@pytest.mark.parametrize("name", SAMPLES)
def test_each_mistake_is_told_once_in_time_or_among_the_faults(name: str, folder: Path) -> None:
    work = packed(name, "booklet", folder)
    _, document = loose(work)
    page = squeezed(Texts(document.html).text)
    words = load_words(ENGLISH).bound(work.plan, work.measures)
    for mishap in work.plan.mishaps:
        key = mishap.word("mistake" if mishap.until == "before" else "see")
        assert squeezed(words.say(key)) in page, key


def blocks(page: str) -> Iterator[str]:
    yield from re.findall(
        r'<section class="cell narrow[^"]*" id="narrow-step-[a-z-]+".*?</section>', page, re.DOTALL
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_in_every_cell_the_caution_comes_first_then_the_picture_then_what_to_do(
    name: str, folder: Path
) -> None:
    work = packed(name, "booklet", folder)
    _, document = loose(work)
    cells = list(blocks(document.html))
    assert len(cells) == len(work.plan.steps)
    for step, cell in zip(work.plan.steps, cells, strict=True):
        parts = [
            cell.find(mark)
            for mark in ('class="head"', 'class="caution"', 'class="picture"', 'class="do"', 'class="check"')
        ]
        assert (parts[1] >= 0) is bool(step.task.cautions)
        there = [part for part in parts if part >= 0]
        assert there == sorted(there)
        assert cell.count('class="caution"') == len(step.task.cautions)


def test_kits_say_which_template_is_used(folder: Path) -> None:
    folded = packed("pier-drum", "folded", folder)
    kind = kind_for("kit-insert", folded.size)
    assert kind.template == "documents/folded/kit-insert.html"
    assert kind.print_file == "kits"
    assert document_kind("kit-insert").template == "documents/kit-insert.html"


@dataclass(frozen=True)
class Part:
    """A block as the press measures it."""

    id: str
    height: float


def test_a_folded_leaflet_that_has_no_room_on_letter_is_printed_on_a4_and_says_why(tmp_path: Path) -> None:
    """A quarter of Letter is 8 mm lower than one of A4: 279.4 / 2 against 297 / 2 (ANSI Y14.1, ISO 216)."""
    work = packed("pier-drum", "folded", tmp_path)
    drawn = illustrate(work, Edition(ENGLISH, Form("Letter", stated=True)))
    with pytest.raises(NoRoomError):
        print_document("kit-insert", drawn)
    fitted = print_fitting("kit-insert", drawn)
    assert fitted.form.paper == "A4"
    assert fitted.note.startswith("the leaflet of size 25 does not fit on one folded sheet")
    assert fitted.note.endswith("printed on A4")
    assert ".yaml" not in fitted.note


def test_a_shade_whose_leaflet_does_not_fit_on_one_sheet_is_refused_where_the_recipe_asks_for_it(
    tmp_path: Path,
) -> None:
    work = packed("pier-drum", "folded", tmp_path)
    subject, document = loose(work)
    parts = [Part(name, 20.0) for name in Texts(document.html).ids()]
    high = [replace(part, height=70.0) if part.id.startswith("narrow-") else part for part in parts]
    with pytest.raises(RecipeError) as refused:
        document.arrange(high)
    (fault,) = refused.value.faults
    line = (tmp_path / "pier-drum.yaml").read_text("utf-8").splitlines()[fault.span.line - 1]
    assert line.strip() == "format: folded"
    assert "no room for all steps" in fault.wrong
    assert "booklet" in fault.fix
    assert subject.size.kits is not None
