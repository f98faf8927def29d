"""A recorded canvas written as SVG that stands alone: viewBox in mm, named groups, its own font names.

Every group has an id that a vector program shows as its name (``pier-drum-35-dock-fitter-ring``) and that no
other figure of any size has, so that several figures can stand in one page of the web.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import shapely
import svgwrite
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from generator.figures.canvas import Canvas, Group, Letters, Mark
from generator.figures.lettering import STACK, normal, outline_path
from generator.figures.pens import EM, WHITE

HALO = 0.9
FINENESS = 0.02
"""A point nearer than this to the line through its neighbours is left out, mm: half a dot of 600 dpi.

The press needs time for each point and for each path, far more than for anything else in a drawing.
"""


@dataclass(frozen=True, slots=True)
class Passport:
    """What a file says of itself to whoever opens it without the sheet."""

    owner: str
    """Recipe, size and task: the beginning of all ids in the file."""
    figure: str
    """The kind of picture."""
    step: int
    """The step's number; 0 for a picture of the whole."""
    title: str
    """One sentence: action, part, count."""
    description: str = ""
    """What is named and what is measured in the picture."""
    language: str = "en"


def write_svg(canvas: Canvas, passport: Passport) -> str:
    """The canvas as SVG text. Same canvas and passport, same text."""
    owner = identifier(passport.owner)
    drawing = svgwrite.Drawing(
        size=(f"{canvas.width:g}mm", f"{canvas.height:g}mm"),
        viewBox=f"0 {canvas.top:g} {canvas.width:g} {canvas.height:g}",
        debug=False,
        profile="full",
    )
    drawing.attribs["id"] = owner
    drawing.attribs["xml:lang"] = passport.language
    drawing.attribs["role"] = "img"
    drawing.attribs["font-family"] = STACK
    drawing.attribs["stroke-linejoin"] = "round"
    drawing.attribs["stroke-linecap"] = "round"
    drawing.attribs["data-step"] = str(passport.step)
    drawing.attribs["data-view"] = canvas.view
    drawing.attribs["data-figure"] = passport.figure
    if canvas.scale is not None:
        drawing.attribs["data-scale"] = f"{canvas.scale:.6g}"
    drawing.set_desc(title=passport.title, desc=passport.description or None)
    current: Group | None = None
    holder: Any = None
    seen: Counter[str] = Counter()
    for item in _joined(canvas):
        if item[0].group != current:
            current = item[0].group
            names = _names(current, passport.step, canvas.view)
            part = identifier(names["data-part"])
            seen[part] += 1
            names["id"] = f"{owner}-{part}" + (f"-{seen[part]}" if seen[part] > 1 else "")
            holder = drawing.g(**names)
            drawing.add(holder)
        for element in _letters(drawing, item[0]) if isinstance(item[0], Letters) else _mark(drawing, *item):
            holder.add(element)
    return str(drawing.tostring())


def identifier(name: str) -> str:
    """A name as an id that every program takes: letters, digits and hyphens, a letter first."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-") or "part"
    return plain if plain[0].isalpha() else f"n{plain}"


def _joined(canvas: Canvas) -> Iterator[tuple[Letters, str] | tuple[Mark, str]]:
    """What is drawn, with its path data; neighbouring lines of one pen and group become one path."""
    last: Mark | None = None
    data = ""
    for item, path in zip(canvas.items, _paths(canvas), strict=True):
        alike = (
            last is not None
            and isinstance(item, Mark)
            and (last.fill, last.pen, last.group) == (None, item.pen, item.group)
            and item.fill is None
        )
        if alike:
            data += path
            continue
        if last is not None and data:
            yield last, data
        last, data = (item, path) if isinstance(item, Mark) else (None, "")
        if isinstance(item, Letters):
            yield item, ""
    if last is not None and data:
        yield last, data


def _names(group: Group, step: int, view: str) -> dict[str, str]:
    names = {
        "data-role": group.role,
        "data-part": group.part or "scene",
        "data-step": str(step),
        "data-view": view,
    }
    if group.enlarged:
        names["data-enlarged"] = "true"
    if group.measure is not None:
        names["data-measure"] = group.measure
        names["data-value"] = f"{group.value:g}"
    return names


def _mark(drawing: Any, mark: Mark, data: str) -> list[Any]:
    style: dict[str, str] = {"fill": mark.fill or "none"}
    if mark.fill is not None:
        style["fill_rule"] = "evenodd"
    if mark.pen is not None:
        style["stroke"] = mark.pen.colour
        style["stroke_width"] = f"{mark.pen.width:g}"
        if mark.pen.cap != "round":
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
                stroke_width=f"{2 * HALO * letters.size / EM:g}",
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


def _paths(canvas: Canvas) -> Iterator[str]:
    """Path data of each thing on the canvas; empty for letters. All points are thinned in one go."""
    counts: list[int] = []
    lines: list[BaseGeometry] = []
    closed: list[bool] = []
    for item in canvas.items:
        before = len(lines)
        for part in _lines(item.shape) if isinstance(item, Mark) else ():
            coords = shapely.get_coordinates(part)
            shut = len(coords) > 3 and bool((coords[0] == coords[-1]).all())
            # The way back to the start is the path's own: it is drawn by closing, not by a line.
            lines.append(LineString(coords[:-1]) if shut else part)
            closed.append(shut)
        counts.append(len(lines) - before)
    thinned = iter(zip(shapely.simplify(lines, FINENESS, preserve_topology=False), closed, strict=True))
    for count in counts:
        yield "".join(_data(*next(thinned)) for _ in range(count))


def _lines(shape: BaseGeometry) -> Iterator[BaseGeometry]:
    """Every ring and line of a shape."""
    for part in shapely.get_parts(shape):
        if part.geom_type == "Polygon":
            yield from shapely.get_rings(part)
        elif part.geom_type in ("LineString", "LinearRing"):
            if not part.is_empty:
                yield part
        elif part.geom_type != "Point":
            yield from _lines(part)


def _data(line: BaseGeometry, closed: bool) -> str:
    data = "M" + "L".join([f"{x:.2f} {y:.2f}" for x, y in shapely.get_coordinates(line).tolist()])
    return data + "Z" if closed else data


__all__ = ["EM", "write_svg"]
