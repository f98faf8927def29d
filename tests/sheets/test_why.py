"""The reasons for a step's place as sentences."""

from __future__ import annotations

import re

import pytest

from generator.base.edition import ENGLISH
from generator.plan.model import Link, Reason
from generator.sheets.context import wording
from generator.sheets.why import phrase, why
from generator.sheets.wording import Catalogue, load_words
from tests.sheets.subjects import SAMPLES, sample

EN = load_words(ENGLISH)


def test_the_reasons_of_a_step_are_plain_sentences() -> None:
    given = sample("pier-drum")
    dock = given.plan.step("dock")
    assert dock is not None
    assert why(dock, wording(given)) == (
        "It needs the oriented rings from step 18.",
        "These wait for it: step 20 for the docked rings.",
        "Before step 18 there would be no oriented rings.",
        "Later, step 20 would have to go without the docked rings.",
        "It must follow step 18 without a wait.",
        "Step 20 must follow without a wait.",
        "Beside step 18 the work lies the same way and it is done at the same place.",
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_every_reason_of_every_sample_has_a_sentence(name: str) -> None:
    given = sample(name)
    for step in given.plan.steps:
        for sentence in why(step, wording(given)):
            assert re.fullmatch(r"[A-Z].*\.", sentence)


def test_several_results_and_steps_are_joined_as_the_language_joins_a_list() -> None:
    links = (Link("layout", (2, 4, 15)), Link("flat cloth", (3,)))
    assert phrase(Reason("waits", links=links), EN) == (
        "These wait for it: steps 2, 4 and 15 for the layout and step 3 for the flat cloth."
    )
    assert phrase(Reason("waits"), EN) == "No other step waits for it."
    assert phrase(Reason("needs", stock=("rings", "panel")), EN) == (
        "It needs only the rings and the panel, there from the start."
    )
    assert phrase(Reason("needs"), EN) == "It needs no other step."
    assert phrase(Reason("rests", minutes=100), EN) == (
        "After it the work rests for 100 minutes before it can go on."
    )


def test_a_catalogue_may_name_a_result_otherwise() -> None:
    keys = list(EN.keys())
    said = {key: EN.raw(key) for key in keys} | {"result.flat-cloth": "smooth cloth"}
    words = Catalogue(ENGLISH, said)
    assert phrase(Reason("later", links=(Link("flat cloth", (4,)),)), words) == (
        "Later, step 4 would have to go without the smooth cloth."
    )
