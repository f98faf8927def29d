"""Outlines of every kind and any proportion, for laws."""

from __future__ import annotations

from hypothesis import strategies as st

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
