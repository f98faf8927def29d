"""The drawing in characters: both views at one scale, true in proportion, within its columns and rows."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from generator.cli.sketch import COARSE, FINE, Grid, above, side, sketch
from generator.shape.build import build_shade
from generator.shape.shade import Shade
from tests.figures.jobs import planned, size_of

SAMPLES = ("pier-drum/35", "customs-rect", "bell-hex", "ferry-square", "fog-cone", "net-loft")
BITS: Mapping[int, tuple[int, int]] = {
    0x01: (0, 0), 0x02: (0, 1), 0x04: (0, 2), 0x40: (0, 3),
    0x08: (1, 0), 0x10: (1, 1), 0x20: (1, 2), 0x80: (1, 3),
}  # fmt: skip


def dots(rows: list[str], grid: Grid) -> set[tuple[float, float]]:
    """Where the drawing has a dot, in breadths of a character."""
    found = set()
    for y, row in enumerate(rows):
        for x, sign in enumerate(row):
            if not grid.braille:
                found |= {(float(x), 2.0 * y)} if sign == "#" else set()
                continue
            bits = ord(sign) - 0x2800 if sign != " " else 0
            found |= {
                (x + across * 0.5, 2 * y + down * 0.5) for bit, (across, down) in BITS.items() if bits & bit
            }
    return found


def parted(rows: list[str], grid: Grid) -> list[set[tuple[float, float]]]:
    """The dots of the view from the side and of that from above: the widest gap lies between them."""
    whole = dots(rows, grid)
    columns = sorted({x for x, _ in whole})
    gap = max(range(1, len(columns)), key=lambda i: columns[i] - columns[i - 1])
    edge = (columns[gap] + columns[gap - 1]) / 2
    return [{d for d in whole if d[0] < edge}, {d for d in whole if d[0] > edge}]


def extent(points: set[tuple[float, float]]) -> tuple[float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def real(lines: list[list[tuple[float, float]]]) -> tuple[float, float]:
    xs, ys = [x for line in lines for x, _ in line], [y for line in lines for _, y in line]
    return max(xs) - min(xs), max(ys) - min(ys)


def true(shade: Shade, columns: int, rows: int, grid: Grid) -> None:
    drawn = sketch(shade, columns, rows, grid)
    assert len(drawn) <= rows
    assert max(map(len, drawn)) <= columns
    scales = []
    for points, lines in zip(parted(drawn, grid), (side(shade), above(shade)), strict=True):
        (wide, high), (real_wide, real_high) = extent(points), real(lines)
        # A dot at either end may be half a dot off.
        low = max((wide - grid.wide) / real_wide, (high - grid.high) / real_high)
        most = min((wide + grid.wide) / real_wide, (high + grid.high) / real_high)
        assert low <= most
        scales.append((low, most))
    assert max(low for low, _ in scales) <= min(most for _, most in scales), "both at one scale"


@pytest.mark.parametrize("grid", [FINE, COARSE], ids=["braille", "plain"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_both_views_are_true_to_one_scale(sample: str, grid: Grid) -> None:
    true(planned(sample)[0], 60, 16, grid)


@settings(max_examples=30)
@example(length=150.0, width=0.5, height=100.0, columns=56)
@given(
    length=st.floats(150, 600),
    width=st.floats(0.3, 1.0),
    height=st.floats(100, 500),
    columns=st.integers(30, 80),
)
def test_they_are_for_any_rectangle(length: float, width: float, height: float, columns: int) -> None:
    dimensions = {"length": length, "width": length * width, "corner_radius": 20.0}
    size = size_of("customs-rect").model_copy(update={"dimensions": dimensions, "height": height})
    true(build_shade(size), columns, 14, FINE)


def test_the_side_shows_which_end_has_the_fitter_and_on_what_the_shade_hangs_or_stands() -> None:
    pendant, table = side(planned("pier-drum/35")[0]), side(planned("ferry-square")[0])
    # 220 high, hub 25 below the top; 190 high, hub 25 above the bottom.
    assert {y for _, y in pendant[1]} == {220.0, 195.0}
    assert max(y for _, y in pendant[2]) > 220.0
    assert {y for _, y in table[1]} == {0.0, 25.0}
    assert min(y for _, y in table[2]) < 0.0


def test_from_above_every_strut_stands_where_the_ring_has_it_and_the_seam_is_in_front() -> None:
    shade = planned("pier-drum/35")[0]
    ring, _, *more = above(shade)
    assert [line[1] for line in more[:-1]] == [strut.point for strut in shade.struts]
    assert more[-1][0] == pytest.approx((0.0, min(y for _, y in ring)))


def test_names_stand_below_their_drawing() -> None:
    rows = sketch(planned("pier-drum/35")[0], 40, 10, FINE, ("side", "above"))
    assert rows[-1].split() == ["side", "above"]
