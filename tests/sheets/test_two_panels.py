"""A sheet for a shade of two panels says what is done for each, and what joins them."""

from __future__ import annotations

from functools import cache

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.sheets.compose import compose
from generator.sheets.wording import load_words
from tests.sheets.subjects import Texts, sample, sheet, subject_of, works


@cache
def texts() -> str:
    work = works(data_folder("recipes") / "slipway-45.yaml")["45"]
    return Texts(compose("step-sheet", subject_of(work)).html).text


def test_each_repeated_step_says_for_how_many_panels() -> None:
    # Steps 6 to 14 of the plan, laid down to seam prepared.
    assert texts().count("Once for each of the 2 panels.") == 9
    assert texts().count("Do steps 7 to 9 without a pause for one panel, then for the next.") == 3


def test_the_lists_count_panels_cloth_and_tape() -> None:
    # By hand: two panels of 718 × 280, two pieces of cloth of 760 × 300, two seam tapes of 250 − 2 × 2.
    assert "Panels: 2 , each 718 × 280 mm , kiss-cut 15 mm in" in texts()
    assert "Cloth, 2 pieces, each 760 × 300 mm or more" in texts()
    assert "2 pieces of 246 mm" in texts()
    assert "The long edges run straight on; the whole is 1426 mm long." in texts()
    assert "Mark 707 mm on the paper strip" in texts()


def test_a_shade_of_one_panel_is_told_nothing_of_joints() -> None:
    said = Texts(sheet("pier-drum").html).text
    assert "joint" not in said
    assert "for each of the" not in said
    assert load_words(ENGLISH).has("times.panels")
    assert {step.times for step in sample("pier-drum").plan.steps} == {1}
