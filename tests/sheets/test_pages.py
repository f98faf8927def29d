"""Composed, laid out, packed, composed again and pressed: what stands on which page of a printed sheet."""

from __future__ import annotations

from functools import cache

import page as checker
import pytest

from generator.plan.work import Work
from generator.press.layout import Layout as Places
from generator.press.layout import place
from generator.press.press import press
from generator.press.wish import Wish
from generator.sheets.cards import card_id, chains_of
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject
from generator.sheets.packing import Layout, arrange
from tests.sheets.subjects import sample, subject_of

A4_FOOT = 297.0 - 15.0


@cache
def printed(name: str, heights: float) -> tuple[Subject, Layout, Document, Places]:
    """A sample with figures of one height, and where its blocks came to stand."""
    given = sample(name)
    subject = subject_of(Work(given.size, given.shade, given.measures, given.plan), heights)
    figures = subject.drawings
    loose = compose("step-sheet", subject)
    layout = arrange(loose.blocks, place(loose.html, figures).placed, loose.rooms, loose.most_pages)
    document = compose("step-sheet", subject, layout)
    return subject, layout, document, place(document.html, figures)


CASES = [("pier-drum", 44.0), ("customs-rect", 48.0), ("bell-hex", 52.0)]
every_case = pytest.mark.parametrize(("name", "heights"), CASES)


@every_case
def test_every_block_stands_whole_on_the_page_that_the_packing_gave_it(name: str, heights: float) -> None:
    _, layout, _, places = printed(name, heights)
    assert places.pages == len(layout.pages)
    for number, page in enumerate(layout.pages, 1):
        for block in page:
            parts = places.of(block)
            assert [part.page for part in parts] == [number], block
            assert parts[0].bottom <= A4_FOOT + 0.1


@every_case
def test_a_sheet_has_at_most_fourteen_pages(name: str, heights: float) -> None:
    assert printed(name, heights)[3].pages <= 14


@every_case
def test_all_steps_at_a_glance_stand_before_the_first_card(name: str, heights: float) -> None:
    subject, _, _, places = printed(name, heights)
    contents = places.of("contents")
    assert [part.page for part in contents] == [2]
    assert all(places.of(card_id(step))[0].page > 2 for step in subject.plan.steps)


@every_case
def test_no_page_is_turned_from_the_gate_until_the_seam_is_closed(name: str, heights: float) -> None:
    subject, _, _, places = printed(name, heights)
    gate = next(step for step in subject.plan.steps if step.task.gate)
    chains = chains_of(subject.plan)
    members = [step for step in subject.plan.steps if chains.get(step.number) == chains[gate.number]]
    assert members[-1].id == "close-seam"
    pages = {places.of(card_id(step))[0].page for step in members}
    heights_together = sum(places.of(card_id(step))[0].height for step in members)
    assert len(pages) == 1 or heights_together > 250


def test_a_picture_stands_beside_its_text_and_on_its_page() -> None:
    _, _, document, places = printed("pier-drum", 44.0)
    cards = [part for part in places.placed if part.id.startswith("step-")]
    assert len(cards) == 26
    assert all(part.height >= 44.0 for part in cards)
    assert all(part.width == pytest.approx(178.0, abs=4.0) for part in cards)
    assert document.html.count('class="picture"') == 26


def test_a_pressed_sheet_passes_its_proof_and_the_machine_checker_for_tagged_files() -> None:
    """page-validation 0.11.0, profile ``ua1``: machine checks of PDF/UA-1; a person still reads the order."""
    subject, _, document, _ = printed("pier-drum", 44.0)
    pressed = press(document.html, subject.drawings, Wish(numbers=document.numbers))
    report = checker.validate_pdf_bytes(pressed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    assert pressed.pages <= 14
