"""Both rings lying one on the other, drawn apart so that the marks of both are seen."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.figures.canvas import Point
from generator.figures.view import Frame, Point3
from generator.shape.development import other_end
from generator.shape.outline import Outline
from generator.shape.shade import Shade


@dataclass(frozen=True)
class Stack:
    """Both rings on paper. ``sign`` is the picture's side of a positive arc length before any mirroring.

    ``start`` is the arc length from the seam mark to where it is measured from, along the wire.
    """

    shade: Shade
    frame: Frame
    sign: float
    rise: float
    start: float = 0.0

    def outline(self, h: float) -> Outline:
        """The ring that lies at a height: above the fitter ring, below the plain one."""
        end = self.shade.fitter_end
        return self.shade.rim(end if h > 0 else other_end(end))

    def embed(self, p: Point, h: float) -> Point3:
        """A point of a ring's plane at a height."""
        return self.sign * p[0], p[1], h

    def at(self, s: float, h: float, drop: float = 0.0) -> Point:
        """Outside of the wire at arc length s, ``drop`` paper mm lower."""
        x, y = self.frame(self.embed(self.outline(h).point(s), h))
        return x, y + drop

    def run(self, start: float, stop: float, drop: float) -> list[Point]:
        """A line that hangs under the upper wire between two arc lengths."""
        return [self.at(start + (stop - start) * k / 80, self.rise, drop) for k in range(81)]

    def beside(self, s: float, h: float, out: float) -> Point:
        """A place in the ring's plane, ``out`` real mm outside the wire at arc length s."""
        outline = self.outline(h)
        (x, y), psi = outline.point(s), outline.psi(s)
        return self.frame(self.embed((x + out * math.sin(psi), y - out * math.cos(psi)), h))
