"""What a figure tells piece by piece is what stands in its finished drawing."""

from __future__ import annotations

import pytest

from generator.figures.canvas import Canvas
from generator.figures.pens import NEW, THIN
from generator.figures.told import told
from tests.figures.drawings import parts
from tests.figures.jobs import figure


def test_a_canvas_tells_names_once_numbers_in_order_and_dimensions_with_their_measure() -> None:
    canvas = Canvas(80.0, 40.0, view="section")
    for text in ("panel", "panel", "wire"):
        with canvas.group("label", "label-place"):
            canvas.letters((5.0, 5.0), text)
    for number in ("2", "1"):
        with canvas.group("label", f"number-{number}"):
            canvas.letters((9.0, 9.0), number)
    with canvas.group("dimension", "dimension-overlap", "overlap", 10.0):
        canvas.letters((12.0, 12.0), "≤ 10")
    with canvas.group("new", "section-seam-tape"):
        canvas.line([(0.0, 0.0), (4.0, 4.0)], NEW)
    with canvas.group("action", "hand-bottom"):
        canvas.line([(0.0, 0.0), (4.0, 4.0)], THIN)
    with canvas.group("action", "tool-iron"):
        canvas.line([(0.0, 0.0), (4.0, 4.0)], THIN)
    found = told(canvas)
    assert found.view == "section"
    assert found.names == ("panel", "wire")
    assert found.numbers == ("1", "2")
    assert found.dimensions == (("overlap", "≤ 10"),)
    assert found.new == ("seam-tape",)
    assert found.hands
    assert found.tools == ("iron",)
    assert not found.enlarged
    assert not found.turned


@pytest.mark.parametrize("name", ["dock", "notch", "roll", "inspect", "trim"])
def test_every_line_of_lettering_is_told_somewhere(name: str) -> None:
    drawn = figure("pier-drum/35", name)
    seen = {(part.measure, text) for part in parts(drawn) for text in part.texts}
    found = drawn.told
    names = (*found.names, *found.stages, *found.numbers, *found.details)
    assert {(None, each) for each in names} | set(found.dimensions) == seen
    assert {measure for measure, _ in found.dimensions} <= set(drawn.measures)
    assert found.turned == any(part.name == "turn-mark" for part in parts(drawn))
