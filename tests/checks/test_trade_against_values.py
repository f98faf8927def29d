"""Cloth round the wire and pattern repeats against values computed elsewhere; sources in values.json."""

from __future__ import annotations

import math

import pytest

from generator.base.registry import load_kind
from generator.measures.pattern import matching_diameter, matching_length, seam_step, whole_repeats
from generator.measures.wire import wrap_used
from tests.checks.published import Published, chosen

TURNS = {"half": math.pi, "three-quarter": 1.5 * math.pi, "full": 2 * math.pi}
RINGS = {
    "C300": ("circle", {"diameter": 300.0}),
    "C200": ("circle", {"diameter": 200.0}),
    "SQ300r40": ("square", {"side": 300.0, "corner_radius": 40.0}),
    "E300x200": ("ellipse", {"length": 300.0, "width": 200.0}),
}


def name(published: Published) -> str:
    return published.id


def turn_of(published: Published) -> float:
    return TURNS[published.id.split("-", 3)[3]]


@pytest.mark.parametrize("published", chosen("F-wrap"), ids=name)
def test_cloth_round_the_wire_is_as_published(published: Published) -> None:
    used = wrap_used(turn_of(published), published.params["w"], published.params["t_fabric"])
    assert used == pytest.approx(published.value, rel=1e-9), published.source


@pytest.mark.parametrize("published", chosen("F-lap15"), ids=name)
def test_the_lap_that_is_left_of_a_margin_is_as_published(published: Published) -> None:
    used = wrap_used(turn_of(published), published.params["w"], published.params["t_fabric"])
    assert published.params["margin"] - used == pytest.approx(published.value, rel=1e-9), published.source


def wrapped(published: Published) -> float:
    """Once round the named ring, 0.35 mm outside the wire."""
    kind, dimensions = RINGS[published.shape.split()[0]]
    length: float = load_kind("generator.shape.outlines", kind).make(dimensions).offset(0.35).length
    return length


@pytest.mark.parametrize("published", chosen("G-", "whole repeats"), ids=name)
def test_whole_repeats_and_the_rest_are_as_published(published: Published) -> None:
    found = whole_repeats(wrapped(published), published.params["repeat"])
    assert list(found) == pytest.approx(published.value, rel=1e-9), published.source


@pytest.mark.parametrize("published", chosen("G-", "whole repeats"), ids=name)
def test_the_step_at_the_seam_is_the_shorter_way_to_a_match(published: Published) -> None:
    repeat = published.params["repeat"]
    rest = published.value[1]
    assert seam_step(wrapped(published), repeat) == pytest.approx(min(rest, repeat - rest), rel=1e-9)


@pytest.mark.parametrize("published", chosen("G-", "nearest matching perimeter"), ids=name)
def test_the_nearest_matching_length_is_as_published(published: Published) -> None:
    length = wrapped(published)
    matching = matching_length(length, published.params["repeat"])
    # The scale is that of the print: repeats shrunk so that the matching number goes once round.
    assert [matching, length / matching] == pytest.approx(published.value, rel=1e-9), published.source


def test_the_ring_that_takes_whole_repeats_is_as_published() -> None:
    (published,) = chosen("G-circ-n15")
    p = published.params
    found = matching_diameter(int(p["n"]), p["repeat"], p["d_offset"])
    assert found == pytest.approx(published.value, rel=1e-9), published.source


def test_a_pattern_that_fits_makes_no_step() -> None:
    assert seam_step(960.0, 64.0) == 0
    assert seam_step(14.999999999 * 64, 64.0) == pytest.approx(0, abs=1e-6)
