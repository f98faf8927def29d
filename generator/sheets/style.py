"""Style sheets of a document: its own, what a form of its pages adds, and the size of its lettering.

A style stands in ``templates/style/NAME.css``; ``NAME.a5.css``, ``NAME.large-print.css`` or
``NAME.a4+large-print.css`` beside it follow it where these conditions hold, the fewest conditions first.
Lengths of lettering are written for normal print, in ``pt``. In large print each becomes larger by a scale:
instructions of 12 points 18 or 24, headings less than in proportion, and what stands beside the text, such as
running lines, more than its part.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import cache

from generator.base.assets import data_folder
from generator.base.edition import LETTERS, Form

_POINTS = re.compile(r"(?<![\w.#-])(\d+(?:\.\d+)?)pt\b")
_LENGTH = re.compile(r"(?<![\w.#])(\d+(?:\.\d+)?)(pt|mm)\b")
_COLOUR = re.compile(r"(#|%23)([0-9A-Fa-f]{6})\b")
"""A colour, also within a sign that stands in a page as an address of data."""

_LARGE = (
    (0.0, 0.0), (8.0, 13.5), (9.0, 13.5), (9.5, 16.0), (10.5, 16.0), (12.0, 18.0), (15.0, 22.5), (16.0, 24.0),
    (20.0, 30.0), (30.0, 36.0), (33.0, 40.0), (66.0, 80.0),
)  # fmt: skip
"""Points in normal and in large print. Instructions are 18 points high, nothing that is read at work below 16
(clear-print practice, from memory); running lines are found, not read."""


_SMALL = (
    (0.0, 0.0), (8.0, 8.0), (9.0, 8.0), (9.5, 8.2), (10.5, 9.0), (12.0, 10.0), (15.0, 12.4), (20.0, 16.0),
    (30.0, 22.0), (33.0, 25.0), (66.0, 50.0),
)  # fmt: skip
"""Points on A4 and on A5."""


def smaller(points: float) -> float:
    """Height of lettering or of a line on A5, points, from that on A4."""
    return _between(_SMALL, points)


def larger(points: float, form: Form) -> float:
    """Height of lettering or of a line in this form, points, from that in normal print."""
    if not form.large:
        return points
    return _between(_LARGE, points) * LETTERS[form.print_size] / LETTERS["large"]


def _between(scale: tuple[tuple[float, float], ...], points: float) -> float:
    index = min(bisect_right(scale, (points, float("inf"))), len(scale) - 1)
    (low, start), (high, end) = scale[index - 1], scale[index]
    return start + (points - low) * (end - start) / (high - low)


def scaled(css: str, form: Form, *, small: bool = False) -> str:
    """A style sheet with its lettering as large as the form asks for; with ``small`` also smaller on A5."""
    if form.large:
        return _POINTS.sub(lambda found: f"{larger(float(found[1]), form):.2f}pt", css)
    if small and form.paper == "A5":
        return _POINTS.sub(lambda found: f"{smaller(float(found[1])):.2f}pt", css)
    return css


def enlarged(css: str, by: float) -> str:
    """A style sheet with all its lengths so many times as large, for paper that is so much larger."""
    return _LENGTH.sub(lambda found: f"{float(found[1]) * by:.3f}{found[2]}", css)


def greyed(text: str) -> str:
    """A page or a drawing with its colours in grey of the same lightness.

    The grey has the luma of the colour (ITU-R BT.601-7, section 2.5.1, from memory), as printers without
    colour mostly make it.
    """

    def grey(found: re.Match[str]) -> str:
        red, green, blue = bytes.fromhex(found[2])
        return found[1] + f"{round(0.299 * red + 0.587 * green + 0.114 * blue):02X}" * 3

    return _COLOUR.sub(grey, text)


@cache
def style_files(name: str, form: Form) -> tuple[str, ...]:
    """Paths below ``templates`` of a style and of its variants that hold for a form, in order."""
    stem = name.removesuffix(".css")
    folder = data_folder("templates") / "style"
    variants = []
    for path in folder.glob(f"{stem}.*.css"):
        needed = frozenset(path.name.removeprefix(f"{stem}.").removesuffix(".css").split("+"))
        if needed <= form.tokens:
            variants.append((len(needed), path.name))
    return tuple(f"style/{each}" for each in (name, *(variant for _, variant in sorted(variants))))
