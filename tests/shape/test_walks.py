"""The walk round an outline, part by part, against what the outline answers by arc length."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from generator.shape.outline import Bend, Flat, Outline, Point
from tests.shape.strategies import SHARE, outlines

some = settings(max_examples=25)


def drawn() -> st.SearchStrategy[Outline]:
    """Outlines, and curves parallel to them."""
    return st.one_of(outlines(), st.builds(lambda o, d: o.offset(d), outlines(), st.floats(0, 20)))


def ends(part: Flat | Bend) -> tuple[Point, Point]:
    if isinstance(part, Flat):
        return part.start, part.end
    return part.at(part.psi0), part.at(part.psi1)


def angles(part: Flat | Bend) -> tuple[float, float]:
    return (part.psi, part.psi) if isinstance(part, Flat) else (part.psi0, part.psi1)


def size(part: Flat | Bend, upto: float | None = None) -> float:
    """Length of a part, of a bend up to a direction: its radius of curvature, summed by scipy."""
    if isinstance(part, Flat):
        return part.length
    end = part.psi1 if upto is None else upto
    cuts = [part.psi0 + (end - part.psi0) * k / 8 for k in range(9)]
    return math.fsum(quad(part.radius, a, b)[0] for a, b in pairwise(cuts))


@given(drawn())
@some
def test_a_walk_begins_at_the_front_and_closes(outline: Outline) -> None:
    parts = outline.walk()
    assert ends(parts[0])[0] == pytest.approx(outline.point(0.0), abs=1e-9)
    for part, after in pairwise([*parts, parts[0]]):
        assert ends(part)[1] == pytest.approx(ends(after)[0], abs=1e-7)


@given(drawn())
@some
def test_a_walk_turns_once_and_never_jumps(outline: Outline) -> None:
    parts = outline.walk()
    assert angles(parts[0])[0] == 0.0
    assert angles(parts[-1])[1] == pytest.approx(2 * math.pi, abs=1e-9)
    for part, after in pairwise(parts):
        assert angles(part)[1] == pytest.approx(angles(after)[0], abs=1e-9)
        assert angles(part)[0] <= angles(part)[1]


@given(drawn())
@some
def test_a_walk_is_as_long_as_the_outline(outline: Outline) -> None:
    assert math.fsum(size(part) for part in outline.walk()) == pytest.approx(outline.length, rel=1e-8)


@given(drawn(), SHARE, SHARE)
@some
def test_places_on_a_walk_are_those_of_the_outline(outline: Outline, which: float, share: float) -> None:
    parts = outline.walk()
    index = min(int(which * len(parts)), len(parts) - 1)
    part = parts[index]
    s = math.fsum(size(before) for before in parts[:index])
    if isinstance(part, Flat):
        assert part.s == pytest.approx(s, abs=1e-6)
        s += share * part.length
        (x0, y0), (x1, y1) = part.start, part.end
        expected, psi = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share), part.psi
    else:
        psi = part.psi0 + (part.psi1 - part.psi0) * share
        s += size(part, psi)
        expected = part.at(psi)
    assert outline.point(s) == pytest.approx(expected, abs=1e-5)
    if isinstance(part, Flat) and 0.01 < share < 0.99:
        assert outline.psi(s) == pytest.approx(psi, abs=1e-9)
    elif not isinstance(part, Flat) and part.radius(psi) > 1.0 and s < outline.length - 1e-3:
        assert outline.psi(s) == pytest.approx(psi, abs=1e-5)


@given(drawn(), SHARE)
@some
def test_a_bend_heads_where_it_has_turned_to(outline: Outline, share: float) -> None:
    for part in outline.walk():
        if isinstance(part, Flat):
            dx, dy = part.end[0] - part.start[0], part.end[1] - part.start[1]
            assert (dx, dy) == pytest.approx(
                (part.length * math.cos(part.psi), part.length * math.sin(part.psi)), abs=1e-7
            )
            continue
        step = 1e-4
        psi = part.psi0 + step + (part.psi1 - part.psi0 - 2 * step) * share
        (x0, y0), (x1, y1) = part.at(psi - step), part.at(psi + step)
        speed = ((x1 - x0) / (2 * step), (y1 - y0) / (2 * step))
        radius = part.radius(psi)
        expected = (radius * math.cos(psi), radius * math.sin(psi))
        assert speed == pytest.approx(expected, abs=1e-4 * max(radius, 1.0))


@given(outlines())
@some
def test_sides_and_bends_are_the_stations(outline: Outline) -> None:
    flats = [part for part in outline.walk() if isinstance(part, Flat)]
    sides = [station for station in outline.stations() if station.kind == "side"]
    # The front side is walked in two halves.
    assert len(flats) == (len(sides) + 1 if sides else 0)
