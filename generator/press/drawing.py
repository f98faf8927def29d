"""Figures painted the short way: plain paths go to the page as they are written.

The engine takes an SVG path apart number by number, and makes PDF operators of the same numbers again: most
of the time of writing a page of figures went there. Our own figures consist of such paths.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

_NUMBER = r"-?\d+(?:\.\d+)?"
_PAIR = rf"{_NUMBER} {_NUMBER}"
_PLAIN = re.compile(rf"(?:M{_PAIR}(?:L{_PAIR}|C{_PAIR} {_PAIR} {_PAIR})*Z?)+")
_STEP = re.compile(r"([MLC])([^MLCZ]+)")
_OPERATORS = str.maketrans({"M": "m\n", "L": "l\n", "C": "c\n", "Z": "h\n"})
_BY_THE_ENGINE = frozenset(
    (
        *("filter", "transform", "opacity", "clip-path", "mask", "style", "display", "visibility"),
        *("marker", "marker-start", "marker-mid", "marker-end"),
    )
)


def operators(data: str) -> bytes | None:
    """The PDF operators of SVG path data (ISO 32000-1, 8.5.2, from memory: the point first, then m, l, c, h).

    None for data with anything but absolute moves, lines, cubic curves and closings, each with its letter.
    """
    if _PLAIN.fullmatch(data) is None:
        return None
    return _STEP.sub(r"\2 \1", data).translate(_OPERATORS).rstrip().encode("ascii")


@cache
def _painter() -> type[Any]:
    from weasyprint.svg import SVG

    class Painter(SVG):
        """The engine's SVG, but for paths that need nothing of it."""

        def draw_node(
            self, node: Any, font_size: float, fill_stroke: bool = True, context: Any = None
        ) -> None:
            """Paint a node and all below it."""
            plain = fill_stroke and node.tag == "path" and _BY_THE_ENGINE.isdisjoint(node.attrib)
            path = operators(node.get("d", "")) if plain else None
            if path is None:
                super().draw_node(node, font_size, fill_stroke, context)
                return
            self.stream.push_state()
            fill, stroke = self.set_graphical_state(node, font_size, context=context)
            self.stream.stream.append(path)
            self.fill_stroke(fill, stroke, node.get("fill-rule") == "evenodd")
            self.stream.pop_state()

    return Painter


def paint_quickly(images: Iterable[Any]) -> None:
    """Let these images of the engine, those that are SVG, paint plain paths the short way."""
    for image in images:
        svg = getattr(image, "_svg", None)
        if svg is not None:
            svg.__class__ = _painter()
