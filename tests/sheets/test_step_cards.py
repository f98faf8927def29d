"""The cards that stand alone: the sheet's own words and numbers, set by measured width, one in each file."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import pytest
from shapely import Polygon, box
from shapely import union_all as union

from generator.base.errors import FigureError
from generator.figures.lettering import ASCENT, DESCENT, text_width
from generator.figures.paragraph import Run, lines, plain, text_of
from generator.sheets import cards as views
from generator.sheets.context import numbers, wording
from generator.sheets.step_cards import StepCard, step_cards
from tests.sheets.subjects import SAMPLES, sample

SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"\d+(?:\.\d+)*")

every_sample = pytest.mark.parametrize("name", SAMPLES)


@cache
def made(name: str) -> tuple[StepCard, ...]:
    return step_cards(sample(name))


def root(card: StepCard) -> ElementTree.Element:
    return ElementTree.fromstring(card.svg)


def own_texts(card: StepCard) -> list[ElementTree.Element]:
    """Lines of the card itself, without those of its figure (in these tests a grey box)."""
    return list(root(card).iter(f"{SVG}text"))


def said(element: ElementTree.Element) -> str:
    return "".join(element.itertext())


def part(card: StepCard, name: str) -> str:
    """All words of a part, its lines joined."""
    groups = [group for group in root(card).iter(f"{SVG}g") if group.get("data-part") == name]
    return " ".join(said(text).strip() for group in groups for text in group.iter(f"{SVG}text"))


def ink(text: ElementTree.Element) -> Polygon:
    """The box of a line's letters, mm."""
    x, y, size = (float(text.get(key, "")) for key in ("x", "y", "font-size"))
    pieces = list(text.iter(f"{SVG}tspan")) or [text]
    wide = sum(text_width(each.text or "", size, int(each.get("font-weight", "400"))) for each in pieces)
    return box(x, y - ASCENT * size, x + wide, y + DESCENT * size)


@every_sample
def test_there_is_a_card_a_step_with_its_number_and_title(name: str) -> None:
    subject = sample(name)
    words = wording(subject)
    assert [(card.number, card.id) for card in made(name)] == [
        (step.number, subject.figure_of(step).id) for step in subject.plan.steps
    ]
    for card, step in zip(made(name), subject.plan.steps, strict=True):
        title = words.say(f"{step.task.key}.title")
        assert part(card, "title") == f"{step.number} {title}"
        assert root(card).find(f"{SVG}title") is not None


@every_sample
def test_a_card_says_what_the_sheet_says(name: str) -> None:
    words = wording(sample(name))
    shown = [card for stage in views.stages(sample(name), words) for card in stage.cards]
    for card, sheet in zip(made(name), shown, strict=True):
        assert part(card, "do") == " ".join(views.text_of(each) for each in sheet.instructions)
        assert part(card, "check") == views.text_of(sheet.check)
        arrow = words.say("card.arrow")
        assert (
            part(card, "mistake") == f"{views.text_of(sheet.mistake)} {arrow} {views.text_of(sheet.rescue)}"
        )
        cautions = [(c.hazard, c.consequence, c.avoid) for c in sheet.cautions]
        assert part(card, "caution") == " ".join(views.text_of(p) for parts in cautions for p in parts)
        assert [part(card, f"mark-{tag.look}") for tag in sheet.tags] == [tag.text for tag in sheet.tags]
        assert bool(part(card, "pause")) == sheet.pause
        assert part(card, "minutes") == sheet.minutes


@every_sample
def test_a_warning_sign_stands_before_anything_to_do(name: str) -> None:
    guarded = [card for card in made(name) if part(card, "caution")]
    assert guarded
    for card in guarded:
        order = [g.get("data-part") for g in root(card).iter(f"{SVG}g") if g.get("data-part")]
        assert order.index("caution") < order.index("do")
        caution = next(g for g in root(card).iter(f"{SVG}g") if g.get("data-part") == "caution")
        sign = caution.find(f"{SVG}g")
        assert sign is not None
        assert sign.findtext(f"{SVG}title") == "Caution:"
        assert len(list(sign.iter(f"{SVG}path"))) == 2


@every_sample
def test_every_number_on_a_card_may_stand_on_the_sheet(name: str) -> None:
    subject = sample(name)
    known = {found for text in numbers(subject, wording(subject)) for found in _NUMBER.findall(text)}
    printed = {
        found for card in made(name) for text in own_texts(card) for found in _NUMBER.findall(said(text))
    }
    assert printed
    assert printed - known == set()


@every_sample
def test_every_measure_of_the_words_stands_among_the_values_with_its_name(name: str) -> None:
    words = wording(sample(name))
    shown = [card for stage in views.stages(sample(name), words) for card in stage.cards]
    for card, sheet in zip(made(name), shown, strict=True):
        for segment in (s for sentence in (*sheet.instructions, sheet.check) for s in sentence):
            if segment.measure and not segment.measure.endswith("tolerance"):
                assert _NUMBER.findall(segment.text)[0] in part(card, "values")


@every_sample
def test_no_line_lies_on_another_or_comes_near_the_frame(name: str) -> None:
    for card in made(name):
        view = [float(number) for number in root(card).get("viewBox", "").split()]
        inside = box(4.9, 2.0, view[2] - 4.9, view[3] - 2.0)
        boxes = [(said(text), ink(text)) for text in own_texts(card)]
        for text, area in boxes:
            assert inside.contains(area), text
        for (a, first), (b, second) in combinations(boxes, 2):
            assert not first.buffer(-0.1).intersects(second.buffer(-0.1)), (a, b)


@every_sample
def test_a_card_is_ninety_wide_and_as_high_as_it_needs(name: str) -> None:
    for card in made(name):
        _, _, width, height = (float(number) for number in root(card).get("viewBox", "").split())
        assert width == 90.0
        assert root(card).get("width") == "90mm"
        lowest = union([ink(text) for text in own_texts(card)]).bounds[3]
        assert 2.0 < height - lowest < 4.0


def test_ids_are_unique_over_all_cards_and_never_a_figure_s_own() -> None:
    ids = [each.get("id") for name in SAMPLES for card in made(name) for each in root(card).iter()]
    found = [each for each in ids if each]
    assert len(found) == len(set(found))
    assert all(each.startswith("card-") for each in found)


def test_only_the_gate_has_the_heavy_frame() -> None:
    heavy = [card.id for card in made("pier-drum") if 'stroke-width="1"' in card.svg]
    assert heavy == ["stop-and-orient"]


def test_lines_are_as_few_as_can_be_and_none_is_too_long() -> None:
    text = "Lay the panel on the cloth, liner down, start end left, and look along the edge once more."
    set_ = lines(plain(text), 4.2, 50.0)
    assert " ".join(text_of(line) for line in set_) == text
    assert all(text_width(text_of(line), 4.2) <= 50.0 for line in set_)
    # Fewer lines than the sum of the widths over the room there cannot be.
    assert len(set_) <= text_width(text, 4.2) / 50.0 + 1.5


def test_a_measure_is_never_broken_nor_parted_from_its_bracket() -> None:
    pair = (Run("Cut a blank of ("), Run("1155 × 270 mm", 700, whole=True), Run("), then press."))
    for room in (32.0, 40.0, 60.0):
        told = [text_of(line) for line in lines(pair, 4.2, room)]
        assert any("(1155 × 270 mm)," in line for line in told)


def test_a_word_wider_than_the_card_is_told() -> None:
    with pytest.raises(FigureError, match="“Kantenklebestreifenabroller”"):
        lines(plain("Den Kantenklebestreifenabroller nehmen"), 7.0, 60.0)
