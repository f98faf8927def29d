"""The starter recipe filled in: every comment stays, what is said is read, and the house says the rest."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import RecipeError
from generator.recipe.draft import Draft
from generator.recipe.nodes import Mapping, Scalar, parse_document, read_document
from generator.recipe.read import Recipe, house_file, parse_recipe
from generator.recipe.ring_size import usual
from generator.recipe.starter import starter
from generator.shape.build import outline_keys


def read(draft: Draft) -> Recipe:
    return parse_recipe(draft.text(), Path("draft.yaml"), outline_keys())


def scalars(tree: object, inside: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    if isinstance(tree, Mapping):
        for entry in tree:
            if isinstance(entry.node, Scalar):
                found[inside + entry.key] = entry.node.text
            else:
                found |= scalars(entry.node, f"{inside}{entry.key}.")
    return found


def test_the_draft_of_one_who_says_nothing_is_the_starter_recipe() -> None:
    assert Draft().text() == starter()


def test_what_nobody_says_is_what_the_house_says() -> None:
    house = scalars(read_document(house_file()).root)
    stated = scalars(parse_document(Draft().text(), "draft").root)
    both = [key for key in house if key in stated and key != "covering.name"]
    assert len(both) > 15
    assert {key: stated[key] for key in both} == {key: house[key] for key in both}


@pytest.mark.parametrize("outline", outline_keys())
def test_every_outline_can_be_drafted_and_reads_without_a_fault(outline: str) -> None:
    draft = Draft("Mine", outline, "one", usual(outline_keys()[outline]), "20 cm", {"use": "table"})
    (size,) = read(draft).sizes
    assert (size.outline, size.use, size.height, size.name) == (outline, "table", 200.0, "one")
    assert set(size.dimensions) == set(outline_keys()[outline].all)


def test_every_comment_stays_and_no_line_is_lost() -> None:
    draft = Draft(stated={"lamp": None, "ring.hole": "29 mm", "covering.repeat": None, "makers.hand": "left"})
    lines = draft.text().splitlines()
    assert len(lines) == len(starter().splitlines())
    for before, after in zip(starter().splitlines(), lines, strict=True):
        note = before.rpartition("#")[2].strip()
        assert note in after


def test_a_key_is_switched_on_by_a_value_and_a_section_off_by_none() -> None:
    (size,) = read(Draft(stated={"ring.hole": "29 mm", "lamp": None})).sizes
    assert size.ring.hole == 29.0
    assert size.lamp is None
    (other,) = read(Draft(stated={"lamp.watts": None, "lamp.diameter": "95 mm"})).sizes
    assert other.lamp is not None
    assert (other.lamp.diameter, other.lamp.watts) == (95.0, None)


@given(
    text=st.text(
        st.characters(categories=("L", "N", "P", "S", "Zs"), max_codepoint=0x1FFFD), min_size=1, max_size=60
    )
)
def test_any_name_comes_back_as_it_was_said(text: str) -> None:
    said = " ".join(text.split())
    if not said:
        return
    recipe = read(Draft(title=said, stated={"covering.name": said}))
    assert recipe.title == said
    assert recipe.sizes[0].covering.name == said


@pytest.mark.parametrize(
    "said", ["yes", "null", "12", "1.5", "on", "- a", "a: b", "#1", "it's", "{x}", "!!str"]
)
def test_words_that_yaml_takes_for_something_else_stay_words(said: str) -> None:
    assert read(Draft(title=said)).title == said


@pytest.mark.parametrize("said", ["35,5 cm", "9, height: 3 cm", "}", "a: b", "'", "# 3"])
def test_a_bad_length_is_told_as_a_length_and_breaks_no_other_line(said: str) -> None:
    with pytest.raises(RecipeError) as caught:
        read(Draft(height=said))
    assert len(caught.value.faults) == 1
    assert "length" in caught.value.faults[0].expected or "number" in caught.value.faults[0].wrong


def test_what_a_draft_says_can_be_asked() -> None:
    assert Draft().value("use") == "pendant"
    assert Draft(stated={"ring.struts": "4"}).value("ring.struts") == "4"
    with pytest.raises(KeyError):
        Draft(stated={"lamp": None}).value("lamp.diameter")
