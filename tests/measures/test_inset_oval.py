"""An oval over an oval with the same inset at sides and ends, worked out another way with scipy."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.special import ellipe

from generator.base.assets import data_folder
from generator.recipe.read import read_recipe
from generator.shape.build import outline_keys
from tests.measures.tapers import coble_oval, ellipse, taper
from tests.shape.samples import judged, measured

BELOW, ABOVE, HEIGHT, INSET = (180.0, 130.0), (140.0, 90.0), 200.0, 40.0
OFF = 0.15 + 0.35 / 2
"""The sheet's middle off the wire: the tape and half the panel, mm."""


def round_(axes: tuple[float, float]) -> float:
    """Perimeter of an ellipse, 4 a E(k) (DLMF 19.30(i)), by scipy's own integral."""
    a, b = axes
    return float(4 * a * ellipe(1 - (b / a) ** 2))


def support(axes: tuple[float, float], psi: float) -> float:
    """Distance from the middle to the tangent whose normal is turned by psi off the minor axis."""
    return math.hypot(axes[0] * math.sin(psi), axes[1] * math.cos(psi))


def slope(psi: float) -> float:
    """Sine of how far the side leans there."""
    gap = support(BELOW, psi) - support(ABOVE, psi)
    return gap / math.hypot(gap, HEIGHT)


def test_the_sample_is_that_shade() -> None:
    (size,) = read_recipe(data_folder("recipes") / "coble-oval.yaml", outline_keys()).sizes
    assert size.ends == coble_oval().ends
    assert (size.height, size.panel.kiss_cut) == (200.0, False)


def test_its_panel_is_as_long_as_both_ovals_and_turns_by_the_published_rule() -> None:
    m = measured(coble_oval())
    turning, _ = quad(slope, 0.0, 2 * math.pi, epsabs=1e-12)
    assert math.radians(m.exact("sweep")) == pytest.approx(turning, rel=1e-10)
    # A rim of a parallel surface grows by its offset times the cosine of the slope, summed over all normals,
    # and by a hair more where the slope changes (under 0.001 mm here).
    growth, _ = quad(lambda psi: OFF * math.sqrt(1 - slope(psi) ** 2), 0.0, 2 * math.pi)
    for end, axes in (("bottom", BELOW), ("top", ABOVE)):
        assert m.exact(f"{end}_perimeter") == pytest.approx(round_(axes), rel=1e-12)
        assert m.exact(f"{end}_wrapped") == pytest.approx(round_(axes) + growth, abs=1e-3)
    # By hand: √(200² + 40²) = 203.96; round the ovals 980 and 731 (Ramanujan's rule gives 980.2 and 731.1).
    assert (m.shown("slant"), m.shown("bottom_perimeter"), m.shown("top_perimeter")) == (204, 980, 731)
    assert judged(coble_oval()).faults == ()
    assert "outer_radius" not in m


def test_the_inset_is_the_same_at_the_axes_and_a_little_less_between() -> None:
    assert support(BELOW, 0.0) - support(ABOVE, 0.0) == INSET
    assert support(BELOW, math.pi / 2) - support(ABOVE, math.pi / 2) == INSET
    # √((180² + 130²)/2) − √((140² + 90²)/2) = 157.00 − 117.69.
    assert support(BELOW, math.pi / 4) - support(ABOVE, math.pi / 4) == pytest.approx(39.31, abs=0.01)


def test_a_ring_shrunk_by_a_share_is_another_ring() -> None:
    # 260 × 280/360 = 202.2: wider by 22 mm, and 31 mm more to go round.
    shrunk = taper(ellipse(360.0, 260.0), ellipse(280.0, 260.0 * 280 / 360), 200.0)
    more = measured(shrunk).exact("top_perimeter") - measured(coble_oval()).exact("top_perimeter")
    assert more == pytest.approx(round_((140.0, 130.0 * 140 / 180)) - round_(ABOVE), rel=1e-9)
    assert round(more) == 31
