"""The law that new parts are heavier and otherwise filled, both at once, is no weaker than it says."""

from __future__ import annotations

import pytest
from shapely import box

from generator.figures.canvas import Canvas
from generator.figures.hatch import WASTE_HATCH, hatch
from generator.figures.model import Figure
from generator.figures.pens import CLOTH_BACK, HEAVY, LINER, NEW, RING_TAPE, THIN, WHITE, Pen
from generator.figures.svg import Passport, write_svg
from tests.figures.telling import Picture, check_told

CLOTH, PIECE = box(5, 5, 75, 45), box(20, 15, 60, 35)


def drawn(pen: Pen | None, fill: str | None, *, hatched: bool = False, there: Pen = THIN) -> Figure:
    """A grey cloth that was there, and a piece on it that is new."""
    canvas = Canvas(80.0, 50.0)
    with canvas.group("context", "cloth"):
        canvas.area(CLOTH, CLOTH_BACK, there)
    with canvas.group("new", "piece"):
        canvas.area(PIECE, fill, pen)
        if hatched:
            hatch(canvas, PIECE, *WASTE_HATCH)
    svg = write_svg(canvas, Passport("sample", "piece", 1, "A piece.", "", "en"))
    return Figure("piece", 1, svg, 80.0, 50.0, "A piece.")


def test_a_new_part_that_is_heavy_and_toned_is_told() -> None:
    check_told(drawn(NEW, RING_TAPE))
    check_told(drawn(HEAVY, WHITE))


def test_a_heavy_outline_alone_does_not_tell_a_new_part() -> None:
    with pytest.raises(AssertionError, match="piece"):
        check_told(drawn(NEW, CLOTH_BACK))


def test_another_tone_alone_does_not_tell_a_new_part() -> None:
    with pytest.raises(AssertionError, match="piece"):
        check_told(drawn(THIN, LINER))
    with pytest.raises(AssertionError, match="piece"):
        check_told(drawn(Pen(0.35), LINER))


def test_hatching_fills_a_part_that_has_the_tone_of_its_ground() -> None:
    check_told(drawn(NEW, CLOTH_BACK, hatched=True))


def test_what_was_there_is_not_drawn_as_heavily_as_what_is_new() -> None:
    with pytest.raises(AssertionError):
        check_told(drawn(NEW, RING_TAPE, there=NEW))


def test_a_white_part_is_told_on_grey_cloth_and_not_on_bare_paper() -> None:
    canvas = Canvas(80.0, 50.0)
    with canvas.group("new", "piece"):
        canvas.area(PIECE, WHITE, NEW)
    bare = Figure("piece", 1, write_svg(canvas, Passport("s", "p", 1, "t", "", "en")), 80.0, 50.0, "A piece.")
    assert [(part.heavy, part.filled) for part in Picture(bare).told] == [(True, False)]
    assert [(part.heavy, part.filled) for part in Picture(drawn(NEW, WHITE)).told] == [(True, True)]
