"""Names in small pictures: each has its leader, and that ends on its thing."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from shapely import LineString, Polygon
from shapely import Point as Dot

from generator.base.assets import languages
from generator.base.edition import Voice
from generator.figures.draw import draw_one
from generator.figures.model import CELL_A5, CELL_A5_CAUTION, HANDOUT, HANDOUT_LEAST, WALL, Figure, Slot
from generator.sheets.wording import load_words
from tests.figures.drawings import parts, words
from tests.figures.jobs import job

TOUCHING = 1.2
"""A leader begins this far from its word at most, ems."""


@cache
def drawn(sample: str, figure: str, language: str, slot: Slot) -> Figure:
    found = job(sample, figure)
    return draw_one(
        replace(found, slot=slot, words=load_words(Voice(language)).bound(found.plan, found.measures))
    )


def leaders(figure: Figure) -> list[LineString]:
    """All straight thin lines among the labels."""
    return [
        LineString(part.points[k : k + 2])
        for part in parts(figure)
        if part.role == "label" and part.name in ("label-place", "callout")
        for k in range(len(part.points) - 1)
    ]


def of_word(figure: Figure, text: str) -> LineString:
    """The leader that touches a word; the far end is what it names."""
    (word,) = [each for each in words(figure) if each.text == text]
    size = word.box.bounds[3] - word.box.bounds[1]
    near = [each for each in leaders(figure) if each.length > 0.3 * size]
    found = min(near, key=word.box.distance)
    assert word.box.distance(found) < TOUCHING * size
    return found


def outline(figure: Figure, name: str) -> Polygon:
    (part,) = [each for each in parts(figure) if each.name == name]
    return Polygon(part.points[:4])


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("sample", ["pier-drum", "net-loft", "ferry-square"])
def test_on_the_card_to_stop_the_hub_is_named_at_the_hub_and_clear_of_the_box(
    sample: str, language: str
) -> None:
    figure = drawn(sample, "stop-and-orient", language, WALL)
    name = load_words(Voice(language)).say("label.hub")
    leader, hub, hold = of_word(figure, name), outline(figure, "section-hub"), outline(figure, "hold")
    (word,) = [each for each in words(figure) if each.text == name]
    far = max((Dot(*end) for end in leader.coords), key=word.box.distance)
    assert hub.buffer(0.1).contains(far)
    assert hold.distance(leader) > 1.0
    assert hold.distance(word.box) > 1.0


@pytest.mark.parametrize("slot", [HANDOUT, HANDOUT_LEAST, CELL_A5], ids=lambda slot: str(slot.name))
@pytest.mark.parametrize("sample", ["capstan", "fog-cone", "coble-oval"])
def test_a_name_that_has_no_room_on_a_curved_panel_has_a_leader_to_it(sample: str, slot: Slot) -> None:
    figure = drawn(sample, "position-panel", "en", slot)
    if not any(each.text == "panel" for each in words(figure)):
        pytest.skip("this place is too small for the name")
    (word,) = [each for each in words(figure) if each.text == "panel"]
    leader = of_word(figure, "panel")
    panel = next(part for part in parts(figure) if part.name == "panel" and part.points)
    far = max((Dot(*end) for end in leader.coords), key=word.box.distance)
    assert Polygon(panel.points).buffer(0.3).contains(far)


@pytest.mark.parametrize("slot", [HANDOUT, CELL_A5, CELL_A5_CAUTION], ids=lambda slot: str(slot.name))
@pytest.mark.parametrize("sample", ["capstan", "fog-cone", "pier-drum"])
def test_no_leader_crosses_a_number_out(sample: str, slot: Slot) -> None:
    """Leaders are drawn last: one over a number would hide it."""
    figure = drawn(sample, "inspect", "en", slot)
    discs = [Polygon(part.points) for part in parts(figure) if part.name.startswith("number-")]
    assert len(discs) >= 3
    for leader in leaders(figure):
        assert [disc for disc in discs if disc.buffer(-0.2).intersects(leader)] == []
