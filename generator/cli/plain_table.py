"""A table for a file or another program: the same signs that rich would print, in a hundredth of the time.

Loading rich and having it lay out sixty rows takes as long as all that is worked out for them. Off a terminal
there are no colours, and a table is words in columns. What is not as plain as that (a sign that is wider than
others, a word longer than its column) gets no answer here, and rich draws it.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence

WIDTH = 160
"""Signs in a line, where nobody says how many there may be."""

_NARROW = re.compile("[ -~¡-¬®-ɏΑ-ω‐-―‘-”…′″−√≈≠≤≥⅛⅜⅝⅞]*")
_WORD = re.compile(r" *[^ ]+ *")
_TOLD_OTHERWISE = ("FORCE_COLOR", "TTY_COMPATIBLE", "TTY_INTERACTIVE", "JUPYTER_COLUMNS", "JUPYTER_LINES")
"""Variables by which somebody says what kind of output this is."""


def plain_output() -> bool:
    """Whether what is printed goes to a file or another program, in letters that have all signs."""
    if any(name in os.environ for name in _TOLD_OTHERWISE):
        return False
    return (
        sys.platform != "win32"
        and not sys.stdout.isatty()
        and (sys.stdout.encoding or "").lower().startswith("utf")
    )


def plain_line(text: str) -> bool:
    """Whether a line above a table is plain, and short enough to stay one."""
    return len(text) <= WIDTH and _NARROW.fullmatch(text) is not None


def plain_table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[str], width: int = WIDTH
) -> str | None:
    """The table's lines, each with its end, as rich has them with ``box.SIMPLE_HEAD`` and no padding at the
    edges; columns in ``right`` stand to the right and are never broken. None if it is not plain."""
    lines = [heads, *rows]
    if not all(_NARROW.fullmatch(cell) for line in lines for cell in line):
        return None
    breakable = [head not in right for head in heads]
    natural = [max(len(line[column]) for line in lines) for column in range(len(heads))]
    # Between two columns: the padding of both, and the line that this kind of table does not have.
    widths = _reduced(natural, breakable, width - 2 - 3 * (len(heads) - 1), len(heads))
    if widths is None:
        return None
    drawn = [" " * (sum(widths) + 3 * (len(widths) - 1) + 2)]
    empty = drawn[0]
    for number, line in enumerate(lines):
        cells: list[list[str]] = []
        for cell, wide, may_break in zip(line, widths, breakable, strict=True):
            found = _broken(cell, wide) if may_break else [cell.rstrip().rjust(wide)]
            if found is None or len(found[0]) > wide:
                return None
            cells.append(found)
        height = max(map(len, cells))
        for broken_cell, wide in zip(cells, widths, strict=True):
            missing = [" " * wide] * (height - len(broken_cell))
            broken_cell[:] = [*missing, *broken_cell] if number == 0 else [*broken_cell, *missing]
        drawn += [" " + "   ".join(each) + " " for each in zip(*cells, strict=True)]
        if number == 0:
            drawn.append(" " + "─" * (len(empty) - 2) + " ")
    return "\n".join([*drawn, empty, ""])


def _reduced(natural: Sequence[int], breakable: Sequence[bool], room: int, columns: int) -> list[int] | None:
    """Widths that fit into the room; the widest column that may be broken gives way first.

    Widths are without padding, but columns are compared with it. None if that is not enough.
    """
    # A column at an edge is padded on one side, one in the middle on both, a single one not at all.
    padding = [(place > 0) + (place < columns - 1) for place in range(columns)]
    whole = room + sum(padding)
    widths = [min(wide + pad, whole) for wide, pad in zip(natural, padding, strict=True)]
    excess = sum(widths) - whole
    while excess > 0:
        able = [wide for wide, may in zip(widths, breakable, strict=True) if may]
        widest = max(able, default=0)
        second = max((wide for wide in able if wide != widest), default=0)
        if not widest - second:
            return None
        giving = [place for place, may in enumerate(breakable) if may and widths[place] == widest]
        left = excess
        for number, place in enumerate(giving):
            given = min(excess, widest - second, round(left / (len(giving) - number)))
            widths[place] -= given
            left -= given
        excess = sum(widths) - whole
    found = [wide - pad for wide, pad in zip(widths, padding, strict=True)]
    return found if min(found) > 0 else None


def _broken(text: str, width: int) -> list[str] | None:
    """A text in lines of a width, filled up with spaces; None if one of its words is wider."""
    found, start, used = [], 0, 0
    for word in _WORD.finditer(text):
        needed = len(word[0].rstrip())
        if needed > width:
            return None
        if used + needed > width:
            found.append(text[start : word.start()])
            start, used = word.start(), 0
        used += len(word[0])
    return [line.rstrip().ljust(width) for line in (*found, text[start:])]
