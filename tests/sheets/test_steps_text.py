"""The text edition says all that a step sheet and its figures show, in an order that can be heard."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest
from tinyhtml5.parser import HTMLParser

from generator.base.assets import data_folder, languages
from generator.base.edition import Edition, Form, Voice
from generator.pipeline import Drawn, illustrate, subject_of, tell_document
from generator.plan.work import Work
from generator.press.plain_text import WIDTH
from generator.press.texts import Texts
from generator.sheets.called import label_of
from generator.sheets.cards import text_of
from generator.sheets.document import document_kind
from generator.sheets.formatting import value
from generator.sheets.forms import otherwise
from generator.sheets.kinds.steps_text import lines
from tests.figures.drawings import parts
from tests.sheets.subjects import works

SAMPLES = ("pier-drum", "ferry-square", "customs-rect", "bell-hex", "tide-drum", "fog-cone", "slipway-45")
"""Round; own cloth; a hem; no kiss cuts; another technique; a taper; two panels. The plain language of every
sample is asked without figures, which take long."""
THREE = ("pier-drum", "slipway-45", "tide-drum")
HEADINGS = ("h1", "h2", "h3", "h4")


@cache
def work(name: str) -> Work:
    return next(iter(works(data_folder("recipes") / f"{name}.yaml").values()))


@cache
def drawn(name: str, language: str = "en") -> Drawn:
    return illustrate(work(name), Edition(Voice(language)))


@cache
def texts(name: str, language: str = "en") -> Texts:
    return tell_document("steps-text", drawn(name, language))


def page(name: str) -> Element:
    """The page as strict XML: an element left open, or a sign that is not escaped, raises an error."""
    return ElementTree.fromstring(texts(name).html)


def words(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def sections(name: str) -> dict[str, Element]:
    return {section.get("id", ""): section for section in page(name).iter("section")}


def test_paper_and_print_are_not_spoken_of_where_nothing_is_printed() -> None:
    asked = Form(paper="A5", print_size="large")
    assert otherwise(document_kind("steps-text"), asked) == ""
    assert otherwise(document_kind("box-label"), asked) != ""


@pytest.mark.parametrize("name", THREE)
def test_a_parser_of_the_html_standard_finds_no_fault(name: str) -> None:
    """The parser that the document engine comes with; it lists every parse error of the WHATWG standard."""
    parser = HTMLParser()
    parser.parse(texts(name).html)
    assert parser.errors == []
    parser = HTMLParser()
    parser.parse(texts(name).html.replace("</ol>", "", 1))
    assert parser.errors != []


@pytest.mark.parametrize("name", SAMPLES)
def test_headings_go_down_one_level_at_a_time(name: str) -> None:
    levels = [int(each.tag[1]) for each in page(name).iter() if each.tag in HEADINGS]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", SAMPLES)
def test_nothing_but_words_and_nothing_from_outside(name: str) -> None:
    root = page(name)
    assert root.get("lang") == "en"
    tags = {each.tag for each in root.iter()}
    assert not tags & {"img", "svg", "script", "link", "iframe", "object", "picture", "video"}
    assert "url(" not in texts(name).html
    ids = [each.get("id") for each in root.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    goals = [each.get("href", "") for each in root.iter("a")]
    assert all(goal.removeprefix("#") in ids for goal in goals)
    assert goals[0] == "#steps"


@pytest.mark.parametrize("name", SAMPLES)
def test_every_heading_of_a_table_says_what_it_heads(name: str) -> None:
    for table in page(name).iter("table"):
        assert all(cell.get("scope") == "col" for cell in table.iterfind("thead/tr/th"))
        rows = list(table.iterfind("tbody/tr"))
        assert rows
        assert all(row[0].tag == "th" and row[0].get("scope") == "row" for row in rows)


@pytest.mark.parametrize("name", SAMPLES)
def test_steps_come_in_the_order_of_the_plan_and_cautions_before_anything_to_do(name: str) -> None:
    found = sections(name)
    steps = [each for each in found if each.startswith("step-")]
    assert steps == [f"step-{step.id}" for step in work(name).plan.steps]
    for step in work(name).plan.steps:
        section = found[f"step-{step.id}"]
        order = [each.get("class") or each.tag for each in section]
        assert order.count("caution") == len(step.task.cautions)
        assert order.count("ol") == 1
        if step.task.cautions:
            before = order[: order.index("ol")]
            assert before.count("caution") == len(step.task.cautions)
            # Not even what to take comes first: a tool is held before it is used.
            assert order.index("caution") < order.index("p")


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sentence_of_a_card_is_said(name: str) -> None:
    subject = subject_of(drawn(name), "steps-text")
    said = subject.words.bound(subject.plan, subject.measures)
    found = sections(name)
    for step in subject.plan.steps:
        told, key = words(found[f"step-{step.id}"]), step.task.key
        sentences = [*said.instructions(key), *(said.rich(f"{key}.{part}") for part in ("title", "check"))]
        sentences += [said.rich(f"{key}.mistake"), said.rich(f"{key}.rescue")]
        assert [text for text in map(text_of, sentences) if text not in told] == []
        things = [said.say(f"tool.{tool}") for tool in step.task.tools]
        assert [thing for thing in things if thing not in told] == []
        if step.task.irreversible:
            assert said.say("tag.irreversible") in told
        if step.task.after == "safe-pause":
            assert said.say("card.pause") in told


@pytest.mark.parametrize("name", THREE)
def test_all_lettering_of_every_figure_and_every_measure_with_its_value_is_told(name: str) -> None:
    subject = subject_of(drawn(name), "steps-text")
    found = sections(name)
    checked = 0
    for figure in subject.figures:
        section = found[f"step-{figure.id}" if figure.number else "numbers"]
        told = words(section)
        assert figure.alt in told
        # Read from the finished drawing, not from what the page was made of.
        for part in parts(figure):
            for text in part.texts:
                assert re.search(rf"(?<!\w){re.escape(text)}(?!\w)", told), (figure.id, text)
                checked += 1
        for key in figure.measures:
            measure = subject.measures[key]
            line = next(
                (
                    words(each)
                    for each in section.iter("li")
                    if label_of(measure, subject.words) in words(each)
                ),
                "",
            )
            values = re.findall(r"\d+(?:\.\d+)?", value(measure, subject.words.voice))
            assert any(number in line for number in values), (figure.id, key)
            assert measure.unit in line
    assert checked > 100


@pytest.mark.parametrize("name", SAMPLES)
def test_every_part_that_is_new_taken_away_or_at_work_has_a_name(name: str) -> None:
    subject = subject_of(drawn(name), "steps-text")
    for figure in subject.figures:
        told = list(lines(figure, subject.measures, subject.words))
        drawn_parts = [part for part in parts(figure) if part.role in ("new", "removed")]
        if drawn_parts and figure.number:
            assert any(
                line.startswith(subject.words.say(f"told.{key}", listed="").removesuffix("."))
                for line in told
                for key in ("new", "removed")
            ), figure.id
        assert all(line.endswith(".") for line in told)


def test_what_two_panels_and_a_taper_need_is_said() -> None:
    assert "Once for each of the 2 panels." in " ".join(texts("slipway-45").text.split())
    assert "get a helper" in texts("slipway-45").text
    assert "grain line" in texts("fog-cone").text


def test_young_makers_hear_what_a_named_adult_does_and_two_people_how_to_share(tmp_path: Path) -> None:
    recipe = (data_folder("recipes") / "pier-drum.yaml").read_text(encoding="utf-8")
    changed = re.sub(r"^makers: .*$", "makers: {people: 2, ages: [11, 13]}", recipe, flags=re.MULTILINE)
    path = tmp_path / "young.yaml"
    path.write_text(changed, encoding="utf-8")
    young = next(iter(works(path).values()))
    assert any(step.adult for step in young.plan.steps)
    root = ElementTree.fromstring(tell_document("steps-text", illustrate(young, Edition())).html)
    said = {each.get("id", ""): words(each) for each in root.iter("section")}
    for step in young.plan.steps:
        assert ("a named adult does this" in said[f"step-{step.id}"]) == step.adult
    assert sum("One pulls the liner, one smooths." in text for text in said.values()) >= 1


@pytest.mark.parametrize("name", SAMPLES)
def test_the_plain_text_is_narrow_and_draws_no_boxes(name: str) -> None:
    text = texts(name).text
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not re.search(r"[\u2500-\u25ff|→☐]", text)
    assert text.endswith("\n")
    for level, line in (("h1", "="), ("h2", "-"), ("h3", "~"), ("h4", ".")):
        heads = [words(each) for each in page(name).iter(level) if words(each) != "Contents"]
        underlined = re.findall(rf"^(?!- ).*\n{re.escape(line)}{{2,}}$", text, re.MULTILINE)
        assert len(underlined) == len(heads)


@pytest.mark.parametrize("language", [code for code in languages() if code != "en"])
def test_it_is_said_in_every_language(language: str) -> None:
    told = texts("pier-drum", language)
    root = ElementTree.fromstring(told.html)
    assert root.get("lang") == language
    steps = [each for each in root.iter("section") if (each.get("id") or "").startswith("step-")]
    assert len(steps) == len(work("pier-drum").plan.steps)
    subject = subject_of(drawn("pier-drum", language), "steps-text")
    for figure in subject.figures:
        names = [name for name in figure.told.names if name not in words(root)]
        assert names == []
