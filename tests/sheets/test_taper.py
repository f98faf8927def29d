"""What a sheet says of a tapered shade: both rings by name, nothing twice, no sentence of a straight one."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from generator.base.edition import ENGLISH
from generator.examine import examine
from generator.plan.work import Work
from generator.sheets.cards import text_of
from generator.sheets.front import five_numbers, measure_groups
from generator.sheets.wording import Catalogue, load_words

RECIPES = Path(__file__).parents[2] / "recipes"
SAMPLES = ("fog-cone", "capstan")


@cache
def work(name: str) -> tuple[Work, Catalogue]:
    (one,) = examine(RECIPES / f"{name}.yaml").works
    return one, load_words(ENGLISH).bound(one.plan, one.measures)


def said(name: str) -> str:
    one, words = work(name)
    texts = []
    for step in one.plan.steps:
        key = step.task.key
        texts += [text_of(sentence) for sentence in words.instructions(key)]
        texts += [words.say(f"{key}.{part}") for part in ("check", "mistake", "rescue", "see")]
    return "\n".join(texts)


def test_the_five_numbers_name_both_rings_and_the_piece_that_holds_the_panel() -> None:
    one, words = work("fog-cone")
    rows = {text_of(row.name): text_of(row.value) for row in five_numbers(one.measures, words)}
    assert rows["Round the rings"] == "1100 and 628 mm"
    length, width = (int(one.measures.shown(f"blank_{side}")) for side in ("length", "width"))
    assert rows["Panel"] == f"{length} × {width} mm"


@pytest.mark.parametrize("name", SAMPLES)
def test_no_measure_stands_twice_in_the_table(name: str) -> None:
    one, words = work(name)
    labels = [row.label for group in measure_groups(one.measures, words) for row in group.rows]
    assert len(labels) == len(set(labels))
    assert not any("Area" in label for label in labels)
    assert sum("ring" in label and "bottom" in label.lower() for label in labels) >= 2


def test_a_straight_shade_is_spared_what_only_a_taper_needs() -> None:
    (*_, one) = examine(RECIPES / "pier-drum.yaml").works
    words = load_words(ENGLISH).bound(one.plan, one.measures)
    labels = [row.label for group in measure_groups(one.measures, words) for row in group.rows]
    assert not any("Piece that holds" in label or "Area" in label for label in labels)


def test_the_sweep_is_printed_in_degrees() -> None:
    one, words = work("fog-cone")
    rows = {
        row.label: text_of(row.value) for group in measure_groups(one.measures, words) for row in group.rows
    }
    assert rows["Sweep of the flat panel"] == "116.2°"


@pytest.mark.parametrize("name", SAMPLES)
def test_no_card_speaks_of_one_ring_size_a_window_or_a_straight_lie(name: str) -> None:
    text = said(name)
    for false in ("window", "Both rings agree", "when the rings are stacked", "Stack the rings"):
        assert false not in text
    for true in ("grain line", "swings round", "relief cuts"):
        assert true in text


def test_a_cone_is_drawn_from_its_radii_and_a_transition_is_printed() -> None:
    assert "296 mm, 311 mm, 543 mm and 558 mm from its pin" in said("fog-cone")
    assert "arc" not in said("capstan").replace("march", "")
    assert "print the pattern sheets" in said("capstan")


def test_the_table_to_roll_on_has_a_depth() -> None:
    one, words = work("fog-cone")
    length, depth = (int(one.measures.shown(f"rolling_{side}")) for side in ("bench", "depth"))
    assert words.say("bench.roll") == f"Table to roll on: {length} × {depth} mm."
    assert "swings round" in words.say("before-roll.bench")
