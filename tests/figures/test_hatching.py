"""Hatching means one thing each: angles and distances keep the meanings apart, in every picture."""

from __future__ import annotations

import ast
import math
from itertools import combinations, pairwise
from pathlib import Path

import pytest

import generator.figures
from generator.figures.hatch import BONDED_HATCH, BRAID_HATCH, LIGHT_HATCH, PVC_HATCH, WASTE_HATCH, WIRE_HATCH
from generator.figures.pens import RING_TAPE, SEAM_TAPE, THIN
from tests.figures.jobs import figure, planned
from tests.figures.laws import Shape, shapes

SAMPLES = ("pier-drum/35", "customs-rect", "bell-hex", "fog-cone", "capstan", "tide-drum", "joined-hem")
MEANINGS = {"pvc": PVC_HATCH, "wire": WIRE_HATCH, "waste": WASTE_HATCH, "bonded": BONDED_HATCH}


def test_no_two_meanings_have_nearly_the_same_angle_and_the_same_distance() -> None:
    for (_, (a, d)), (_, (b, e)) in combinations(MEANINGS.items(), 2):
        apart = abs((a - b + 90) % 180 - 90)
        assert apart >= 20 or max(d, e) / min(d, e) > 1.4
    # Waste and the zone that is bonded lie nearest: the zone is drawn light besides.
    assert LIGHT_HATCH.colour != THIN.colour
    # A braid is told from all by its threads crossing.
    assert BRAID_HATCH[0][0] == -BRAID_HATCH[1][0] != 0


def test_no_picture_has_a_hatching_of_its_own() -> None:
    """Angle and distance come from the table in hatch.py, never as numbers."""
    folder = Path(str(generator.figures.__file__)).parent
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "hatch":
                assert not any(isinstance(arg, ast.Constant) for arg in node.args), (path.name, node.lineno)


def strokes(shape: Shape) -> tuple[float, float] | None:
    """Angle on paper and distance of the lines of a hatching; None for other lines."""
    lines = [line for line in shape.lines if len(line) == 2 and math.dist(*line) > 0.8]
    if shape.fill != "none" or len(lines) < 8 or len(lines) < len(shape.lines) - 4:
        return None
    (x0, y0), (x1, y1) = max(lines, key=lambda line: math.dist(*line))
    angle = math.atan2(y0 - y1, x1 - x0)
    across = (math.sin(angle), math.cos(angle))
    places = sorted({round(x * across[0] + y * across[1], 2) for (x, y), _ in lines})
    steps = [b - a for a, b in pairwise(places) if b - a > 0.3]
    return math.degrees(angle) % 180, min(steps)


@pytest.mark.parametrize("sample", SAMPLES)
def test_what_is_removed_is_hatched_as_waste_in_every_picture(sample: str) -> None:
    found = 0
    for step in planned(sample)[2].steps:
        for shape in shapes(figure(sample, step.task.figure)):
            measured = strokes(shape) if shape.role == "removed" else None
            if measured is not None:
                found += 1
                assert measured[0] == pytest.approx(WASTE_HATCH[0], abs=1.0), (step.id, shape.part)
                assert measured[1] == pytest.approx(WASTE_HATCH[1], abs=0.06), (step.id, shape.part)
    assert found


@pytest.mark.parametrize("sample", SAMPLES)
def test_each_tape_has_its_own_grey_in_every_picture(sample: str) -> None:
    """The table of tones: ring tape lighter than seam tape."""
    for step in planned(sample)[2].steps:
        for shape in shapes(figure(sample, step.task.figure)):
            if shape.fill == "none":
                continue
            if shape.part.endswith("ring-tape") or shape.part == "wrapped-tape":
                assert shape.fill == RING_TAPE, (step.id, shape.part)
            if shape.part.endswith("seam-tape"):
                assert shape.fill == SEAM_TAPE, (step.id, shape.part)
