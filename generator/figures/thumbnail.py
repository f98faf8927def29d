"""A figure as small as a stamp: the scene alone, for a table of contents.

Labels, dimensions, details, hands, print, kiss cuts and struts go; of like pictures side by side one is kept,
of several arrows one. What is left is made as large as the place allows and drawn in line weights for that
size, since lines that merely shrink vanish in print.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import shapely
import svgwrite
from shapely import LineString, MultiLineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import SHAFT
from generator.figures.model import Figure
from generator.figures.pens import (
    INK,
    NEW_WIRE_CORE,
    NEW_WIRE_OUTER,
    SEA,
    TOOL,
    WHITE,
    WIRE_CORE,
    WIRE_OUTER,
)
from generator.figures.svg import identifier

WIDTH, HEIGHT = 25.0, 20.0
"""The place, mm."""
EDGE = 0.6
"""Kept free all round, mm."""
ARROW = 0.8
"""Width of an arrow's shaft, mm."""
OUTER, CORE = 0.8, 0.35
"""Widths of a wire and of its light core, mm."""
LIGHT, HEAVY = 0.25, 0.5
FINENESS = 0.04
"""A point nearer than this to the line through its neighbours is left out, mm on the page."""
TOGETHER = 1.2
"""What lies nearer than this belongs to one picture, mm in the figure."""
ALIKE = 0.5
"""Pictures of which more than this share of the parts have the same names show one thing twice."""

_SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = r"-?\d+(?:\.\d+)?"
_PAIR = re.compile(rf"({_NUMBER}) ({_NUMBER})")
_SUBPATH = re.compile("M[^M]+")
_ROLES_OUT = frozenset(("label", "dimension", "detail"))
_PARTS_OUT = re.compile(
    "hand.*|print|print-up|motif|kiss-cut|strut.*|threads?|direction|grain|turn-mark.*|scale|rolled-so-far"
)


@dataclass(frozen=True)
class _Path:
    """One path of the figure, lengths in the figure's mm."""

    role: str
    part: str
    lines: tuple[tuple[tuple[tuple[float, float], ...], bool], ...]
    """Points of each line, and whether it is closed."""
    fill: str
    stroke: str
    width: float
    dash: str

    @cached_property
    def shape(self) -> BaseGeometry:
        """What it covers."""
        areas = [Polygon(points) for points, shut in self.lines if shut and len(points) > 2]
        if self.fill != "none" and areas:
            return unary_union([area.buffer(0) for area in areas])
        return MultiLineString([points for points, _ in self.lines if len(points) > 1])

    @property
    def arrow(self) -> bool:
        """Whether it is the dark body of an arrow."""
        return self.role == "action" and self.fill == SEA and self.stroke == "none"

    @property
    def halo(self) -> bool:
        """Whether it is the white ground of an arrow."""
        return self.role == "action" and self.fill == WHITE and self.stroke == WHITE


def thumbnail(figure: Figure, width: float = WIDTH, height: float = HEIGHT) -> Figure:
    """The figure in a place of ``width`` × ``height`` mm; its id is ``small-`` and the figure's."""
    kept = _one_arrow(_one_of_each(list(_paths(figure.svg))))
    spots = [spot for path in kept for points, _ in path.lines for spot in points]
    left, right = min(x for x, _ in spots), max(x for x, _ in spots)
    top, bottom = min(y for _, y in spots), max(y for _, y in spots)
    scale = min((width - 2 * EDGE) / max(right - left, 1.0), (height - 2 * EDGE) / max(bottom - top, 1.0))
    shift = (width - scale * (left + right)) / 2, (height - scale * (top + bottom)) / 2
    name = f"small-{figure.id}"
    drawing = svgwrite.Drawing(
        size=(f"{width:g}mm", f"{height:g}mm"),
        viewBox=f"0 0 {width:g} {height:g}",
        debug=False,
        profile="full",
    )
    drawing.attribs.update(
        {"id": identifier(name), "data-step": str(figure.number), "data-scale": f"{scale:.6g}"}
    )
    drawing.attribs.update({"stroke-linejoin": "round", "stroke-linecap": "round"})
    drawing.set_desc(title=figure.alt)
    group: Any = None
    for path in kept:
        names = {"data-role": path.role, "data-part": path.part}
        if group is None or any(group[key] != value for key, value in names.items()):
            group = drawing.g(**names)
            drawing.add(group)
        group.add(_drawn(drawing, path, scale, shift))
    return replace(figure, id=name, svg=str(drawing.tostring()), width=width, height=height, measures=())


def _paths(svg: str) -> Iterator[_Path]:
    """What may stand in a thumbnail, in drawing order."""
    for group in ElementTree.fromstring(svg).iter(f"{_SVG}g"):
        role, part = group.get("data-role", ""), group.get("data-part", "")
        if role in _ROLES_OUT or group.get("data-enlarged") or _PARTS_OUT.fullmatch(part):
            continue
        for path in group.iter(f"{_SVG}path"):
            lines = []
            for sub in _SUBPATH.findall(path.get("d", "")):
                points = tuple((float(x), float(y)) for x, y in _PAIR.findall(sub))
                if len(points) > 1:
                    lines.append((points, sub.endswith("Z")))
            if lines:
                stroke = path.get("stroke", "none")
                yield _Path(
                    role,
                    part,
                    tuple(lines),
                    path.get("fill", "none"),
                    stroke,
                    float(path.get("stroke-width", "1")) if stroke != "none" else 0.0,
                    path.get("stroke-dasharray", ""),
                )


def _one_of_each(paths: Sequence[_Path]) -> list[_Path]:
    """Of pictures that stand apart and have the same parts, the largest alone; all others."""
    ground = unary_union([path.shape.buffer(TOGETHER / 2) for path in paths])
    places = list(getattr(ground, "geoms", [ground]))
    held: list[list[_Path]] = [[] for _ in places]
    tree = shapely.STRtree(places)
    for path in paths:
        held[int(tree.query(path.shape, predicate="intersects")[0])].append(path)
    things = [i for i, inside in enumerate(held) if any(path.role != "action" for path in inside)]
    for index in sorted(set(range(len(places))) - set(things)) if things else ():
        # An arrow that stands free belongs to what it is nearest to.
        nearest = min(things, key=lambda i: round(places[i].distance(places[index]), 6))
        held[nearest] += held[index]
        held[index] = []
    order = sorted(things or range(len(places)), key=lambda i: (-round(places[i].envelope.area, 3), i))
    chosen: list[set[str]] = []
    kept: set[int] = set()
    for index in order:
        names = {path.part for path in held[index]}
        if all(len(names & other) <= ALIKE * len(names | other) for other in chosen):
            chosen.append(names)
            kept.update(id(path) for path in held[index])
    return [path for path in paths if id(path) in kept]


def _one_arrow(paths: Sequence[_Path]) -> list[_Path]:
    """The largest arrow alone, above everything; its ground is drawn with it."""
    arrows = [path for path in paths if path.arrow]
    rest = [path for path in paths if not path.arrow and not path.halo]
    return [*rest, max(arrows, key=lambda path: round(path.shape.area, 3))] if arrows else rest


def _drawn(drawing: Any, path: _Path, scale: float, shift: tuple[float, float]) -> Any:
    data = ""
    for points, shut in path.lines:
        placed = LineString([(x * scale + shift[0], y * scale + shift[1]) for x, y in points])
        thinned = shapely.get_coordinates(placed.simplify(FINENESS, preserve_topology=False)).tolist()
        data += "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in thinned) + ("Z" if shut else "")
    style: dict[str, str] = {"fill": path.fill}
    if path.fill != "none":
        style["fill_rule"] = "evenodd"
    if path.arrow:
        # The line round it makes the shaft as wide as it must be at this size.
        style |= {"stroke": SEA, "stroke_width": f"{max(0.0, ARROW - SHAFT * scale):.3g}"}
    elif path.stroke != "none":
        style |= {"stroke": path.stroke, "stroke_width": f"{_weight(path, scale):.3g}"}
        if path.dash:
            style["stroke_dasharray"] = " ".join(f"{float(each) * 0.6:.2g}" for each in path.dash.split())
    return drawing.path(d=data, **style)


def _weight(path: _Path, scale: float) -> float:
    """Width of a line in the thumbnail, mm."""
    if path.width in (WIRE_OUTER, NEW_WIRE_OUTER):
        return OUTER
    if path.width in (WIRE_CORE, NEW_WIRE_CORE) and path.stroke not in (INK, SEA):
        return CORE
    if path.width <= TOOL.width:
        return LIGHT
    return HEAVY if path.width <= NEW_WIRE_CORE else path.width * scale
