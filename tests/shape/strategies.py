"""Outlines of every kind and any proportion, for laws."""

from __future__ import annotations

from hypothesis import strategies as st

from generator.shape.development import Development
from generator.shape.outline import Outline
from generator.shape.outlines import circle, ellipse, polygon, rectangle, square, stadium

SIZE = st.floats(60, 900)
SHARE = st.floats(0, 1)


@st.composite
def circles(draw: st.DrawFn) -> Outline:
    return circle.make({"diameter": draw(SIZE)})


@st.composite
def ellipses(draw: st.DrawFn) -> ellipse.Ellipse:
    length = draw(SIZE)
    return ellipse.make({"length": length, "width": length * draw(st.floats(0.15, 1))})


@st.composite
def arc_paths(draw: st.DrawFn) -> Outline:
    kind = draw(st.sampled_from(["stadium", "rectangle", "square", "polygon"]))
    length = draw(SIZE)
    width = length * draw(st.floats(0.2, 1))
    # The ends of the range are the cases that go wrong: sharp corners, and sides of no length.
    share = draw(st.one_of(st.sampled_from([0.0, 1.0]), st.floats(0.01, 1)))
    if kind == "stadium":
        return stadium.make({"length": length, "width": width})
    if kind == "rectangle":
        return rectangle.make({"length": length, "width": width, "corner_radius": share * width / 2})
    if kind == "square":
        return square.make({"side": length, "corner_radius": share * length / 2})
    sides = draw(st.integers(3, 24))
    return polygon.make({"sides": sides, "across_flats": length, "corner_radius": share * length / 2})


def outlines() -> st.SearchStrategy[Outline]:
    return st.one_of(circles(), ellipses(), arc_paths())


@st.composite
def tapers(draw: st.DrawFn, delta: st.SearchStrategy[float] | None = None) -> Development:
    """Any rim over any other, the upper one moved aside, from a flat dish to a tall tube."""
    bottom, top = draw(outlines()), draw(outlines())
    size = max(bottom.width, top.width)
    sideways, back = (draw(st.floats(-0.3, 0.3)) * size for _ in "xy")
    height = size * draw(st.floats(0.15, 2))
    thick = draw(delta) if delta is not None else draw(st.one_of(st.just(0.0), st.floats(0.1, 3)))
    return Development(bottom, top, height, (sideways, back), thick)


def bare_tapers() -> st.SearchStrategy[Development]:
    """Tapers of a sheet without thickness."""
    return tapers(st.just(0.0))
