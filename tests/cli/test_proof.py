"""``rimfold proof``: a file by itself, good and bad, by the command line."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import pikepdf
import pytest

from generator.base.assets import data_folder
from generator.base.edition import Edition, Voice, Wishes
from generator.cli.make import make
from generator.cli.proof import proof
from generator.cli.proof_report import Asked
from generator.cli.run import run
from generator.pipeline import outline_of, print_document
from generator.plan.work import Work
from generator.press import engine
from tests.press.pages import page
from tests.sheets.subjects import works

RECIPE = data_folder("recipes") / "pier-drum.yaml"


@cache
def label() -> bytes:
    """A document that is quick to print: the label of a kit's box."""
    work: Work = works(RECIPE)["35"]
    return print_document("box-label", outline_of(work, "box-label", Edition())).pdf


@pytest.fixture
def printed(tmp_path: Path) -> Path:
    file = tmp_path / "out" / "pier-drum" / "35" / "box-label.en.pdf"
    file.parent.mkdir(parents=True)
    file.write_bytes(label())
    return file


def test_a_file_passes_by_itself_and_says_that_numbers_were_left_out(
    printed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["proof", str(printed)]) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert first.startswith(f"{printed}: passes: 1 page, rules: broken, cautions, clipped, contrast, ")
    assert "numbers (it needs the recipe)" in second


def test_its_numbers_are_traced_with_its_recipe_by_name_and_folder(
    printed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["proof", str(printed), "--recipe", str(RECIPE), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["passes"]
    assert told["faults"] == []
    assert "numbers" in told["rules"]


def test_another_size_has_other_numbers(printed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["proof", str(printed), "--recipe", str(RECIPE), "--size", "25", "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert not told["passes"]
    assert {fault["rule"] for fault in told["faults"]} == {"numbers"}
    assert all(fault["page"] == 1 and fault["left_mm"] > 0 and fault["text"] for fault in told["faults"])
    assert run(["proof", str(printed), "--recipe", str(RECIPE), "--size", "25"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith(f"{printed}, page 1, ")
    assert "which comes from no measure" in lines[0]
    assert lines[-2].startswith(f"{printed}: fails: ")


def test_a_file_under_another_name_must_be_told(
    printed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = tmp_path / "copy.pdf"
    shutil.copy(printed, copy)
    assert run(["proof", str(copy), "--recipe", str(RECIPE)]) == 2
    assert "add --document with one of box-label, " in capsys.readouterr().err
    assert run(["proof", str(copy), "--recipe", str(RECIPE), "--document", "box-label"]) == 2
    assert "add --size with one of 25, 35, 45" in capsys.readouterr().err
    asked = ["--recipe", str(RECIPE), "--document", "box-label", "--size", "35"]
    assert run(["proof", str(copy), *asked]) == 0


def test_a_file_that_says_no_language_must_be_told_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(tmp_path / "other.pdf")
    asked = ["--recipe", str(RECIPE), "--document", "box-label", "--size", "35"]
    assert run(["proof", str(tmp_path / "other.pdf"), *asked]) == 2
    assert "other.pdf does not say which language it is in; add --lang with one of" in capsys.readouterr().err


def test_what_is_for_a_recipe_needs_one(printed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["proof", str(printed), "--size", "35"]) == 2
    assert "add --recipe RECIPE" in capsys.readouterr().err


@cache
def young() -> bytes:
    """The same in words for young learners."""
    work: Work = works(RECIPE)["35"]
    return print_document("box-label", outline_of(work, "box-label", Edition(Voice(tone="young")))).pdf


def test_words_for_young_learners_are_told_by_an_option(
    printed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    printed.write_bytes(young())
    assert run(["proof", str(printed), "--tone", "young"]) == 2
    assert "--print-size and --tone are for a recipe" in capsys.readouterr().err
    assert run(["proof", str(printed), "--recipe", str(RECIPE), "--tone", "young", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["passes"]
    assert "numbers" in told["rules"]


def test_every_wish_of_make_that_changes_numbers_can_be_told_to_proof() -> None:
    told = {name for option in proof.params for name in option.opts}
    changing = {"--units", "--paper", "--print-size", "--tone", "--lang", "--size", "--document"}
    assert changing <= told
    # What is left changes neither words nor numbers.
    assert {name for option in make.params for name in option.opts if name.startswith("--")} - told == {
        "--grey",
        "--duplex",
        "--out",
        "--anew",
        "--scheduler",
        "--watch",
        "--open",
    }


@pytest.mark.parametrize(
    ("name", "sheet", "size", "paper"),
    [
        ("step-sheet.en.pdf", (210.0, 297.0), "normal", "A4"),
        ("step-sheet.de.larger.pdf", (297.0, 420.0), "larger", "A3"),
        ("cut-plan.en.pdf", (297.0, 210.0), "normal", "A4"),
        ("box-label.en.pdf", (100.0, 70.0), "normal", None),
        ("step-sheet.en.print.pdf", (297.0, 420.0), "normal", None),
        ("copy.pdf", (148.0, 210.0), None, "A5"),
    ],
)
def test_a_file_says_its_print_by_its_name_and_its_paper_by_its_pages(
    name: str, sheet: tuple[float, float], size: str | None, paper: str | None
) -> None:
    asked = Asked(Path(name), sheet=sheet)
    assert (asked.print_size, asked.paper) == (size, paper)
    wished = Asked(Path(name), sheet=sheet, wishes=Wishes(paper="Letter", print_size="large"))
    assert (wished.print_size, wished.paper) == ("large", "Letter")


def test_many_faults_are_told_in_twenty_lines_and_all_are_counted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "of-another-program.pdf"
    words = "".join(
        f'<p style="font-size: 7pt; break-after: page">tiny {letter}</p>' for letter in "abcdefgh" * 5
    )
    file.write_bytes(engine.render(page(words)))
    assert run(["proof", str(file)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert all("is 7.0 pt high, the least is 8 pt" in line for line in lines[:20])
    assert lines[20] == "and 20 more, which --json tells"
    assert lines[21].startswith(f"{file}: fails: 40 faults on 40 pages")
    assert lines[22] == f"{file} does not say that Rimfold made it: its faults are for whoever did"
    assert run(["proof", str(file), "--json"]) == 1
    assert len(json.loads(capsys.readouterr().out)["faults"]) == 40


def _encrypted(file: Path) -> None:
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(file, encryption=pikepdf.Encryption(owner="o", user="u"))


BAD: Mapping[str, Callable[[Path], object]] = {
    "is no PDF": lambda file: file.write_text(page("<p>no PDF</p>")),
    "is empty": lambda file: file.write_bytes(b""),
    "is encrypted": _encrypted,
    "is damaged": lambda file: file.write_bytes(label()[:3000]),
    "is a folder": lambda file: file.mkdir(),
    "cannot be read": lambda file: None,
    "files of up to 100 MB": lambda file: _huge(file),
}


def _huge(file: Path) -> None:
    with file.open("wb") as opened:
        opened.truncate(101_000_000)


@pytest.mark.parametrize("wrong", BAD)
def test_what_is_no_readable_pdf_is_told_in_a_line(
    wrong: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "sheet.pdf"
    BAD[wrong](file)
    assert run(["proof", str(file)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert str(file) in line
    assert wrong in line
    assert "Traceback" not in line
