"""The names of both rims beside the details of relief cuts, in every shipped language: none is covered."""

from __future__ import annotations

import pytest

from generator.base.assets import data_folder, languages
from generator.base.edition import Voice
from generator.examine import examine
from generator.figures.draw import draw_one
from generator.figures.model import Job, slot_named
from generator.press.press import press
from generator.sheets.wording import load_words
from tests.press.pages import IMAGE, page


@pytest.mark.parametrize("language", languages())
def test_both_rims_are_named_beside_their_details(language: str) -> None:
    work = examine(data_folder("recipes") / "coble-oval.yaml").works[0]
    words = load_words(Voice(language)).bound(work.plan, work.measures)
    (step,) = (step for step in work.plan.steps if step.task.figure == "relief-cuts")
    place = slot_named("half-a4")
    drawn = draw_one(Job(work.size, work.shade, work.measures, work.plan, step, words, place))
    assert press(page(IMAGE), {"dock": drawn.svg}).pages == 1
