"""The cutting plan as printed: its numbers, its order, its pages, and when there is none."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import page as checker
import pypdfium2
import pytest

from generator.base.assets import data_folder
from generator.base.edition import ORDINARY
from generator.build import make_whole
from generator.cli.run import run
from generator.examine import examine
from generator.jobs import jobs_for
from generator.pipeline import gather, subject_of
from generator.plan.work import Work
from generator.press.checks.numbers import untraceable_numbers
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject, document_kind
from tests.sheets.subjects import Texts

PIER_DRUM = data_folder("recipes") / "pier-drum.yaml"
FERRY = (data_folder("recipes") / "ferry-square.yaml").read_text(encoding="utf-8")


@cache
def works() -> tuple[Work, ...]:
    return examine(PIER_DRUM).works


@cache
def subject() -> Subject:
    return subject_of(gather(works(), ORDINARY), "cut-plan")


@cache
def document() -> Document:
    return compose("cut-plan", subject())


@cache
def said() -> str:
    return Texts(document().html).text


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    ((path, _),) = make_whole(works(), ("cut-plan",), tmp_path_factory.mktemp("cut")).documents
    return path


def ferry(tmp_path: Path, kits: str) -> Path:
    path = tmp_path / "ferry-square.yaml"
    path.write_text(FERRY + kits, encoding="utf-8")
    return path


def test_it_says_what_to_have() -> None:
    # 12 × (840 × 230) and 12 × (1155 × 270) on 1400: 4470 proved shortest, a twentieth over, up to 100.
    assert "Cloth: Plain linen 4700 mm 1400 mm wide. Of it 4470 mm are cut up" in said()
    assert "Panel rolls 3 Each 10 000 mm long and 300 mm wide." in said()
    assert "Reels of tape 2 Each with 50 000 mm of tape." in said()
    assert "4470 mm of cloth give 24 pieces: 96.8% of it becomes pieces." in said()
    assert "No cuts from edge to edge need less." in said()


def test_cautions_stand_before_the_first_cut() -> None:
    html = document().html
    assert said().index("Open blades cut deeply.") < said().index("What to have")
    assert html.index("A rotary blade") < html.index('src="figure:cut-cloth-1"')


def test_every_cut_of_the_drawing_stands_in_the_table_once() -> None:
    plan = subject().cutting
    assert plan is not None
    cuts = [cut.number for cut in plan.cloths[0].plan.layout.cuts]
    table = document().html.split('class="part cuts"')[1].split("</section>")[0]
    rows = re.findall(r'<th scope="row">(\d+)(?: to (\d+))?</th>', table)
    listed = [n for first, last in rows for n in range(int(first), int(last or first) + 1)]
    assert listed == cuts == list(range(1, len(cuts) + 1))


def test_offcuts_make_a_size_that_is_not_packed() -> None:
    assert "4 × panel for 45" in said()


def test_every_number_on_its_pages_comes_from_a_measure_or_an_order() -> None:
    assert untraceable_numbers(said(), document().numbers) == []
    # The document owns up to no number that it has no source for.
    assert untraceable_numbers("4471 mm", document().numbers) == ["4471"]


def test_the_pages_pass_their_proof_and_the_machine_checker(printed: Path) -> None:
    report = checker.validate_pdf_bytes(printed.read_bytes(), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    pages = ["\n".join(p.get_textpage().get_text_range() for p in pypdfium2.PdfDocument(printed))]
    assert "Cutting plan" in pages[0]
    assert len(pypdfium2.PdfDocument(printed)) == 4


def test_a_class_on_one_way_cloth_is_told_that_nothing_is_turned(tmp_path: Path) -> None:
    path = ferry(tmp_path, "kits: {count: {26: 8}}\n")
    text = Texts(compose("cut-plan", subject_of(gather(examine(path).works, ORDINARY), "cut-plan")).html).text
    # Eight pieces of 1015 × 240 lie across, one after the other: 1920, as proved by CP-SAT.
    assert "1920 mm of cloth give 8 pieces" in text
    assert "The print has an up: every piece lies across, none is turned." in text


def test_it_looks_at_all_sizes_and_is_one_file_of_the_recipe(printed: Path) -> None:
    (job,) = jobs_for(works(), works(), ("cut-plan",)).jobs
    assert job.whole
    assert [work.size.name for work in job.works] == ["25", "35", "45"]
    assert printed.parent.name == "pier-drum"
    assert document_kind("cut-plan").only_if_asked


def test_a_recipe_without_kits_is_skipped_with_a_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = ferry(tmp_path, "")
    assert run(["make", str(path), "--document", "cut-plan", "--out", str(tmp_path / "out")]) == 0
    told = capsys.readouterr()
    assert "ferry-square: no cut-plan, since the recipe has no kits" in told.out + told.err
    assert not (tmp_path / "out").exists()


def test_a_panel_that_no_roll_holds_stops_the_plan_at_its_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stock = (data_folder("recipes") / "stock" / "kit.yaml").read_text(encoding="utf-8")
    (tmp_path / "narrow.yaml").write_text(stock.replace("width: 30 cm", "width: 12 cm"), encoding="utf-8")
    path = ferry(tmp_path, "kits: {count: {26: 8}, parts: ./narrow.yaml}\n")
    assert run(["make", str(path), "--document", "cut-plan", "--out", str(tmp_path / "out")]) == 2
    told = capsys.readouterr()
    message = told.out + told.err
    assert re.search(
        r"ferry-square\.yaml:\d+:\d+: a panel of 975 × 220 mm for 26", message.replace("\n", " ")
    )
    assert "Traceback" not in message
    assert not (tmp_path / "out").exists()
