"""Little drawings of what lies in a kit's box, for its list: each ring and panel in its own shape.

They stand beside the part's name, so they have no words of their own.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial

from shapely import LineString, Polygon

from generator.base.words import Words
from generator.figures.canvas import Canvas, Point
from generator.figures.draw import written
from generator.figures.flat_sheet import flat_sheet
from generator.figures.model import Figure, Job, Slot
from generator.figures.pens import KISS_CUT, LINER, NEW, RING_TAPE, SEAM_TAPE, THIN, TOOL, WHITE
from generator.figures.rings import hub_radius, wire_line
from generator.figures.tools import tool
from generator.measures.measure import Measures
from generator.plan.model import Plan
from generator.recipe.models import SizeRecipe
from generator.shape.development import End, other_end
from generator.shape.shade import Shade

PLACE = Slot("part", 16.0, 7.0, 7.0)
MIDDLE: Point = (PLACE.width / 2, PLACE.height / 2)
ROOM = 6.4
"""Height of a drawing, mm."""
_TOOLS: Mapping[str, str] = {
    "cutter": "rotary-cutter",
    "iron": "iron",
    "lint-roller": "lint-roller",
    "pencil": "pencil",
    "pins": "pin",
    "rule": "rule",
    "seam-roller": "roller",
    "shears": "shears",
    "small-scissors": "scissors",
    "snips": "scissors",
    "tucking-tool": "tucking-tool",
}
"""Tools by their name in a technique, and how they are drawn."""


@dataclass(frozen=True)
class _Scene:
    """What an icon is drawn from."""

    size: SizeRecipe
    shade: Shade
    largest: float
    """The larger ring's greatest breadth, mm: both rings are drawn to one scale."""


def part_icons(
    size: SizeRecipe, shade: Shade, measures: Measures, plan: Plan, words: Words, parts: Iterable[str]
) -> tuple[Figure, ...]:
    """A drawing for each part that has one; its id is ``part-`` and the part's name."""
    rims = [shade.rim("bottom"), shade.rim("top")]
    scene = _Scene(size, shade, max(max(rim.width, rim.depth) for rim in rims))
    job = Job(size, shade, measures, plan, plan.steps[0], words, PLACE)
    found = []
    for part in parts:
        if part in _PAINTERS:
            canvas = Canvas(PLACE.width, PLACE.height, view="plan")
            _PAINTERS[part](canvas, scene)
            found.append(written(canvas, job, f"part-{part}", 0, part.replace("-", " ")))
    return tuple(found)


def _ring(canvas: Canvas, scene: _Scene, *, fitter: bool) -> None:
    """From above, in its own shape; the fitter ring with its struts and hub."""
    shade = scene.shade
    end: End = shade.fitter_end if fitter else other_end(shade.fitter_end)
    line, scale = wire_line(shade, end), ROOM / scene.largest

    def at(p: Point) -> Point:
        return MIDDLE[0] + scale * p[0], MIDDLE[1] - scale * p[1]

    with canvas.group("context", "fitter-ring" if fitter else "plain-ring"):
        if fitter:
            hub = max(0.7, scale * hub_radius(shade))
            for strut in shade.struts:
                x, y = at(line.point(strut.s * line.length / shade.rim(end).length))
                away = math.hypot(x - MIDDLE[0], y - MIDDLE[1])
                inner = tuple(m + (p - m) * hub / away for m, p in zip(MIDDLE, (x, y), strict=True))
                canvas.line([(x, y), (inner[0], inner[1])], TOOL)
            canvas.circle(MIDDLE, hub, WHITE, TOOL)
        loop = [at(line.point(line.length * k / 120)) for k in range(121)]
        canvas.line(loop, NEW)


def _panel(canvas: Canvas, scene: _Scene) -> None:
    """Flat, in its own proportions, with its kiss cuts."""
    shade = scene.shade
    wide = PLACE.width - 1.0
    with canvas.group("context", "panel"):
        if shade.tapered:
            loop = flat_sheet(scene.size, shade).loop(shade.margin if shade.kiss_cut else 0.0)
            left, low = min(x for x, _ in loop), min(y for _, y in loop)
            right, high = max(x for x, _ in loop), max(y for _, y in loop)
            scale = min(wide / (right - left), ROOM / (high - low))
            canvas.area(
                [
                    (
                        MIDDLE[0] + scale * (x - (left + right) / 2),
                        MIDDLE[1] - scale * (y - (low + high) / 2),
                    )
                    for x, y in loop
                ],
                LINER,
                TOOL,
            )
            return
        high = shade.panel_height
        scale = min(wide / shade.panel_length, ROOM / high)
        half_long, half_high = scale * shade.panel_length / 2, max(1.2, scale * high / 2)
        _rectangle(canvas, half_long, half_high)
        if shade.kiss_cut:
            inset = max(0.6, scale * shade.margin)
            for y in (MIDDLE[1] - half_high + inset, MIDDLE[1] + half_high - inset):
                canvas.line([(MIDDLE[0] - half_long, y), (MIDDLE[0] + half_long, y)], KISS_CUT)


def _rectangle(canvas: Canvas, half_long: float, half_high: float) -> None:
    x, y = MIDDLE
    corners = [
        (x - half_long, y - half_high),
        (x + half_long, y - half_high),
        (x + half_long, y + half_high),
        (x - half_long, y + half_high),
    ]
    canvas.area(corners, LINER, TOOL)


def _coil(canvas: Canvas, scene: _Scene, *, tone: str, part: str, turns: int) -> None:
    """Tape rolled up, with its end hanging out."""
    x, y = MIDDLE[0] - 2.0, MIDDLE[1]
    with canvas.group("context", part):
        canvas.circle((x, y), 2.9, tone, TOOL)
        for k in range(1, turns):
            canvas.circle((x, y), 2.9 - k * 0.55, None, THIN)
        canvas.circle((x, y), 1.0, WHITE, TOOL)
        canvas.area([(x, y + 2.2), (x + 7.4, y + 2.2), (x + 7.4, y + 2.95), (x, y + 2.95)], tone, TOOL)


def _strip(canvas: Canvas, scene: _Scene) -> None:
    """A strip of paper with one end curling up."""
    x, y = MIDDLE
    with canvas.group("context", "paper-strip"):
        canvas.area([(x - 7, y - 0.9), (x + 7, y - 0.9), (x + 7, y + 0.9), (x - 7, y + 0.9)], WHITE, TOOL)
        for k in range(7):
            at = x - 6 + 2 * k
            canvas.line([(at, y - 0.9), (at, y - 0.1)], THIN)


def _label(canvas: Canvas, scene: _Scene) -> None:
    x, y = MIDDLE
    corners = [(x - 3.6, y - 2.0), (x + 3.6, y - 2.0), (x + 3.6, y + 2.0), (x - 3.6, y + 2.0)]
    with canvas.group("context", "label"):
        canvas.area(Polygon(corners).buffer(0.4), WHITE, TOOL)
        for k, long in enumerate((5.6, 5.6, 3.4)):
            canvas.line([(x - 2.8, y - 1.1 + 1.1 * k), (x - 2.8 + long, y - 1.1 + 1.1 * k)], THIN)


def _braid(canvas: Canvas, scene: _Scene) -> None:
    x, y = MIDDLE
    waves = [[(x - 7 + 0.5 * k, y + side * 0.7 * math.cos(k * 0.9)) for k in range(29)] for side in (1, -1)]
    with canvas.group("context", "braid"):
        canvas.area(LineString([(x - 7, y), (x + 7, y)]).buffer(1.2, cap_style="flat"), WHITE, TOOL)
        for wave in waves:
            canvas.line(wave, THIN)


def _tool(canvas: Canvas, scene: _Scene, *, name: str) -> None:
    """A tool lying flat, its tip to the right, as large as the place lets it be."""
    trial = Canvas(PLACE.width, PLACE.height)
    tool(trial, name, (0.0, 0.0), 0.0, scale=1.0)
    bounds = [mark.shape.bounds for mark in trial.marks()]
    left, top = min(b[0] for b in bounds), min(b[1] for b in bounds)
    right, low = max(b[2] for b in bounds), max(b[3] for b in bounds)
    scale = min((PLACE.width - 1.6) / (right - left), ROOM / (low - top), 1.0)
    tip = MIDDLE[0] - scale * (left + right) / 2, MIDDLE[1] - scale * (top + low) / 2
    tool(canvas, name, tip, 0.0, scale=scale)


_PAINTERS: Mapping[str, Callable[[Canvas, _Scene], None]] = {
    "fitter-ring": partial(_ring, fitter=True),
    "plain-ring": partial(_ring, fitter=False),
    "panel": _panel,
    "ring-tape": partial(_coil, tone=RING_TAPE, part="ring-tape", turns=4),
    "seam-tape": partial(_coil, tone=SEAM_TAPE, part="seam-tape", turns=2),
    "paper-strip": _strip,
    "label": _label,
    "braid": _braid,
    **{name: partial(_tool, name=drawn) for name, drawn in _TOOLS.items()},
}
