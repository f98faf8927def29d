"""What stands below a cutting plan's drawing: what its hatching and its lines mean."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import box

from generator.base.words import Words
from generator.figures.arrows import open_arrow
from generator.figures.canvas import Canvas
from generator.figures.cut_rows import BADGE, WASTE
from generator.figures.hatch import hatch
from generator.figures.lettering import text_width
from generator.figures.pens import CUTTING, EM, INK, THIN, WHITE, Pen

FOOT = 8.6
"""Paper for each line of it, mm."""
SIGN, ARROW = 9.0, 14.0
"""How long a sign is, and the arrow along the print, mm."""
BEFORE, BEHIND = 1.6, 6.0
"""Paper before a word and behind it, mm."""

Sign = tuple[str, float]
"""What it is called, and how long it is drawn."""


def signs(
    words: Words, left: float, wide: float, *, numbered: bool, one_way: bool
) -> tuple[tuple[Sign, ...], ...]:
    """The signs in lines that begin at ``left`` and end before ``wide``, mm."""
    all_ = [("cut-offcut", SIGN), ("cut-order" if numbered else "cut-across", SIGN)]
    if one_way:
        all_.append(("print-up", ARROW))
    lines: list[tuple[Sign, ...]] = [()]
    x = left
    for noun, long in all_:
        reach = long + _wide(words, noun)
        if lines[-1] and x + reach > wide:
            lines.append(())
            x = left
        lines[-1] += ((noun, long),)
        x += reach + BEHIND
    return tuple(lines)


def paint(
    canvas: Canvas, lines: Sequence[Sequence[Sign]], words: Words, left: float, *, numbered: bool
) -> None:
    """Draw them at the foot of the canvas, a line in ``FOOT`` mm each."""
    y = canvas.height - len(lines) * FOOT + FOOT / 2
    for line in lines:
        x = left
        for noun, long in line:
            _sign(canvas, noun, x, y, long, numbered=numbered)
            with canvas.group("label", noun if noun == "print-up" else "legend"):
                canvas.letters((x + long + BEFORE, y + 0.33 * EM), words.say(f"label.{noun}"))
            x += long + _wide(words, noun) + BEHIND
        y += FOOT


def _wide(words: Words, noun: str) -> float:
    return BEFORE + text_width(words.say(f"label.{noun}"), EM)


def _sign(canvas: Canvas, noun: str, x: float, y: float, long: float, *, numbered: bool) -> None:
    if noun == "print-up":
        open_arrow(canvas, (x, y), (x + long, y), part=noun)
        return
    with canvas.group("label", "legend"):
        if noun == "cut-offcut":
            sample = box(x, y - 2.0, x + long, y + 2.0)
            canvas.area(sample, WHITE, THIN)
            hatch(canvas, sample, *WASTE)
            return
        canvas.line([(x, y), (x + long, y)], CUTTING)
        if numbered:
            canvas.circle((x + long / 2, y), BADGE, WHITE, Pen(0.35, INK))
