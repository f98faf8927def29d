"""The pattern as SVG for a cutting machine: millimetres, one named group for each layer."""

from __future__ import annotations

from typing import Any

import svgwrite

from generator.figures.canvas import Canvas, Letters
from generator.figures.lettering import FAMILY, normal
from generator.figures.pattern.model import LAYERS, Drawing, Layer, Point
from generator.figures.pattern.paint import Say

COLOURS: dict[Layer, str] = {
    "cut": "#FF0000",
    "kiss-cut": "#0000FF",
    "fold": "#008000",
    "mark": "#000000",
    "text": "#000000",
}
"""Pure colours, by which most programs of cutters tell operations apart (common practice, no source)."""
HAIR = 0.1
"""Width of a line, mm."""


def cutter_svg(drawing: Drawing, names: Canvas, border: float, say: Say) -> str:
    """One user unit is one mm; layers are groups called cut, kiss-cut, fold, mark and text.

    ``names`` is the drawing in one piece with ``border`` round it: its letters have their places already.
    """
    left, bottom, right, top = drawing.box
    width, height = right - left + 2 * border, top - bottom + 2 * border
    svg = svgwrite.Drawing(
        size=(f"{width:.3f}mm", f"{height:.3f}mm"),
        viewBox=f"0 0 {width:.3f} {height:.3f}",
        debug=False,
        profile="full",
    )
    svg.set_desc(title=say("pattern.name.title"), desc=say("alt.pattern-whole"))

    def at(p: Point) -> Point:
        return p[0] - left + border, top - p[1] + border

    moved = drawing.moved_by(at)
    for layer in LAYERS:
        group = svg.g(id=layer, **_style(layer))
        group.set_desc(title=say(f"pattern.layer.{layer}"))
        for line in moved.lines:
            if line.layer == layer:
                group.add(svg.path(d=_data(line.points, line.closed), **{"data-part": line.part}))
        for letters in names.texts() if layer == "text" else ():
            group.add(_words(svg, letters))
        svg.add(group)
    return str(svg.tostring())


def _style(layer: Layer) -> dict[str, str]:
    if layer == "text":
        return {"fill": COLOURS[layer], "font-family": FAMILY}
    return {"fill": "none", "stroke": COLOURS[layer], "stroke-width": f"{HAIR:g}"}


def _data(points: tuple[Point, ...], closed: bool) -> str:
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points) + ("Z" if closed else "")


def _words(svg: Any, letters: Letters) -> Any:
    x, y = letters.at
    turn = {"transform": f"rotate({-letters.angle:g} {x:.3f} {y:.3f})"} if letters.angle else {}
    size = f"{letters.size:g}"
    return svg.text(normal(letters.text), insert=(f"{x:.3f}", f"{y:.3f}"), font_size=size, **turn)
