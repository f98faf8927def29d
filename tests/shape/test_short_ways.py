"""Where a short way is taken, it comes to the same as the long one: cones, places, quarters of an oval."""

from __future__ import annotations

import math
from functools import cached_property

import pytest
from hypothesis import given, settings

from generator.shape.development import Development
from generator.shape.outline import Outline
from generator.shape.outlines import circle, ellipse
from generator.shape.shade import _nearest
from generator.shape.surface import Local
from tests.shape.strategies import SHARE, tapers

few = settings(max_examples=10)
NEAR = 1e-9
"""Millimetres, and radians."""


class Summed(Development):
    """A development that sums along cones too, as along every other bent part."""

    @cached_property
    def _even(self) -> tuple[Local | None, ...]:
        return (None,) * len(self.parts)


@pytest.mark.parametrize(("low", "high"), [(500.0, 280.0), (280.0, 500.0), (300.0, 300.0), (300.0, 299.999)])
@pytest.mark.parametrize("delta", [0.0, 0.325])
def test_a_cone_in_closed_form_is_what_its_sums_come_to(low: float, high: float, delta: float) -> None:
    bottom, top = (circle.make({"diameter": size}) for size in (low, high))
    short, long = (kind(bottom, top, 250.0, delta=delta) for kind in (Development, Summed))
    assert long._even == (None,)
    assert short._even != (None,)
    assert short.length == pytest.approx(long.length, abs=NEAR)
    assert short.turning == pytest.approx(long.turning, abs=NEAR)
    assert short.area == pytest.approx(long.area, rel=1e-12)
    for share in (0.0, 0.1, 0.37, 0.5, 0.93, 1.0):
        one, other = (way.generator(share * way.length) for way in (short, long))
        for ours, theirs in ((one.flat_low, other.flat_low), (one.flat_high, other.flat_high)):
            assert math.dist(ours, theirs) < NEAR
        assert math.dist(one.low, other.low) < NEAR


def test_a_ring_that_is_moved_makes_no_upright_cone() -> None:
    bottom, top = (circle.make({"diameter": size}) for size in (500.0, 280.0))
    assert Development(bottom, top, 250.0, shift=(20.0, 0.0))._even == (None,)


@given(tapers(), SHARE)
@few
def test_a_place_on_a_side_is_where_both_rims_have_its_mean_length(
    development: Development, share: float
) -> None:
    x = share * development.length
    rims = [development.rim_place(end, x) for end in ("bottom", "top")]
    assert sum(rims) / 2 == pytest.approx(x, abs=NEAR * max(1.0, development.length / 1000))


@pytest.mark.parametrize(
    "ring", [circle.make({"diameter": 300.0}), ellipse.make({"length": 360.0, "width": 120.0})]
)
def test_a_smooth_ring_is_nearest_to_its_middle_at_a_quarter(ring: Outline) -> None:
    around = [ring.length * k / 720 for k in range(720)]
    long = min(
        x * math.sin(psi) - y * math.cos(psi)
        for s in around
        for (x, y), psi in ((ring.point(s), ring.psi(s)),)
    )
    assert _nearest(ring, (0.0, 0.0)) == pytest.approx(long, abs=NEAR)
    assert long == pytest.approx(min(ring.width, ring.depth) / 2, abs=NEAR)
