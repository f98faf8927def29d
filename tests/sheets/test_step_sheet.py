"""What the step sheet says, read back from its HTML for three shades that differ in their work."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from generator.base.edition import ENGLISH
from generator.sheets.cards import chains_of, step_minutes
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.formatting import number
from generator.sheets.packing import Layout
from tests.sheets.subjects import SAMPLES, Texts, retitled, sample, sheet

_NUMBER = re.compile(r"\d+(?:\.\d+)*")

every_sample = pytest.mark.parametrize("name", SAMPLES)


def cards(html: str) -> dict[str, str]:
    """The HTML of each card by its step's task."""
    found = re.findall(r'<section class="card[^>]* id="step-([a-z-]+)"(.*?)</section>', html, re.DOTALL)
    return dict(found)


def between(html: str, start: str, end: str) -> str:
    return html.split(start, 1)[1].split(end, 1)[0]


@every_sample
def test_each_step_has_one_card_in_order_and_its_title_stands_once_as_a_heading(name: str) -> None:
    subject, html = sample(name), sheet(name).html
    words = wording(subject)
    assert list(cards(html)) == [step.id for step in subject.plan.steps]
    headings = re.findall(
        r'<h3><span class="number">(\d+)</span> <span class="title">(.*?)</span></h3>', html
    )
    assert headings == [
        (str(step.number), words.say(f"{step.task.key}.title")) for step in subject.plan.steps
    ]


@every_sample
def test_each_caution_has_three_parts_and_stands_before_what_it_guards(name: str) -> None:
    subject = sample(name)
    words = wording(subject)
    found = cards(sheet(name).html)
    guarded = [step for step in subject.plan.steps if step.task.cautions]
    assert guarded
    for step in subject.plan.steps:
        card = found[step.id]
        assert card.count('class="caution"') == len(step.task.cautions)
        for caution in step.task.cautions:
            parts = [words.say(f"caution.{caution}.{part}") for part in ("hazard", "consequence", "avoid")]
            told = Texts(between(card, '<div class="caution">', "</div>")).text if card else ""
            assert all(parts)
            assert len(step.task.cautions) > 1 or told.strip() == " ".join(parts)
            assert card.index(parts[0]) < card.index('class="picture"') < card.index('<ol class="do">')


@every_sample
def test_a_card_is_read_from_its_title_to_its_mistake(name: str) -> None:
    for card in cards(sheet(name).html).values():
        marks = ['class="head"', 'class="picture"', '<ol class="do">', 'class="proof"', 'alt="Mistake:"']
        places = [card.index(mark) for mark in marks]
        assert places == sorted(places)
        assert 2 <= card.count("<li>") <= 5


@every_sample
def test_every_number_of_a_measure_is_the_measure_s_shown_value(name: str) -> None:
    subject = sample(name)
    measured = Texts(sheet(name).html).measured
    assert len(measured) > 60
    for measure_id, text in measured:
        measure = subject.measures[measure_id]
        printed = [float(found) for found in _NUMBER.findall(text)]
        scale = {"fraction": 100, "min": 1 / 60 if "h" in text else 1}.get(measure.unit, 1)
        assert printed == pytest.approx([value * scale for value in measure.values]), measure_id
        assert (
            measure.unit != "mm" or text.endswith(" mm") or text.replace(".", "").isdigit() or "and" in text
        )


@every_sample
def test_every_other_number_is_a_step_a_minute_a_tolerance_or_stands_in_a_name(name: str) -> None:
    subject = sample(name)
    html = re.sub(r'<b class="m" data-measure="[a-z_]+">.*?</b>', "", sheet(name).html)
    body = html.split("<body", 1)[1].split(">", 1)[1]
    text = Texts(body).text
    for printed in ("title", "running.edition", "edition"):
        text = text.replace(wording(subject).say(printed), "")
    text = text.replace(f"{subject.size.recipe} {subject.size.name}", "")
    steps = {step.number for step in subject.plan.steps}
    chains = chains_of(subject.plan)
    groups = [subject.plan.steps, *(stage.steps for stage in subject.plan.stages)]
    groups += [
        tuple(step for step in subject.plan.steps if chains.get(step.number) == chain)
        for chain in set(chains.values())
    ]
    minutes: set[int] = set()
    for practised in (False, True):
        minutes |= {step_minutes(step, practised=practised) for step in subject.plan.steps}
        for group in groups:
            minutes.update(divmod(sum(step_minutes(step, practised=practised) for step in group), 60))
    tolerances = {measure.tolerance for measure in subject.measures.values() if measure.tolerance}
    allowed = {float(value) for value in steps | minutes | tolerances}
    assert {found for found in _NUMBER.findall(text) if float(found) not in allowed} == set()


@every_sample
def test_the_document_names_every_number_that_stands_on_its_pages(name: str) -> None:
    document = sheet(name)
    known = {found for text in document.numbers for found in _NUMBER.findall(text)}
    assert set(_NUMBER.findall(Texts(document.html).text)) - known == set()


def test_a_number_from_nowhere_is_not_among_the_document_s_numbers() -> None:
    known = {found for text in sheet("pier-drum").numbers for found in _NUMBER.findall(text)}
    assert {"1155", "270", "1112", "26"} <= known
    assert not {"1156", "271", "1111", "999"} & known


@every_sample
def test_the_lists_of_tools_and_things_are_what_the_steps_use_and_nothing_else(name: str) -> None:
    subject, html = sample(name), sheet(name).html
    words = wording(subject)
    for start, used in (
        ('<div class="tools">', {tool for step in subject.plan.steps for tool in step.task.tools}),
        ('<div class="things">', {thing for step in subject.plan.steps for thing in step.task.consumables}),
    ):
        listed = re.findall(r'<li class="boxed">(.*?)</li>', between(html, start, "</div>"))
        told = [re.sub(r"<[^>]+>", "", each).replace("\u00a0", " ") for each in listed]
        assert len(told) == len(set(told))
        assert set(told) == {words.say(f"layout.{each}") for each in used}


@every_sample
def test_a_card_takes_what_its_step_uses(name: str) -> None:
    subject = sample(name)
    words = wording(subject)
    for step in subject.plan.steps:
        names = [words.say(f"tool.{tool}") for tool in step.task.tools]
        names += [words.say(f"consumable.{thing}") for thing in step.task.consumables]
        taken = re.findall(r'<p class="take">Take: (.*?)</p>', cards(sheet(name).html)[step.id])
        assert taken == ([", ".join(names)] if names else [])


@every_sample
def test_tags_and_pauses_stand_where_the_plan_says(name: str) -> None:
    found = cards(sheet(name).html)
    for step in sample(name).plan.steps:
        card = found[step.id]
        assert ("cannot be undone" in card) == step.task.irreversible
        assert ("do not wait" in card) == (step.task.after == "at-once")
        assert ('class="pause"' in card) == (step.task.after == "safe-pause")


def test_only_the_gate_looks_like_a_gate() -> None:
    gates = re.findall(r'<section class="card gate" id="step-([a-z-]+)"', sheet("pier-drum").html)
    assert gates == ["stop-and-orient"]


@every_sample
def test_minutes_of_steps_add_up_to_those_of_stages_and_of_all(name: str) -> None:
    table = between(sheet(name).html, 'id="work"', "</table>")
    rows = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in re.findall(r"<tr.*?</tr>", table)][1:]

    def minutes(text: str) -> int:
        hours = re.search(r"(\d+) h", text)
        rest = re.search(r"(\d+) min", text)
        return 60 * int(hours[1] if hours else 0) + int(rest[1] if rest else 0)

    for column in (2, 3):
        assert sum(minutes(row[column]) for row in rows[:-1]) == minutes(rows[-1][column])
    printed = re.findall(r'<span class="minutes">(.*?)</span>', sheet(name).html)
    assert sum(minutes(text) for text in printed) == minutes(rows[-1][2])


@every_sample
def test_the_table_of_measures_shows_every_measure_that_has_a_value(name: str) -> None:
    subject = sample(name)
    shown = re.findall(r'data-measure="([a-z_]+)"', between(sheet(name).html, 'id="measures"', "</section>"))
    assert len(shown) == len(set(shown))
    missing = {key for key, measure in subject.measures.items() if measure.values} - set(shown)
    same_as_another = {"blank_length", "blank_width"}
    if "ring_diameter" in subject.measures:
        same_as_another |= {"ring_length", "ring_width"}
    for_programs = {"blank_area", "lateral_area"}
    beside_another = {"margin_tolerance", "height_tolerance", "width_tolerance"}
    # That a shade is made of one panel goes without saying.
    assert missing == beside_another | same_as_another | for_programs | {"panels"}


@every_sample
def test_the_five_numbers_head_the_first_page(name: str) -> None:
    subject = sample(name)
    first = between(sheet(name).html, 'class="five"', "</table>")
    shown = [subject.measures[key] for key in re.findall(r'<td>.*?data-measure="([a-z_]+)"', first)]
    assert [measure.id for measure in shown] == [
        "cloth_length", "panel_length", "perimeter", "tape_total", "seam_to_strut",
    ]  # fmt: skip
    assert all(number(measure.value, ENGLISH) in first for measure in shown)


@every_sample
def test_headings_never_skip_a_level_and_there_is_one_of_the_first(name: str) -> None:
    levels = [int(tag[1]) for tag, _ in Texts(sheet(name).html).elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


@every_sample
def test_every_heading_cell_says_what_it_heads(name: str) -> None:
    cells = [found for tag, found in Texts(sheet(name).html).elements if tag == "th"]
    assert cells
    assert all(found.get("scope") in {"row", "col", "colgroup"} for found in cells)


@every_sample
def test_every_picture_has_words_and_each_figure_stands_once(name: str) -> None:
    pictures = [found for tag, found in Texts(sheet(name).html).elements if tag == "img"]
    assert all(found["alt"].strip() for found in pictures)
    figures = [found["src"] for found in pictures if found["src"].startswith("figure:")]
    assert sorted(figures) == sorted(f"figure:{drawing}" for drawing in sample(name).drawings)


@every_sample
def test_the_contents_name_every_step_and_point_to_its_card(name: str) -> None:
    subject = sample(name)
    words = wording(subject)
    block = between(sheet(name).html, 'id="contents"', "</section>")
    rows = re.findall(
        r'figure:([a-z-]+)".*?class="number">(\d+)</span> (.*?) <span class="at" data-card="#([a-z-]+)"',
        block,
        re.DOTALL,
    )
    assert rows == [
        (
            f"small-{step.task.figure}",
            str(step.number),
            words.say(f"{step.task.key}.title"),
            f"step-{step.id}",
        )
        for step in subject.plan.steps
    ]


def test_without_small_figures_there_are_no_contents() -> None:
    document = compose("step-sheet", replace(sample("pier-drum"), small=()))
    assert 'id="contents"' not in document.html
    assert "contents" not in {block.id for block in document.blocks}


@every_sample
def test_the_blocks_for_the_packing_are_the_blocks_on_the_page(name: str) -> None:
    document = sheet(name)
    assert [block.id for block in document.blocks] == Texts(document.html).ids()


def test_no_sign_is_a_letter() -> None:
    for name in SAMPLES:
        assert not set("✓✔✗✘⚠☐⌀") & set(Texts(sheet(name).html).text)


def test_the_last_page_defers_to_the_lamp_s_marking_local_codes_and_an_electrician() -> None:
    text = Texts(between(sheet("pier-drum").html, 'id="closing"', "</section>")).text
    for words in ("lamp holder", "local codes", "licensed electrician", "does not certify"):
        assert words in text


def test_the_edition_line_tells_recipe_size_version_and_the_digest_s_beginning() -> None:
    text = Texts(between(sheet("pier-drum").html, 'class="imprint"', "</section>")).text
    assert "pier-drum, size 35, Rimfold 9.8.7, edition a1b2c3." in text


def test_the_same_subject_gives_the_same_page() -> None:
    assert compose("step-sheet", sample("bell-hex")).html == sheet("bell-hex").html


def test_a_title_with_markup_and_template_signs_is_printed_as_it_was_written() -> None:
    evil = "<b>{{ 7*7 }}</b>"
    html = compose("step-sheet", retitled(sample("pier-drum"), title=evil)).html
    assert evil not in html
    assert "&lt;b&gt;{{ 7*7 }}&lt;/b&gt;" in html
    assert f"{evil} 35" in Texts(html).text


def test_a_quotation_mark_in_a_title_cannot_leave_its_attribute() -> None:
    html = compose("step-sheet", retitled(sample("pier-drum"), title='x" onload="y')).html
    body = next(found for tag, found in Texts(html).elements if tag == "body")
    assert "onload" not in body
    assert body["data-document"] == 'x" onload="y 35'


def test_a_link_is_a_square_code_with_words_and_no_link_is_none() -> None:
    assert 'class="link"' not in sheet("pier-drum").html
    html = compose("step-sheet", retitled(sample("pier-drum"), link="https://example.org/pd")).html
    codes = [found for _, found in Texts(html).elements if found.get("class") == "link"]
    assert len(codes) == 2
    for found in codes:
        assert found["src"].startswith("data:image/svg+xml")
        assert "https://example.org/pd" in found["alt"]


def test_a_sheet_without_a_maker_has_no_empty_line_for_one() -> None:
    html = compose("step-sheet", retitled(sample("pier-drum"), maker=None)).html
    assert 'class="maker"' not in html
    assert 'name="author"' not in html


def test_breaks_notes_and_air_of_a_layout_come_out_on_the_page() -> None:
    layout = Layout(
        breaks=frozenset({"step-dock"}),
        notes={"step-roll": 90.0},
        air={"step-notch": 4.25},
        dropped=frozenset({"reading", "before-roll", "faults"}),
    )
    html = compose("step-sheet", sample("pier-drum"), layout).html
    styles = {found["id"]: found.get("style") for _, found in Texts(html).elements if "id" in found}
    assert styles["step-dock"] == "break-before: page"
    assert styles["step-notch"] == "margin-top: 4.25mm"
    assert html.count('class="notes"') == 1
    assert 0 < html.count('class="line"') * 8.0 <= 90.0
    assert not layout.dropped & styles.keys()
