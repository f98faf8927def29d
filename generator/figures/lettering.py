"""Widths and outlines of the pinned font, so that every label is measured before it is placed.

The engine sets SVG text letter by letter without kerning, so a width is the sum of the advance widths.
"""

from __future__ import annotations

import unicodedata
from functools import cache

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from generator.base.assets import font_files
from generator.base.errors import FigureError
from generator.base.message import message

FAMILY = "Source Sans Pro"
STACK = f"'{FAMILY}','Source Sans 3',sans-serif"
"""For a file that stands alone: the newer name of the same face, then what the reader's program has. No space
after a comma: the press takes a name as it stands between commas."""
WEIGHTS = {400: "regular", 600: "semibold", 700: "bold"}
ASCENT, DESCENT = 0.74, 0.22
"""Ink of letters with ascenders and descenders above and below the base line, in ems."""


@cache
def _font(weight: int) -> TTFont:
    return TTFont(str(font_files()[WEIGHTS[weight]]), lazy=True)


@cache
def _glyph(letter: str, weight: int) -> tuple[str, float]:
    font = _font(weight)
    name = font.getBestCmap().get(ord(letter))
    if name is None:
        code = f"U+{ord(letter):04X}"
        raise FigureError(
            message("the lettering has no sign for “{letter}” ({code})", letter=letter, code=code)
        )
    return name, font["hmtx"][name][0] / font["head"].unitsPerEm


def normal(text: str) -> str:
    """Unicode form C, in which the font has its accented letters."""
    return unicodedata.normalize("NFC", text)


def text_width(text: str, size: float, weight: int = 400) -> float:
    """Width in mm of a line at ``size`` mm to the em. Raises FigureError for a sign the font lacks.

    Marks that only tell how text runs or where it may break have no width.
    """
    shown = (letter for letter in normal(text) if unicodedata.category(letter) != "Cf")
    return size * sum(_glyph(letter, weight)[1] for letter in shown)


@cache
def _outline(letter: str, weight: int) -> tuple[tuple[str, tuple[tuple[float, float], ...]], ...]:
    font = _font(weight)
    name, _ = _glyph(letter, weight)
    glyphs = font.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    unit = 1 / font["head"].unitsPerEm
    return tuple((command, tuple((x * unit, y * unit) for x, y in points)) for command, points in pen.value)


def outline_path(text: str, x: float, y: float, size: float, weight: int = 400) -> str:
    """SVG path data of the letters, base line at (x, y), y down: the white halo under a label."""
    parts: list[str] = []
    last = (x, y)
    for letter in normal(text):
        for command, points in _outline(letter, weight):
            at = [(x + px * size, y - py * size) for px, py in points]
            if command == "moveTo":
                parts.append("M" + _pairs(at))
            elif command == "lineTo":
                parts.append("L" + _pairs(at))
            elif command == "curveTo":
                parts.append("C" + _pairs(at))
            elif command == "qCurveTo":
                parts.append(_quadratic(last, at))
            elif command == "closePath":
                parts.append("Z")
            last = at[-1] if at else last
        x += _glyph(letter, weight)[1] * size
    return "".join(parts)


def _quadratic(start: tuple[float, float], points: list[tuple[float, float]]) -> str:
    """Curves of the second degree, raised to the third: of that kind a page knows curves."""
    *controls, end = points
    out: list[str] = []
    for index, control in enumerate(controls):
        if index + 1 < len(controls):
            after = controls[index + 1]
            stop = ((control[0] + after[0]) / 2, (control[1] + after[1]) / 2)
        else:
            stop = end
        out.append("C" + _pairs([_towards(start, control), _towards(stop, control), stop]))
        start = stop
    return "".join(out)


def _towards(point: tuple[float, float], control: tuple[float, float]) -> tuple[float, float]:
    return point[0] + (control[0] - point[0]) * 2 / 3, point[1] + (control[1] - point[1]) * 2 / 3


def _pairs(points: list[tuple[float, float]]) -> str:
    return " ".join(f"{px:.2f} {py:.2f}" for px, py in points)
