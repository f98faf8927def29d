"""Relief cuts: one a corner at each rim, where the corner is tighter than the margin is wide."""

from __future__ import annotations

import pytest

from generator.plan.facts import facts_of
from tests.shape.samples import bell_hex, customs_rect, make_size, measured, net_loft, pier_drum


@pytest.mark.parametrize(("radius", "count"), [(14.9, 4), (8.0, 4), (15.0, None), (45.0, None)])
def test_a_corner_tighter_than_the_margin_of_15_mm_is_relieved(radius: float, count: int | None) -> None:
    size = make_size("square", {"side": 260.0, "corner_radius": radius}, 190.0)
    measures = measured(size)
    assert (measures.shown("reliefs") if "reliefs" in measures else None) == count
    assert facts_of(size, measures)["sharp"] == (count is not None)


def test_a_sharp_hexagon_has_six_reliefs() -> None:
    size = make_size("polygon", {"sides": 6, "across_flats": 280.0, "corner_radius": 0.0}, 220.0)
    assert measured(size).shown("reliefs") == 6


def test_rings_without_sharp_corners_have_none() -> None:
    for size in (pier_drum(), net_loft(), customs_rect(), bell_hex()):
        assert "reliefs" not in measured(size)


def test_the_tight_ends_of_a_narrow_oval_are_no_corners() -> None:
    size = make_size("stadium", {"length": 300.0, "width": 26.0}, 200.0)
    assert "reliefs" not in measured(size)
