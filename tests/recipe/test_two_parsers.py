"""libyaml's parser reads what is plainly good, and never otherwise than the parser whose faults are told."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.recipe.nodes import RECIPE, Node, _Builder, _quickly
from generator.recipe.source import read_source

RECIPES = data_folder("recipes")
OURS = sorted(RECIPES.rglob("*.yaml"))
EVERY = [*OURS, *sorted(Path(__file__).parents[1].rglob("*.yaml"))]
TEXTS = [text for path in EVERY if (text := read_source(path, RECIPE).text) is not None]
SIGNS = [
    *":-?#,[]{}&*!|>'\"%@` \n~\\",
    "\n  ",
    "\n- ",
    ": ",
    " #",
    "---",
    "...",
    "<<",
    "|\n",
    ">-\n ",
    '"a":',
    "'x'\n : ",
]

needs_libyaml = pytest.mark.skipif(not yaml.__with_libyaml__, reason="PyYAML was built without libyaml")


def slowly(text: str) -> tuple[Node | None, bool]:
    """The root by the parser that tells, and whether it told anything."""
    builder = _Builder("file.yaml", RECIPE)
    return builder.build(text), bool(builder.faults)


def agree(text: str) -> bool:
    """Whether the quick parser left the text alone, or read the same out of it, every place included."""
    quick = _quickly(text, "file.yaml", RECIPE)
    return quick is None or (quick, False) == slowly(text)


@needs_libyaml
@pytest.mark.parametrize("path", OURS, ids=lambda path: path.stem)
def test_what_comes_with_rimfold_is_read_quickly(path: Path) -> None:
    text = read_source(path, RECIPE).text
    assert text is not None
    assert _quickly(text, "file.yaml", RECIPE) is not None


@needs_libyaml
def test_every_file_of_samples_and_tests_is_read_alike() -> None:
    assert len(TEXTS) > 50
    assert [text for text in TEXTS if not agree(text)] == []


@needs_libyaml
@pytest.mark.parametrize(
    "text",
    [
        "a: {b?c: 1}",
        "a: [wor? d]",
        "a: ",
        "a: {b:  , c: 1}",
        "? a",
        "- | # what\n  b",
        "a: >x\n  b",
        "a: &b c",
        "a: !x b",
    ],
)
def test_where_the_parsers_are_known_to_differ_the_quick_one_stands_back(text: str) -> None:
    assert _quickly(text, "file.yaml", RECIPE) is None


@needs_libyaml
@given(seed=st.integers(0, 2**32), changes=st.integers(1, 4))
def test_a_slip_of_the_hand_is_read_alike(seed: int, changes: int) -> None:
    chance = random.Random(seed)
    lines = chance.choice(TEXTS).split("\n")
    first = chance.randrange(len(lines))
    text = "\n".join(lines[first : first + chance.randint(1, 12)])
    for _ in range(changes):
        place = chance.randint(0, len(text))
        text = text[:place] + chance.choice(SIGNS) + text[place + chance.choice((0, 0, 1)) :]
    assert agree(text), text
