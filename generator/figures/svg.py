"""A recorded canvas written as SVG that stands alone: viewBox in mm, named groups, its own font name."""

from __future__ import annotations

from typing import Any

import svgwrite
from shapely import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Group, Letters, Mark
from generator.figures.lettering import FAMILY, normal, outline_path
from generator.figures.pens import EM, WHITE

HALO = 0.9


def write_svg(canvas: Canvas, *, step: int, figure: str, title: str) -> str:
    """The canvas as SVG text. Same canvas, same text."""
    drawing = svgwrite.Drawing(
        size=(f"{canvas.width:g}mm", f"{canvas.height:g}mm"),
        viewBox=f"0 {canvas.top:g} {canvas.width:g} {canvas.height:g}",
        debug=False,
        profile="full",
    )
    drawing.attribs["font-family"] = FAMILY
    drawing.attribs["data-view"] = canvas.view
    drawing.attribs["data-figure"] = figure
    if canvas.scale is not None:
        drawing.attribs["data-scale"] = f"{canvas.scale:.6g}"
    drawing.set_desc(title=title)
    current: Group | None = None
    holder: Any = None
    for item in canvas.items:
        if item.group != current:
            current = item.group
            holder = drawing.g(**_names(current, step, canvas.view))
            drawing.add(holder)
        for element in _letters(drawing, item) if isinstance(item, Letters) else _mark(drawing, item):
            holder.add(element)
    return str(drawing.tostring())


def _names(group: Group, step: int, view: str) -> dict[str, str]:
    names = {
        "data-role": group.role,
        "data-part": group.part or "scene",
        "data-step": str(step),
        "data-view": view,
    }
    if group.measure is not None:
        names["data-measure"] = group.measure
        names["data-value"] = f"{group.value:g}"
    return names


def _mark(drawing: Any, mark: Mark) -> list[Any]:
    data = _path(mark.shape)
    if not data:
        return []
    style: dict[str, str] = {"fill": mark.fill or "none"}
    if mark.fill is not None:
        style["fill_rule"] = "evenodd"
    if mark.pen is not None:
        style["stroke"] = mark.pen.colour
        style["stroke_width"] = f"{mark.pen.width:g}"
        style["stroke_linejoin"] = "round"
        style["stroke_linecap"] = mark.pen.cap
        if mark.pen.dash:
            style["stroke_dasharray"] = " ".join(f"{d:g}" for d in mark.pen.dash)
    return [drawing.path(d=data, **style)]


def _letters(drawing: Any, letters: Letters) -> list[Any]:
    x, y = letters.at
    turn = {"transform": f"rotate({-letters.angle:g} {x:.3f} {y:.3f})"} if letters.angle else {}
    out: list[Any] = []
    if letters.halo:
        out.append(
            drawing.path(
                d=outline_path(letters.text, x, y, letters.size, letters.weight),
                fill=WHITE,
                stroke=WHITE,
                stroke_width=f"{2 * HALO:g}",
                stroke_linejoin="round",
                **turn,
            )
        )
    out.append(
        drawing.text(
            normal(letters.text),
            insert=(f"{x:.3f}", f"{y:.3f}"),
            font_size=f"{letters.size:g}",
            font_weight=str(letters.weight),
            fill=letters.fill,
            **turn,
        )
    )
    return out


def _path(shape: BaseGeometry) -> str:
    if isinstance(shape, Polygon):
        return "".join(
            _ring(ring.coords[:-1], True) for ring in (shape.exterior, *shape.interiors) if not ring.is_empty
        )
    if isinstance(shape, (MultiPolygon, MultiLineString)):
        return "".join(_path(part) for part in shape.geoms)
    if isinstance(shape, LineString):
        coords = list(shape.coords)
        closed = len(coords) > 3 and coords[0] == coords[-1]
        return _ring(coords[:-1] if closed else coords, closed)
    parts = getattr(shape, "geoms", ())
    return "".join(_path(part) for part in parts)


def _ring(coords: Any, closed: bool) -> str:
    thinned = LineString(coords).simplify(0.01).coords if len(coords) > 2 else coords
    data = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y, *_ in thinned)
    return data + "Z" if closed else data


__all__ = ["EM", "write_svg"]
