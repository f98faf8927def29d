"""Panels out of cloth against values computed elsewhere; sources in values.json."""

from __future__ import annotations

import pytest

from generator.measures.laying import laid, shortest
from generator.recipe.models import Covering
from tests.checks.published import Published, chosen
from tests.shape.samples import SECTIONS


def cloth(width: float, length: float | None = None) -> Covering:
    return Covering(**{**SECTIONS["covering"], "width": width, "length": length})


def name(published: Published) -> str:
    return published.id


@pytest.mark.parametrize("published", chosen("H-", "panels: upright only"), ids=name)
def test_as_many_pieces_come_out_of_a_cloth_as_published(published: Published) -> None:
    p = published.params
    upright, _, mixed, _ = published.value
    sheet, cut = cloth(p["W"], p["L"]), (p["w"], p["h"])
    for count, turns in ((upright, False), (mixed, True)):
        if count:
            found = laid(sheet, cut, count, turns=turns)
            assert found is not None, published.source
            assert len(found.pieces) == count
        assert laid(sheet, cut, count + 1, turns=turns) is None, published.source


@pytest.mark.parametrize("published", chosen("H-nap", "shortest length"), ids=name)
def test_the_shortest_cloth_for_a_print_with_one_direction_is_as_published(published: Published) -> None:
    p = published.params
    for count, length in enumerate(published.value, 1):
        found = shortest(cloth(p["W"]), (p["w"], p["h"]), count, turns=False)
        assert found == pytest.approx(length), published.source


@pytest.mark.parametrize("published", chosen("H-len", "shortest cloth length"), ids=name)
def test_pieces_come_out_of_the_published_length_and_not_of_less(published: Published) -> None:
    p = published.params
    for count, length in enumerate(published.value, 1):
        assert laid(cloth(p["W"], length), (p["w"], p["h"]), count) is not None, published.source
        assert laid(cloth(p["W"], length - 1), (p["w"], p["h"]), count) is None, published.source
