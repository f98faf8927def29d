"""Where the panel lies on its piece of cloth, in real mm as the sheet shows them: parts add up.

x from the cloth's start end, y from its near edge, PVC up.
"""

from __future__ import annotations

from dataclasses import dataclass

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
    sheet: FlatSheet | None = None
    """The panel of a tapered shade where it lies; ``start`` to ``far`` is the box of what is cut out."""

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
        sheet,
    )


def corners(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """The corners of a rectangle."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def spread(value: float, scale: float) -> float:
    """A distance as drawn: true, or just enough for its two lines to be told apart. 0 stays 0."""
    return max(value, SPREAD / scale) if value > 0 else 0.0
