"""The drawings of a whole plan together: a small picture of the shade whose lettering keeps its size."""

from __future__ import annotations

import pytest

from generator.base.edition import ENGLISH
from generator.base.errors import FigureError
from generator.figures.model import Slot
from generator.figures.outlook import SMALL, drawings
from generator.figures.pens import EM
from generator.figures.silhouette import PLACE, silhouette
from generator.plan.outlook import outlook
from generator.sheets.wording import load_words
from tests.figures import drawings as read
from tests.figures.jobs import job

SAMPLES = ("pier-drum/35", "ferry-square", "net-loft", "customs-rect", "bell-hex", "long-flat")


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_small_picture_has_all_its_lettering_on_the_paper_and_large_enough(sample: str) -> None:
    one = job(sample, "dock")
    words = load_words(ENGLISH).bound(one.plan, one.measures)
    small, graph, first_time, practised = drawings(
        one.size, one.shade, one.measures, outlook(one.plan), words
    )
    assert (graph.id, first_time.id, practised.id) == ("plan-graph", "pair-first-time", "pair-practised")
    assert small.id == "silhouette-small"
    assert SMALL[0].width <= small.width <= PLACE.width
    read.check_texts_stand_apart(small)
    sizes = {float(text.get("font-size", "0")) for text in read.root(small).iter(f"{read.SVG}text")}
    assert min(sizes) >= EM


def test_a_picture_whose_lettering_would_be_cut_at_a_side_is_refused() -> None:
    one = job("customs-rect", "dock")
    words = load_words(ENGLISH).bound(one.plan, one.measures)
    with pytest.raises(FigureError, match="180"):
        silhouette(one.size, one.shade, one.measures, words, one.plan, Slot("silhouette", 66.0, 46.0, 62.0))
