"""What a finished page draws, read out of its own operators: every path in mm from the upper left corner."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pikepdf

MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
Point = tuple[float, float]


@dataclass
class Path:
    """A painted path: its runs of points, how wide it is stroked (mm; 0: filled), its dashes (mm)."""

    runs: list[list[Point]] = field(default_factory=list)
    width: float = 0.0
    dash: tuple[float, ...] = ()

    @property
    def points(self) -> list[Point]:
        return [point for run in self.runs for point in run]

    @property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs), min(ys), max(xs), max(ys)


def times(inner: Matrix, outer: Matrix) -> Matrix:
    """The inner transformation followed by the outer one (ISO 32000-1, 8.3.4, from memory)."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def pages(pdf: bytes) -> list[tuple[Point, list[Path]]]:
    """Size of each page in mm, and its paths."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        found = []
        for page in file.pages:
            left, bottom, right, top = (float(side) for side in page.mediabox)
            upright = (MM, 0.0, 0.0, -MM, -left * MM, top * MM)
            size = ((right - left) * MM, (top - bottom) * MM)
            found.append((size, list(_paths(page.obj, page.get("/Resources"), upright))))
        return found


def _paths(stream: Any, resources: Any, matrix: Matrix) -> Iterator[Path]:
    saved: list[tuple[Matrix, float, tuple[float, ...]]] = []
    width = 1.0
    dash: tuple[float, ...] = ()
    runs: list[list[Point]] = []

    def at(x: Any, y: Any) -> Point:
        a, b, c, d, e, f = matrix
        return a * float(x) + c * float(y) + e, b * float(x) + d * float(y) + f

    instructions: list[Any] = list(pikepdf.parse_content_stream(stream))
    for operands, operator in instructions:
        name = str(operator)
        scale = math.hypot(matrix[0], matrix[1])
        if name == "q":
            saved.append((matrix, width, dash))
        elif name == "Q":
            matrix, width, dash = saved.pop()
        elif name == "cm":
            a, b, c, d, e, f = (float(value) for value in operands)
            matrix = times((a, b, c, d, e, f), matrix)
        elif name == "w":
            width = float(operands[0])
        elif name == "d":
            dash = tuple(float(value) for value in operands[0])
        elif name == "m":
            runs.append([at(*operands)])
        elif name == "l":
            runs[-1].append(at(*operands))
        elif name == "c":
            runs[-1].append(at(*operands[4:]))
        elif name == "h":
            runs[-1].append(runs[-1][0])
        elif name == "re":
            x, y, w, h = (float(value) for value in operands)
            runs.append([at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h), at(x, y)])
        elif name in ("S", "s", "B", "B*", "b", "b*", "f", "F", "f*", "n"):
            if name in ("S", "s", "B", "B*", "b", "b*"):
                yield Path(runs, width * scale, tuple(part * scale for part in dash))
            elif name != "n":
                yield Path(runs)
            runs = []
        elif name == "Do":
            form = resources["/XObject"][str(operands[0])]
            if form.get("/Subtype") == "/Form":
                a, b, c, d, e, f = (float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                yield from _paths(form, form.get("/Resources", resources), times((a, b, c, d, e, f), matrix))
