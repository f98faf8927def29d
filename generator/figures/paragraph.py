"""Text set in lines by measured width: where a line ends is known before it is drawn."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.base.errors import FigureError
from generator.base.message import Number, message
from generator.figures.lettering import normal, text_width

SHORT = 0.2
"""A last line shorter than this share of the room counts like any other line."""


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a sentence in one weight."""

    text: str
    weight: int = 400
    whole: bool = False
    """It is never broken, not even at a space, nor parted from what it touches: ``1155 × 270 mm``."""


Runs = tuple[Run, ...]


def plain(text: str, weight: int = 400) -> Runs:
    """A sentence in one weight."""
    return (Run(text, weight),)


def text_of(runs: Iterable[Run]) -> str:
    """The same without its weights."""
    return "".join(run.text for run in runs)


def lines(runs: Iterable[Run], size: float, room: float) -> tuple[Runs, ...]:
    """The runs in as few lines of at most ``room`` mm as can be, as even as these allow.

    ``size`` is mm to the em. Among all ways with the fewest lines, that with the least sum of squares of what
    stays empty is taken, the last line free, as in Knuth and Plass 1981 (*Breaking paragraphs into lines*,
    from memory). Raises FigureError if one word alone is wider than ``room``, or for a sign the font lacks.
    """
    words = _words(runs)
    widths = [sum(text_width(run.text, size, run.weight) for run in word) for word in words]
    for word, width in zip(words, widths, strict=True):
        if width > room:
            raise FigureError(
                message(
                    "“{word}” is {width} wide, where {room} are free",
                    word=text_of(word),
                    width=Number(f"{width:.0f} mm"),
                    room=Number(f"{room:.0f} mm"),
                )
            )
    space = text_width(" ", size)
    # By the number of words set: lines, emptiness, where the last line begins.
    best: list[tuple[int, float, int]] = [(0, 0.0, 0)]
    for end in range(1, len(words) + 1):
        found: list[tuple[int, float, int]] = []
        used = -space
        for start in range(end - 1, -1, -1):
            used += space + widths[start]
            if used > room:
                break
            free = end == len(words) and (start == 0 or used >= SHORT * room)
            empty = 0.0 if free else (room - used) ** 2
            found.append((best[start][0] + 1, round(best[start][1] + empty, 6), start))
        best.append(min(found))
    ends = [len(words)]
    while ends[-1]:
        ends.append(best[ends[-1]][2])
    ends.reverse()
    return tuple(_joined(words[a:b]) for a, b in itertools.pairwise(ends))


def _words(runs: Iterable[Run]) -> list[list[Run]]:
    """What may not be broken, in order: runs between two spaces at which a line may end."""
    words: list[list[Run]] = [[]]
    for run in runs:
        pieces = [normal(run.text)] if run.whole else normal(run.text).split(" ")
        for index, piece in enumerate(pieces):
            if index:
                words.append([])
            if piece:
                words[-1].append(Run(piece, run.weight, run.whole))
    return [word for word in words if word]


def _joined(words: Sequence[Sequence[Run]]) -> Runs:
    """The words of one line with single spaces between, neighbours of one weight in one run."""
    line: list[Run] = []
    for index, word in enumerate(words):
        if index:
            # The space was measured in the regular weight, and belongs to no emphasis.
            _append(line, " ", line[-1].weight if line[-1].weight == word[0].weight else 400)
        for run in word:
            _append(line, run.text, run.weight)
    return tuple(line)


def _append(line: list[Run], text: str, weight: int) -> None:
    if line and line[-1].weight == weight:
        line[-1] = Run(line[-1].text + text, weight)
    else:
        line.append(Run(text, weight))
