"""Little drawings of parts: rings and panels in their own shape, both rings to one scale, nothing cut off."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterable

import pytest

from generator.figures.model import Figure
from generator.figures.part_icons import PLACE, part_icons
from tests.figures.jobs import job

PARTS = ("fitter-ring", "plain-ring", "panel", "ring-tape", "seam-tape", "tucking-tool", "label")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
SVG = "{http://www.w3.org/2000/svg}"


def icons(sample: str, parts: Iterable[str] = PARTS) -> dict[str, Figure]:
    each = job(sample, "dock")
    drawn = part_icons(each.size, each.shade, each.measures, each.plan, each.words, parts)
    return {figure.id: figure for figure in drawn}


def extent(figure: Figure) -> tuple[float, float]:
    """Width and height of all lines, mm."""
    spots = [
        (float(x), float(y))
        for path in ElementTree.fromstring(figure.svg).iter(f"{SVG}path")
        for x, y in re.findall(rf"({NUMBER.pattern})[ ,]({NUMBER.pattern})", path.get("d", ""))
    ]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("sample", ["pier-drum/35", "net-loft/35x20", "fog-cone/35", "bell-hex/28"])
def test_every_part_has_a_drawing_within_its_place(sample: str) -> None:
    found = icons(sample)
    assert list(found) == [f"part-{name}" for name in PARTS]
    for figure in found.values():
        wide, high = extent(figure)
        assert wide <= PLACE.width
        assert high <= PLACE.height
        assert figure.number == 0


def test_a_ring_has_the_proportions_of_its_outline() -> None:
    # The straight-sided oval of 350 by 200.
    wide, high = extent(icons("net-loft/35x20")["part-plain-ring"])
    assert wide / high == pytest.approx(350 / 200, rel=0.03)


def test_both_rings_of_a_taper_are_drawn_to_one_scale() -> None:
    # A cone of 200 above and 350 below; the fitter ring is the upper one.
    found = icons("fog-cone/35")
    upper, lower = extent(found["part-fitter-ring"])[0], extent(found["part-plain-ring"])[0]
    assert upper / lower == pytest.approx(200 / 350, rel=0.05)


def test_a_curved_panel_is_curved_and_a_straight_one_is_its_rectangle() -> None:
    wide, high = extent(icons("pier-drum/35")["part-panel"])
    assert wide / high == pytest.approx(1112 / 250, rel=0.05)
    curved = icons("fog-cone/35")["part-panel"].svg
    assert curved.count(" ") > icons("pier-drum/35")["part-panel"].svg.count(" ")


def test_a_part_that_nobody_has_drawn_is_left_out() -> None:
    assert list(icons("pier-drum/35", ("panel", "soft-brush"))) == ["part-panel"]
