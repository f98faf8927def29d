"""The crib sheet: one side for every shade, its numbers, its ticks, and what goes where room is short."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import page as checker
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH, ORDINARY, Edition, Form, Voice
from generator.base.errors import PressError, ProofError
from generator.base.words import PLACEHOLDER
from generator.examine import examine
from generator.figures.glance import PLACES
from generator.figures.model import BADGE
from generator.fitting import print_fitting
from generator.pipeline import sketch
from generator.plan.build import load_technique
from generator.plan.facts import domain
from generator.plan.glance import glance
from generator.plan.work import Work
from generator.press.layout import heights, place
from generator.press.press import press
from generator.press.wish import Wish
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.document import Document, Subject, document_kind
from generator.sheets.kinds.crib_sheet import Crib, view
from generator.sheets.one_side import WHOLE, on_one_side
from generator.sheets.packing import Layout
from generator.sheets.wording import Catalogue, load_words, tokens_of
from tests.record.quick import quick_recipe
from tests.sheets.subjects import DIGEST, VERSION, Texts, box, works
from tests.sheets.test_own_words import own_way

SAMPLES = (
    "pier-drum", "ferry-square", "net-loft", "customs-rect", "bell-hex", "tide-drum", "fog-cone",
    "capstan", "slipway-45",
)  # fmt: skip
every_sample = pytest.mark.parametrize("name", SAMPLES)
EN = load_words(ENGLISH)
KEYS = tuple(EN.keys())
GIVES_UP = document_kind("crib-sheet").gives_up
ROOM = document_kind("crib-sheet").rooms.first
TEXT_FOOT = 297.0 - 10.0
SHORT = re.compile(r"^(rolled|trimmed)-edge\.[a-z-]+\.(line|sure|box)")
LINE, CHECK, BOX = 24, 28, 36
"""Most characters of a tick line, of a check, and of a box of the stop, as printed."""


def subject_of(work: Work) -> Subject:
    """A work with a grey box of full height for each of the pictures."""
    seen = glance(work.plan)
    figures = [box("badge", 0, BADGE.width, BADGE.max_height)]
    for step in seen.pictured:
        slot = PLACES[2 if step is seen.gate else 1]
        figures.append(box(step.id, step.number, slot.width, slot.max_height))
    given = (work.size, work.shade, work.measures, work.plan, tuple(figures), EN)
    return Subject(*given, VERSION, DIGEST, glance=seen)


@cache
def sample(name: str) -> Subject:
    """The first size of a sample, the second of the first."""
    found: Mapping[str, Work] = works(data_folder("recipes") / f"{name}.yaml")
    return subject_of(found["35"] if name == "pier-drum" else next(iter(found.values())))


def fitted(subject: Subject) -> Document:
    """The sheet with what has room."""
    return on_one_side("crib-sheet", subject, lambda tried: heights(tried.html, subject.drawings))


@cache
def printed(name: str) -> Document:
    return fitted(sample(name))


def shown(subject: Subject) -> Crib:
    return view(subject, wording(subject))


def plain(sentence: object) -> str:
    assert isinstance(sentence, tuple)
    return "".join(segment.text for segment in sentence)


@every_sample
def test_the_sheet_has_one_side_and_its_last_line_stands_above_the_foot(name: str) -> None:
    document = printed(name)
    places = place(document.html, sample(name).drawings)
    assert places.pages == 1
    (whole,) = places.of(WHOLE)
    assert whole.bottom <= TEXT_FOOT


@every_sample
def test_every_step_has_a_box_to_tick_in_order_and_what_cannot_be_undone_is_reversed(name: str) -> None:
    plan, found = sample(name).plan, shown(sample(name))
    rows = (*found.before, *found.after)
    ticks = {tick.number: tick for row in rows for each in row for cell in each.cells for tick in cell.ticks}
    assert found.stop is not None
    assert sorted([*ticks, found.stop.number]) == [step.number for step in plan.steps]
    assert list(ticks) == sorted(ticks)
    for step in plan.steps:
        if not step.task.gate:
            assert ticks[step.number].undone == step.task.irreversible
            assert ticks[step.number].caution == bool(step.task.cautions)
    html = printed(name).html
    assert html.count('class="boxed') == len(plan.steps) - 1 + 4
    reversed_ = re.findall(r'class="number undone">(?:<img[^>]*>)?(\d+)<', html.split('class="losses"')[0])
    assert [int(number) for number in reversed_] == [s.number for s in plan.steps if s.task.irreversible]


@every_sample
def test_lines_checks_and_boxes_keep_to_their_length_with_the_numbers_filled_in(name: str) -> None:
    found = shown(sample(name))
    for row in (*found.before, *found.after):
        for each in row:
            for cell in each.cells:
                assert len(plain(cell.check)) <= CHECK, plain(cell.check)
                for tick in cell.ticks:
                    assert len(plain(tick.lines[0])) <= LINE, plain(tick.lines[0])
    assert found.stop is not None
    assert len(found.stop.boxes) == 4
    assert all(len(plain(words)) <= BOX for words in found.stop.boxes)


def test_the_five_numbers_are_those_of_plain_arithmetic() -> None:
    # Pier drum 35, by hand: once round π × 350; panel + 2π × (0.15 + 0.35 / 2) + 10, and 220 + 2 × 15 high;
    # cloth 2 × 20 longer, 2 × 10 wider, up to the next 5; tape 1.1 × (2 round + 216) up to the next 100;
    # three struts, the seam midway between two: a sixth of once round.
    around = math.pi * 350
    panel = around + 2 * math.pi * 0.325 + 10
    expected = [
        f"{math.ceil((panel + 40) / 5) * 5} × 270",
        f"{round(panel)} × 250",
        f"{round(around)}",
        f"{math.ceil(1.1 * (2 * around + 220) / 100) * 100}",
        f"{round(around / 6)}",
    ]
    five = shown(sample("pier-drum")).five
    assert [plain(number.value) for number in five] == expected
    assert {number.unit for number in five} == {" mm"}


def test_the_last_of_the_five_is_what_the_rings_are_marked_with() -> None:
    # Half the side of the ferry square of 260, from a side; the hexagon's from a corner; else from a strut.
    names = {name: plain(shown(sample(name)).five[-1].name) for name in SAMPLES}
    assert plain(shown(sample("ferry-square")).five[-1].value) == "130"
    assert names["ferry-square"] == names["customs-rect"] == names["capstan"] == "side to seam mark"
    assert names["bell-hex"] == "corner to seam mark"
    assert names["net-loft"] == "end to seam mark"
    assert names["pier-drum"] == names["fog-cone"] == "strut to seam mark"


@every_sample
def test_cautions_stand_before_the_first_step_each_once_with_its_steps(name: str) -> None:
    subject, html = sample(name), printed(name).html
    hazards = shown(subject).hazards
    cautions = {caution for step in subject.plan.steps for caution in step.task.cautions}
    assert len(hazards) == len(cautions)
    assert html.index('class="hazards"') < html.index('class="boxed')
    for hazard in hazards:
        assert plain(hazard.text).endswith(".")
    assert "certify" in html
    assert "local codes" in html


@every_sample
def test_the_stop_stands_between_the_boxes_and_says_how_long_there_is_no_pause(name: str) -> None:
    subject, html = sample(name), printed(name).html
    found = shown(subject)
    assert found.stop is not None
    gate = found.stop.number
    before, after = html.split('class="stop"')
    assert f'data-step="{gate}"' not in before
    numbers = [int(n) for n in re.findall(r'class="number(?: undone)?">(?:<img[^>]*>)?(\d+)<', before)]
    assert max(numbers) == gate - 1
    seam = subject.plan.step("close-seam")
    assert seam is not None
    minutes = sum(step.whole[0] for step in subject.plan.steps[gate - 1 : seam.number])
    assert f"From here to {seam.number} no pause: keep {minutes} min free." in Texts(html).text
    assert after.index('class="boxed"') < after.index('class="row"')


@every_sample
def test_minutes_of_boxes_and_stop_add_up_to_those_of_the_whole(name: str) -> None:
    subject, found = sample(name), shown(sample(name))
    assert found.stop is not None
    steps = subject.plan.steps
    boxes = [int(each.time.split()[-2]) for row in (*found.before, *found.after) for each in row]
    assert sum(boxes) + steps[found.stop.number - 1].whole[0] == sum(step.whole[0] for step in steps)


@every_sample
def test_every_number_on_the_side_comes_from_a_measure_a_step_or_minutes(name: str) -> None:
    document = printed(name)
    assert press(document.html, sample(name).drawings, Wish(numbers=document.numbers)).pages == 1
    wrong = document.html.replace("Date</p>", "Date 8642</p>")
    with pytest.raises(ProofError, match="8642"):
        press(wrong, sample(name).drawings, Wish(numbers=document.numbers))


@pytest.mark.parametrize("name", ["pier-drum", "slipway-45"])
def test_the_side_passes_the_machine_checker_for_tagged_files(name: str) -> None:
    """page-validation 0.11.0, profile ``ua1``: machine checks of PDF/UA-1; a person still reads the order."""
    document = printed(name)
    pressed = press(document.html, sample(name).drawings, Wish(numbers=document.numbers))
    report = checker.validate_pdf_bytes(pressed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def longer(share: float) -> Catalogue:
    """The English words with so much more text in every sentence, as another language may need.

    Lines, checks and boxes keep to their lengths in every language.
    """
    filler = "abc def ghi jkl mno pqr stu "
    texts = {}
    for key in KEYS:
        text = EN.raw(key)
        length = len(PLACEHOLDER.sub("", text))
        long = length > 6 and not SHORT.search(key)
        texts[key] = f"{text} {(filler * 20)[: round(share * length)].strip()}" if long else text
    return Catalogue(ENGLISH, texts)


def left_out(document: Document, subject: Subject) -> list[str]:
    """Which of the parts that may go are not there, in the order in which they go."""
    html = document.html
    there = {
        "times": plain(shown(subject).times) in html,
        "ease": 'id="sheet" class="tight"' not in html,
        "tools": 'class="tools"' in html,
        "key": 'class="key"' in html,
        "second-pictures": html.count('class="picture"') == len(glance(subject.plan).pictured),
        "use": 'class="use"' in html,
        "maker": 'class="maker"' in html or subject.size.maker is None,
        "first-pictures": 'class="cell"' in html,
        **{part: names[0] in html for part, names in shown(subject).notes},
    }
    return [part for part in GIVES_UP if not there[part]]


def test_what_has_no_room_goes_in_the_stated_order_and_what_counts_stays() -> None:
    subject = replace(sample("customs-rect"), words=longer(0.4))
    document = fitted(subject)
    assert place(document.html, subject.drawings).pages == 1
    gone = left_out(document, subject)
    assert gone
    assert "ease" in gone
    assert gone == [part for part in GIVES_UP if part in gone]
    # A part goes only if that helps and those before it were not enough.
    rest = compose("crib-sheet", subject, Layout(dropped=frozenset(gone[:-1])))
    assert heights(rest.html, subject.drawings)[WHOLE] > ROOM - 1
    for kept in ('class="hazards"', 'class="stop"', 'class="five"', 'class="sure"', 'class="losses"'):
        assert kept in document.html


def test_pictures_of_first_steps_go_last_where_words_alone_have_room() -> None:
    """Slipway 45, whose 29 steps in German and in inches are too high for one side with pictures."""
    work = examine(data_folder("recipes") / "slipway-45.yaml").work("45")
    assert work is not None
    for paper in ("A4", "Letter"):
        form = Form("Letter" if paper == "Letter" else "A4", stated=True)
        fitting = print_fitting("crib-sheet", sketch(work, Edition(Voice("de", "inch"), form)))
        assert (fitting.form.paper, fitting.note) == (paper, "")


def test_where_everything_fits_nothing_is_left_out() -> None:
    assert left_out(printed("pier-drum"), sample("pier-drum")) == []


def test_a_side_that_cannot_hold_the_work_is_refused_in_words() -> None:
    with pytest.raises(PressError, match=r"Customs house 35x18 is \d+ mm too high for one side"):
        fitted(replace(sample("customs-rect"), words=longer(3.0)))


CONDITIONS = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in domain().items()})


@settings(max_examples=60)
@given(facts=CONDITIONS)
@pytest.mark.parametrize("name", ["rolled-edge", "trimmed-edge"])
def test_every_task_of_every_recipe_has_a_line_and_a_check(name: str, facts: dict[str, object]) -> None:
    words = Catalogue(ENGLISH, {key: EN.raw(key) for key in KEYS}, tokens_of(facts))
    for task in load_technique(name).tasks:
        if task.holds(facts):
            assert words.has(f"{task.wording}.{task.id}.line"), task.id
            assert words.has(f"{task.wording}.{task.id}.sure"), task.id


def test_a_technique_with_words_of_its_own_is_told_by_them(tmp_path: Path) -> None:
    titled = own_way(
        tmp_path, ("  - id: trim\n", "  - id: trim\n    words: {title: Cut it flush, check: It is flush.}\n")
    )
    text = Texts(compose("crib-sheet", subject_of(titled)).html).text
    assert "Cut it flush" in text
    assert "Trim all four sides" not in text
    assert "Break both kiss cuts" in text


def test_a_technique_may_say_the_line_the_check_and_the_boxes_of_the_stop(tmp_path: Path) -> None:
    work = own_way(
        tmp_path,
        ("  - id: dock\n", "  - id: dock\n    words: {line: [Set both down, gently], sure: They stand.}\n"),
        (
            "  - id: stop-and-orient\n",
            "  - id: stop-and-orient\n    words: {box: [Fitter ring far, Hub in]}\n",
        ),
    )
    page = compose("crib-sheet", subject_of(work)).html
    text = Texts(page).text
    assert "Set both down" in text
    assert "gently" in text
    assert "They stand." in text
    assert "Fitter ring far" in text
    assert "Read aloud, then peel both liners" not in text


@pytest.mark.parametrize("name", ["customs-rect", "tide-drum"])
def test_real_pictures_keep_to_their_places_and_their_side_is_green(name: str) -> None:
    found: Mapping[str, Work] = works(data_folder("recipes") / f"{name}.yaml")
    drawn = sketch(next(iter(found.values())), ORDINARY)
    assert drawn.glance is not None
    steps = {step.number: step for step in drawn.glance.pictured}
    for figure in drawn.figures[1:]:
        slot = PLACES[2 if steps[figure.number] is drawn.glance.gate else 1]
        assert figure.width <= slot.width
        assert figure.height <= slot.max_height
    badge = drawn.figures[0]
    assert badge.width == 58.0
    assert badge.height <= 27.0
    assert re.findall(r">(fitter ring|plain ring|print up)<", badge.svg)


UNDONE, GATE = "    irreversible: true\n", "    gate: true\n"


@pytest.mark.parametrize(
    ("said", "mended", "losses", "key"),
    [
        ("", "inspect", 0, None),
        # Its mistake can be mended later, so that no loss is told, but its number is reversed.
        (UNDONE, "any-time", 0, 2),
        (UNDONE, "inspect", 1, 2),
        (GATE, "inspect", 0, 2),
        (UNDONE + GATE, "inspect", 1, 2),
    ],
)
def test_a_way_without_a_gate_or_without_a_loss_has_a_sheet_whose_key_names_what_there_is(
    said: str, mended: str, losses: int, key: int | None, tmp_path: Path
) -> None:
    recipe = quick_recipe(tmp_path)
    way = tmp_path / "short-way.yaml"
    text = way.read_text(encoding="utf-8")
    task, until = "  - id: prove-rings\n", "    mend_until: inspect\n"
    assert text.count(task) == text.count(until) == 1
    text = text.replace(task, task + said).replace(until, f"    mend_until: {mended}\n")
    way.write_text(text, encoding="utf-8")
    subject = subject_of(examine(recipe).works[0])
    found = shown(subject)
    assert (len(found.losses), found.stop is not None, found.undone) == (losses, GATE in said, key)
    words = Texts(compose("crib-sheet", subject).html).text
    assert ("cannot be undone" in words) == (key is not None)
    assert "how to know it is right" in words


def test_the_sheet_of_a_way_without_gate_and_loss_is_printed_and_passes_its_proof(tmp_path: Path) -> None:
    (work, _) = examine(quick_recipe(tmp_path)).works
    printed = print_fitting("crib-sheet", sketch(work, ORDINARY)).pressed
    assert printed.pages == 1
