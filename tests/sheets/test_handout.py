"""The handout of one size: what stands on it, where its pages end, what becomes of paper that stays empty."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.base.errors import PressError
from generator.plan.model import Step
from generator.plan.work import Work
from generator.press.layout import heights
from generator.sheets.cards import card_id, chains_of
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.document import Document, Subject, document_kind
from generator.sheets.handout import handout
from generator.sheets.handout_pages import MOST_LINES, PITCH, HandoutLayout, Row, ruled
from generator.sheets.wording import Sentence, load_words
from tests.sheets.subjects import DIGEST, VERSION, Texts, box, works

SAMPLES = (
    "pier-drum", "ferry-square", "net-loft", "customs-rect", "bell-hex", "tide-drum", "fog-cone", "capstan",
)  # fmt: skip
every_sample = pytest.mark.parametrize("name", SAMPLES)


def subject_of(work: Work) -> Subject:
    """A work with grey boxes as high as their places."""
    figures = [box("silhouette", 0, 80.0, 52.0)]
    figures += [box(step.id, step.number, 56.0, 28.0) for step in work.plan.steps]
    given_ = (work.size, work.shade, work.measures, work.plan, tuple(figures), load_words(ENGLISH))
    return Subject(*given_, VERSION, DIGEST)


@cache
def sample(name: str) -> Subject:
    """The last size of a sample."""
    found: Mapping[str, Work] = works(data_folder("recipes") / f"{name}.yaml")
    return subject_of(list(found.values())[-1])


@dataclass(frozen=True)
class Part:
    """A block as the press measures it."""

    id: str
    height: float


@cache
def measured(name: str) -> tuple[Document, Mapping[str, float]]:
    loose = compose("handout", sample(name))
    return loose, heights(loose.html, sample(name).drawings)


def laid_out(name: str) -> HandoutLayout:
    loose, known = measured(name)
    layout = loose.arrange([Part(*each) for each in known.items()])
    assert isinstance(layout, HandoutLayout)
    return layout


def plain(sentence: Sentence) -> str:
    return "".join(segment.text for segment in sentence)


@every_sample
def test_two_sheets_hold_every_step_once_and_in_order(name: str) -> None:
    layout, plan = laid_out(name), sample(name).plan
    assert len(layout.pages) <= 4
    there = [block for page in layout.pages for block in page]
    assert [block for block in there if block.startswith("step-")] == [card_id(step) for step in plan.steps]
    assert there[0] == "front"
    assert there[-3:] == ["checks", "home", "closing"]
    titles = [block for block in there if block.startswith("stage-")]
    assert titles == [f"stage-{stage.id}" for stage in plan.stages]


@every_sample
def test_no_page_is_turned_in_what_the_gate_begins(name: str) -> None:
    plan = sample(name).plan
    chains = chains_of(plan)
    gate = next(step for step in plan.steps if step.task.gate)
    chain = {card_id(step) for step in plan.steps if chains.get(step.number) == chains[gate.number]}
    assert len(chain) == 4
    assert sum(not chain.isdisjoint(page) for page in laid_out(name).pages) == 1


@every_sample
def test_a_page_with_its_lines_and_air_is_no_higher_than_its_paper(name: str) -> None:
    loose, known = measured(name)
    layout, rooms = laid_out(name), document_kind("handout").rooms
    for number, page in enumerate(layout.pages):
        high = sum(lowered(known, layout, block) + layout.air.get(block, 0.0) for block in page)
        assert high + layout.notes.get(page[-1], 0.0) <= rooms.of(number) + 1e-6
    assert loose.rooms == rooms


def lowered(known: Mapping[str, float], layout: HandoutLayout, block: str) -> float:
    """Height of a block with its picture in its place, by plain arithmetic, and with its lines."""
    if not block.startswith("step-"):
        return known[block]
    words = known[f"words-{block}"]
    air = known[block] - max(words, 28.0)
    picture = {"": 28.0, "handout-low": 23.0, "handout-least": 20.0}[layout.redrawn.get(block, "")]
    return max(words + layout.lines[block] * PITCH, picture) + air


def test_a_shade_with_too_many_steps_is_refused_with_what_to_do() -> None:
    loose, known = measured("pier-drum")
    high = [Part(name, height * 2.4) for name, height in known.items()]
    with pytest.raises(PressError, match=r"does not fit on 3 sheets .* 26 steps .* print the step sheet"):
        loose.arrange(high)


def test_a_plan_that_two_sheets_do_not_hold_gets_a_third_with_its_pictures_as_they_were() -> None:
    layout, plan = laid_out("slipway-45"), sample("slipway-45").plan
    assert 4 < len(layout.pages) <= 6
    assert layout.redrawn == {}
    there = [block for page in layout.pages for block in page]
    assert [block for block in there if block.startswith("step-")] == [card_id(step) for step in plan.steps]


def test_where_room_is_short_the_lines_of_stages_go_and_no_heading_is_skipped() -> None:
    loose, known = measured("fog-cone")
    longer = [Part(name, height * 1.025) for name, height in known.items()]
    layout = loose.arrange(longer)
    there = {block for page in layout.pages for block in page}
    assert not any(block.startswith("stage-") for block in there)
    for shown in (layout, laid_out("fog-cone")):
        html = compose("handout", sample("fog-cone"), shown).html
        levels = [int(level) for level in re.findall(r"<h([1-6])>", html)]
        assert levels[0] == 1
        assert all(after <= before + 1 for before, after in pairwise(levels))
        assert html.count('class="number"') == len(sample("fog-cone").plan.steps)


@given(
    st.lists(st.floats(min_value=0, max_value=30), min_size=1, max_size=9),
    st.floats(min_value=0, max_value=120),
)
def test_lines_for_notes_take_what_is_empty_and_no_more(free: list[float], empty: float) -> None:
    steps = {f"step-{k}": room for k, room in enumerate(free)}
    lines = ruled(steps, empty)
    taken = sum(max(0.0, lines[name] * PITCH - room) for name, room in steps.items())
    assert taken <= empty + 1e-6
    assert all(0 <= count <= MOST_LINES for count in lines.values())
    # Whoever has none could not have one: it would take more than what is left.
    for name, count in lines.items():
        if count == 0:
            assert max(0.0, PITCH - steps[name]) > empty - taken - 1e-6


def test_a_picture_goes_to_the_highest_place_that_costs_no_paper() -> None:
    pictures = {"": 29.0, "low": 24.0, "least": 21.0}
    assert Row(30.0, pictures).lower == ""
    assert Row(24.5, pictures).lower == "low"
    assert Row(19.0, pictures).lower == "least"
    assert Row(19.0, pictures).saved == pytest.approx(8.0)


@every_sample
def test_the_card_to_take_home_tells_what_is_left_to_the_minute(name: str) -> None:
    subject = sample(name)
    found = handout(subject, wording(subject))
    steps = subject.plan.steps
    pauses = [step.number for step in steps if step.task.after == "safe-pause"]
    assert [stop.after for stop in found.stops] == pauses
    for stop, following in zip(found.stops, [*pauses[1:], len(steps)], strict=True):
        assert stop.next == stop.after + 1
        assert minutes(stop.rest) == sum(step.whole[0] for step in steps[stop.after :])
        assert minutes(stop.minutes) == sum(step.whole[0] for step in steps[stop.after : following])
    # The two chains of the technique: to laminate, and to roll.
    assert [stop.at_once for stop in found.stops if stop.at_once] == [
        f"{first.number}–{last.number}" for first, last in (ends(subject, "anchor"), ends(subject, "dock"))
    ]


def ends(subject: Subject, middle: str) -> tuple[Step, Step]:
    """The first and the last step of the work that goes on at once round a task."""
    steps = list(subject.plan.steps)
    at = next(k for k, step in enumerate(steps) if step.id == middle)
    first = last = at
    while steps[first - 1].task.after == "at-once":
        first -= 1
    while steps[last].task.after == "at-once":
        last += 1
    return steps[first], steps[last]


def minutes(text: str) -> int:
    """``1 h 05 min`` in minutes."""
    parts = text.split()
    given_ = {unit: int(number) for number, unit in zip(parts[::2], parts[1::2], strict=True)}
    return 60 * given_.get("h", 0) + given_.get("min", 0)


@every_sample
def test_in_every_step_the_caution_stands_before_what_to_do(name: str) -> None:
    loose, _ = measured(name)
    parts = loose.html.split('<section class="step')[1:]
    plan = sample(name).plan
    assert len(parts) == len(plan.steps)
    for step, part in zip(plan.steps, parts, strict=True):
        assert part.count('class="caution"') == len(step.task.cautions)
        assert part.count('class="box"') == 1
        if step.task.cautions:
            assert part.rindex('class="caution"') < part.index('class="do"') < part.index('class="check"')


@every_sample
def test_each_measure_on_it_is_the_shades(name: str) -> None:
    loose, _ = measured(name)
    shown = Texts(loose.html).measured
    measures = sample(name).measures
    assert {"cloth_length", "tape_total", "rolling_bench", "cloth_stock"} <= {key for key, _ in shown}
    for key, text in shown:
        if measures[key].unit == "min":
            assert minutes(text) == measures[key].value
            continue
        values = [f"{value:g}" for value in measures[key].values]
        assert any(value in text for value in values), (key, text)


def test_steps_that_the_tutor_has_done_are_marked_where_the_cloth_comes_cut() -> None:
    subject = sample("ferry-square")
    words = wording(subject)
    ahead = {card_id(step) for step in subject.plan.steps if step.task.ahead}
    assert ahead
    cut = handout(subject, words, pre_cut=True)
    assert {name for name, row in cut.rows.items() if row.ahead} == ahead
    assert not any(row.ahead for row in handout(subject, words).rows.values())
