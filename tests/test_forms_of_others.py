"""Crib sheets, handouts, plans, lists and cards on other papers, in large print and in grey, read back."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from functools import cache

import pikepdf
import pytest

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, PAPERS, Edition, Form, PaperName, PrintSize, Wishes
from generator.examine import Examined, examine
from generator.fitting import Fitted, print_fitting, trace
from generator.jobs import jobs_for, printed_otherwise
from generator.pipeline import Drawn, gather, illustrate, outline_of, print_sheets, sketch
from generator.plan.work import Work
from generator.press.reading import sheets
from generator.press.sheet import Sheet
from generator.sheets.document import document_kind

MM = 25.4 / 72
RGB = re.compile(rb"(?<![\d.])([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG)\b")


@dataclass(frozen=True)
class Read:
    """A document as it is on its pages."""

    fitted: Fitted

    @property
    def pages(self) -> list[Sheet]:
        """What stands on each page."""
        return list(sheets(self.fitted.pressed.pdf))

    @property
    def text(self) -> str:
        """All words, page after page."""
        return " ".join(" ".join(run.text for page in self.pages for run in page.runs).split())

    @property
    def least(self) -> float:
        """The smallest lettering, points."""
        return min(letter.thing.size for page in self.pages for run in page.runs for letter in run.letters)

    def heights_of(self, words: str) -> list[float]:
        """The lettering of all lines that hold these words, points."""
        return [
            letter.thing.size
            for page in self.pages
            for run in page.runs
            if words in run.text
            for letter in run.letters
        ]

    @property
    def papers(self) -> set[tuple[float, float]]:
        """Sizes of its pages, mm."""
        return papers(self.fitted.pressed.pdf)


def papers(pdf: bytes) -> set[tuple[float, float]]:
    with pikepdf.open(io.BytesIO(pdf)) as file:
        boxes = [[float(side) * MM for side in page.trimbox] for page in file.pages]
    return {(round(right - left, 1), round(top - bottom, 1)) for left, bottom, right, top in boxes}


@cache
def examined() -> Examined:
    return examine(data_folder("recipes") / "pier-drum.yaml")


def work(size: str = "35") -> Work:
    return next(work for work in examined().works if work.size.name == size)


@cache
def drawn(kind: str, form: Form) -> Drawn:
    known, edition = document_kind(kind), Edition(ENGLISH, form)
    if known.scope == "recipe":
        (job,) = jobs_for(examined().works, examined().works, [kind], examined().roster).jobs
        return gather(job.works, edition, job.roster)
    if known.glance:
        return sketch(work(), edition)
    if not known.steps:
        return outline_of(work(), kind, edition)
    return illustrate(work(), edition)


@cache
def printed(kind: str, paper: PaperName, size: PrintSize = "normal", grey: bool = False) -> Read:
    form = Form(paper, size, grey, stated=True)
    return Read(print_fitting(kind, drawn(kind, form)))


def upright(paper: str) -> tuple[float, float]:
    return PAPERS[paper].width, PAPERS[paper].height


@pytest.mark.parametrize("paper", ["A5", "Letter", "A3"])
def test_a_crib_sheet_is_one_side_of_the_paper_asked_for_with_all_steps(paper: PaperName) -> None:
    crib = printed("crib-sheet", paper)
    assert crib.fitted.note == ""
    assert crib.papers == {upright(paper)}
    assert len(crib.pages) == 1
    assert crib.least >= 7.98
    numbers = {word for word in crib.text.split() if word.isdigit()}
    assert {str(step.number) for step in work().plan.steps} <= numbers
    assert "A rotary blade cuts deeply" in crib.text
    assert "18 Stop" in crib.text


def test_a_crib_sheet_in_large_print_on_a3_is_one_side_and_nothing_on_it_is_small() -> None:
    crib = printed("crib-sheet", "A3", "large")
    assert len(crib.pages) == 1
    assert crib.fitted.note == ""
    assert crib.papers == {upright("A3")}
    steps = crib.heights_of("Press, square, cool")
    assert steps
    assert min(steps) >= 18.0
    assert crib.least >= 15.0


def test_a_handout_in_large_print_is_read_at_eighteen_points_and_keeps_its_steps() -> None:
    usual, large = printed("handout", "Letter"), printed("handout", "A4", "large")
    assert usual.papers == {upright("Letter")}
    assert len(usual.pages) == 4
    assert large.papers == {upright("A4")}
    assert len(large.pages) <= 12
    told = large.heights_of("Wrap a paper strip")
    assert told
    assert min(told) >= 17.9
    for step in work().plan.steps:
        title = large_title(step.task.key)
        assert title in usual.text
        assert title in large.text


def test_a_handout_at_twenty_four_points_is_read_at_that_height_and_keeps_its_steps() -> None:
    larger = printed("handout", "A4", "larger")
    assert larger.fitted.form.print_size == "larger"
    assert larger.papers == {upright("A4")}
    told = larger.heights_of("Wrap a paper strip")
    assert told
    assert min(told) >= 23.9
    places = [larger.text.index(large_title(step.task.key)) for step in work().plan.steps]
    assert places == sorted(places)
    # Where a person may rest stands in rows of their own there, with what is next behind its name.
    assert "After step" in larger.text
    assert "Next task" in larger.text


def large_title(key: str) -> str:
    return drawn("handout", Form("A4", "large", stated=True)).words.say(f"{key}.title")


def test_a_caution_stays_before_its_step_on_the_same_page_in_large_print() -> None:
    large = printed("handout", "A4", "large")
    page = next(page for page in large.pages if any("Trim the cloth" in run.text for run in page.runs))
    text = " ".join(" ".join(run.text for run in page.runs).split())
    assert text.index("Trim the cloth") < text.index("A rotary blade") < text.index("Run the rotary cutter")


def test_a_cutting_plan_grows_with_its_paper_and_its_lettering_with_the_print() -> None:
    a3, large = printed("cut-plan", "A3"), printed("cut-plan", "A4", "large")
    assert a3.papers == {upright("A3")}
    assert large.papers == {upright("A4")}
    assert large.least >= 12.7
    assert len(a3.pages) < len(large.pages)
    assert "1 : 20" in a3.text


@pytest.mark.parametrize("size", ["large", "larger"])
def test_a_cutting_plan_is_made_in_the_print_that_was_asked_for(size: PrintSize) -> None:
    """Names of reels once had less room than they took, and the next smaller print was made instead."""
    plan = printed("cut-plan", "A4", size)
    assert plan.fitted.form.print_size == size
    assert plan.fitted.note == ""
    assert plan.least >= {"large": 12.7, "larger": 16.9}[size]


def test_nothing_is_coloured_in_grey() -> None:
    grey = printed("crib-sheet", "Letter", grey=True)
    with pikepdf.open(io.BytesIO(grey.fitted.pressed.pdf)) as file:
        streams = [
            stream.read_bytes()
            for stream in file.objects
            if isinstance(stream, pikepdf.Stream) and b"JFIF" not in stream.read_raw_bytes()
        ]
    found = {match for stream in streams for match in RGB.findall(stream)}
    assert found
    assert {colour for colour in found if len(set(map(float, colour))) > 1} == set()


def test_cards_for_the_wall_on_a4_are_read_from_afar_all_the_same() -> None:
    cards = printed("wall-cards", "A4")
    assert cards.papers == {upright("A4")}
    lines = cards.heights_of("Pull the liner out")
    assert lines
    assert min(lines) >= 22.0


def test_a_pattern_in_one_piece_has_its_words_in_large_print_and_its_lengths_as_they_are() -> None:
    usual, larger = (
        Read(print_fitting("pattern-whole", trace(work(), Edition(ENGLISH, Form("A4", size, stated=True)))))
        for size in ("normal", "larger")
    )
    assert larger.fitted.form.print_size == "larger"
    ((width, height),), ((wide, high),) = usual.papers, larger.papers
    assert wide == pytest.approx(width, abs=0.1)
    assert high > height
    struts = larger.heights_of("strut")
    assert struts
    assert min(struts) >= 23.9


def test_labels_are_printed_on_sheets_of_the_paper_asked_for_at_their_own_size() -> None:
    label = printed("box-label", "Letter")
    assert label.papers == {(148.0, 130.0)}
    ganged = print_sheets("box-label", work(), label.fitted.pressed, label.fitted.form)
    assert ganged is not None
    assert papers(ganged.pdf) == {upright("Letter")}


def test_a_list_for_packing_is_half_a_letter_lying_or_a_whole_one_in_large_print() -> None:
    assert printed("pick-sheet", "Letter").papers == {(215.9, 139.7)}
    large = printed("pick-sheet", "Letter", "large")
    assert large.papers == {(279.4, 215.9)}
    assert large.least >= 13.0


def test_a_list_for_packing_at_twenty_four_points_tells_each_part_in_a_block_of_lines() -> None:
    usual, larger = printed("pick-sheet", "A4"), printed("pick-sheet", "A4", "larger")
    assert larger.papers == {upright("A4")}
    assert larger.least >= 17.9
    for said in ("Shelf A1", "A kit 1 + 1", "Lot 12", "Off the reel", "Weight a kit, about", "Checked"):
        assert said in larger.text, said
    assert len(re.findall(r"\bShelf [A-Z]\d\b", larger.text)) == len(re.findall(r"\b[A-E]\d\b", usual.text))


def test_a_leaflet_on_letter_has_pages_of_half_a_sheet_and_folds_to_them() -> None:
    leaflet = printed("kit-insert", "Letter")
    assert leaflet.papers == {(139.7, 215.9)}
    assert len(leaflet.pages) % 4 == 0
    folded = print_sheets("kit-insert", work(), leaflet.fitted.pressed, leaflet.fitted.form)
    assert folded is not None
    assert papers(folded.pdf) == {(279.4, 215.9)}


def test_what_is_made_otherwise_than_wished_is_told_once_for_a_recipe() -> None:
    works = examined().works
    jobs = jobs_for(works, works, ["handout", "kit-insert", "pattern-whole", "crib-sheet"]).jobs
    told = printed_otherwise(jobs, Wishes(paper="A3", print_size="large"))
    assert told == (
        "pier-drum: handout: laid out for A4 and Letter in large print; printed on A4 in large print",
    )
    assert printed_otherwise(jobs, Wishes(paper="A4")) == ()
    told = printed_otherwise(jobs_for(works, works, ["kit-insert"]).jobs, Wishes(paper="A3"))
    assert told == ("pier-drum: kit-insert: laid out for A4 and Letter; printed on A4",)


def test_a_pattern_that_has_no_room_on_its_paper_is_printed_on_larger_paper_and_says_so() -> None:
    slipway = examine(data_folder("recipes") / "slipway-45.yaml").works[0]
    pattern = Read(print_fitting("pattern", trace(slipway, Edition(ENGLISH, Form("A5", stated=True)))))
    assert {tuple(sorted(sides)) for sides in pattern.papers} == {upright("A4")}
    assert pattern.fitted.form.paper == "A4"
    assert pattern.fitted.note == "the pattern of Slipway 45 has too little room on A5; printed on A4"
