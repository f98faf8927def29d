"""The tutor's pack as printed: its numbers, its clock, its people, its cautions, its drawings to scale."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import page as checker
import pikepdf
import pypdfium2
import pytest

from generator.base.assets import data_folder
from generator.base.edition import ORDINARY, Edition, Form
from generator.build import make_whole
from generator.cli.run import run
from generator.examine import Examined, examine
from generator.jobs import jobs_for
from generator.pipeline import gather, print_document, subject_of
from generator.press.checks.numbers import untraceable_numbers
from generator.record.verify import verify
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject
from tests.sheets.subjects import Texts

RECIPES = data_folder("recipes")
SAMPLES = ("ferry-square", "pier-drum")


@cache
def examined(name: str) -> Examined:
    return examine(RECIPES / f"{name}.yaml")


@cache
def subject(name: str) -> Subject:
    found = examined(name)
    return subject_of(gather(found.works, ORDINARY, found.roster), "class-pack")


@cache
def document(name: str) -> Document:
    return compose("class-pack", subject(name))


@cache
def said(name: str) -> str:
    return Texts(document(name).html).text


@pytest.fixture(scope="module", params=SAMPLES)
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = examined(request.param)
    folder = tmp_path_factory.mktemp("class")
    ((path, _),) = make_whole(found.works, ("class-pack",), folder, found.roster).documents
    return path


@pytest.mark.parametrize("name", SAMPLES)
def test_every_number_on_its_pages_comes_from_a_measure_or_the_recipe(name: str) -> None:
    assert untraceable_numbers(said(name), document(name).numbers) == []
    assert untraceable_numbers("4471 mm", document(name).numbers) == ["4471"]


def test_the_pages_pass_their_proof_and_the_machine_checker(printed: Path) -> None:
    report = checker.validate_pdf_bytes(printed.read_bytes(), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    pages = pypdfium2.PdfDocument(printed)
    assert len(pages) == 15
    # Run sheet and room lie across, the rest upright.
    across = [page.get_width() > page.get_height() for page in pages]
    first_upright = across.index(False)
    assert all(across[:first_upright])
    assert not any(across[first_upright:])
    assert [entry.state for entry in verify(printed.parent)[0].files] == ["good"]


def test_a_cue_is_read_name_before_picture_before_words(printed: Path) -> None:
    """In the order of tags, which is that of reading out (ISO 14289-1, 7.2, from memory)."""
    with pikepdf.open(printed) as pdf:
        kinds = [
            [str(kid.S) for kid in item.K]
            for item in pdf.objects
            if isinstance(item, pikepdf.Dictionary)
            and item.get("/Type") == "/StructElem"
            and any(str(kid.get("/T", "")).startswith("do ") for kid in item.K if hasattr(kid, "get"))
        ]
    assert kinds
    assert all(each[:3] == ["/P", "/Figure", "/P"] for each in kinds)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_clock_never_runs_backwards(name: str) -> None:
    times = re.findall(r'<th scope="row" class="at">(\d\d):(\d\d)</th>', document(name).html)
    minutes = [int(hour) * 60 + int(minute) for hour, minute in times]
    assert len(minutes) > 15
    assert minutes == sorted(minutes)


def test_everybody_stands_in_the_list_with_size_and_cloth() -> None:
    text = said("pier-drum")
    for guest in examined("pier-drum").roster.guests:  # type: ignore[union-attr]
        line = f"{guest.number} {guest.name} {guest.work.size.name} {guest.work.size.covering.name}"
        assert line in text


def test_a_check_with_each_ones_own_number_prints_nobodys() -> None:
    # After the rough cut both diagonals are 871 mm for one size and another number for the other.
    row = re.search(
        r'<tr class="check">(?:(?!</tr>).)*Check step 6.*?</tr>', document("pier-drum").html, re.S
    )
    assert row is not None
    assert "each with their own numbers" in row[0]
    assert "871" not in row[0]


@pytest.mark.parametrize("name", SAMPLES)
def test_cautions_stand_before_what_they_guard(name: str) -> None:
    html = document(name).html
    assert html.index("A rotary blade") < html.index('class="clock"')
    cutting = html[html.index('class="cutting"') :]
    assert cutting.index("Open blades") < cutting.index('src="figure:cut-')
    for step in re.findall(r'<div class="cue-step">.*?(?=<div class="cue|</section>)', html, re.S):
        if 'class="caution"' in step:
            assert step.index('class="caution"') < step.index('class="told"')


def test_cloth_cut_ahead_has_its_cautions_before_the_steps() -> None:
    html = document("ferry-square").html
    ahead = html[html.index("Cut before the class") :]
    assert ahead.index("A hot iron") < ahead.index("Do steps")
    # A class that cuts its own cloth does nothing ahead.
    assert "Cut before the class" not in said("pier-drum")
    assert "People who bring a cloth press and cut it in the class." in said("pier-drum")


@pytest.mark.parametrize("name", SAMPLES)
def test_each_caution_of_the_work_stands_in_the_risk_record_once(name: str) -> None:
    html = document(name).html
    record = html[html.index('class="record"') : html.index('class="close-out"')]
    roster = examined(name).roster
    assert roster is not None
    cautions = {c for guest in roster.guests for step in guest.work.plan.steps for c in step.task.cautions}
    rows = re.findall(r'<tr><th scope="row">', record)
    assert len(rows) == len(cautions)


@pytest.mark.parametrize("name", SAMPLES)
def test_each_fault_has_a_card_and_each_demonstration_its_cues(name: str) -> None:
    html, plan = document(name).html, subject(name).plan
    assert html.count('<div class="card">') == len(plan.mishaps)
    shown = [step.task.demonstration.name for step in plan.steps if step.task.demonstration]
    assert html.count('<div class="cue">') == len(shown) == 6


def test_the_room_is_drawn_true_to_scale() -> None:
    found = subject("ferry-square")
    assert found.course is not None
    scale = found.course.room.scale.value
    svg = found.drawing("room-plan").svg
    group = re.search(r'data-part="table-1".*?<path d="([^"]+)"', svg, re.S)
    assert group is not None
    points = [tuple(map(float, p)) for p in re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", group[1])]
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    deep = max(y for _, y in points) - min(y for _, y in points)
    assert wide == pytest.approx(1800 / scale, abs=0.03)
    assert deep == pytest.approx(750 / scale, abs=0.03)


def test_what_is_bought_and_cut_is_said_as_it_was_proved() -> None:
    text = said("ferry-square")
    # Eight of 1015 × 240 lie across a one-way cloth: 1920 mm.
    assert "1920 mm of cloth give 8 pieces" in text
    assert "Cloth Kelp print 2 m 2.1 m" in text
    assert "Panel 26 9 1 roll 1.2 m 36.00 36.00" in text


def test_a_recipe_without_a_class_is_skipped_with_a_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = [
        "make",
        str(RECIPES / "net-loft.yaml"),
        "--document",
        "class-pack",
        "--out",
        str(tmp_path / "o"),
    ]
    assert run(arguments) == 0
    told = capsys.readouterr()
    assert "net-loft: no class-pack, since the recipe has no class" in told.out
    assert not (tmp_path / "o").exists()


def test_a_class_is_one_job_of_its_own() -> None:
    found = examined("pier-drum")
    jobs = jobs_for(found.works, found.works[:1], ("class-pack", "step-sheet"), found.roster).jobs
    assert [(job.kinds, job.roster is not None) for job in jobs] == [
        (("step-sheet",), False),
        (("class-pack",), True),
    ] or {job.kinds for job in jobs} == {("step-sheet",), ("class-pack",)}
    assert next(job.name for job in jobs if job.roster) == "pier-drum, the class"


def test_on_larger_paper_the_pages_pass_their_proof_too() -> None:
    found = examined("ferry-square")
    pressed = print_document("class-pack", gather(found.works, Edition(form=Form("A3")), found.roster))
    widths = {round(page.get_width()) for page in pypdfium2.PdfDocument(pressed.pdf)}
    # 297 mm upright, 420 mm across, in points.
    assert widths == {842, 1191}
