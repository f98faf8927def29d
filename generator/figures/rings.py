"""Wire rings, struts and hub, drawn as cased lines of the wire's own weight."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from generator.base.errors import ShapeError
from generator.figures.canvas import Canvas, Point
from generator.figures.pens import (
    INK,
    NEW_WIRE_CORE,
    NEW_WIRE_OUTER,
    RING_TAPE,
    WHITE,
    WIRE_CORE,
    WIRE_OUTER,
    Pen,
)
from generator.figures.view import Frame, Point3
from generator.shape.development import End, other_end
from generator.shape.outline import Outline
from generator.shape.shade import Shade

HUB_RADIUS = 20.0
"""Drawn radius of the hub where the recipe states no hole, real mm; never printed as a number."""
Embed = Callable[[Point, float], Point3]


def wire_line(shade: Shade, end: End | None = None) -> Outline:
    """The middle of the wire: half its diameter inside the outline; the outline itself at a sharp corner.

    ``end`` says which ring of a taper; left out, the wide one.
    """
    outline = shade.rim(end or shade.wide_end)
    try:
        return outline.offset(-shade.wire / 2)
    except ShapeError:
        return outline


def ring_points(
    shade: Shade, embed: Embed, h: float, steps: int = 180, *, end: End | None = None
) -> list[Point3]:
    """The middle of the wire as a closed line in space."""
    line = wire_line(shade, end)
    stations = sorted({*(line.length * k / steps for k in range(steps)), *(s.s for s in line.stations())})
    points = [embed(line.point(s), h) for s in stations]
    return [*points, points[0]]


def cased(
    canvas: Canvas, points: Sequence[Point], *, new: bool = False, core: str = WHITE, thin: bool = False
) -> None:
    """A wire: a dark line with a light core. ``thin`` for crowded pictures."""
    outer, inner = (NEW_WIRE_OUTER, NEW_WIRE_CORE) if new else (WIRE_OUTER, WIRE_CORE)
    if thin:
        outer, inner = 0.9, 0.4
    canvas.line(points, Pen(outer, INK))
    canvas.line(points, Pen(inner, core))


def hub_radius(shade: Shade) -> float:
    """Drawn radius of the hub, real mm."""
    return shade.hole / 2 + 3.0 if shade.hole else min(HUB_RADIUS, max(shade.smallest_inside, 0.0) / 6)


def ring(
    canvas: Canvas,
    frame: Frame,
    shade: Shade,
    embed: Embed,
    h: float,
    *,
    part: str,
    fitter: bool = False,
    inward: float = 1.0,
    taped: bool = False,
    new: bool = False,
    role: str = "context",
    thin: bool = False,
    steps: int = 180,
    end: End | None = None,
) -> None:
    """A ring at height ``h``; a fitter ring with struts and hub, set back along ``inward`` (±1).

    ``end`` says which ring of a taper; left out, it is the fitter ring's end, or the other one.
    """
    end = end or (shade.fitter_end if fitter else other_end(shade.fitter_end))
    core = RING_TAPE if taped else WHITE
    with canvas.group(role, part):  # type: ignore[arg-type]
        if fitter:
            hub_h, radius = h + inward * shade.recess, hub_radius(shade)
            hub = [
                frame(
                    embed(
                        (radius * math.cos(2 * math.pi * k / 60), radius * math.sin(2 * math.pi * k / 60)),
                        hub_h,
                    )
                )
                for k in range(61)
            ]
            line = wire_line(shade, end)
            scale = line.length / shade.rim(end).length
            for strut in shade.struts:
                x, y = line.point(strut.s * scale)
                d = math.hypot(x, y)
                inner = (x / d * radius, y / d * radius)
                cased(canvas, [frame(embed((x, y), h)), frame(embed(inner, hub_h))], new=False, thin=thin)
            cased(canvas, hub, thin=thin)
        loop = frame.path(ring_points(shade, embed, h, steps, end=end))
        cased(canvas, loop, new=new, core=core, thin=thin)
