"""What a kit assembler prints: labels with a code that reads, pick sheets, and a line for what is skipped."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import page as checker
import pikepdf
import pypdfium2
import pytest
import segno
import zxingcpp

from generator.base.assets import data_folder
from generator.build import make, make_whole
from generator.cli.run import run
from generator.examine import examine
from generator.jobs import jobs_for
from generator.plan.work import Work
from generator.press.checks.numbers import numbers_in

RECIPES = data_folder("recipes")
LINK = "https://gannetry-steps.example.org/pier-drum"
DPI = 300
MM = 25.4 / DPI
LEAST_MODULE = 0.4


@cache
def works(name: str = "pier-drum") -> tuple[Work, ...]:
    return examine(RECIPES / f"{name}.yaml").works


@pytest.fixture(scope="module")
def label(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("label")
    made = make(works()[1], ("box-label",), out)
    assert made.steps == 0
    return out / "pier-drum" / "35"


@pytest.fixture(scope="module")
def pick_sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("pick")
    packed = [work for work in works() if work.size.boxes]
    ((path, _),) = make_whole(packed, ("pick-sheet",), out).documents
    return path


def codes(path: Path, page: int = 0) -> list[zxingcpp.Barcode]:
    """Square codes on a page as it is printed at 300 dots an inch."""
    document = pypdfium2.PdfDocument(path)
    return zxingcpp.read_barcodes(document[page].render(scale=DPI / 72).to_pil())


def text(path: Path) -> str:
    document = pypdfium2.PdfDocument(path)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


def test_a_reader_opens_the_code_on_the_label_and_on_every_printed_sheet(label: Path) -> None:
    assert [code.text for code in codes(label / "box-label.en.pdf")] == [LINK]
    sheets = pypdfium2.PdfDocument(label / "box-label.en.print.pdf")
    # Two labels a sheet, twelve boxes.
    found = [
        code.text for page in range(len(sheets)) for code in codes(label / "box-label.en.print.pdf", page)
    ]
    assert found == [LINK] * 12


def test_squares_of_the_code_are_wide_enough_and_its_border_is_white(label: Path) -> None:
    (code,) = codes(label / "box-label.en.pdf")
    corner, right = code.position.top_left, code.position.top_right
    side = math.hypot(right.x - corner.x, right.y - corner.y) * MM
    modules = segno.make(LINK, error="m", micro=False).symbol_size(border=0)[0]
    module = side / modules
    assert module >= LEAST_MODULE
    image = pypdfium2.PdfDocument(label / "box-label.en.pdf")[0].render(scale=DPI / 72).to_pil().convert("L")
    # ISO/IEC 18004, from memory: four squares of white all round.
    quiet = round(4 * module / MM) - 2
    left, top, end = corner.x, corner.y, corner.x + side / MM
    for box in (
        (left - quiet, top - quiet, end + quiet, top - 3),
        (left - quiet, top - quiet, left - 3, top + side / MM + quiet),
        (end + 3, top - quiet, end + quiet, top + side / MM + quiet),
        (left - quiet, top + side / MM + 3, end + quiet, top + side / MM + quiet),
    ):
        low, _ = image.crop(tuple(round(at) for at in box)).getextrema()
        assert low == 255


@pytest.mark.parametrize("length", [40, 150, 300])
def test_a_long_address_gets_a_larger_code_that_still_reads(tmp_path: Path, length: int) -> None:
    link = ("https://example.org/" + "drum-" * 60)[:length]
    recipe = (RECIPES / "pier-drum.yaml").read_text(encoding="utf-8").replace(LINK, link)
    path = tmp_path / "pier-drum.yaml"
    path.write_text(recipe, encoding="utf-8")
    make(examine(path).works[0], ("box-label",), tmp_path / "out")
    assert [code.text for code in codes(tmp_path / "out" / "pier-drum" / "25" / "box-label.en.pdf")] == [link]


def test_the_label_says_what_is_inside_and_what_it_needs(label: Path) -> None:
    said = " ".join(text(label / "box-label.en.pdf").split())
    for words in (
        "Gannetry Steps Workroom", "Pier drum", "35", "Kit for a pendant shade, round, Ø 350 × 220 mm",
        "this way up", "8 pieces, 1 to spare; no cloth", "115.5 × 27 cm, 45⅜ × 10¾ in",
        "top, 3 struts, opening Ø 29 mm", "LED, 6 W, Ø 60 mm", "2 h first time", "Lot PD-03", "Packed",
        "Checked", "Heat can start a fire.", "The kit does not certify a lamp or a shade.",
    ):  # fmt: skip
        assert words in said
    with pikepdf.open(label / "box-label.en.pdf") as file:
        left, bottom, right, top = (float(side) for side in file.pages[0].mediabox)
        # A6 (ISO 216, from memory: 105 × 148 mm) lying, and a strip below it.
        assert (right - left) * 25.4 / 72 == pytest.approx(148, abs=0.1)
        assert (top - bottom) * 25.4 / 72 > 105


def test_every_number_of_the_label_comes_from_the_kit_or_the_recipe(label: Path) -> None:
    work = works()[1]
    known = {f"{value:g}" for measure in work.with_kit.measures.values() for value in measure.values}
    # Names: size, lot, edition line; two hours are 120 minutes. From what is exact, up to an eighth:
    # 350π + 2π(0.15 + 0.175) + 10 + 2 · 20 = 1151.6 mm = 45.34 in; 270 mm = 10.63 in.
    known |= numbers_in(f"{work.size.name} PD-03 45⅜ 10¾ 2")
    lines = [line for line in text(label / "box-label.en.pdf").splitlines() if "pier-drum 35 ·" not in line]
    assert numbers_in("\n".join(lines)) <= known
    assert round(sum(step.minutes.first_time for step in work.plan.steps)) == 120


def test_documents_of_kits_have_no_failure_in_the_machine_checker(label: Path, pick_sheet: Path) -> None:
    for path in (label / "box-label.en.pdf", pick_sheet):
        report = checker.validate_pdf_bytes(path.read_bytes(), profile="ua1")
        assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_the_pick_sheet_has_a_page_a_size_and_one_for_all(pick_sheet: Path) -> None:
    document = pypdfium2.PdfDocument(pick_sheet)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    assert len(pages) == 3
    assert "Size 25: 12 boxes" in pages[0]
    assert "Size 35: 12 boxes" in pages[1]
    assert "All sizes: 24 boxes" in pages[2]
    assert "45" not in re.findall(r"Size (\d+)", " ".join(pages))
    # 12 × 2420 mm = 29.04 m, up to a tenth.
    assert "Ring tape, 9 mm wide, 2420 mm C1 1 12 29.1 m 7 g" in pages[1]
    assert "Seam tape, 9 mm wide, 216 mm C2 1 + 1 24" in pages[1]
    assert "A packed box weighs about 592 g, without Box label" in pages[1]
    assert "Seam tape C2 24 24 48" in pages[2]


def test_the_pick_sheet_is_a5_and_a_longer_list_goes_on_a4(tmp_path: Path, pick_sheet: Path) -> None:
    def size(path: Path) -> tuple[int, int]:
        with pikepdf.open(path) as file:
            left, bottom, right, top = (float(side) for side in file.pages[0].mediabox)
        return round((right - left) * 25.4 / 72), round((top - bottom) * 25.4 / 72)

    assert size(pick_sheet) == (210, 148)
    listed = (RECIPES / "stock" / "kit.yaml").read_text(encoding="utf-8")
    more = "parts:\n  - {part: pins}\n  - {part: snips}\n"
    (tmp_path / "mine.yaml").write_text(listed.replace("parts:\n", more, 1), encoding="utf-8")
    recipe = (RECIPES / "pier-drum.yaml").read_text(encoding="utf-8")
    path = tmp_path / "pier-drum.yaml"
    path.write_text(recipe.replace("  lot: PD-03", "  lot: PD-03\n  parts: ./mine.yaml"), encoding="utf-8")
    packed = examine(path).works[:2]
    ((longer, pages),) = make_whole(packed, ("pick-sheet",), tmp_path / "out").documents
    assert size(longer) == (210, 297)
    assert pages == 3


def test_documents_of_kits_are_made_where_boxes_are_counted_and_others_told() -> None:
    found = jobs_for(works(), works(), ("box-label", "pick-sheet"))
    assert [(job.name, job.kinds, len(job.works)) for job in found.jobs] == [
        ("pier-drum, size 25", ("box-label",), 1),
        ("pier-drum, size 35", ("box-label",), 1),
        ("pier-drum, all sizes", ("pick-sheet",), 2),
    ]
    assert found.skipped == ("pier-drum, size 45: no box-label, since the recipe counts no kits of it",)
    none = jobs_for(works("net-loft"), works("net-loft"), ("box-label", "pick-sheet"))
    assert none.jobs == ()
    assert none.skipped == ("net-loft: no box-label and no pick-sheet, since the recipe has no kits",)


def test_what_tells_of_all_sizes_tells_of_all_whichever_are_chosen() -> None:
    found = jobs_for(works(), works()[:1], ("box-label", "pick-sheet"))
    assert [job.name for job in found.jobs] == ["pier-drum, size 25", "pier-drum, all sizes"]
    assert [work.size.name for work in found.jobs[1].works] == ["25", "35"]


def test_sheets_are_made_beside_documents_of_kits_that_are_skipped() -> None:
    found = jobs_for(works("net-loft"), works("net-loft"), ("step-sheet", "box-label"))
    assert [job.kinds for job in found.jobs] == [("step-sheet",)]
    assert len(found.skipped) == 1


def test_a_folder_of_recipes_is_one_command_and_those_without_kits_are_no_failure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipes = [str(RECIPES / f"{name}.yaml") for name in ("net-loft", "pier-drum")]
    code = run(["make", *recipes, "--document", "pick-sheet", "--out", str(tmp_path)])
    said = capsys.readouterr().out
    assert code == 0
    assert "net-loft: no pick-sheet, since the recipe has no kits\n" in said
    assert f"pier-drum, all sizes: {tmp_path / 'pier-drum' / 'pick-sheet.en.pdf'} (3 pages)\n" in said
    made = sorted(path.name for path in (tmp_path / "pier-drum").iterdir())
    assert made == ["manifest.json", "pick-sheet.en.pdf"]
    assert not (tmp_path / "net-loft").exists()


def test_the_same_kits_give_the_same_bytes(label: Path, pick_sheet: Path, tmp_path: Path) -> None:
    make(works()[1], ("box-label",), tmp_path)
    again = tmp_path / "pier-drum" / "35"
    for name in ("box-label.en.pdf", "box-label.en.print.pdf"):
        assert (again / name).read_bytes() == (label / name).read_bytes()
    packed = [work for work in works() if work.size.boxes]
    ((path, _),) = make_whole(packed, ("pick-sheet",), tmp_path).documents
    assert path.read_bytes() == pick_sheet.read_bytes()
