"""What a finished picture tells besides its one sentence, piece by piece, for readers who cannot see it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from generator.figures.canvas import Canvas, Group

_ABOUT = re.compile(r"^(?:detail|section)-|-detail$")
"""What a part's name says of the place where it is drawn, not of the part."""


@dataclass(frozen=True, slots=True)
class Told:
    """The pieces, each once, in drawing order. Names of parts are those of the groups of the drawing."""

    view: str = "bench"
    """From where it is seen: ``bench``, ``plan`` or ``section``."""
    names: tuple[str, ...] = ()
    """What is written in it as words."""
    dimensions: tuple[tuple[str, str], ...] = ()
    """Measures that are shown, each with what is written beside it, without its unit."""
    stages: tuple[str, ...] = ()
    """Letters of the pictures that follow each other in it."""
    numbers: tuple[str, ...] = ()
    """Numbers of places in it."""
    details: tuple[str, ...] = ()
    """Letters of places that are enlarged beside it."""
    enlarged: bool = False
    """Something is enlarged beside it, with a letter or without."""
    turned: bool = False
    """A sign says that the work is turned over first."""
    new: tuple[str, ...] = ()
    """Parts that this step makes, moves or changes: they are drawn heavy."""
    removed: tuple[str, ...] = ()
    """Parts that this step takes away."""
    hands: bool = False
    tools: tuple[str, ...] = ()
    """Tools that are drawn, by their parts, without ``tool-``."""


NOTHING = Told()
"""Of a drawing that is not told piece by piece."""


def told(canvas: Canvas) -> Told:
    """What a canvas tells, once all its labels are set."""
    texts = [(text.group, text.text) for text in canvas.texts()]
    groups = list(dict.fromkeys(item.group for item in canvas.items))
    signs = ("letter-", "order-", "number-")
    return Told(
        view=canvas.view,
        names=_once(
            text for group, text in texts if group.measure is None and not group.part.startswith(signs)
        ),
        dimensions=tuple(
            dict.fromkeys((group.measure, text) for group, text in texts if group.measure is not None)
        ),
        stages=_once(text for group, text in texts if group.part.startswith("order-")),
        numbers=tuple(sorted(_once(text for group, text in texts if group.part.startswith("number-")))),
        details=tuple(sorted(_once(text for group, text in texts if group.part.startswith("letter-")))),
        enlarged=any(group.role == "detail" and group.part == "detail" for group in groups),
        turned=any(group.part == "turn-mark" for group in groups),
        new=_parts(groups, "new"),
        removed=_parts(groups, "removed"),
        hands=any(group.part.startswith("hand") for group in groups),
        tools=_once(group.part.removeprefix("tool-") for group in groups if group.part.startswith("tool-")),
    )


def _parts(groups: Iterable[Group], role: str) -> tuple[str, ...]:
    return _once(_ABOUT.sub("", group.part) for group in groups if group.role == role)


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text.strip() for text in texts))
