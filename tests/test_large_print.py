"""Large print comes in the size that was asked for: no card is higher than its page.

At 24 points, on A4, in German, whose words are longest: that is where room is shortest. Other languages, 18
points, other paper, and what the proof says of the finished pages: ``.ci/forms``, before a release.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import cache, partial

import pypdfium2
import pytest

from generator.base.assets import data_folder
from generator.base.edition import Form, Voice
from generator.examine import examine
from generator.pipeline import Drawn, subject_of
from generator.press.layout import heights
from generator.press.press import press
from generator.press.reading import sheets
from generator.press.wish import Wish
from generator.sheets.cards import card_id, more_id, stage_id
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject, kind_for
from generator.sheets.high_cards import Settled, settle
from generator.sheets.packing import Layout, too_high
from generator.sheets.wording import load_words

SAMPLES = sorted(path.stem for path in data_folder("recipes").glob("*.yaml"))
FORM = Form("A4", "larger")
LANGUAGE = "de"
TURNED = "tide-drum"
"""A sample with a card that no page holds with any picture."""


@cache
def drawn(name: str) -> Drawn:
    """A sample without figures: those of the step sheet are drawn when it is composed."""
    work = examine(data_folder("recipes") / f"{name}.yaml").works[0]
    voice = Voice(LANGUAGE, work.size.units)
    return Drawn(work, load_words(voice).bound(work.plan, work.measures), (), FORM)


@cache
def loose(name: str) -> tuple[Subject, Document]:
    """Its step sheet before anything is packed."""
    subject = subject_of(drawn(name), "step-sheet")
    return subject, compose("step-sheet", subject)


def measured(document: Document, shown: Subject, names: Collection[str]) -> Mapping[str, float]:
    """How high these blocks are on the page."""
    return heights(document.html, shown.drawings, names)


@cache
def settled(name: str) -> Settled:
    """What becomes of its cards."""
    subject, document = loose(name)
    plan = subject.plan
    blocks = [*map(stage_id, plan.stages), *map(card_id, plan.steps)]
    given = measured(document, subject, blocks)
    return settle(document, subject, given, partial(drawn(name).redrawn, subject), measured)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_card_stands_on_its_page_at_twenty_four_points(name: str) -> None:
    subject, document = loose(name)
    found = settled(name)
    cards = {each for step in subject.plan.steps for each in (card_id(step), more_id(step))}
    assert found.heights.keys() >= {card_id(step) for step in subject.plan.steps}
    assert too_high(document.blocks, found.heights, document.rooms, cards) == {}
    assert kind_for("step-sheet", subject.size, FORM).print_sizes[-1] == "larger"


def test_what_no_page_holds_stands_on_two_each_with_its_caution_and_its_picture() -> None:
    subject, _ = loose(TURNED)
    ((card, first),) = settled(TURNED).turned.items()
    step = next(step for step in subject.plan.steps if card_id(step) == card)
    html = compose("step-sheet", subject, Layout(turned={card: first})).html
    whole = compose("step-sheet", subject).html
    pages = [section_of(html, name) for name in (card, more_id(step))]
    for page in pages:
        assert page.count('<div class="caution">') == len(step.task.cautions) > 0
        assert page.count(f'src="figure:{subject.figure_of(step).id}"') == 1
        assert page.index('class="caution"') < page.index("<li>")
    listed = [re.findall(r"<li>.*?</li>", page, re.DOTALL) for page in pages]
    assert listed[0] + listed[1] == re.findall(r"<li>.*?</li>", section_of(whole, card), re.DOTALL)
    assert all(listed)
    assert ['class="proof"' in page for page in pages] == [False, True]
    # Nothing else changes.
    assert all(
        section_of(html, card_id(other)) == section_of(whole, card_id(other))
        for other in subject.plan.steps
        if other is not step
    )


def section_of(html: str, name: str) -> str:
    """The element of a card, to its end."""
    found = re.search(rf'<section class="card[^>]* id="{name}".*?</section>', html, re.DOTALL)
    assert found, name
    return found[0]


def test_the_two_pages_pass_their_proof_in_the_size_that_was_asked_for() -> None:
    """The card alone, below the title of the sheet and its stage's heading: the whole takes too long here."""
    subject, _ = loose(TURNED)
    found = settled(TURNED)
    ((card, first),) = found.turned.items()
    step = next(step for step in subject.plan.steps if card_id(step) == card)
    stage = next(stage for stage in subject.plan.stages if step in stage.steps)
    kept = ("overview", stage_id(stage), card, more_id(step))
    others = "".join(f":not(#{name})" for name in kept)
    shown = drawn(TURNED).redrawn(subject, found.redrawn)
    layout = Layout(breaks=frozenset({stage_id(stage), card, more_id(step)}), turned={card: first})
    document = compose("step-sheet", shown, layout)
    html = document.html.replace("</style>", f"body > {others} {{ display: none; }}</style>")
    made = press(html, shown.drawings, Wish(numbers=document.numbers))
    assert made.pages == 4
    read = [letter for sheet in sheets(made.pdf) for run in sheet.runs for letter in run.letters]
    assert min(letter.thing.size for letter in read if not letter.thing.furniture) >= 15.98
    titles = [each.get_title() for each in pypdfium2.PdfDocument(made.pdf).get_toc()]
    assert sum(title.startswith(f"{step.number} ") for title in titles) == 1
