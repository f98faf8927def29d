"""Where the work itself turns between two steps, and the mark that says so.

How it lies is in the plan: face up or down while it is flat, on its side while it is rolled, then on one
end or the other. A figure that shows more than its task says (the seam is notched at both rims, the plain one
first) tells it in ``LIES``: how the work lies when the step begins, and when it ends.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from shapely import LineString, MultiPoint, Polygon, box

from generator.base.registry import kinds, load_kind
from generator.figures.arrows import small_action, turn_mark
from generator.figures.canvas import Canvas, Point
from generator.figures.model import Job
from generator.figures.pens import CLOTH_BACK, HEAVY, PVC_INSIDE, THIN, TOOL, WHITE
from generator.figures.plane import arc
from generator.figures.view import Box, Point3, bench, fit
from generator.plan.model import Step
from generator.shape.development import ENDS, End, other_end
from generator.shape.shade import Shade

KINDS = "generator.figures.kinds"
FLAT = {"up": WHITE, "down": CLOTH_BACK}
"""The tone of the cloth as it lies: its right side, or its wrong side."""
ON_END = ("plain-end-up", "fitter-end-up")
SIDE = "rolled"
WIDE, HIGH = 22.0, 13.0
"""The mark of a shade that is turned: its place on paper, mm."""
GAP = 3.4
"""Between its two small shades, mm."""
YAW = math.radians(52)
"""How far a small shade on its side lies aslant, so that its near end is looked into."""


@dataclass(frozen=True)
class Small:
    """A small shade on paper: both its rims, and the place on each that is in front."""

    rims: Mapping[End, list[Point]]
    front: Mapping[End, Point]


def turned(job: Job) -> tuple[str, str] | None:
    """How the work lay before this step and how it lies now; None where it has not been turned.

    Rolling is no turning, nor is what comes first.
    """
    lay: str | None = None
    for step in job.plan.steps:
        begins, ends = _faces(step, lay)
        if step.number == job.step.number:
            if lay is None or begins is None or lay == begins or begins == SIDE:
                return None
            return lay, begins
        lay = ends
    return None


def _faces(step: Step, lay: str | None) -> tuple[str | None, str | None]:
    """How the work lies at the beginning and the end of a step, if it lay so before."""
    name, face = step.task.figure, step.task.face
    if face == SIDE and name in kinds(KINDS):
        shown: tuple[str, str] | None = getattr(load_kind(KINDS, name), "LIES", None)
        if shown is not None:
            return shown
        # Work all round a shade that stands goes on as it stands.
        return (lay, lay) if lay in ON_END else (SIDE, SIDE)
    return (face, face) if face else (lay, lay)


def mark_flat(canvas: Canvas, job: Job, at: Point) -> None:
    """The turn mark of flat work with its left top corner at ``at``, if it has just been turned over."""
    change = turned(job)
    if change and all(face in FLAT for face in change):
        turn_mark(canvas, at, before=FLAT[change[0]], after=FLAT[change[1]])


def mark_shade(
    canvas: Canvas,
    job: Job,
    at: Point,
    *,
    wide: float = WIDE,
    high: float = HIGH,
    front: float = 0.0,
    mirror: bool = False,
) -> Small | None:
    """The mark of a shade that has been stood on its end, or turned end over end; at its left top corner.

    Two small shades side by side, or one above the other in a place that is higher than wide; one rim heavy
    in both, and an arrow between. ``front``: the arc length that is in front, the seam if nothing is said.
    ``mirror``: for the left hand, side by side. Returns the second one; None, and nothing is drawn, where the
    shade has not been turned.
    """
    change = turned(job)
    if change is None or change[1] not in ON_END or change[0] in FLAT:
        return None
    heavy = _up(job.shade, change[0] if change[0] in ON_END else change[1])
    places, path = (_stacked if high > wide else _side_by_side)(at, wide, high)
    if mirror:
        places, path = places[::-1], path[::-1]
    smalls = [
        small_shade(canvas, job.shade, place, face, heavy, front=front, mirror=mirror, part="turn-mark")
        for place, face in zip(places, change, strict=True)
    ]
    small_action(canvas, path, "turn-mark-arrow")
    canvas.blocked.append(box(at[0], at[1], at[0] + wide, at[1] + high))
    return smalls[1]


def _side_by_side(at: Point, wide: float, high: float) -> tuple[list[Box], list[Point]]:
    """Two places one beside the other, and a flat arc from over the one to over the other."""
    (x, y), cell = at, (wide - GAP) / 2
    top = y + 0.36 * high
    places = [Box(left, top, left + cell, y + high) for left in (x, x + cell + GAP)]
    reach, rise = 0.34 * wide, 0.36 * high - 1.7
    return places, _bow((x + wide / 2, y + 0.7), reach, rise, 90.0)


def _stacked(at: Point, wide: float, high: float) -> tuple[list[Box], list[Point]]:
    """Two places one above the other, and a flat arc beside them from the upper to the lower."""
    (x, y), cell = at, (high - GAP) / 2
    right = x + 0.68 * wide
    places = [Box(x, top, right, top + cell) for top in (y, y + cell + GAP)]
    return places, _bow((x + wide - 0.7, y + high / 2), 0.3 * high, 0.32 * wide - 1.7, 0.0)


def _bow(peak: Point, reach: float, rise: float, towards: float) -> list[Point]:
    """A flat arc over ``peak``, which lies in a direction from its middle; it begins at the greater angle."""
    radius = (reach**2 + rise**2) / (2 * rise)
    spread = math.degrees(math.asin(min(1.0, reach / radius)))
    way = math.radians(towards)
    middle = (peak[0] - radius * math.cos(way), peak[1] + radius * math.sin(way))
    return arc(middle, radius, towards + spread, towards - spread)


def _up(shade: Shade, face: str) -> End:
    """The end that is up."""
    return shade.fitter_end if face == "fitter-end-up" else other_end(shade.fitter_end)


def small_shade(
    canvas: Canvas,
    shade: Shade,
    place: Box,
    face: str,
    heavy: End | None = None,
    *,
    front: float = 0.0,
    mirror: bool = False,
    part: str = "small-shade",
) -> Small:
    """A shade as small as a mark: on its side with the plain end near, or on an end; one rim ``heavy``.

    ``front``: the arc length that is in front, or on top of one that lies on its side.
    """
    near = other_end(shade.fitter_end) if face == SIDE else _up(shade, face)
    pose = _Pose(shade, near, face == SIDE, -shade.outline.psi(front))
    loops = {end: [pose.rim(end, s) for s in _around(shade, end)] for end in ENDS}
    frame = fit(bench(mirror), [p for loop in loops.values() for p in loop], place, anchor="bottom")
    rims = {end: frame.path(loop) for end, loop in loops.items()}
    body = MultiPoint([p for rim in rims.values() for p in rim]).convex_hull
    with canvas.group("context", part):
        canvas.area(body, WHITE, TOOL)
        canvas.area(Polygon(rims[near]), PVC_INSIDE, TOOL)
        if near == shade.fitter_end:
            x, y, z = shade.ring_centre(near)
            hub = frame(pose((x, y, z + (-shade.recess if near == "top" else shade.recess))))
            for strut in shade.struts:
                canvas.line([frame(pose.rim(near, strut.s)), hub], THIN)
        if heavy is not None:
            loop = LineString([*rims[heavy], rims[heavy][0]])
            canvas.line(loop if heavy == near else loop.intersection(body.boundary.buffer(0.05)), HEAVY)
    share = front / shade.outline.length
    return Small(rims, {end: frame(pose.rim(end, share * shade.rim(end).length)) for end in ENDS})


def _around(shade: Shade, end: End) -> list[float]:
    rim = shade.rim(end)
    return sorted({*(rim.length * k / 60 for k in range(60)), *(station.s for station in rim.stations())})


@dataclass(frozen=True)
class _Pose:
    """From the shade in use to how it lies: one end up, or nearest if it is on its side."""

    shade: Shade
    near: End
    on_side: bool
    turn: float
    """About its own axis, radians."""

    def rim(self, end: End, s: float) -> Point3:
        """The place on a rim at an arc length."""
        (x, y), (cx, cy, z) = self.shade.rim(end).point(s), self.shade.ring_centre(end)
        return self((x + cx, y + cy, z))

    def __call__(self, p: Point3) -> Point3:
        """A place of the shade in use, its seam in front, as it lies now: in front, or on top."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        x, y, z = p[0] * c - p[1] * s, p[0] * s + p[1] * c, p[2]
        # Half a turn about a level axis swaps left and right with above and below: nothing is mirrored.
        x, z = (-x, z) if self.near == "top" else (x, self.shade.height - z)
        if not self.on_side:
            return x, y, z
        nearer, across, up = z - self.shade.height / 2, -x, -y
        c, s = math.cos(YAW), math.sin(YAW)
        return across * c + nearer * s, across * s - nearer * c, up
