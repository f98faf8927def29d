"""Where the panel lies on its piece of cloth, in real mm as the sheet shows them: parts add up.

x from the cloth's start end, y from its near edge, PVC up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shapely import Polygon, box
from shapely.affinity import translate

from generator.figures.canvas import Point
from generator.figures.flat_sheet import FlatSheet, flat_sheet
from generator.figures.model import Job
from generator.shape.development import End

SPREAD = 0.7
"""Parallel lines are drawn at least this far apart on paper, mm (ISO 128)."""


@dataclass(frozen=True)
class Lay:
    """Where the panel lies on the cut cloth, real mm as shown."""

    length: float
    width: float
    start: float
    end: float
    near: float
    far: float
    margin: float
    """Width of the kiss-cut margin strips; 0 without a kiss cut."""
    trim: float
    """Width of cloth that stays beside the panel without a kiss cut; 0 with one."""
    hem: float
    overlap: float
    left: float = 0.0
    """Where the cloth begins."""
    sheet: FlatSheet | None = None
    """The panel of a tapered shade where it lies; ``start`` to ``far`` is the box of what is cut out."""

    @property
    def panel(self) -> float:
        """Length of the panel: panel coordinates run from 0 to here."""
        return self.sheet.shade.panel_length if self.sheet else self.end - self.start

    def at(self, x: float, share: float) -> Point:
        """The place at panel coordinate x, at this share of the way from the near edge to the far one."""
        low, high = self.sheet.across(x, self.sheet.edge) if self.sheet else self._upright(x)
        return low[0] + (high[0] - low[0]) * share, low[1] + (high[1] - low[1]) * share

    def _upright(self, x: float) -> tuple[Point, Point]:
        return (self.start + x, self.near), (self.start + x, self.far)

    def between(self, x0: float, x1: float) -> Polygon:
        """The part of the panel between two panel coordinates."""
        if self.sheet:
            return Polygon(self.sheet.between(x0, x1, self.sheet.edge))
        return box(self.start + x0, self.near, self.start + x1, self.far)

    def cloth(self) -> Polygon:
        """The piece of cloth."""
        whole = box(0.0, 0.0, self.length, self.width)
        return self.sheet.carried(whole) if self.sheet else translate(whole, self.left)

    def without(self, x0: float, x1: float, gap: float) -> Lay:
        """The rest of the work from panel coordinate ``x1`` on, set ``gap`` mm after ``x0``."""
        back = x1 - x0 - gap
        moved = replace(self, left=self.left - back, start=self.start - back, end=self.end - back)
        return replace(moved, sheet=self.sheet.joined(x0, x1, gap)) if self.sheet else moved

    def outline(self) -> list[Point]:
        """The panel's edge, near edge first."""
        if self.sheet:
            return self.sheet.loop(self.sheet.edge)
        return corners(self.start, self.near, self.end, self.far)

    def along(self, end: End, out: float) -> list[Point]:
        """A line along the near or the far edge, ``out`` mm outside the panel (negative: inside)."""
        if self.sheet:
            return self.sheet.line(end, self.sheet.edge + out)
        y = self.near - out if end == "bottom" else self.far + out
        return [(self.start, y), (self.end, y)]

    def across(self, past: float) -> list[Point]:
        """A line across the panel, ``past`` mm beyond its outside end (negative: inside), near end first."""
        if self.sheet:
            return list(self.sheet.across(self.sheet.shade.panel_length + past, self.sheet.edge))
        return [(self.end + past, self.near), (self.end + past, self.far)]

    def grain_line(self) -> list[Point]:
        """The line across a tapered panel along which alone the grain is true, lower end first."""
        return list(self.sheet.across(self.sheet.grain, self.sheet.edge)) if self.sheet else []


def lay(job: Job) -> Lay:
    """The cut cloth with its panel. The near edge and the start end have the slack that the recipe states."""
    if job.shade.tapered:
        return _tapered(job)
    m = job.measures
    hem = m.shown("hem") if job.shade.hem else 0.0
    margin = m.shown("margin") if job.shade.margin else 0.0
    trim = 0.0 if job.shade.kiss_cut else margin
    start, near = m.shown("slack_ends"), m.shown("slack_edges") + trim
    return Lay(
        m.shown("cloth_length"),
        m.shown("cloth_width"),
        start,
        start + m.shown("panel_length"),
        near,
        near + m.shown("panel_height"),
        margin if job.shade.kiss_cut else 0.0,
        trim,
        hem,
        m.shown("overlap"),
    )


def _tapered(job: Job) -> Lay:
    """The curved panel on its piece of cloth. Its box has the slack, so that nothing of it comes nearer."""
    m, shade = job.measures, job.shade
    start, near = m.shown("slack_ends"), m.shown("slack_edges")
    margin = m.shown("margin") if shade.margin else 0.0
    sheet = flat_sheet(job.size, shade).moved(start, near)
    x0, y0, x1, y1 = sheet.bounds()
    return Lay(
        m.shown("cloth_length"),
        m.shown("cloth_width"),
        x0,
        x1,
        y0,
        y1,
        margin if shade.kiss_cut else 0.0,
        0.0 if shade.kiss_cut else margin,
        m.shown("hem") if shade.hem else 0.0,
        m.shown("overlap"),
        sheet=sheet,
    )


def on_bench(job: Job, x: float) -> Lay:
    """The work turned on the bench so that the line across at x runs straight away from the maker.

    That line keeps the place which it has on a straight panel: ``start`` + x from the left, ``near`` from the
    maker. Cloth and panel keep their places to one another.
    """
    on = lay(job)
    if on.sheet is None:
        return on
    start, near = job.measures.shown("slack_ends"), job.measures.shown("slack_edges")
    sheet = on.sheet.turned_so(x, (start + x, near + on.sheet.edge))
    far = near + math.dist(*sheet.across(x, sheet.edge))
    return replace(on, start=start, end=start + on.panel, near=near, far=far, sheet=sheet)


def corners(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """The corners of a rectangle."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def spread(value: float, scale: float) -> float:
    """A distance as drawn: true, or just enough for its two lines to be told apart. 0 stays 0."""
    return max(value, SPREAD / scale) if value > 0 else 0.0
