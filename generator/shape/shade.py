"""A shade: two rings, the sheet rolled round them, struts and seam on the outline."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from generator.shape.development import ENDS, Development, End, Point3, other_end
from generator.shape.matching import Curved
from generator.shape.outline import Outline, Point
from generator.shape.section import section_of

TURN = 2 * math.pi


@dataclass(frozen=True, slots=True)
class Strut:
    """Where a strut meets the fitter ring."""

    s: float
    """Arc length from the seam along the outside of the wire, mm."""
    psi: float
    """Angle through which the outline has turned there, radians."""
    point: Point
    panel: float
    """The same place along the panel's mid-sheet line, from the start end, mm."""


@dataclass(frozen=True)
class Shade:
    """Geometry of one size. Lengths in mm.

    ``outline`` is the outside of the wire; ``sheet`` is the mid-sheet line, the outline offset by the tape's
    thickness plus half the panel's. The seam (start end of the panel) stands at arc length 0 of both.
    The sheet's own arc length is the panel's length coordinate: panel point x stands at ``sheet.point(x)``.

    A tapered shade has a ``development``: its rims differ, ``outline`` and ``sheet`` are those of the wide
    end, and the panel coordinate is the mean of both rims' lengths on the sheet's middle. ``rim``,
    ``standing``, ``flat`` and ``pose`` serve straight and tapered shades alike.
    """

    kind: str
    outline: Outline
    sheet: Outline
    height: float
    margin: float
    overlap: float
    hem: float
    """Width of the cloth tab folded over at the outside end; 0 for a raw end."""
    thickness: float
    """Panel thickness."""
    wire: float
    """Wire diameter."""
    struts: tuple[Strut, ...]
    fitter_end: Literal["top", "bottom"]
    recess: float
    """How far the hub is set back from the fitter ring's plane, towards the inside of the shade."""
    hole: float | None
    kiss_cut: bool
    """The panel carries margin strips; without, it is cut to the finished height."""
    development: Development | None = None
    """The side of a tapered shade; None: straight."""

    panels: int = 1
    """How many equal panels are joined to go round."""
    one_of: int = 1
    """Of one panel by itself: how many like it go round."""

    @property
    def tapered(self) -> bool:
        """Whether the rims differ."""
        return self.development is not None

    @property
    def pieces(self) -> int:
        """How many panels the shade takes, also for one of them by itself."""
        return max(self.panels, self.one_of)

    @cached_property
    def one_panel(self) -> Shade:
        """One of several panels by itself, as a shade that ends at the first joint; its rings are whole.

        It serves for all that is done before panels are joined. A shade of a single panel is its own.
        """
        if self.panels == 1:
            return self
        part = section_of(self.development, self.panels) if self.development else None
        return replace(self, development=part, panels=1, one_of=self.panels)

    @property
    def wrapped_length(self) -> float:
        """Once round on the mid-sheet line, of one panel its share; of a taper at half the slope."""
        return self.development.length if self.development else self.sheet.length / self.one_of

    @property
    def panel_length(self) -> float:
        """Length of one panel: its share of the way round, and its overlap."""
        return self.wrapped_length / self.panels + self.overlap

    @property
    def strip_length(self) -> float:
        """All panels joined, as they are rolled: once round and the seam overlap. One panel: its length."""
        return self.wrapped_length + self.overlap

    @property
    def joints(self) -> tuple[float, ...]:
        """Panel coordinates of the joints apart from the seam: where the start edge of the next panel lies.

        As at the seam the panel before laps over it, on the outside, by the overlap.
        """
        return tuple(self.wrapped_length * k / self.panels for k in range(1, self.panels))

    @cached_property
    def slant(self) -> float:
        """Height along the slope at the front middle; of a straight shade its height, mm."""
        if self.development is None:
            return self.height
        return self.development.generator(0.0).length

    @property
    def panel_height(self) -> float:
        """Height of the PVC as it is bought or cut: with its margins if it has kiss cuts. Up the slope."""
        return self.slant + 2 * self.margin if self.kiss_cut else self.slant

    @property
    def wide_end(self) -> End:
        """The end with the longer rim; the bottom where they are alike."""
        longer_top = self.rim("top").length > self.rim("bottom").length
        return "top" if longer_top else "bottom"

    @property
    def narrow_end(self) -> End:
        """The other one."""
        return other_end(self.wide_end)

    def rim(self, end: End) -> Outline:
        """Outside of the wire of one ring, about the ring's own centre."""
        if self.development is None:
            return self.outline
        return self.development.bottom if end == "bottom" else self.development.top

    def rim_length(self, end: End) -> float:
        """Once round one rim on the mid-sheet line, of one panel by itself its share."""
        return self.development.rim_length(end) if self.development else self.wrapped_length

    def ring_centre(self, end: End) -> Point3:
        """Centre of one ring in the standing shade, the lower ring's in the origin."""
        if end == "bottom":
            return 0.0, 0.0, 0.0
        x, y = self.development.shift if self.development else (0.0, 0.0)
        return x, y, self.height

    def standing(self, x: float, h: float) -> Point3:
        """Mid-sheet point of the finished shade at panel coordinate x, h mm up the slope from the lower rim.

        Stations run counter-clockwise from above. Beyond the rims h goes on along the generator.
        """
        if self.development is None:
            px, py = self.sheet.point(x % self.sheet.length)
            return px, py, h
        line = self.development.generator(x % self.development.length if x > self.development.length else x)
        return _between(line.low, line.high, self._share(h, line.length))

    def flat(self, x: float, h: float) -> Point:
        """The same point of the flat sheet, print up; the overlap lies beyond the wrapped length."""
        if self.development is None:
            return x, h
        line = self.development.generator(min(x, self.development.length))
        past = max(0.0, x - self.development.length)
        (ax, ay), (bx, by) = line.flat_low, line.flat_high
        share = self._share(h, line.length)
        return (
            ax + (bx - ax) * share + past * math.cos(line.tau),
            ay + (by - ay) * share + past * math.sin(line.tau),
        )

    def _share(self, h: float, length: float) -> float:
        """Share of a generator at h: even between the rims, in true millimetres beyond them."""
        if h < 0:
            return h / length
        return 1 + (h - self.slant) / length if h > self.slant else h / self.slant

    def pose(self, c: float, turn: float = 0.0) -> Callable[[Point3], Point3]:
        """The motion that rests the shade on a bench with generator c on its own place of the flat sheet.

        From places of the standing shade to a bench whose x and y are those of ``flat``, z up, the sheet
        lying print down. ``turn`` turns bench and sheet about the flat sheet's origin.
        """
        c0, s0 = math.cos(turn), math.sin(turn)

        def bench(x: float, y: float, z: float) -> Point3:
            return x * c0 - y * s0, x * s0 + y * c0, z

        if self.development is None:
            angle = -self.sheet.psi(c)
            cos, sin = math.cos(angle), math.sin(angle)
            px, py = self.sheet.point(c)

            def straight(p: Point3) -> Point3:
                x, y = p[0] - px, p[1] - py
                return bench(x * cos - y * sin + c, p[2], x * sin + y * cos)

            return straight
        line = self.development.generator(c)
        cos, sin = math.cos(line.tau), math.sin(line.tau)
        axes = (line.tangent, line.upslope, line.outward)

        def tapered(p: Point3) -> Point3:
            off = (p[0] - line.low[0], p[1] - line.low[1], p[2] - line.low[2])
            along, up, out = (sum(a * b for a, b in zip(off, axis, strict=True)) for axis in axes)
            fx, fy = line.flat_low
            return bench(fx + along * cos - up * sin, fy + along * sin + up * cos, -out)

        return tapered

    @cached_property
    def narrowest_inside(self) -> float:
        """Smallest width inside the wire of either ring, mm."""
        if self.development is None:
            return self.smallest_inside
        return 2 * min(self._nearest_inside.values()) - 2 * self.wire

    @cached_property
    def _nearest_inside(self) -> Mapping[End, float]:
        """Distance of each ring from its own middle, mm."""
        return {end: _nearest(self.rim(end), (0.0, 0.0)) for end in ENDS}

    @cached_property
    def smallest_inside(self) -> float:
        """Twice the distance from the centre to the nearest wire: what a lamp in the middle has to itself.

        The front side is a nearest one on every outline; with an odd number of sides no other faces it.
        Of a taper the nearer ring counts, wherever the lamp hangs, seen from the fitter ring's middle: a ring
        that is moved comes nearer on one side, and what is below zero lies outside of it.
        """
        if self.development is None:
            return 2 * abs(self.outline.point(0.0)[1]) - 2 * self.wire
        x, y = self.development.shift
        inside, other = self._nearest_inside, other_end(self.fitter_end)
        if x or y:
            off = (-x, -y) if other == "bottom" else (x, y)
            nearest = min(inside[self.fitter_end], _nearest(self.rim(other), off))
        else:
            nearest = min(inside.values())
        return 2 * nearest - 2 * self.wire

    @property
    def pauses(self) -> tuple[float, float, float]:
        """Where the roll may pause: a quarter, half and three quarters round, as panel coordinates.

        On a corner it would not rest: there the pause moves on to the middle of the side that follows.
        """
        quarter, half, late = (self._resting(self.wrapped_length * k / 4) for k in (1, 2, 3))
        return quarter, half, late

    def _resting(self, x: float) -> float:
        if self.development is not None:
            return self._resting_taper(self.development, x)
        stations = self.sheet.stations()
        sides = [station.s for station in stations if station.kind == "side"]
        # Tangent points come in pairs, the beginning and the end of each bend.
        tangents = [station.s for station in stations if station.kind == "tangent"]
        bends = zip(tangents[::2], tangents[1::2], strict=False)
        on_bend = any(start - 1.0 <= x <= end + 1.0 for start, end in bends)
        if not (on_bend and len(sides) > 4):
            return x
        return min(side for side in [*sides, self.wrapped_length] if side > x)

    @staticmethod
    def _resting_taper(development: Development, x: float) -> float:
        """On a bend between facets the pause moves on to the middle of the facet that follows."""
        breaks = (*development.breaks(), development.length)
        for part, start, stop in zip(development.parts, breaks, breaks[1:], strict=False):
            if isinstance(part, Curved) and start - 1.0 <= x <= stop + 1.0 and len(development.parts) > 5:
                after = next((b for b in breaks if b > stop + 1e-9), development.length)
                return (stop + after) / 2 if after < development.length else development.length
        return x

    def on_outline(self, x: float, end: End | None = None) -> float:
        """Station of a ring at panel coordinate x, by halving: ``on_panel`` grows with s, mm.

        ``end`` says which ring of a taper: the fitter ring, if it is left out.
        """
        low, high = 0.0, self.rim(end or self.fitter_end).length
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.on_panel(middle, end) < x else (low, middle)
        return (low + high) / 2

    def on_panel(self, s: float, end: End | None = None) -> float:
        """Panel coordinate of a station s of a ring: s + d psi, d the offset of the mid-sheet line.

        ``end`` says which ring of a taper: the fitter ring, if it is left out.
        """
        if self.development is not None:
            return self.development.panel_place(end or self.fitter_end, s)
        return s + (self.sheet.length - self.outline.length) * self.outline.psi(s) / TURN


def _nearest(ring: Outline, off: Point) -> float:
    """Distance of a ring from the lamp's line, the ring's middle being ``off`` it; below zero: outside of it.

    The least, over all directions, of support function and shift (a convex outline; elementary).
    """
    stations = ring.stations()
    # A curve without stations is smooth and alike on both sides of both axes: to its middle it is nearest at
    # one of its quarters.
    steps = 720 if stations or any(off) else 4
    found = []
    for s in [ring.length * k / steps for k in range(steps)] + [station.s for station in stations]:
        (px, py), psi = ring.point(s), ring.psi(s)
        found.append((px + off[0]) * math.sin(psi) - (py + off[1]) * math.cos(psi))
    return min(found)


def _between(a: Point3, b: Point3, share: float) -> Point3:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share
