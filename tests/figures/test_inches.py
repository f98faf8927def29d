"""Figures in inches obey every law: values with their sign, fractions that have room, no text on another."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from generator.base.edition import Units, Voice
from generator.base.words import INCH_SIGN
from generator.figures.draw import draw_one
from generator.figures.model import Figure, Job
from generator.sheets.wording import load_words
from tests.figures import laws
from tests.figures.drawings import parts
from tests.figures.jobs import figure, job, planned
from tests.figures.telling import check_told

LEFT = ("inspect", "tape-rings", "position-panel", "place-motif", "prepare-seam")
"""Figures in which the left hand moves a value to another edge of the picture."""


@cache
def works(sample: str, units: Units, names: tuple[str, ...] = ()) -> tuple[tuple[Job, Figure], ...]:
    """Jobs and figures of a sample in some units."""
    _, measures, order = planned(sample)
    words = load_words(Voice("en", units)).bound(order, measures)
    there = [step.task.figure for step in order.steps]
    wanted = dict.fromkeys(name for name in there if not names or name in names)
    jobs = [replace(job(sample, name), words=words) for name in wanted]
    return tuple((work, draw_one(work)) for work in jobs)


def check(sample: str, found: tuple[tuple[Job, Figure], ...]) -> None:
    assert found
    for work, drawn in found:
        try:
            laws.check_all(work, drawn)
            check_told(drawn)
        except AssertionError as error:
            raise AssertionError(f"{sample}, {drawn.id}: {error}") from error


@pytest.mark.parametrize("sample", ["pier-drum/35", "slipway-45", "ferry-square", "fog-cone", "tide-drum"])
def test_every_figure_in_inches_obeys_every_law(sample: str) -> None:
    check(sample, works(sample, "inch"))


@pytest.mark.parametrize("sample", ["bell-hex", "left-square", "left-hem", "left-cone", "joined-left"])
def test_a_left_handed_figure_has_room_for_fractions_too(sample: str) -> None:
    check(sample, works(sample, "inch", LEFT))


def test_a_drawing_in_inches_says_so_at_each_length_and_in_its_description() -> None:
    for _, drawn in works("slipway-45", "inch"):
        told = [part for part in parts(drawn) if part.measure and part.texts]
        assert all(any(text.endswith(INCH_SIGN) for text in part.texts) for part in told), drawn.id
        if any(part.role == "dimension" and part.texts for part in told):
            said = re.search(r"<desc>(.*?)</desc>", drawn.svg, re.DOTALL)
            assert said
            assert "millimetres" not in said[1]
            assert not re.search("[⁰-₉¹²³]", said[1])


def test_a_drawing_where_millimetres_come_first_is_the_metric_one() -> None:
    for work, drawn in works("pier-drum/35", "both", ("rough-cut", "position-panel", "inspect")):
        metric = figure("pier-drum/35", work.step.task.figure)
        # Its title tells lengths in both units, as sentences do.
        assert drawn.svg.partition("<defs")[2] == metric.svg.partition("<defs")[2] != ""
